"""A tooth line as a scan measured it, and the small file that holds it.

Numbers are millimeters and degrees. What follows from the teeth, such as the pitch, is worked out anew when it is read.
A key that this version does not know is left alone, for a later one wrote it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Any, Final

from session.files.checked_file import CheckedFile
from session.files.checked_tables import AwareTime, CheckedBy, Table, holds
from session.files.complaints import Complaint
from session.machine.clean_text import clean
from session.trade.pitch import MOST_POINTS
from session.trade.rounding import half_up
from session.trade.scan_tones import TakenTones, Tones, TonesBy
from session.trade.scanned_line import (
    FEWEST_TEETH,
    ScannedLine,
    ScannedTooth,
    ToothState,
    is_measured,
    line_of_teeth,
)
from session.value_class import dataclass

FORMAT: Final = 1

#: No tooth lies farther along a line, and none is farther off it, mm.
FARTHEST_MM: Final = 3_000.0
DEEPEST_MM: Final = 60.0

#: No line is more crowned or hollow, and nothing that a scan tells is less sure, mm (our own limits, wide).
MOST_BOW_MM: Final = 25.0
MOST_UNSURE_MM: Final = 5.0

#: No two teeth of a hand saw stand closer, mm; no point of one is blunter or finer, degrees (our own limits, wide).
CLOSEST_MM: Final = 0.2
FINEST_DEG: Final = 1.0
BLUNTEST_DEG: Final = 150.0

#: A tooth farther off the line is not whole, whatever its uncertainty, mm (our own limit, wide).
WHOLE_MM: Final = 0.5

#: No scanner or program of before this kept a line, and none comes after.
YEARS: Final = (2000, 2199)

_STATES: Final = ", ".join(f'"{state}"' for state in ToothState)
_TONES: Final = ", ".join(f'"{tones}"' for tones in Tones)
_BY: Final = ", ".join(f'"{by}"' for by in TonesBy)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptScan:
    """A line that a scan measured. at: when its oldest picture was saved, with its offset. saw: its name then. tones:
    by which it was read; None in a file of before they were noted, which was read by usual ones."""

    at: datetime
    saw: str
    line: ScannedLine
    tones: TakenTones | None = None

    def to_dict(self) -> dict[str, Any]:
        """The tables of the file; what was not seen is left out."""
        line = self.line
        head: dict[str, Any] = {
            "at": self.at,
            "saw": clean(self.saw),
            "line_gap": _short(line.line_gap_mm),
            "se_line_gap": _short(line.se_line_gap_mm),
            "se_scale": half_up(line.se_scale, 6),
        }
        if self.tones is not None:
            head |= {"tones": str(self.tones.tones), "tones_by": str(self.tones.by)}
            if self.tones.by is TonesBy.NOBODY:
                head["tones_doubt"] = _short(self.tones.doubt_mm)
        return {"scan": head, "tooth": [_written(tooth) for tooth in line.teeth]}


#: The keys of a tooth that are numbers, and what they are called in the program.
_NUMBERS: Final = {
    "a": "a_mm",
    "b": "b_mm",
    "height": "height_mm",
    "front": "front_deg",
    "back": "back_deg",
    "gullet": "gullet_mm",
    "depth": "depth_mm",
    "se": "se_mm",
    "se_place": "se_place_mm",
    "se_flat": "se_flat_mm",
    "se_front": "se_front_deg",
    "se_back": "se_back_deg",
}


def _short(value: float) -> float:
    """To a tenth of a thousandth: far finer than any scan, and short to read. No minus before a zero."""
    return half_up(value, 4) + 0.0


def _written(tooth: ScannedTooth) -> dict[str, Any]:
    told = {key: getattr(tooth, name) for key, name in _NUMBERS.items()}
    numbers = {key: _short(value) for key, value in told.items() if value is not None}
    why = {"why": clean(tooth.why)} if tooth.why else {}
    return {"place": _short(tooth.place_mm), "state": str(tooth.state), **why, **numbers}


def _known_format(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= FORMAT:
        raise ValueError(f"not one that this version knows; allowed: {FORMAT}")
    return value


def _number(low: float, high: float, unit: str) -> CheckedBy:
    allowed = f"{low:g} to {high:g} {unit}"

    def judge(value: object) -> float:
        # Not a number is in no range.
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise ValueError(f"out of range; allowed: {allowed}")
        return float(value)

    return CheckedBy(judge, allowed)


_Along = Annotated[float, _number(-FARTHEST_MM, FARTHEST_MM, "mm")]
_Across = Annotated[float, _number(-DEEPEST_MM, DEEPEST_MM, "mm")]
_Lean = Annotated[float, _number(-90.0, 90.0, "degrees")]
_Bow = Annotated[float, _number(-MOST_BOW_MM, MOST_BOW_MM, "mm")]
_Deep = Annotated[float, _number(0.0, DEEPEST_MM, "mm")]
_Unsure = Annotated[float, _number(0.0, MOST_UNSURE_MM, "mm")]
_UnsureLean = Annotated[float, _number(0.0, 90.0, "degrees")]


class ScanTable(Table):
    """``[scan]``: when, of which saw, and the line as a whole."""

    at: AwareTime = holds(description="a date and time with its offset, such as 2026-03-07T18:00:00+01:00")
    saw: str = holds("", max_length=400, description="a text")
    line_gap: _Bow = holds()
    se_line_gap: _Unsure = holds()
    se_scale: Annotated[float, _number(0.0, 0.1, "of a length")] = holds()
    tones: Tones | None = holds(None, strict=False, description=f"one of {_TONES}")
    tones_by: TonesBy | None = holds(None, strict=False, description=f"one of {_BY}")
    tones_doubt: _Unsure | None = holds(None)


class ScannedToothTable(Table):
    """``[[tooth]]``: one tooth, from the heel."""

    place: _Along = holds()
    state: ToothState = holds(strict=False, description=f"one of {_STATES}")
    why: str = holds("", max_length=100, description="a text")
    a: _Along | None = holds(None)
    b: _Along | None = holds(None)
    height: _Across | None = holds(None)
    front: _Lean | None = holds(None)
    back: _Lean | None = holds(None)
    gullet: _Along | None = holds(None)
    depth: _Deep | None = holds(None)
    se: _Unsure | None = holds(None)
    se_place: _Unsure | None = holds(None)
    se_flat: _Unsure | None = holds(None)
    se_front: _UnsureLean | None = holds(None)
    se_back: _UnsureLean | None = holds(None)


class ScanModel(Table):
    """The whole file of a line."""

    format: Annotated[int, CheckedBy(_known_format)] = holds(0, checks_usual=True)
    program: str = ""
    scan: ScanTable = holds(description="a table [scan]")
    tooth: list[ScannedToothTable] = holds(description="a table [[tooth]] for each tooth from the heel")


def read_scan(path: Path) -> KeptScan:
    """The line in the file at ``path``. Raises Refusal with ``FILE:LINE: key: what is wrong; what is allowed``."""
    file = CheckedFile.read(ScanModel, path)
    file.leave_out(file.unknown)
    if file.model is not None:
        file.found += _at_odds(file.model.tooth)
        file.found += _tones_at_odds(file.model.scan)
        first, last = YEARS
        if not first <= (year := file.model.scan.at.year) <= last:
            file.found.append((("scan", "at"), f"in the year {year}; allowed: {first} to {last}"))
    told = file.sound()
    teeth = [
        ScannedTooth(
            tooth=number,
            place_mm=one.place,
            state=one.state,
            why=clean(one.why),
            **{name: getattr(one, key) for key, name in _NUMBERS.items()},
        )
        for number, one in enumerate(told.tooth, 1)
    ]
    line = line_of_teeth(teeth, told.scan.line_gap, told.scan.se_line_gap, told.scan.se_scale)
    return KeptScan(at=told.scan.at, saw=clean(told.scan.saw), line=line, tones=_taken(told.scan))


def _taken(scan: ScanTable) -> TakenTones | None:
    if scan.tones is None or scan.tones_by is None:
        return None
    return TakenTones(scan.tones, scan.tones_by, scan.tones_doubt or 0.0)


def _tones_at_odds(scan: ScanTable) -> Iterator[Complaint]:
    """What is said of the tones in part, or cannot be so together."""
    if (scan.tones is None) is not (scan.tones_by is None):
        lacks = "tones" if scan.tones is None else "tones_by"
        yield ("scan",), f"lacks {lacks}; allowed: tones and tones_by, or neither"
    if scan.tones_doubt is not None and scan.tones_by is not TonesBy.NOBODY:
        yield ("scan", "tones_doubt"), 'stands where tones were told; allowed: where tones_by is "nobody"'


def _at_odds(teeth: Sequence[ScannedToothTable]) -> Iterator[Complaint]:
    """What the teeth of a line cannot be to each other, and what one of them has to have."""
    if not FEWEST_TEETH <= len(teeth) <= MOST_POINTS:
        yield ("tooth",), f"a line of {len(teeth):,} teeth; allowed: {FEWEST_TEETH} to {MOST_POINTS:,}"
    for number, (one, ahead) in enumerate(pairwise(teeth), 2):
        if ahead.place <= one.place:
            behind = f"not beyond tooth {number - 1}, which is at {one.place:g} mm"
            yield ("tooth", number - 1, "place"), f"{behind}; allowed: places that grow from heel to toe"
        elif ahead.place - one.place < CLOSEST_MM:
            close = f"{half_up(ahead.place - one.place, 4):g} mm from tooth {number - 1}"
            yield ("tooth", number - 1, "place"), f"{close}; allowed: {CLOSEST_MM:g} mm or more"
    for at, one in enumerate(teeth):
        yield from _odd_tooth(at, one, _room(teeth, at))
        lacks = [key for key in ("a", "b", "height", "front", "back") if getattr(one, key) is None]
        if is_measured(one.state) and lacks:
            yield ("tooth", at), f"lacks {', '.join(lacks)}, and is {one.state}; allowed: all of a tooth that was seen"
        elif one.a is not None and one.b is not None and one.b < one.a:
            yield ("tooth", at, "b"), f"before a, which is {one.a:g} mm; allowed: that or more"
    if sum(is_measured(one.state) for one in teeth) < 2:
        yield ("tooth",), "fewer than two teeth that were seen whole; allowed: two or more"


def _room(teeth: Sequence[ScannedToothTable], at: int) -> float:
    """How far it is to the farther one of a tooth's neighbors, mm."""
    beside = [teeth[other].place for other in (at - 1, at + 1) if 0 <= other < len(teeth)]
    return max((abs(place - teeth[at].place) for place in beside), default=0.0)


def _odd_tooth(at: int, one: ScannedToothTable, room: float) -> Iterator[Complaint]:
    """What one tooth cannot be by its own figures: its flat and gullet elsewhere, flanks that never meet, a height that
    its state does not have. ``room``: to its farther neighbor, mm."""
    for key in ("a", "b", "gullet"):
        value = getattr(one, key)
        if value is not None and abs(value - one.place) > room:
            yield ("tooth", at, key), f"{value:g} mm, beyond a neighbor; allowed: beside its place, {one.place:g} mm"
    if one.front is not None and one.back is not None and not FINEST_DEG <= one.front + one.back <= BLUNTEST_DEG:
        together = f"{one.front:g} and the back's {one.back:g} degrees make no point"
        yield ("tooth", at, "front"), f"{together}; allowed: {FINEST_DEG:g} to {BLUNTEST_DEG:g} together"
    if one.height is None:
        return
    low, high = one.state is ToothState.LOW, one.state is ToothState.HIGH
    if (low and one.height <= 0.0) or (high and one.height >= 0.0):
        allowed = "above 0" if low else "below 0"
        yield ("tooth", at, "height"), f"{one.height:g} mm, and it is {one.state}; allowed: {allowed}"
    if one.state is ToothState.WHOLE and abs(one.height) > WHOLE_MM:
        yield ("tooth", at, "height"), f"{one.height:g} mm, and it is whole; allowed: -{WHOLE_MM:g} to {WHOLE_MM:g} mm"
