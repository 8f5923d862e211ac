"""A measured tooth line drawn in SVG, ten times in height, so that a tenth of a millimeter is seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from session.prints.svg_text import svg_text
from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, is_measured

#: Along the line a millimeter is so many units wide; in height, ten times as many.
ALONG: Final = 5.0
TIMES: Final = 10.0

#: How much of the line stands in a row, mm, what is free left of it and over it, and the room of its numbers, units.
ROW_MM: Final = 180.0
LEFT: Final = 40.0
OVER: Final = 34.0
UNDER: Final = 30.0
WIDE: Final = LEFT + ROW_MM * ALONG + 40.0

#: What stands over a tooth that is not whole.
_LETTERS: Final = {ToothState.LOW: "L", ToothState.HIGH: "H", ToothState.BROKEN: "B", ToothState.NOT_SEEN: "?"}

STYLE: Final = (
    "text{font-family:sans-serif;font-size:12px;fill:#111}"
    ".head{font-size:16px;font-weight:bold}"
    ".steel{fill:none;stroke:#111;stroke-width:1.2}"
    ".guess{fill:none;stroke:#999;stroke-width:1;stroke-dasharray:3 3}"
    ".level{fill:none;stroke:#a00;stroke-width:0.6}"
)


def scanned_svg(title: str, words: Sequence[str], line: ScannedLine) -> str:
    """An SVG document: heading, sentences, the line from heel to toe in rows. Texts may hold anything."""
    body = [f'<text class="head" x="10" y="26">{svg_text(title)}</text>']
    y = 50.0
    for text in words:
        body.append(f'<text x="10" y="{y:g}">{svg_text(text)}</text>')
        y += 18.0
    rows, y = line_rows(line, y + 6.0)
    body += rows
    size = f'width="{WIDE:g}" height="{y:g}" viewBox="0 0 {WIDE:g} {y:g}"'
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<svg xmlns="http://www.w3.org/2000/svg" {size}>\n'
        f"<title>{svg_text(title)}</title>\n<style>{STYLE}</style>\n"
        f'<rect width="{WIDE:g}" height="{y:g}" fill="#fff"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def line_rows(line: ScannedLine, y: float) -> tuple[list[str], float]:
    """The line's rows from ``y`` on, as elements, and where the next thing would stand."""
    parts = [
        f'<text x="10" y="{y + 12.0:g}">Heights {TIMES:g} times; the red line is the line through the points. '
        "L low, H high, B broken, ? not seen</text>"
    ]
    y += 16.0
    begin = line.teeth[0].place_mm
    while begin <= line.teeth[-1].place_mm:
        row = [tooth for tooth in line.teeth if begin <= tooth.place_mm < begin + ROW_MM]
        if row:
            high = max([0.0, *(-tooth.height_mm for tooth in row if tooth.height_mm is not None)])
            deep = max([line.depth_mm, *(tooth.depth_mm for tooth in row if tooth.depth_mm is not None)])
            level = y + OVER + high * ALONG * TIMES
            parts += _row(row, begin, level)
            y = level + deep * ALONG * TIMES + UNDER
        begin += ROW_MM
    return parts, y


def _row(row: Sequence[ScannedTooth], begin: float, level: float) -> Iterator[str]:
    def at(place: float, under: float) -> str:
        return f"{LEFT + (place - begin) * ALONG:.1f} {level + under * ALONG * TIMES:.1f}"

    yield f'<path class="level" d="M{at(row[0].place_mm, 0.0)}L{at(row[-1].place_mm, 0.0)}"/>'
    for number, run in enumerate(_runs(row)):
        points = [at(*corner) for tooth in run for corner in _corners(tooth)]
        if len(points) > 1:
            yield f'<path class="{"guess" if number % 2 else "steel"}" d="M{"L".join(points)}"/>'
    for tooth in row:
        x = LEFT + (tooth.place_mm - begin) * ALONG
        height = tooth.height_mm or 0.0
        if tooth.state in _LETTERS:
            over = level + min(0.0, height) * ALONG * TIMES - 6.0
            yield f'<text x="{x:.1f}" y="{over:.1f}" text-anchor="middle">{_LETTERS[tooth.state]}</text>'
        if tooth in (row[0], row[-1]) or tooth.tooth % 10 == 0:
            yield f'<text x="{x:.1f}" y="{level - OVER + 14.0:.1f}" text-anchor="middle">{tooth.tooth}</text>'


def _runs(row: Sequence[ScannedTooth]) -> Iterator[list[ScannedTooth]]:
    """The teeth in runs, seen ones and those that were not in turn; the first run was seen, and may be empty."""
    run: list[ScannedTooth] = []
    seen = True
    for tooth in row:
        if (tooth.state is not ToothState.NOT_SEEN) is not seen:
            yield run
            # The line between two runs belongs to what was not seen.
            run, seen = run[-1:] if seen else [], not seen
        run.append(tooth)
    yield run


def _corners(tooth: ScannedTooth) -> Iterator[tuple[float, float]]:
    """The ends of its flat and the gullet before it, as places along and depths under the line."""
    if is_measured(tooth.state) and tooth.a_mm is not None and tooth.b_mm is not None and tooth.height_mm is not None:
        yield tooth.a_mm, tooth.height_mm
        if tooth.b_mm > tooth.a_mm:
            yield tooth.b_mm, tooth.height_mm
    else:
        yield tooth.place_mm, tooth.height_mm or 0.0
    if tooth.gullet_mm is not None and tooth.depth_mm is not None:
        yield tooth.gullet_mm, tooth.depth_mm
