"""An uneven tooth line as it was read after leveling: where the flat of every tooth lies.

It comes in as measured flats [a, b] along the line, or as graded widths from a walk along it. Either
is checked here, so that the planning never meets a line that cannot be.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from itertools import pairwise
from numbers import Real
from typing import Final

from session.trade.middle_values import fmean
from session.trade.trade_error import TradeError
from session.value_class import dataclass, replace

#: As many points as a recipe may have.
MOST_TEETH: Final = 3000

#: How far neighboring flats may seem to cross before it is an error: rounding in a file with four decimals.
TOUCH_MM: Final = 1e-6


@dataclass(frozen=True, slots=True)
class UnevenLine:
    """The flats of a leveled line.

    pitch_mm: the spacing wanted, above 0.
    flats: for every tooth from the heel its flat from a to b in mm along the line, toward the toe; None
        for a tooth that takes no part: low or broken.
    low: teeth without a flat; broken: teeth said to be broken, whose flat, if any, is not used; unseen: teeth of whose
        flat nothing is known.
    places_mm: where the points of a progressive line belong, one for each tooth from the heel, the spacing changing
        along it; empty for a line of even spaces.
    """

    pitch_mm: float
    flats: tuple[tuple[float, float] | None, ...]
    low: tuple[int, ...] = ()
    broken: tuple[int, ...] = ()
    places_mm: tuple[float, ...] = ()
    unseen: tuple[int, ...] = ()

    def place_mm(self, index: int) -> float:
        """Where the point of tooth ``index`` + 1 belongs, the first at 0 or where ``places_mm`` has it."""
        return self.places_mm[index] if self.places_mm else index * self.pitch_mm

    def space_mm(self, gullet: int) -> float:
        """The spacing wanted across a gullet; beyond the last tooth that of the space before it."""
        if not self.places_mm:
            return self.pitch_mm
        ahead = min(gullet, len(self.flats) - 1)
        return self.places_mm[ahead] - self.places_mm[ahead - 1]

    def gap_mm(self, gullet: int) -> float | None:
        """Width of a gullet at the level of the line, between two flats; None beside a tooth without one."""
        if not 1 <= gullet < len(self.flats):
            return None
        behind, ahead = self.flats[gullet - 1], self.flats[gullet]
        return None if behind is None or ahead is None else ahead[0] - behind[1]

    def mean_flat_mm(self) -> float:
        """Mean width of the flats there are."""
        return fmean(b - a for a, b in filter(None, self.flats))

    def own_pitch_mm(self) -> float:
        """The pitch this line has of itself: the length from the first flat's middle to the last's over the length
        wanted there, times the pitch."""
        seen = [(tooth, (flat[0] + flat[1]) / 2) for tooth, flat in enumerate(self.flats) if flat is not None]
        (first, begin), (last, end) = seen[0], seen[-1]
        return (end - begin) / (self.place_mm(last) - self.place_mm(first)) * self.pitch_mm


def line_from_flats(
    flats: Sequence[Sequence[float]], pitch_mm: float, broken: Collection[int] = (), unseen: Collection[int] = ()
) -> UnevenLine:
    """A line from measured flats [[a1, b1], …] in mm; an empty one is a low tooth, or one of the ``unseen``.

    Raises TradeError for fewer than two teeth with flats, a value that is not a finite number, a flat that
    runs backward or is not narrower than the pitch, and flats that cross.
    """
    _pitch(pitch_mm)
    _teeth(len(flats), broken)
    read: list[tuple[float, float] | None] = []
    raw: Sequence[object] = flats  # it comes from a file, so nothing is sure about it yet
    for tooth, flat in enumerate(raw, 1):
        if isinstance(flat, str) or not isinstance(flat, Sequence) or len(flat) not in (0, 2):
            raise TradeError(
                f"tooth {tooth}: {_shown(flat)} is not a flat; allowed: [a, b] in mm, or [] for a low tooth"
            )
        if not flat:
            read.append(None)
            continue
        a, b = (_number(tooth, "edge of the flat", value) for value in flat)
        if a > b:
            raise TradeError(
                f"tooth {tooth}: its flat runs backward, from {a:g} to {b:g} mm; allowed: [a, b] with a ≤ b"
            )
        _narrow(tooth, b - a, pitch_mm)
        read.append((a, b))
    line = _line(read, pitch_mm, broken)
    return replace(line, low=tuple(tooth for tooth in line.low if tooth not in unseen), unseen=tuple(sorted(unseen)))


def line_from_widths(
    widths_mm: Sequence[float],
    pitch_mm: float,
    broken: Collection[int] = (),
    length_mm: float | None = None,
    places_mm: Sequence[float] = (),
) -> UnevenLine:
    """A line from the widths of its flats alone; 0 is a low tooth. The middle of the first flat is put at 0.

    With gullets equally deep, the gap from each flat to the next is the same, c: both flanks of a gullet
    meet at its floor, and only its depth decides how wide it is at the top. c follows from the length of
    the line between the middles of its end flats: ``length_mm``, or (N − 1)·pitch when it was not measured.
    On a progressive line, whose points belong at ``places_mm``, gullets are as deep as their spaces are long, and
    the gaps are c times the spaces.
    A low tooth counts as just touched, since how low it is was not measured; a broken tooth as one of mean
    size, since its gullets stay where they were. Raises TradeError as line_from_flats does, and for flats
    that leave no gap.
    """
    _pitch(pitch_mm)
    _teeth(len(widths_mm), broken)
    widths = [_number(tooth, "width", width) for tooth, width in enumerate(widths_mm, 1)]
    spaces = [ahead - behind for behind, ahead in pairwise(places_mm)] or [pitch_mm] * (len(widths) - 1)
    for tooth, (width, space) in enumerate(zip(widths, (*spaces, spaces[-1]), strict=True), 1):
        if width < 0.0:
            raise TradeError(f"tooth {tooth}: a flat {width:g} mm wide; allowed: 0 mm (a low tooth) or more")
        _narrow(tooth, width, space)
    whole = math.fsum(spaces)
    length = whole if length_mm is None else length_mm
    if not (math.isfinite(length) and length > 0.0):
        raise TradeError(f"length of the line {length:g} mm; allowed: above 0 mm")
    seen = [width for tooth, width in enumerate(widths, 1) if width > 0.0 and tooth not in broken]
    stump = fmean(seen) if seen else 0.0
    sizes = [stump if tooth in broken else width for tooth, width in enumerate(widths, 1)]
    open_share = (length - math.fsum(sizes) + (sizes[0] + sizes[-1]) / 2.0) / whole
    if open_share <= 0.0:
        widest = max(range(len(sizes)), key=sizes.__getitem__) + 1
        raise TradeError(
            f"tooth {widest}: with flats as wide as its {sizes[widest - 1]:g} mm no gullet is left in a line "
            f"{length:g} mm long; allowed: flats narrower than the pitch, {pitch_mm:g} mm, on average"
        )
    read: list[tuple[float, float] | None] = []
    at = -sizes[0] / 2.0
    for tooth, (size, space) in enumerate(zip(sizes, (*spaces, 0.0), strict=True), 1):
        read.append(None if tooth in broken or size == 0.0 else (at, at + size))
        at += size + open_share * space
    return replace(_line(read, pitch_mm, broken), places_mm=tuple(places_mm))


def _line(read: list[tuple[float, float] | None], pitch_mm: float, broken: Collection[int]) -> UnevenLine:
    low = tuple(tooth for tooth, flat in enumerate(read, 1) if flat is None and tooth not in broken)
    behind = 0
    for tooth, flat in enumerate(read, 1):
        if flat is None:
            continue
        before = read[behind - 1] if behind else None
        if before is not None and flat[0] < before[1] - TOUCH_MM:
            raise TradeError(
                f"tooth {tooth}: its flat begins at {flat[0]:g} mm, before that of tooth {behind} ends; "
                f"allowed: {before[1]:g} mm or more"
            )
        behind = tooth
    flats = tuple(None if tooth in broken else flat for tooth, flat in enumerate(read, 1))
    if sum(flat is not None for flat in flats) < 2:
        raise TradeError("fewer than two teeth have a flat, so there is no spacing to even; allowed: two or more")
    return UnevenLine(pitch_mm, flats, low, tuple(sorted(set(broken))))


def _teeth(count: int, broken: Collection[int]) -> None:
    if not 2 <= count <= MOST_TEETH:
        raise TradeError(f"a line of {count} teeth; allowed: 2 to {MOST_TEETH}")
    for tooth in broken:
        if not 1 <= tooth <= count:
            raise TradeError(f"broken tooth {tooth} is not on the line; allowed: 1 to {count}")


def _pitch(pitch_mm: float) -> None:
    if not (math.isfinite(pitch_mm) and pitch_mm > 0.0):
        raise TradeError(f"pitch {pitch_mm:g} mm; allowed: above 0 mm")


def _narrow(tooth: int, width: float, pitch_mm: float) -> None:
    if width >= pitch_mm:
        raise TradeError(f"tooth {tooth}: a flat {width:g} mm wide; allowed: less than the pitch, {pitch_mm:g} mm")


def _number(tooth: int, what: str, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, Real):
        raise TradeError(f"tooth {tooth}: {what} {_shown(value)} is not a number; allowed: a finite number of mm")
    number = float(value)
    if not math.isfinite(number):
        raise TradeError(f"tooth {tooth}: {what} {number:g}; allowed: a finite number of mm")
    return number


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 24 else text[:23] + "…"
