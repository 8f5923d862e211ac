"""The pages of a pitch strip as SVG drawings, true to scale in millimeters, with bars to check the printer against."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from session.commands.output.svg_text import svg_text
from session.trade.pitch_strip import StripRow, strip_rows

#: Width and height of the papers, lying, in mm.
PAPERS: Final = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}

#: What no printer is trusted to reach, and paper left beyond the end marks of a piece, in mm.
_MARGIN: Final = 10.0
_BEYOND: Final = 8.0

#: Where the pieces begin under the head of the page, how far they stand apart, and how high one is, in mm.
_HEAD: Final = 68.0
_ROW: Final = 23.0
_HIGH: Final = 15.0

#: A mark goes beyond the edge, so that it reaches it however the scissors run; a fifth one is longer, in mm.
_OVER: Final = 2.0
_MARK: Final = 5.0
_FIFTH: Final = 7.5

#: The least room of a number, and of a piece with its name on it, in mm; every how many teeth may be numbered.
_NUMBER: Final = 6.0
_NAMED: Final = 90.0
_NUMBERED: Final = (5, 10, 20, 50, 100, 500, 3000)

_STYLE: Final = (
    "text{font-family:sans-serif;font-size:3.1px;fill:#000}"
    ".head{font-size:5px;font-weight:bold}.no{text-anchor:middle}.end{text-anchor:end}"
    ".mark{stroke:#000;stroke-width:.1;fill:none}.edge{stroke:#777;stroke-width:.1;fill:none}"
    ".bar{stroke:#000;stroke-width:.2;fill:none}"
)

_HOW: Final = (
    "Print at 100 %. Measure the bars: 100 mm and 4 in. If they differ, make the strip anew with --printed and what "
    "the upper bar measures.",
    "Cut along the thin line that the marks cross. Where there are several pieces, tape them together mark on mark.",
    "Saw leveled and in the vise, handle on your right: tape the strip to the plate, its edge level with the points, "
    "mark 1 at the heel.",
    "Lay it so that the flats lie off their marks as little as can be, and leave it so to the end of the line.",
    "Look straight down, with a loupe. The middle of a flat lies off its mark toward the heel or the toe, in "
    "quarters of the flat's own width.",
)


@dataclass(frozen=True, slots=True)
class StripHead:
    """What stands over a strip: the saw's name, and its line in a few words."""

    saw: str
    line: str


def strip_pages(
    head: StripHead, positions_mm: Sequence[float], *, paper: str = "a4", bar_mm: float = 100.0
) -> list[str]:
    """One SVG document a page, of the strip with marks at ``positions_mm`` from the heel.

    paper: a key of ``PAPERS``. bar_mm: what the bar of 100 mm measured when printed; everything is drawn the other way
    around by as much. The heel is on the right, as the saw stands with its handle there. Raises TradeError for places
    that make no strip.
    """
    wide, high = PAPERS[paper]
    scale = 100.0 / bar_mm
    # Lengths within the scaled group are those on paper.
    room, last = wide / scale - 2 * _MARGIN, high / scale - _MARGIN
    rows = strip_rows(positions_mm, room - 2 * _BEYOND)
    a_page = max(1, int((last - _HEAD) / _ROW))
    numbered = list(enumerate(rows, 1))
    pages = [numbered[at : at + a_page] for at in range(0, len(rows), a_page)]
    return [
        _page(
            head,
            rows_of_page,
            of_rows=len(rows),
            page=f"page {number} of {len(pages)}",
            size=(wide, high),
            scale=scale,
            right=_MARGIN + room,
        )
        for number, rows_of_page in enumerate(pages, 1)
    ]


def _page(
    head: StripHead,
    rows: Sequence[tuple[int, StripRow]],
    *,
    of_rows: int,
    page: str,
    size: tuple[float, float],
    scale: float,
    right: float,
) -> str:
    wide, high = size
    title = f"Pitch strip: {head.saw}"
    body = [
        f'<text class="head" x="{_MARGIN:g}" y="16">{svg_text(title)}</text>',
        f'<text class="end" x="{right:.2f}" y="16">{page}</text>',
        f'<text x="{_MARGIN:g}" y="22">{svg_text(head.line)}</text>',
        *(f'<text x="{_MARGIN:g}" y="{27.5 + 4.4 * n:.1f}">{svg_text(how)}</text>' for n, how in enumerate(_HOW)),
        *_bar(_MARGIN, 53.0, 25.0, "25 mm", "100 mm"),
        *_bar(_MARGIN, 60.0, 25.4, "1 in", "4 in"),
    ]
    for at, (number, row) in enumerate(rows):
        body += _row(row, number, of_rows, right, _HEAD + at * _ROW + _OVER)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{high:g}mm" '
        f'viewBox="0 0 {wide:g} {high:g}">\n'
        f"<title>{svg_text(title)}</title>\n<style>{_STYLE}</style>\n"
        f'<rect width="{wide:g}" height="{high:g}" fill="#fff"/>\n<g transform="scale({scale:.8g})">\n'
        + "\n".join(body)
        + "\n</g>\n</svg>\n"
    )


def _bar(x: float, y: float, part: float, one: str, whole: str) -> list[str]:
    """A bar of four parts, the first named ``one`` and all of it ``whole``."""
    ticks = "".join(f"M{x + n * part:g} {y - 2:g}v4" for n in range(5))
    return [
        f'<path class="bar" d="M{x:g} {y:g}h{4 * part:g}{ticks}"/>',
        f'<text class="no" x="{x + part / 2:g}" y="{y - 0.8:g}">{one}</text>',
        f'<text x="{x + 4 * part + 2:g}" y="{y + 1:g}">{whole}</text>',
    ]


def _row(row: StripRow, number: int, of_rows: int, right: float, y: float) -> list[str]:
    """A piece whose edge is at ``y``: its outline, its marks, and which piece it is."""
    heel = right - _BEYOND
    left, wide = heel - row.length_mm - _BEYOND, row.length_mm + 2 * _BEYOND
    step = _numbered(row)
    parts = [
        f'<path class="edge" d="M{left:.3f} {y:g}h{wide:.3f}"/>',
        f'<path class="edge" stroke-dasharray="1 1" d="M{left:.3f} {y:g}v{_HIGH:g}h{wide:.3f}v{-_HIGH:g}"/>',
    ]
    for tooth, place in enumerate(row.marks_mm, row.first):
        x = heel - place
        fifth = tooth % 5 == 0 or tooth == 1
        length = _OVER + (_FIFTH if fifth else _MARK)
        parts.append(f'<path class="mark" id="mark-{tooth}-of-{number}" d="M{x:.3f} {y - _OVER:g}v{length:g}"/>')
        if tooth % step == 0 or tooth in (row.first, row.last):
            beside = min(abs(tooth - end) for end in (row.first, row.last))
            # An end mark is always numbered, so its neighbor gives way.
            if beside == 0 or beside * row.length_mm / (len(row.marks_mm) - 1) >= _NUMBER:
                parts.append(f'<text class="no" x="{x:.3f}" y="{y + 10.5:g}">{tooth}</text>')
    ends = ("heel" if row.first == 1 else f"on {row.first}", "toe" if number == of_rows else f"on {row.last}")
    parts.append(f'<text class="end" x="{heel + _BEYOND - 0.5:.3f}" y="{y + 14:g}">{ends[0]}</text>')
    parts.append(f'<text x="{left + 0.5:.3f}" y="{y + 14:g}">{ends[1]}</text>')
    if wide >= _NAMED:
        middle = f"piece {number} of {of_rows}, teeth {row.first} to {row.last}"
        parts.append(f'<text class="no" x="{(left + wide / 2):.3f}" y="{y + 14:g}">{middle}</text>')
    return parts


def _numbered(row: StripRow) -> int:
    """Every how many teeth a number has room; five where it can be."""
    closest = min(ahead - behind for behind, ahead in pairwise(row.marks_mm))
    return next(step for step in _NUMBERED if step * closest >= _NUMBER or step == _NUMBERED[-1])
