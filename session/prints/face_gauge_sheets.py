"""A gauge for the face of a saw file: two lines that part slowly, and a scale of their distance beside them."""

from __future__ import annotations

from typing import Final

from session.advice.sourced_figure import amount
from session.prints.drawn_shapes import Anchor, Ink, Trace, trace
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.sheet_draft import SMALL, WORDS, SheetDraft
from session.texts.page_words import page_words
from session.trade.file_choice import face_needs, tooth_to_fit
from session.trade.rounding import decimals, whole_number
from session.trade.saw import Saw

#: Faces in mm at the narrow and at the wide end, and how many mm along the gauge stand for one of the face.
NARROW_MM: Final = 2.0
WIDE_MM: Final = 13.0
SPREAD: Final = 14.0

#: Room for half a number at the narrow end, in mm.
_LEFT: Final = 3.0

#: What stands over the advised face.
_BEST: Final = "best"

#: Thousandths of an inch from one mark to the next, and to the next number.
_THOU: Final = 5
_NUMBERED_THOU: Final = 50


def face_gauge_sheets(saw: Saw, stock: PaperStock) -> list[PageSheet]:
    """The page, with the faces that this saw's teeth ask for marked on the gauge."""
    said = page_words("face gauge")
    draft = SheetDraft(stock, f"{said.title}: {saw.name}")
    draft.numbered(said.how)
    needs = face_needs(tooth_to_fit(saw))
    least, best = amount(needs.at_outer_face_mm, saw.unit), amount(needs.advised_mm, saw.unit)
    own = "" if saw.face is None else f" The recipe's file: {saw.face}."
    draft.y += 1.0
    draft.words(f"This saw asks for a face over {least}, best {best} (from memory).{own}")
    middle = draft.y + 40.0
    _wedge(draft, middle)
    _scales(draft, middle)
    for face, what in ((needs.at_outer_face_mm, "over this"), (needs.advised_mm, _BEST)):
        if NARROW_MM <= face <= WIDE_MM:
            _marked(draft, middle, face, what)
    return [draft.done()]


def _along(face_mm: float) -> float:
    return _LEFT + (face_mm - NARROW_MM) * SPREAD


def _wedge(draft: SheetDraft, middle: float) -> None:
    end = _along(WIDE_MM)
    draft.add(trace((_LEFT, middle), (end + 8.0, middle), ink=Ink.DASHED))
    for way, name in ((-1, "upper"), (1, "lower")):
        ends = (_LEFT, middle + way * NARROW_MM / 2), (end, middle + way * WIDE_MM / 2)
        draft.add(trace(*ends, ink=Ink.FINE, name=f"face-{name}"))
    draft.letter((end + 1.5, middle - 1.2), "tip", SMALL)


def _scales(draft: SheetDraft, middle: float) -> None:
    """Millimeters above, thousandths of an inch below; a fine line leads from each number down to the lines."""
    over, under = middle - WIDE_MM / 2 - 6.0, middle + WIDE_MM / 2 + 6.0
    for tenths in range(whole_number(NARROW_MM * 10), whole_number(WIDE_MM * 10) + 1):
        x = _along(tenths / 10)
        long = 4.0 if tenths % 10 == 0 else 2.8 if tenths % 5 == 0 else 1.6
        draft.add(trace((x, over), (x, over - long), ink=Ink.FINE, name=f"face-{tenths / 10:g}-mm"))
        if tenths % 10 == 0:
            draft.letter((x, over - 5.2), f"{tenths // 10}", WORDS, anchor=Anchor.MIDDLE)
            draft.add(trace((x, over), (x, middle - tenths / 20), ink=Ink.FINE))
    draft.letter((_along(WIDE_MM) + 3.0, over - 5.2), "mm", WORDS)
    first = -(-whole_number(NARROW_MM / 0.0254) // _THOU) * _THOU
    for thou in range(first, int(WIDE_MM / 0.0254) + 1, _THOU):
        x = _along(thou * 0.0254)
        numbered = thou % _NUMBERED_THOU == 0
        draft.add(trace((x, under), (x, under + (4.0 if numbered else 2.0)), ink=Ink.FINE, name=f"face-{thou}-thou"))
        if numbered:
            draft.letter((x, under + 8.0), decimals(thou / 1000, 2), WORDS, anchor=Anchor.MIDDLE)
            draft.add(trace((x, under), (x, middle + thou * 0.0127), ink=Ink.FINE))
    draft.letter((_along(WIDE_MM) + 3.0, under + 8.0), "in", WORDS)


def _marked(draft: SheetDraft, middle: float, face: float, what: str) -> None:
    """A face that this saw asks for: a black point over the scale, and its name."""
    x, y = _along(face), middle - WIDE_MM / 2 - 20.0
    draft.add(Trace(((x, y + 4.0), (x - 1.4, y), (x + 1.4, y)), Ink.SOLID, closed=True))
    # The two may be close, so that each name stands on its own side.
    draft.letter((x, y - 1.2), what, WORDS, anchor=Anchor.START if what == _BEST else Anchor.END)
