"""A trial cut made between two sharpenings, and the small file that holds it.

Lengths stay as the person wrote them. A key that this version does not know is left alone, for a later one wrote it.
"""

from __future__ import annotations

import math
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any, Final, Literal

from session.files.checked_file import CheckedFile
from session.files.checked_tables import AwareTime, CheckedBy, Table, holds
from session.files.written_lengths import length_check
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.trade.lengths import Length
from session.trade.trade_error import TradeError
from session.trade.trial_cut import TrialCut
from session.value_class import dataclass

FORMAT: Final = 1
LONGEST_NOTE: Final = 400
MOST_STROKES: Final = 99_999

#: Longest cut and thickest board, mm: a slip of the key beyond it (our own limit).
MOST_MM: Final = 10_000.0

To = Literal["left", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedCut:
    """One trial cut as a person recorded it.

    at: when, with its offset. length, thickness: of the cut and of the board. strokes: 1 or more.
    wander, to: how far it left the line and to which side of the person sawing; None for a straight cut.
    wood: as the recipe or the person calls it. note: own words.
    """

    at: datetime
    saw: str
    length: Length
    thickness: Length
    strokes: int
    wander: Length | None = None
    to: To | None = None
    wood: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise Refusal("at is without its offset; allowed: a date and time such as 2026-03-07T18:00:00+01:00")
        if (self.wander is not None and self.wander.mm > 0) != (self.to is not None):
            raise Refusal('a wander needs its side, and a side its wander; allowed: both, such as 1 mm to "right"')
        if not 1 <= self.strokes <= MOST_STROKES:
            raise Refusal(f"{self.strokes} strokes; allowed: 1 to {MOST_STROKES:,}")
        for what, length in (("length", self.length), ("thickness", self.thickness)):
            if not 0 < length.mm <= MOST_MM:
                raise Refusal(f"{what} {length}; allowed: above 0, up to {MOST_MM / 1000:g} m")
        self.trial(0.0)

    def trial(self, days: float) -> TrialCut:
        """The cut as the arithmetic takes it, ``days`` (0 or more) after the sharpening. Raises Refusal."""
        signed = 0.0 if self.wander is None else math.copysign(self.wander.mm, -1.0 if self.to == "left" else 1.0)
        try:
            return TrialCut(
                length_mm=self.length.mm,
                thickness_mm=self.thickness.mm,
                strokes=self.strokes,
                wander_mm=signed,
                days=days,
                wood=self.wood,
            )
        except TradeError as wrong:
            raise Refusal(str(wrong)) from None

    def to_dict(self) -> dict[str, Any]:
        """The keys of the file's ``[cut]`` table; what was not told is left out."""
        values: dict[str, Any] = {
            "at": self.at,
            "saw": clean(self.saw),
            "length": self.length.text,
            "thickness": self.thickness.text,
            "strokes": self.strokes,
        }
        if self.wander is not None:
            values["wander"] = self.wander.text
        told = {"to": self.to, "wood": clean(self.wood), "note": clean(self.note)}
        return values | {name: text for name, text in told.items() if text}


def _known_format(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= FORMAT:
        raise ValueError(f"not one that this version knows; allowed: {FORMAT}")
    return value


_Written = Annotated[Length, CheckedBy(length_check("12 in"))]


class CutTable(Table):
    """``[cut]``: the keys of a trial cut."""

    at: AwareTime = holds(description="a date and time with its offset, such as 2026-03-07T18:00:00+01:00")
    saw: str = holds("", max_length=400, description="a text")
    length: _Written = holds(description='a length such as "12 in"')
    thickness: _Written = holds(description='a length such as "3/4 in"')
    strokes: int = holds(ge=1, le=MOST_STROKES, description=f"a whole number from 1 to {MOST_STROKES:,}")
    wander: _Written | None = holds(None, description='a length such as "1 mm"')
    to: To | None = holds(None, description='one of "left", "right"')
    wood: str = holds("", max_length=400, description="a text")
    note: str = holds("", max_length=4_000, description="a text")


class CutModel(Table):
    """The whole file of a trial cut."""

    format: Annotated[int, CheckedBy(_known_format)] = holds(0, checks_usual=True)
    program: str = ""
    cut: CutTable = holds(description="a table [cut]")


def read_cut(path: Path) -> RecordedCut:
    """The cut in the file at ``path``. Raises Refusal with ``FILE:LINE: key: what is wrong; what is allowed``."""
    file = CheckedFile.read(CutModel, path)
    file.leave_out(file.unknown)
    told = file.sound().cut
    try:
        return RecordedCut(
            at=told.at,
            saw=clean(told.saw),
            length=told.length,
            thickness=told.thickness,
            strokes=told.strokes,
            wander=told.wander,
            to=told.to,
            wood=clean(told.wood),
            note=clean(told.note),
        )
    except (Refusal, OverflowError) as wrong:
        raise file.refusal([(("cut",), str(wrong))]) from None
