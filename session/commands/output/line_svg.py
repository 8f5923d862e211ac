"""A record as a page to print, in SVG: its account, and a tooth for each tooth, its state told by its shape as well.

Black on white, in letters that can be read on a sheet of paper.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Final

from session.prints.record_matter import RecordMatter, ToothOutcome
from session.prints.svg_text import svg_text
from session.walk.known_teeth import Known
from session.walk.place import Standing

#: Teeth in a row; a longer line goes on below.
PER_ROW: Final = 60
_PITCH: Final = 15
_ROW: Final = 80
_LEFT: Final = 70
_WIDTH: Final = _LEFT + PER_ROW * _PITCH + 50

_STYLE: Final = (
    "text{font-family:sans-serif;font-size:12px;fill:#111}"
    ".head{font-size:16px;font-weight:bold}"
    ".part{font-weight:bold}"
    ".figure{font-size:10px}"
    ".ahead{fill:none;stroke:#111;stroke-width:1.2}"
    ".hand{fill:#111;stroke:#111;stroke-width:1.2}"
    ".done{fill:#666;stroke:#111;stroke-width:1.2}"
    ".out{fill:none;stroke:#a00;stroke-width:2}"
    ".stump{fill:#fff;stroke:#a00;stroke-width:2}"
    ".none{fill:none;stroke:#999;stroke-width:1;stroke-dasharray:2 2}"
)


#: What stands over a tooth that is known to be so; a broken one is drawn as a stump.
_LETTERS: Final = {Known.LOW: "L", Known.HIGH: "H"}

_STUMP_TITLE: Final = "tooth 0: no place in this stage, broken"


#: Characters in a line of words: what a page takes of the widest common letters at 12 px.
_CHARACTERS: Final = 130

#: From one line of words to the next, and from one part of the page to the next, in px.
_LINE: Final = 18
_PART: Final = 14


def line_svg(matter: RecordMatter) -> str:
    """An SVG document: a heading, the account, a drawing of each of the lines, a legend, the notes, and what is said
    to the next sharpening.

    Heel on the left, so as one reads the numbers; the handle is drawn there. Texts may hold anything: they are made
    safe here.
    """
    body: list[str] = [f'<text class="head" x="10" y="26">{svg_text(matter.title)}</text>']
    words, y = _words(matter.account, 52)
    body += words
    y += _PART if matter.account else 0
    for drawn in matter.lines:
        body.append(f'<text class="part" x="10" y="{y}">{svg_text(drawn.heading)}</text>')
        for first in range(1, len(drawn.states) + 1, PER_ROW):
            body += _row(drawn, first, y + 20)
            y += _ROW
        y += 24
    body += _legend(y)
    # The legend's own words stand 18 below its top.
    y += 18 + _LINE + _PART
    for texts in (matter.notes, matter.later):
        words, y = _words(texts, y)
        body += words
        y += _PART if texts else 0
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDTH}" height="{y + 10}" viewBox="0 0 {_WIDTH} {y + 10}">\n'
        f"<title>{svg_text(matter.title)}</title>\n<style>{_STYLE}</style>\n"
        f'<rect width="{_WIDTH}" height="{y + 10}" fill="#fff"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def _words(texts: Sequence[str], y: int) -> tuple[list[str], int]:
    """Lines of words from ``y`` on, long ones wrapped, and where the next would stand."""
    parts: list[str] = []
    for text in texts:
        indent = len(text) - len(text.lstrip(" "))
        for number, line in enumerate(textwrap.wrap(text.strip(), _CHARACTERS - indent) or [""]):
            x = 10 + 7 * (indent + 2 * bool(number))
            parts.append(f'<text x="{x}" y="{y}">{svg_text(line)}</text>')
            y += _LINE
    return parts, y


def _row(drawn: ToothOutcome, first: int, y: int) -> list[str]:
    last = min(first + PER_ROW - 1, len(drawn.states))
    parts: list[str] = []
    if first == 1:
        parts.append(f'<rect x="{_LEFT - 56}" y="{y}" width="40" height="20" rx="6" class="ahead"/>')
        parts.append(f'<text x="{_LEFT - 50}" y="{y + 14}">heel</text>')
    if last == len(drawn.states):
        parts.append(f'<text x="{_LEFT + (last - first + 1) * _PITCH + 6}" y="{y + 14}">toe</text>')
    ends = {reach[1] for reach in drawn.reaches}
    for tooth in range(first, last + 1):
        x = _LEFT + (tooth - first) * _PITCH
        known = drawn.known.of(tooth)
        parts.append(_tooth(x, y, drawn.states[tooth - 1], tooth, known))
        over = ("!" if tooth in drawn.flags else "") + _letter(known)
        if over:
            parts.append(f'<text x="{x + _PITCH / 2:g}" y="{y - 3}" text-anchor="middle">{over}</text>')
        if tooth in drawn.figures:
            figure = drawn.figures[tooth]
            parts.append(
                f'<text class="figure" x="{x + _PITCH / 2:g}" y="{y + 32}" text-anchor="middle">{figure}</text>'
            )
        if tooth in (first, last, drawn.here) or tooth % 10 == 0:
            parts.append(f'<text x="{x + _PITCH / 2:g}" y="{y + 48}" text-anchor="middle">{tooth}</text>')
        if tooth in ends and tooth != len(drawn.states):
            parts.append(f'<path class="none" d="M{x + _PITCH} {y - 6}v32"/>')
    return parts


def _letter(known: Known | None) -> str:
    return "" if known is None else _LETTERS.get(known, "")


def _tooth(x: int, y: int, state: Standing | None, tooth: int, known: Known | None = None) -> str:
    """A tooth as a triangle on the line; in hand it stands as a diamond, left out it is crossed through.

    Broken it is a stump, cut off flat under its point, whatever else became of it.
    """
    base, top, middle = y + 20, y + 4, x + _PITCH / 2
    triangle = f"M{x + 1} {base}L{middle:g} {top}L{x + _PITCH - 1} {base}Z"
    match state:
        case Standing.DONE:
            shape = f'<path class="done" d="{triangle}"/>'
        case Standing.IN_HAND:
            shape = f'<path class="hand" d="M{middle:g} {y - 4}l6 12l-6 12l-6 -12Z"/>'
        case Standing.LEFT_OUT:
            shape = (
                f'<path class="out" d="M{x + 2} {top}L{x + _PITCH - 2} {base}M{x + _PITCH - 2} {top}L{x + 2} {base}"/>'
            )
        case Standing.AHEAD:
            shape = f'<path class="ahead" d="{triangle}"/>'
        case _:
            shape = f'<path class="none" d="M{x + 1} {base}h{_PITCH - 2}"/>'
    if known is Known.BROKEN:
        stump = f"M{x + 1} {base}L{x + 4} {base - 7}H{x + _PITCH - 4}L{x + _PITCH - 1} {base}Z"
        shape = f'<path class="stump" d="{stump}"/>' + (shape if state is Standing.IN_HAND else "")
    words = f"tooth {tooth}: {state.value if state is not None else 'no place in this stage'}"
    words += f", {known}" if known is not None else ""
    return f"<g><title>{words}</title>{shape}</g>"


def _legend(y: int) -> list[str]:
    parts: list[str] = []
    for number, state in enumerate(Standing):
        x = 10 + number * 120
        parts.append(_tooth(x, y, state, 0).replace(f"<title>tooth 0: {state.value}</title>", ""))
        parts.append(f'<text x="{x + 22}" y="{y + 18}">{state.value}</text>')
    x = 10 + len(Standing) * 120
    parts.append(f'<text x="{x}" y="{y + 18}">! flagged</text>')
    parts.append(_tooth(x + 90, y, None, 0, Known.BROKEN).replace(f"<title>{_STUMP_TITLE}</title>", ""))
    parts.append(f'<text x="{x + 112}" y="{y + 18}">broken</text>')
    parts.append(f'<text x="{x + 180}" y="{y + 18}">L low, H high</text>')
    return parts
