"""Pages as one PDF document, true to scale: each has the size of its paper, and viewers are asked not to fit it."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Final

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from session.machine.clean_text import clean
from session.prints.drawn_shapes import PENS, Anchor, Disc, Ink, Lettering, Shape, Spot
from session.prints.letter_widths import BOLD, PLAIN, letters, printable, wide_mm
from session.prints.page_sheets import MARGIN, PageSheet

#: How much of a line of letters stands to the left of its place.
_BEFORE: Final = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}


def pdf_sheets(title: str, sheets: Sequence[PageSheet]) -> bytes:
    """The document of all ``sheets``; the same sheets give the same bytes on any day."""
    letters(), letters(bold=True)
    into = io.BytesIO()
    canvas = Canvas(into, invariant=1)
    canvas.setTitle(clean(title))
    canvas.setAuthor("Toothline")
    canvas.setCreator("Toothline")
    canvas.setViewerPreference("PrintScaling", "None")
    for sheet in sheets:
        wide, high = sheet.stock.size_mm(sheet.lying)
        canvas.setPageSize((wide * mm, high * mm))
        _Drawn(canvas, high, sheet.stock.scale).sheet(sheet.shapes)
        canvas.showPage()
    canvas.save()
    return into.getvalue()


class _Drawn:
    """One page on a canvas, whose places are counted in points from the lower left corner."""

    def __init__(self, canvas: Canvas, high: float, scale: float) -> None:
        self._canvas, self._high, self._scale = canvas, high, scale

    def sheet(self, shapes: Sequence[Shape]) -> None:
        for shape in shapes:
            if isinstance(shape, Lettering):
                self._letter(shape)
                continue
            self._take(shape.ink)
            filled = int(PENS[shape.ink].filled)
            if isinstance(shape, Disc):
                x, y = self._at(shape.center)
                self._canvas.circle(x, y, self._long(shape.radius), stroke=1 - filled, fill=filled)
                continue
            way = self._canvas.beginPath()
            way.moveTo(*self._at(shape.spots[0]))
            for spot in shape.spots[1:]:
                way.lineTo(*self._at(spot))
            if shape.closed:
                way.close()
            self._canvas.drawPath(way, stroke=1 - filled, fill=filled)

    def _take(self, ink: Ink) -> None:
        pen = PENS[ink]
        if pen.filled:
            self._canvas.setFillGray(pen.gray)
            return
        self._canvas.setStrokeGray(pen.gray)
        self._canvas.setLineWidth(self._long(pen.wide_mm))
        self._canvas.setDash([self._long(part) for part in pen.dash_mm or ()])

    def _letter(self, shape: Lettering) -> None:
        canvas = self._canvas
        size = self._long(shape.size)
        canvas.saveState()
        canvas.setFillGray(0)
        canvas.setFont(BOLD if shape.bold else PLAIN, size)
        canvas.translate(*self._at(shape.at))
        canvas.rotate(-shape.turned)
        before = _BEFORE[shape.anchor] * wide_mm(shape.text, size, shape.bold)
        canvas.drawString(-before, 0, printable(shape.text, shape.bold))
        canvas.restoreState()

    def _at(self, spot: Spot) -> tuple[float, float]:
        return (MARGIN + spot[0] * self._scale) * mm, (self._high - MARGIN - spot[1] * self._scale) * mm

    def _long(self, length: float) -> float:
        return length * self._scale * mm
