"""How wide letters are on the printed page, and lines of words that keep to a width.

The letters are those that come with the PDF library, and travel in each PDF, so that a page looks and measures alike
on every printer. An SVG names the same ones; a viewer that has not got them mostly has narrower ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Final

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from session.machine.clean_text import clean

#: The letters by their name in a PDF, plain and bold, each with its file.
PLAIN: Final = "Vera"
BOLD: Final = "VeraBd"

#: What stands for a sign that the letters lack.
_LACKING: Final = "?"


@cache
def letters(bold: bool = False) -> TTFont:
    """The font, known to the PDF library from then on."""
    name = BOLD if bold else PLAIN
    font = TTFont(name, f"{name}.ttf")
    pdfmetrics.registerFont(font)
    return font


def printable(text: str, bold: bool = False) -> str:
    """``text`` on one line, with a question mark for each sign that the letters lack."""
    known = letters(bold).face.charToGlyph
    return "".join(sign if ord(sign) in known else _LACKING for sign in clean(text))


def wide_mm(text: str, size: float, bold: bool = False) -> float:
    """How wide ``text`` is in letters of ``size`` mm."""
    return float(letters(bold).stringWidth(printable(text, bold), size))


def lines_within(text: str, wide: float, size: float, bold: bool = False) -> Iterator[str]:
    """``text`` in lines at most ``wide`` mm long; a word that is longer alone is cut where it must be."""
    line = ""
    for word in clean(text).split():
        grown = f"{line} {word}" if line else word
        if wide_mm(grown, size, bold) <= wide:
            line = grown
            continue
        if line:
            yield line
        while wide_mm(word, size, bold) > wide and len(word) > 1:
            fits = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or wide_mm(word[:n], size, bold) <= wide)
            yield word[:fits]
            word = word[fits:]
        line = word
    if line:
        yield line


def shortened(text: str, wide: float, size: float, bold: bool = False) -> str:
    """``text``, or as much of it as ``wide`` mm hold, with the sign that more was there."""
    text = clean(text)
    if wide_mm(text, size, bold) <= wide:
        return text
    return next(
        (f"{text[:n]}…" for n in range(len(text) - 1, 0, -1) if wide_mm(f"{text[:n]}…", size, bold) <= wide), "…"
    )
