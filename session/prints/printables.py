"""All that can be printed for a saw, by name, in the order in which it is made."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum

from session.prints.bench_card import CardMatter, bench_card
from session.prints.face_gauge_sheets import face_gauge_sheets
from session.prints.fleam_guide_sheets import fleam_guide_sheets
from session.prints.guide_block_sheets import guide_block_sheets
from session.prints.page_sheets import PageSheet, PaperStock
from session.prints.pdf_sheets import pdf_sheets
from session.prints.protractor_sheets import protractor_sheets
from session.prints.strip_sheets import pitch_strip
from session.prints.svg_sheets import svg_sheet
from session.trade.lengths import Length
from session.trade.saw import Saw


class Printable(StrEnum):
    """One thing to print, by the name that its files have."""

    GUIDE_BLOCK = "guide-block"
    FLEAM_GUIDE = "fleam-guide"
    PROTRACTOR = "protractor"
    FACE_GAUGE = "face-gauge"
    PITCH_STRIP = "pitch-strip"
    BENCH_CARD = "bench-card"


class PageFormat(StrEnum):
    """A form of file that pages are written in."""

    PDF = "pdf"
    SVG = "svg"


def sheets(
    saw: Saw,
    what: Printable,
    stock: PaperStock,
    *,
    measured: Length | None = None,
    card: CardMatter | None = None,
) -> list[PageSheet]:
    """The pages of one thing; none where the saw has no need of it, and of the bench card none without its matter.

    measured: what the line measured from its first point to its last, where it was. Raises TradeError for a length that
    is none of this line.
    """
    match what:
        case Printable.GUIDE_BLOCK:
            return guide_block_sheets(saw, stock)
        case Printable.FLEAM_GUIDE:
            return fleam_guide_sheets(saw, stock)
        case Printable.PROTRACTOR:
            return protractor_sheets(saw, stock)
        case Printable.FACE_GAUGE:
            return face_gauge_sheets(saw, stock)
        case Printable.PITCH_STRIP:
            return pitch_strip(saw, stock, measured)
        case Printable.BENCH_CARD:
            return [] if card is None else bench_card(saw, card, stock)


def page_files(stem: str, printed: Mapping[str, list[PageSheet]], formats: Iterable[PageFormat]) -> dict[str, bytes]:
    """Files by their names: of each thing that has pages, by its own name, one PDF, and an SVG a page."""
    found: dict[str, bytes] = {}
    for what, pages in printed.items():
        if not pages:
            continue
        if PageFormat.PDF in formats:
            found[f"{stem}-{what}.pdf"] = pdf_sheets(pages[0].title, pages)
        if PageFormat.SVG in formats:
            for number, page in enumerate(pages, 1):
                found[f"{stem}-{what}-{number}.svg"] = svg_sheet(page).encode("utf-8", "replace")
    return found
