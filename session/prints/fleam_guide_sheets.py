"""The fleam guide to cut out: a board with one slot for each side, seen from above by the person who files."""

from __future__ import annotations

import math
from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, Lettering, Shape, Spot, Trace, arrow, from_plumb, trace
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.sheet_draft import SMALL, WORDS, SheetDraft
from session.texts.page_words import page_words
from session.trade.file_choice import face_needs, tooth_to_fit
from session.trade.saw import FilePoints, Saw
from session.trade.sides import goes_left

#: How far a slot reaches in from the edge at the plate, how much board is below it and beside it, and how much wider
#: than the file's face it is, in mm: judgment.
_DEEP: Final = 38.0
_BELOW: Final = 16.0
_BESIDE: Final = 12.0
_CLEAR: Final = 2.0

#: Half of what is left between the feet of the two slots, in mm.
_BETWEEN: Final = 7.0


def fleam_guide_sheets(saw: Saw, stock: PaperStock) -> list[PageSheet]:
    """The page; none for a saw that is filed square across."""
    if not saw.fleam:
        return []
    said = page_words("fleam guide")
    under = f"Fleam {saw.fleam:g}° from square across, the file's tip to the {saw.file_points}"
    draft = SheetDraft(stock, f"{said.title}: {saw.name}", under)
    draft.numbered(said.how)
    face = saw.face.mm if saw.face is not None else face_needs(tooth_to_fit(saw)).advised_mm
    for shape in _board(saw, face + _CLEAR, (draft.wide / 2, draft.y + 16.0)):
        draft.add(shape)
    top = draft.y + 16.0
    draft.letter((draft.wide / 2, top - 2.0), "this edge along the plate", WORDS, anchor=Anchor.MIDDLE)
    for side in (1, 2):
        _sided(draft, side, top)
    draft.y = top + _DEEP + _BELOW
    draft.words(f"({said.source})", size=SMALL)
    return [draft.done()]


def _board(saw: Saw, slot: float, top: Spot) -> tuple[Shape, ...]:
    """The board, its upper edge centered on ``top``, each slot on the side that the file's tip goes to."""
    lean = math.radians(saw.fleam)
    across = slot / math.cos(lean)
    foot = _BETWEEN + across / 2
    half = foot + _DEEP * math.tan(lean) + across / 2 + _BESIDE
    x, y = top
    outline: list[Spot] = [(x - half, y + _DEEP + _BELOW), (x - half, y)]
    shapes: list[Shape] = []
    for way in (-1, 1):
        head = x + way * (foot + _DEEP * math.tan(lean))
        low = x + way * foot
        corners = [(head, -1), (low, -1), (low, 1), (head, 1)]
        for number, (at, edge) in enumerate(corners):
            outline.append((at + edge * across / 2, y + (_DEEP if number in (1, 2) else 0.0)))
        side = next(n for n in (1, 2) if goes_left(saw.file_points is FilePoints.TOE, n) == (way < 0))
        begin = (low, y + _DEEP)
        shapes.append(
            trace(
                begin,
                from_plumb(begin, way * saw.fleam, _DEEP / math.cos(lean)),
                ink=Ink.DASHED,
                name=f"fleam-side-{side}",
            )
        )
        shapes += _named(side, (low, y + _DEEP + 6.5), saw.fleam)
    outline += [(x + half, y), (x + half, y + _DEEP + _BELOW)]
    return (Trace(tuple(outline), Ink.LINE, closed=True, name="board"), *shapes)


def _named(side: int, at: Spot, fleam: float) -> tuple[Shape, ...]:
    return (
        Lettering(at, f"SIDE {side}", 4.2, Anchor.MIDDLE, bold=True),
        Lettering((at[0], at[1] + 5.0), f"{fleam:g}°", WORDS, Anchor.MIDDLE),
    )


def _sided(draft: SheetDraft, side: int, top: float) -> None:
    """Where the handle is on this side: an arrow over the board."""
    to_left = goes_left(False, side)
    end = 0.0 if to_left else draft.wide
    tail = end + (22.0 if to_left else -22.0)
    draft.add(*arrow((tail, top - 9.0), (end, top - 9.0), 2.4))
    anchor = Anchor.START if to_left else Anchor.END
    draft.letter((end, top - 11.5), f"side {side}: handle here", SMALL, anchor=anchor)
