"""The line under the bench: the strip, and where there is room what was recorded of each tooth, and what signs mean."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.pictures.line_strip import ASCII_GLYPHS, GLYPHS, OTHER_SIDE, StripLayout, lay_out, legend, strip
from session.pictures.picture_rows import Role, Row, Rows
from session.pictures.sheet import Sheet
from session.trade.grades import nearest
from session.walk.line_states import LineStanding
from session.walk.place import Standing

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
    meant = legend(width, of_a_side=None in line.teeth, kinds=line.known.kinds, ascii=ascii)
    return (*drawn, *told[: height - STRIP_ROWS - 1], meant)


def signs_told(line: LineStanding, width: int, *, ascii: bool = False) -> str:
    """What the signs mean that stand on this line now, as many of them as ``width`` cells hold, for a window without
    the legend: the least known ones first. Empty for a line of which nothing is told yet.
    """
    glyphs, here = ASCII_GLYPHS if ascii else GLYPHS, set(line.teeth)
    met = (
        *((glyphs.of(kind), str(kind)) for kind in line.known.kinds),
        *([(glyphs.left_out, "left out")] if Standing.LEFT_OUT in here else []),
        *([(glyphs.flag, "flag")] if line.flagged else []),
        *([(glyphs.other, OTHER_SIDE)] if None in here else []),
        *([(glyphs.reach, "shift")] if len(line.reaches) > 1 else []),
        # Where nothing is worked tooth by tooth, all of the line is alike.
        *([(glyphs.ahead, "not yet")] if line.hand is not None and Standing.AHEAD in here else []),
        *([(glyphs.now, "in hand")] if line.hand is not None else []),
        *([(glyphs.done, "done")] if Standing.DONE in here else []),
    )
    told = [f"{sign} {word}" for sign, word in met]
    fitting = ["  ".join(told[:count]) for count in range(len(told), 0, -1)]
    return next((text for text in fitting if len(text) <= width), "")


def _row(laid: StripLayout, name: str, given: Mapping[int, int], width: int) -> Row:
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
