"""The line under the bench: the strip, and where there is room what was recorded of each tooth, and what signs mean."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.pictures.line_strip import LaidLine, lay_out, legend, strip
from session.pictures.picture_rows import Role, Row, Rows
from session.pictures.sheet import Sheet
from session.trade.grades import nearest
from session.walk.line_states import LineStanding

#: Rows of the strip alone.
STRIP_ROWS: Final = 3

#: A count that takes more than one cell.
_MANY: Final = "+"


def line_below(line: LineStanding, side: int, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The line in so many rows: three are the strip alone; of more, the last is the legend, and the grades of the
    flats and the strokes stand between them.

    Where several teeth share a cell the widest flat of them is told, and the most strokes. side: 1 handle on the
    right, 2 on the left. Raises PictureError as ``strip`` does.
    """
    drawn = strip(
        line.teeth,
        line.hand,
        line.reaches,
        side,
        width,
        height=min(STRIP_ROWS, height),
        flags=line.flagged,
        known=line.known,
        ascii=ascii,
    )
    if height <= STRIP_ROWS:
        return drawn
    laid = lay_out(len(line.teeth), line.reaches, side, width, ascii=ascii)
    grades = {tooth: nearest(share, line.scale) for tooth, share in line.flats.items()}
    strokes = {tooth: count for tooth, count in line.strokes.items() if count}
    told = [_row(laid, name, given, width) for name, given in (("grade", grades), ("strokes", strokes)) if given]
    return (*drawn, *told[: height - STRIP_ROWS - 1], legend(width, ascii=ascii))


def _row(laid: LaidLine, name: str, given: Mapping[int, int], width: int) -> Row:
    """A digit under each tooth, and what it tells under the handle."""
    sheet = Sheet(width, 1)
    for cell, teeth in laid.shared:
        found = [given[tooth] for tooth in teeth if tooth in given]
        if found:
            most = max(found)
            sheet.put(laid.column(cell), 0, str(most) if most < 10 else _MANY, Role.STRONG)
    if len(name) < len(laid.before if laid.heel_left else laid.after):
        sheet.put(laid.start - len(name) - 1 if laid.heel_left else laid.start + laid.room + 1, 0, name, Role.LABEL)
    return sheet.rows()[0]
