"""The pages of a pitch strip: a mark for each point of a line, in pieces that lie over one another at their ends."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, trace
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.sheet_draft import SMALL, SheetDraft
from session.texts.page_words import PageWords, page_words
from session.trade.lengths import Length, in_unit
from session.trade.pitch_strip import StripRow, spread_over, strip_rows
from session.trade.saw import Saw

#: Paper left beyond the end marks of a piece, with the marks of the next on it, in mm.
_BEYOND: Final = 8.0

#: How far the pieces stand apart, and how high one is, in mm.
_ROW: Final = 23.0
_HIGH: Final = 15.0

#: A mark goes beyond the edge, so that it reaches it however the scissors run; a fifth one is longer, in mm.
_OVER: Final = 2.0
_MARK: Final = 5.0
_FIFTH: Final = 7.5
_LAPPED: Final = 3.5

#: The least room of a number, and of a piece with its name on it, in mm; every how many teeth may be numbered.
_NUMBER: Final = 6.0
_NAMED: Final = 90.0
_NUMBERED: Final = (5, 10, 20, 50, 100, 500, 3000)


def pitch_strip(saw: Saw, stock: PaperStock, measured: Length | None = None) -> list[PageSheet]:
    """The pages of the strip for the line of ``saw``, its marks spread over what the line measured, where it was.

    Raises TradeError for a length that is none of this line.
    """
    places = saw.line.positions_mm
    if measured is not None:
        places = spread_over(places, measured.mm)
    over = in_unit(places[-1], saw.unit) if measured is None else f"{measured}, as measured"
    zones = f" at the heel, {len(saw.zones)} zones" if saw.zones else ""
    line = f"{saw.count_as}{zones}, {saw.points} points over {over}"
    return strip_sheets(saw.name, line, places, stock, page_words("pitch strip"))


def strip_sheets(
    saw: str, line: str, positions_mm: Sequence[float], stock: PaperStock, said: PageWords
) -> list[PageSheet]:
    """The pages of the strip with marks at ``positions_mm`` from the heel, its ``line`` told in a few words.

    The heel is on the right, as the saw stands with its handle there. Raises TradeError for places that make no strip.
    """
    rows = strip_rows(positions_mm, stock.room(lying=True)[0] - 2 * _BEYOND)
    drafts = [SheetDraft(stock, f"{said.title}: {saw}", line, lying=True)]
    drafts[0].numbered(said.how)
    for number, row in enumerate(rows, 1):
        if drafts[-1].y + 5.0 + _ROW > drafts[-1].foot:
            drafts.append(SheetDraft(stock, f"{said.title}: {saw}", line, lying=True))
        _piece(drafts[-1], row, number, len(rows), positions_mm)
    for number, draft in enumerate(drafts, 1):
        draft.numbered_as(number, len(drafts))
    return [draft.done() for draft in drafts]


def _piece(draft: SheetDraft, row: StripRow, number: int, of_rows: int, positions_mm: Sequence[float]) -> None:
    """A piece below what is there: its outline, its marks, and which piece it is."""
    y = draft.y + 5.0
    draft.y += _ROW
    heel = draft.wide - _BEYOND
    left, wide = heel - row.length_mm - _BEYOND, row.length_mm + 2 * _BEYOND
    draft.add(trace((left, y), (left + wide, y), ink=Ink.FINE))
    outline = ((left, y), (left, y + _HIGH), (left + wide, y + _HIGH), (left + wide, y))
    draft.add(trace(*outline, ink=Ink.DASHED))
    step = _numbered(row)
    for tooth, place in enumerate(row.marks_mm, row.first):
        x = heel - place
        reach = _FIFTH if tooth % 5 == 0 or tooth == 1 else _MARK
        draft.add(trace((x, y - _OVER), (x, y + reach), ink=Ink.FINE, name=f"mark-{tooth}-of-{number}"))
        if tooth % step == 0 or tooth in (row.first, row.last):
            beside = min(abs(tooth - end) for end in (row.first, row.last))
            # An end mark is always numbered, so its neighbor gives way.
            if beside == 0 or beside * row.length_mm / (len(row.marks_mm) - 1) >= _NUMBER:
                draft.letter((x, y + 10.5), f"{tooth}", SMALL, anchor=Anchor.MIDDLE)
    _laps(draft, row, positions_mm, heel, y)
    ends = ("heel" if row.first == 1 else f"on {row.first}", "toe" if number == of_rows else f"on {row.last}")
    draft.letter((left + wide - 0.8, y + 14), ends[0], SMALL, anchor=Anchor.END)
    draft.letter((left + 0.8, y + 14), ends[1], SMALL)
    if wide >= _NAMED:
        middle = f"piece {number} of {of_rows}, teeth {row.first} to {row.last}"
        draft.letter((left + wide / 2, y + 14), middle, SMALL, anchor=Anchor.MIDDLE)


def _laps(draft: SheetDraft, row: StripRow, positions_mm: Sequence[float], heel: float, y: float) -> None:
    """The neighbors' marks on the paper beyond the ends, shorter, so that two pieces cannot be taped askew."""
    begin = positions_mm[row.first - 1]
    for at in (*positions_mm[: row.first - 1][-40:], *positions_mm[row.last : row.last + 40]):
        place = at - begin
        if -_BEYOND < place < row.length_mm + _BEYOND:
            draft.add(trace((heel - place, y), (heel - place, y + _LAPPED), ink=Ink.FINE))


def _numbered(row: StripRow) -> int:
    """Every how many teeth a number has room; five where it can be."""
    closest = min(ahead - behind for behind, ahead in pairwise(row.marks_mm))
    return next(step for step in _NUMBERED if step * closest >= _NUMBER or step == _NUMBERED[-1])
