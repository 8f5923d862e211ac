"""A tooth line as a scan measured it: every tooth with its figures, and those of the line. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from itertools import pairwise
from typing import Final

from session.trade.middle_values import median
from session.trade.seen_words import LineShape
from session.trade.uneven_line import UnevenLine, line_from_flats
from session.value_class import dataclass

#: A tooth so far under or over the line through the points is told low or high, mm. A tenth is what a file can be felt
#: to pass over (from memory); a little less, so that none of a tenth is missed for its uncertainty.
OFF_LINE_MM: Final = 0.085

#: The fewest teeth that make a line.
FEWEST_TEETH: Final = 5

#: From this bow on, over its whole length, a line is told crowned or hollow, mm (our own limit: a sheet of card).
BOWED_MM: Final = 0.12


#: A tooth that the leveling file has not touched stands under those that it has: by more than this, mm, and by more
#: than so many times the uncertainty of its height (our own limits).
UNDER_MM: Final = 0.01
UNDER_SE: Final = 3.0

#: Why a tooth was not seen, in words.
COVERED: Final = "dust or a hair on it"
NO_EDGE: Final = "no edge to be seen there"
TORN: Final = "its flanks not to be told"
BROKEN_OR_LOW: Final = "broken, low or under a grain: too alike to be told"
IN_DOUBT: Final = "too near the limit to be told low, high or whole"


class ToothState(StrEnum):
    """What a scan says of a tooth."""

    WHOLE = "whole"
    LOW = "low"
    HIGH = "high"
    BROKEN = "broken"
    NOT_SEEN = "not seen"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScannedTooth:
    """One tooth, numbered from the heel. What was not seen is None; standard uncertainties begin with se.

    place_mm: of the point, or the flat's middle, along the line from tooth 1's. a_mm, b_mm: the flat's ends, equal
    where it is sharp. height_mm: under the line through the points, negative where it is high. front_deg, back_deg:
    leans of the flanks from square. gullet_mm, depth_mm: place of the gullet before it toward the toe, and its depth
    under the line. why: of one that was not seen, the reason in words; it may have figures all the same, where it is
    its state alone that cannot be told.
    """

    tooth: int
    place_mm: float
    state: ToothState
    a_mm: float | None = None
    b_mm: float | None = None
    height_mm: float | None = None
    front_deg: float | None = None
    back_deg: float | None = None
    gullet_mm: float | None = None
    depth_mm: float | None = None
    se_mm: float | None = None
    se_place_mm: float | None = None
    se_flat_mm: float | None = None
    se_front_deg: float | None = None
    se_back_deg: float | None = None
    why: str = ""

    @property
    def flat_mm(self) -> float | None:
        """Width of the flat; 0 where it is sharp, None where it was not seen."""
        return None if self.a_mm is None or self.b_mm is None else self.b_mm - self.a_mm


def is_measured(state: ToothState) -> bool:
    """Whether flat, height and flanks of a tooth in this state were measured."""
    return state not in (ToothState.BROKEN, ToothState.NOT_SEEN)


@dataclass(frozen=True, slots=True)
class PitchZone:
    """A stretch of even pitch: from tooth ``first`` to tooth ``last``, spaced pitch_mm."""

    first: int
    last: int
    pitch_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScannedLine:
    """All of a line.

    line_gap_mm: how far its middle is off the straight through its ends; positive where crowned. se_line_gap_mm: its
    standard uncertainty. se_scale: relative standard uncertainty of all lengths, from the scale.
    """

    teeth: tuple[ScannedTooth, ...]
    pitch_mm: float
    zones: tuple[PitchZone, ...]
    shape: LineShape
    line_gap_mm: float
    height_spread_mm: float
    spacing_error_mm: float
    worst_spacing_error_mm: float
    depth_mm: float
    se_scale: float = 0.0
    se_line_gap_mm: float = 0.0

    @property
    def count(self) -> int:
        """How many teeth there are, broken ones and those not seen among them."""
        return len(self.teeth)

    def those(self, state: ToothState) -> tuple[int, ...]:
        """The teeth of that state by number."""
        return tuple(tooth.tooth for tooth in self.teeth if tooth.state is state)


def line_of_teeth(
    teeth: Sequence[ScannedTooth], line_gap_mm: float, se_line_gap_mm: float, se_scale: float
) -> ScannedLine:
    """The line that ``teeth`` make, from the heel: `FEWEST_TEETH` or more, of which two or more were measured."""
    from statistics import pstdev

    stands = [one for one in teeth if is_measured(one.state)]
    heights = [one.height_mm for one in stands if one.height_mm is not None]
    standing = {one.tooth for one in stands}
    places = [one.place_mm for one in teeth]
    errors = spacing_errors([one.place_mm if one.tooth in standing else None for one in teeth]) or [0.0]
    bent = LineShape.CROWNED if line_gap_mm > 0.0 else LineShape.HOLLOW
    depths = [one.depth_mm for one in teeth if one.depth_mm is not None]
    return ScannedLine(
        teeth=tuple(teeth),
        pitch_mm=(places[-1] - places[0]) / (len(places) - 1),
        zones=pitch_zones(places),
        shape=bent if abs(line_gap_mm) >= told_bent_from_mm(se_line_gap_mm) else LineShape.STRAIGHT,
        line_gap_mm=line_gap_mm,
        se_line_gap_mm=se_line_gap_mm,
        height_spread_mm=pstdev(heights),
        spacing_error_mm=math.sqrt(sum(error**2 for error in errors) / len(errors)),
        worst_spacing_error_mm=max(map(abs, errors)),
        depth_mm=median(depths) if depths else 0.0,
        se_scale=se_scale,
    )


def told_bent_from_mm(se_line_gap_mm: float) -> float:
    """From how much on a line's middle off its ends is told crowned or hollow, mm."""
    return max(BOWED_MM, 2.0 * se_line_gap_mm)


def uneven_line(line: ScannedLine) -> UnevenLine:
    """The flats of a scanned line for the evening plan; a tooth that the file has not touched is low, and one
    whose flat the scan does not tell is unseen.

    Raises TradeError where fewer than two teeth have a flat, or flats cross.
    """
    told = {tooth.tooth: told_flat(tooth) for tooth in line.teeth}
    broken = line.those(ToothState.BROKEN)
    unseen = [tooth for tooth, flat in told.items() if flat is None and tooth not in broken]
    return line_from_flats([flat or () for flat in told.values()], line.pitch_mm, broken, unseen)


def told_flat(tooth: ScannedTooth) -> tuple[float, ...] | None:
    """Where the flat of a leveled tooth lies, from a to b; empty for one that the file has not touched, whatever flat
    its wear has left, and None for one of which the scan does not tell it.

    A low tooth stands under the file. One that seems sharp, and stands as high as the others, may have a flat that is
    too narrow to be told.
    """
    if not is_measured(tooth.state) or tooth.a_mm is None or tooth.b_mm is None:
        return None
    if tooth.state is ToothState.LOW:
        return ()
    if tooth.b_mm > tooth.a_mm:
        return tooth.a_mm, tooth.b_mm
    return () if (tooth.height_mm or 0.0) > max(UNDER_MM, UNDER_SE * (tooth.se_mm or 0.0)) else None


def pitch_zones(places: Sequence[float], most: int = 5) -> tuple[PitchZone, ...]:
    """The stretches of even pitch along a line whose points stand at ``places`` (mm, two or more).

    A line is parted where the spacing differs most before and behind, in the middle and on average by over 4 % and over
    three times what the scatter of the spacings explains; a zone has at least four spaces.
    """
    spaces = [ahead - behind for behind, ahead in pairwise(places)]
    cuts = _cuts(spaces, 0, most - 1)
    bounds = [0, *cuts, len(spaces)]
    return tuple(
        PitchZone(begin + 1, end + 1, (places[end] - places[begin]) / (end - begin)) for begin, end in pairwise(bounds)
    )


def _cuts(spaces: Sequence[float], begin: int, most: int) -> list[int]:
    """Where to part ``spaces``, which begin at ``begin`` of the line."""
    if most <= 0 or len(spaces) < 8:
        return []
    best, where = 0.0, 0
    total, squares = math.fsum(spaces), math.fsum(space * space for space in spaces)
    whole = squares - total * total / len(spaces)
    before = 0.0
    for at in range(1, len(spaces) - 3):
        before += spaces[at - 1]
        if at < 4:
            continue
        behind = total - before
        gain = before * before / at + behind * behind / (len(spaces) - at) - total * total / len(spaces)
        if gain > best:
            best, where = gain, at
    if where == 0:
        return []
    one, other = median(spaces[:where]), median(spaces[where:])
    noise = math.sqrt(max(0.0, whole - best) / max(1, len(spaces) - 2))
    apart = min(abs(one - other), abs(sum(spaces[:where]) / where - sum(spaces[where:]) / (len(spaces) - where)))
    if apart < 0.04 * max(one, other) or apart < 3.0 * noise * math.sqrt(1 / where + 1 / (len(spaces) - where)):
        return []
    first = _cuts(spaces[:where], begin, (most - 1) // 2)
    last = _cuts(spaces[where:], begin + where, (most - 1) // 2)
    return [*first, begin + where, *last]


def spacing_errors(places: Sequence[float | None]) -> list[float]:
    """How far each spacing is off the line's own there: the middle of the nine around it, mm. None parts the line."""
    spaces = [None if a is None or b is None else b - a for a, b in pairwise(places)]
    errors = []
    for at, space in enumerate(spaces):
        if space is None:
            continue
        around = [one for one in spaces[max(0, at - 4) : at + 5] if one is not None]
        errors.append(space - median(around))
    return errors
