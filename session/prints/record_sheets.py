"""A record as pages to print: its account, each stage's line tooth by tooth, what was left out, and the next time."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, Trace, box, trace
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.record_matter import RecordMatter, ToothOutcome
from session.prints.scanned_rows import LEGEND, scanned_rows
from session.prints.sheet_draft import SMALL, SheetDraft
from session.trade.scanned_line import ScannedLine
from session.value_class import replace
from session.walk.known_teeth import Known
from session.walk.place import Standing

#: How wide a tooth is drawn and how high, and how high a row of them with its figures and numbers is, in mm.
_TOOTH: Final = 2.7
_HIGH: Final = 3.2
_ROW: Final = 14.5

#: Room left of a row for the handle.
_HANDLE: Final = 9.0

#: Letters of the figures under the teeth, in mm: two digits of them are as wide as a tooth.
_FIGURE: Final = 1.9

#: What stands over a tooth that is known to be so; a broken one is drawn as a stump.
_LETTERS: Final = {Known.LOW: "L", Known.HIGH: "H"}

#: What a line of words stands in by, in mm a blank before it.
_BLANK: Final = 2.0


def record_sheets(matter: RecordMatter, stock: PaperStock) -> list[PageSheet]:
    """As many pages as it takes."""
    pages = _Pages(matter, stock)
    pages.words(matter.account)
    for line in matter.lines:
        pages.line(line)
    if matter.lines:
        pages.legend()
    pages.words(matter.notes)
    pages.words(matter.later)
    for heading, scanned in matter.scans:
        pages.scanned(heading, scanned)
    return pages.done()


class _Pages:
    """The pages so far; what finds no room on the last one begins another."""

    def __init__(self, matter: RecordMatter, stock: PaperStock) -> None:
        self._matter, self._stock = matter, stock
        self._drafts = [self._begun()]

    def _begun(self) -> SheetDraft:
        return SheetDraft(self._stock, self._matter.saw, self._matter.record)

    def done(self) -> list[PageSheet]:
        for number, draft in enumerate(self._drafts, 1):
            draft.numbered_as(number, len(self._drafts))
        return [draft.done() for draft in self._drafts]

    def words(self, texts: Iterable[str]) -> None:
        """Lines of words, each standing in by the blanks before it."""
        for number, text in enumerate(texts):
            draft = self._with_room(11.0)
            draft.y += 0.0 if number else 2.5
            draft.words(text, left=_BLANK * (len(text) - len(text.lstrip(" "))), hang=4.0)

    def line(self, line: ToothOutcome) -> None:
        """A stage's line in rows; its heading stays with the first."""
        self._with_room(9.0 + _ROW).heading(line.heading)
        a_row = max(1, int((self._drafts[0].wide - _HANDLE - 8.0) / _TOOTH) // 10 * 10)
        for first in range(1, len(line.states) + 1, a_row):
            draft = self._with_room(_ROW)
            _row(draft, line, first, min(first + a_row - 1, len(line.states)), draft.y + 5.0)
            draft.y += _ROW

    def scanned(self, heading: str, line: ScannedLine) -> None:
        """A measured line in rows; its heading stays with the first."""
        for number, row in enumerate(scanned_rows(line, self._drafts[0].wide)):
            draft = self._with_room(row.high + (0.0 if number else 24.0))
            if not number:
                draft.y += 4.0
                draft.heading(heading)
                draft.words(LEGEND)
            row.draw(draft)

    def legend(self) -> None:
        """What every sign means."""
        draft = self._with_room(10.0)
        draft.y += 7.0
        x, y = 0.0, draft.y
        for state in Standing:
            draft.add(*_tooth(x, y - _HIGH, state, None))
            draft.letter((x + _TOOTH + 1.5, y), state.value, SMALL)
            x += 25.0
        draft.add(*_tooth(x, y - _HIGH, None, Known.BROKEN))
        draft.letter((x + _TOOTH + 1.5, y), "broken", SMALL)
        draft.letter((x + 20.0, y), "! flagged   L low   H high", SMALL)

    def _with_room(self, high: float) -> SheetDraft:
        if self._drafts[-1].y + high > self._drafts[-1].foot:
            self._drafts.append(self._begun())
        return self._drafts[-1]


def _row(draft: SheetDraft, line: ToothOutcome, first: int, last: int, y: float) -> None:
    """Teeth ``first`` to ``last``, their points at ``y``: the heel on the left, as one reads their numbers."""
    if first == 1:
        draft.add(box(0.0, y - 0.4, 7.4, _HIGH + 0.8))
        draft.letter((3.7, y + 2.3), "heel", 2.4, anchor=Anchor.MIDDLE)
    if last == len(line.states):
        draft.letter((_HANDLE + (last - first + 1) * _TOOTH + 1.0, y + _HIGH), "toe", 2.4)
    ends = {end for _, end in line.reaches if end != len(line.states)}
    for tooth in range(first, last + 1):
        left = _HANDLE + (tooth - first) * _TOOTH
        middle, known = left + _TOOTH / 2, line.known.of(tooth)
        first_of_it, *rest = _tooth(left, y, line.states[tooth - 1], known)
        draft.add(replace(first_of_it, said=_said(tooth, line.states[tooth - 1], known)), *rest)
        if over := ("!" if tooth in line.flags else "") + ("" if known is None else _LETTERS.get(known, "")):
            draft.letter((middle, y - 0.9), over, 2.2, anchor=Anchor.MIDDLE, bold=True)
        if tooth in line.figures:
            draft.letter((middle, y + _HIGH + 2.3), f"{line.figures[tooth]}", _FIGURE, anchor=Anchor.MIDDLE)
        if tooth == first or tooth % 10 == 0:
            draft.letter((middle, y + _HIGH + 5.6), f"{tooth}", SMALL, anchor=Anchor.MIDDLE)
        if tooth in ends:
            draft.add(trace((left + _TOOTH, y - 1.5), (left + _TOOTH, y + _HIGH + 1.5), ink=Ink.DASHED))


def _said(tooth: int, state: Standing | None, known: Known | None) -> str:
    """A tooth in words, for whoever points at it or has it read aloud."""
    words = f"tooth {tooth}: {state.value if state is not None else 'no place in this stage'}"
    return words if known is None else f"{words}, {known}"


def _tooth(left: float, top: float, state: Standing | None, known: Known | None) -> Sequence[Trace]:
    """A tooth as a triangle: not yet open, done gray, in hand black, left out crossed through; broken it is a stump."""
    foot, middle, right = top + _HIGH, left + _TOOTH / 2, left + _TOOTH
    triangle = ((left + 0.2, foot), (middle, top), (right - 0.2, foot))
    if known is Known.BROKEN:
        low = foot - 1.2
        stump = ((left + 0.2, foot), (left + 0.8, low), (right - 0.8, low), (right - 0.2, foot))
        return (Trace(stump, Ink.LINE, closed=True),)
    match state:
        case Standing.DONE:
            return Trace(triangle, Ink.SHADE, closed=True), Trace(triangle, Ink.LINE, closed=True)
        case Standing.IN_HAND:
            return (Trace(triangle, Ink.SOLID, closed=True),)
        case Standing.LEFT_OUT:
            return trace((left + 0.3, top), (right - 0.3, foot)), trace((right - 0.3, top), (left + 0.3, foot))
        case Standing.AHEAD:
            return (Trace(triangle, Ink.LINE, closed=True),)
        case _:
            return (trace((left + 0.2, foot), (right - 0.2, foot), ink=Ink.DASHED),)
