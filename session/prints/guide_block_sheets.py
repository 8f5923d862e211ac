"""The guide block to cut out: paper that folds over its top edge, with both faces, hole, triangle and rake."""

from __future__ import annotations

import math
from typing import Final

from session.prints.drawn_shapes import (
    Anchor,
    Disc,
    Ink,
    Lettering,
    Shape,
    Spot,
    Trace,
    arrow,
    box,
    from_plumb,
    moved,
    trace,
    upside_down,
)
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.seated_file import LARGEST, seated_file, times_as_large
from session.prints.sheet_draft import SMALL, WORDS, SheetDraft
from session.texts.page_words import page_words
from session.trade.file_choice import face_needs, tooth_to_fit
from session.trade.lengths import MM_PER, by_inches
from session.trade.rounding import half_up
from session.trade.rule_marks import INCH_PARTS, MM_STEP, on_rule
from session.trade.saw import Saw
from session.trade.sides import goes_left
from session.trade.tooth import FILE_DEG
from session.value_class import dataclass

#: How wide the file is where the block sits, a little behind its tip, as a share of its face: judgment.
TIP_SHARE: Final = 0.75

#: Size of the block, in mm, for owners who measure in mm and in inches: judgment.
_METRIC: Final = (64.0, 40.0, 20.0)
_INCHES: Final = (2.5 * 25.4, 1.5 * 25.4, 0.75 * 25.4)


@dataclass(frozen=True, slots=True)
class BlockSize:
    """The block in mm: width, height and thickness, and the width of its hole."""

    wide: float
    high: float
    thick: float
    hole: float


def block_size(saw: Saw) -> BlockSize:
    """The block for the file of ``saw``: its own face, else the advised one. The hole is that of a drill that can be
    had, the next smaller one, so that the file's corners bite."""
    inches = by_inches(saw.unit)
    face = _face_mm(saw)
    step = MM_PER["in"] / INCH_PARTS if inches else MM_STEP
    # Corner to corner an equal-sided triangle lies in a circle of 2/√3 of its side.
    hole = max(step, math.floor(TIP_SHARE * face * 2 / math.sqrt(3) / step + 1e-9) * step)
    return BlockSize(*(_INCHES if inches else _METRIC), hole)


def guide_block_sheets(saw: Saw, stock: PaperStock) -> list[PageSheet]:
    """A page for each rake of the line; most lines have one."""
    rakes = dict.fromkeys(zone.rake for _, _, zone in saw.line.stretches())
    sheets = [_page(saw, rake, stock) for rake in rakes]
    for number, sheet in enumerate(sheets, 1):
        sheet.numbered_as(number, len(sheets))
    return [sheet.done() for sheet in sheets]


def _page(saw: Saw, rake: float, stock: PaperStock) -> SheetDraft:
    size = block_size(saw)
    said = page_words(
        "guide block",
        wide=on_rule(size.wide, saw.unit),
        high=on_rule(size.high, saw.unit),
        thick=on_rule(size.thick, saw.unit),
        hole=on_rule(size.hole, saw.unit),
        slant=_slant(rake),
    )
    draft = SheetDraft(stock, f"{said.title}: {saw.name}", _under(saw, rake))
    top = draft.y + 5.0
    draft.add(*moved(_folded(size, rake), 0.0, top))
    draft.y = top - WORDS
    draft.numbered(said.how, left=size.wide + 7.0)
    if saw.slope:
        lower = "lower" if saw.slope > 0 else "higher"
        draft.words(f"The file's handle is held {abs(saw.slope):g}° {lower} than its tip.", left=size.wide + 12.5)
    draft.words(f"({said.source})", size=SMALL, left=size.wide + 12.5)
    _seated(draft, saw, rake, top + 2 * size.high + size.thick)
    return draft


def _slant(rake: float) -> str:
    """How the file's upper face lies with its lower corner in the gullet: half its angle off level, less the rake."""
    tilt = half_up(FILE_DEG / 2 - rake, 1)
    return f"{abs(tilt):g}° off the top edge, higher toward the {'handle' if tilt > 0 else 'toe'}" if tilt else "level"


def _seated(draft: SheetDraft, saw: Saw, rake: float, top: float) -> None:
    """Below ``top``: how the file sits in its gullet on each side."""
    face = TIP_SHARE * _face_mm(saw)
    draft.y = top + 1.0
    draft.heading(f"How the file sits in its gullet, {times_as_large(face)} times as large")
    floor = draft.y + LARGEST + 8.0
    pitch = next(zone.pitch_mm for _, _, zone in saw.line.stretches() if zone.rake == rake)
    for side, x in ((1, draft.wide * 0.26), (2, draft.wide * 0.74)):
        draft.add(*seated_file(pitch, rake, face, side, (x, floor), draft.wide * 0.22))


def _face_mm(saw: Saw) -> float:
    """The face of the recipe's file, else the advised one."""
    return saw.face.mm if saw.face is not None else face_needs(tooth_to_fit(saw)).advised_mm


def _under(saw: Saw, rake: float) -> str:
    teeth = [
        f"teeth {first} to {last}" for first, last, zone in saw.line.stretches() if saw.zones and zone.rake == rake
    ]
    return f"Rake {rake:g}° back from square, as the block holds the file{': ' if teeth else ''}{', '.join(teeth)}"


def _folded(size: BlockSize, rake: float) -> tuple[Shape, ...]:
    """Side 2 upside down over the block's top edge over side 1, from the corner of the paper piece."""
    above, below = size.high, size.high + size.thick
    far = upside_down(moved(_face(size, rake, 2), 0.0, below), (size.wide / 2, size.high + size.thick / 2))
    return (
        box(0.0, 0.0, size.wide, 2 * size.high + size.thick, Ink.LINE, name="outline"),
        trace((0.0, above), (size.wide, above), ink=Ink.DASHED, name="fold-2"),
        trace((0.0, below), (size.wide, below), ink=Ink.DASHED, name="fold-1"),
        Lettering((size.wide / 2, above + size.thick / 2 + 1.2), "top edge, held level", WORDS, Anchor.MIDDLE),
        *far,
        *moved(_face(size, rake, 1), 0.0, below),
    )


def _face(size: BlockSize, rake: float, side: int) -> tuple[Shape, ...]:
    """One face upright, its upper left corner at the origin, as the person sees it who files from ``side``."""
    middle: Spot = (size.wide / 2, size.high / 2)
    # The tooth's front stands on the heel's side of its gullet and leans toward the heel.
    heel = -1 if goes_left(False, side) else 1
    reach = size.high / 2 / math.cos(math.radians(rake))
    ends = (from_plumb(middle, heel * rake + 180, reach), from_plumb(middle, heel * rake, reach))
    corners = tuple(from_plumb(middle, heel * (rake - 30) + 180 + turn, size.hole / 2) for turn in (0, 120, 240))
    return (
        trace((middle[0], 0.0), (middle[0], size.high), ink=Ink.DASHED),
        trace((middle[0] - 7, middle[1]), (middle[0] + 7, middle[1]), ink=Ink.FINE),
        trace(*ends, ink=Ink.LINE, name=f"rake-side-{side}"),
        Disc(middle, size.hole / 2, Ink.FINE, name=f"hole-side-{side}"),
        Trace(corners, Ink.LINE, closed=True, name=f"file-side-{side}"),
        Lettering((heel * 1.6 + ends[1][0], 5.0), f"rake {rake:g}°", WORDS, Anchor.START if heel > 0 else Anchor.END),
        *_to_handle(size, heel),
        Lettering(
            (2.0 if heel > 0 else size.wide - 2.0, 6.0),
            f"SIDE {side}",
            4.2,
            Anchor.START if heel > 0 else Anchor.END,
            bold=True,
        ),
    )


def _to_handle(size: BlockSize, heel: int) -> tuple[Shape, ...]:
    y, edge = size.high - 8.0, size.wide - 2.0 if heel > 0 else 2.0
    tail = (edge - heel * 17.0, y)
    return (
        *arrow(tail, (edge, y), 3.0),
        Lettering((edge, y + 5.2), "to the handle", SMALL, Anchor.END if heel > 0 else Anchor.START),
    )
