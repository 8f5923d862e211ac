"""A picture read by the tones that it has: as the person says, else its file, else its edges.

Where none of them tells it is read both ways, by usual tones, which count, and by linear ones, for what that leaves in
doubt.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from session.machine.refusal import Refusal
from session.scan.doubtful_tops import doubted
from session.scan.light_levels import LINEAR, USUAL, Light
from session.scan.line_reading import ReadPicture, read_picture
from session.scan.odd_flanks import believed
from session.scan.picture_file import GrayPicture
from session.scan.sharp_points import sharpened
from session.trade.scan_tones import TakenTones, Tones, TonesBy
from session.value_class import dataclass, replace

#: The light of each code by tones that a person can tell.
LIGHT_OF: Final = {Tones.USUAL: USUAL, Tones.LINEAR: LINEAR}


@dataclass(frozen=True, slots=True)
class TonesRead:
    """A picture read. tones, by: which it was read by, and who told them. linear: the same read by linear tones, where
    nobody told and they may be the picture's."""

    picture: ReadPicture
    tones: Tones
    by: TonesBy
    linear: ReadPicture | None = None


def read_by_tones(
    picture: GrayPicture, per_mm: tuple[float, float], steel: str | None, person: Tones | None, *, usual: bool = False
) -> TonesRead:
    """``picture`` read by its tones. usual: whether another picture of the scan has told usual tones, which holds for
    one that does not tell. Raises Refusal."""
    if person is not None:
        return TonesRead(_read(picture, per_mm, steel, LIGHT_OF[person]), person, TonesBy.PERSON)
    if picture.tones.light is not None:
        return TonesRead(_read(picture, per_mm, steel, picture.tones.light), picture.tones.tones, TonesBy.FILE)
    try:
        read = _read(picture, per_mm, steel, USUAL, skew_asked=True)
    except Refusal:
        # What a picture in linear tones is refused for may be their own doing; by its edges it has to be linear then.
        linear = _unless_refused(picture, per_mm, steel, skew_asked=True)
        if linear is None or linear.skew is None or not linear.skew.linear:
            raise
        return TonesRead(linear, Tones.LINEAR, TonesBy.EDGES)
    told = None if read.skew is None else read.skew.linear
    if told is False or (told is None and usual):
        return TonesRead(read, Tones.USUAL, TonesBy.EDGES)
    linear = _unless_refused(picture, per_mm, steel)
    if told and linear is not None:
        return TonesRead(linear, Tones.LINEAR, TonesBy.EDGES)
    return TonesRead(read, Tones.USUAL, TonesBy.NOBODY, linear)


def settled(read: Sequence[TonesRead]) -> list[TonesRead]:
    """The pictures of one scanner: where the edges of some tell one kind of tones, those that nobody told are alike."""
    told = {one.tones for one in read if one.by is TonesBy.EDGES}
    if len(told) != 1:
        return list(read)
    (tones,) = told
    settled = []
    for one in read:
        if one.by is TonesBy.NOBODY and tones is Tones.USUAL:
            one = replace(one, by=TonesBy.EDGES, linear=None)
        elif one.by is TonesBy.NOBODY and one.linear is not None:
            one = TonesRead(one.linear, Tones.LINEAR, TonesBy.EDGES)
        settled.append(one)
    return settled


def taken(read: Sequence[TonesRead]) -> TakenTones:
    """Which tones a scan was read by, of all its pictures."""
    tones, by = ({getattr(one, name) for one in read} for name in ("tones", "by"))
    return TakenTones(
        tones.pop() if len(tones) == 1 else Tones.MIXED,
        # A picture that nobody told leaves all of the line in doubt.
        TonesBy.NOBODY if TonesBy.NOBODY in by else by.pop() if len(by) == 1 else TonesBy.MIXED,
    )


def _read(
    picture: GrayPicture, per_mm: tuple[float, float], steel: str | None, light: Light, *, skew_asked: bool = False
) -> ReadPicture:
    one = read_picture(picture.dots, per_mm, steel, light, skew_asked=skew_asked)
    dot = 1.0 / min(per_mm)
    return replace(one, teeth=doubted(sharpened(believed(one.teeth, one.depth, dot), dot), dot))


def _unless_refused(
    picture: GrayPicture, per_mm: tuple[float, float], steel: str | None, *, skew_asked: bool = False
) -> ReadPicture | None:
    """The same by linear tones; None where they make nothing that can be read."""
    try:
        return _read(picture, per_mm, steel, LINEAR, skew_asked=skew_asked)
    except Refusal:
        return None
