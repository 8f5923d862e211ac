"""The proof as text and as a picture: what a terminal shows, and what stands in the pages between their marks.

All of it is made from the summary that the proof leaves as JSON, so that pages can be held against it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from session.rehearsal.proving.proof_figures import MEASURES, PROGRAM, SPLIT, Measure

Summary = Mapping[str, Any]

#: Between these a page holds the proof.
BEGINS: Final = "<!-- proof -->"
ENDS: Final = "<!-- end of proof -->"

#: What a short table shows.
_SHORT: Final = ("cut after", "steel taken", "flats left", "over-filed", "heights uneven", "minutes")

_WORDS: Final = {True: "met", False: "**missed**", None: "not told"}

_ROW: Final = 22
_LEFT: Final = 250
_WIDE: Final = 250
_GAP: Final = 70


def whole_text(summary: Summary) -> str:
    """Everything, in Markdown."""
    parts = [f"By `{summary['command']}`:"] if "command" in summary else []
    parts += [table_text(summary, MEASURES, intervals=True), targets_text(summary)]
    parts += [split_text(by, key) for key, by in summary["splits"].items()]
    if summary.get("limits"):
        parts += [f"What limits the spacing, as the worst error by how the flats were told:\n\n{summary['limits']}"]
    if summary["regret"]:
        parts += [f"How often the advised work was the best of all plans, or within 5 % of it:\n\n{summary['regret']}"]
    if summary["years"]:
        parts += [f"Forty sharpenings in a row, a season's work before each:\n\n{summary['years']}"]
    return "\n\n".join(parts)


def short_text(summary: Summary) -> str:
    """The table in short, without intervals."""
    return table_text(summary, [measure for measure in MEASURES if measure.name in _SHORT], intervals=False)


def table_text(summary: Summary, measures: Sequence[Measure], *, intervals: bool) -> str:
    """A row for each person and way, a column a measure."""
    lines = [["", *(f"{measure.name}, {measure.unit}" for measure in measures)]]
    for person, way, figures in _rows(summary):
        told = [_told(figures[measure.name], measure, intervals=intervals) for measure in measures]
        lines.append([f"{person}, {_way(way)}", *told])
    text = [f"| {' | '.join(line)} |" for line in lines]
    text.insert(1, f"|{'---|' * len(lines[0])}")
    return "\n".join(text)


def split_text(by: Mapping[str, Any], key: str) -> str:
    """A row for each value of ``key``, and for each way the measures that are split."""
    ways = next(iter(by.values())).keys() if by else ()
    # Where ways stand beside each other there is room for cut and steel alone.
    measures = [measure for measure in MEASURES if measure.name in (SPLIT if len(ways) == 1 else SPLIT[:2])]
    heads = [
        f"{measure.name}, {measure.unit}" + (f", {_way(way)}" if len(ways) > 1 else "")
        for way in ways
        for measure in measures
    ]
    lines = [[f"{key}", "saws", *heads]]
    for value, by_way in by.items():
        told = [_told(by_way[way][measure.name], measure, intervals=False) for way in ways for measure in measures]
        of = max((figure["of"] for figures in by_way.values() for figure in figures.values() if figure), default=0)
        lines.append([value, str(of), *told])
    text = [f"| {' | '.join(line)} |" for line in lines]
    text.insert(1, f"|{'---|' * len(lines[0])}")
    return "\n".join(text)


def targets_text(summary: Summary) -> str:
    """The targets, a line each; behind one that is missed, why."""
    return "\n".join(
        f"- {_WORDS[one['met']]}: {one['name']}: {one['found']}{'. Why: ' + one['why'] if one.get('why') else ''}"
        for one in summary["targets"]
    )


def with_proof(page: str, told: str) -> str:
    """``page`` with ``told`` between its marks. Raises ValueError for a page without them."""
    before, begins, rest = page.partition(BEGINS)
    _, ends, after = rest.partition(ENDS)
    if not begins or not ends:
        raise ValueError(f"the page has no {BEGINS} and {ENDS}")
    return f"{before}{BEGINS}\n{told}\n{ENDS}{after}"


def picture(summary: Summary) -> str:
    """Cut and steel by person and way, each with its interval, as SVG."""
    rows = list(_rows(summary))
    shown = [measure for measure in MEASURES if measure.name in ("cut after", "steel taken")]
    high = _ROW * (len(rows) + 4)
    wide = _LEFT + len(shown) * (_WIDE + _GAP)
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{high}" viewBox="0 0 {wide} {high}" '
        'font-family="DejaVu Sans, sans-serif" font-size="12">',
        "<title>Cut and steel, with the program and without it</title>",
        f'<rect width="{wide}" height="{high}" fill="#ffffff"/>',
    ]
    for number, (person, way, _) in enumerate(rows):
        weight = ' font-weight="bold"' if way == PROGRAM else ""
        out.append(f'<text x="8" y="{_y(number) + 4}" fill="#222222"{weight}>{person}, {_way(way)}</text>')
    for panel, measure in enumerate(shown):
        left = _LEFT + panel * (_WIDE + _GAP)
        figures = [(number, way, by[measure.name]) for number, (_, way, by) in enumerate(rows) if by[measure.name]]
        most = max(figure["most"] for _, _, figure in figures) or 1.0
        out.append(f'<text x="{left}" y="{_ROW}" fill="#222222">{measure.name}, {measure.unit}</text>')
        out.append(f'<line x1="{left}" x2="{left}" y1="{_ROW + 8}" y2="{high - _ROW}" stroke="#888888"/>')
        for number, way, figure in figures:
            x, low, top = (left + _WIDE * figure[name] / most for name in ("value", "least", "most"))
            color, y = ("#0b5394" if way == PROGRAM else "#8a5a00"), _y(number)
            out.append(f'<line x1="{low:.1f}" x2="{top:.1f}" y1="{y}" y2="{y}" stroke="{color}" stroke-width="3"/>')
            out.append(
                f'<circle cx="{x:.1f}" cy="{y}" r="5" fill="{color}"/>'
                if way == PROGRAM
                else f'<rect x="{x - 4:.1f}" y="{y - 4}" width="8" height="8" fill="{color}"/>'
            )
            out.append(
                f'<text x="{top + 8:.1f}" y="{y + 4}" fill="#222222">{figure["value"]:.{measure.digits}f}</text>'
            )
    out.append(
        f'<text x="8" y="{high - 8}" fill="#555555">{summary["saws"]} simulated saws, seed {summary["seed"]}; '
        "circles: with the program; lines: 95 in 100</text>"
    )
    return "\n".join([*out, "</svg>", ""])


def _rows(summary: Summary) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    for person, by_way in summary["figures"].items():
        for way, figures in by_way.items():
            yield person, way, figures


def _way(way: str) -> str:
    return "with the program" if way == PROGRAM else way


def _y(number: int) -> int:
    return _ROW * (number + 2)


def _told(figure: Mapping[str, float] | None, measure: Measure, *, intervals: bool) -> str:
    if figure is None:
        return "–"
    digits = measure.digits
    told = f"{figure['value']:.{digits}f}"
    return f"{told} ({figure['least']:.{digits}f}–{figure['most']:.{digits}f})" if intervals else told
