"""README's table of what the program takes, made from the last whole run of the measurements.

    python -m tests.bench.readme_table [FILE.json]

FILE.json, as `python -m tests.bench --json` writes it, becomes the last run that is kept; without one, the kept one is
told again.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "README.md"
LAST_RUN = Path(__file__).with_name("last_run.json")

HEADING = "## What it takes of the machine\n"


class Row(NamedTuple):
    """One row: its words, the figures that it tells by their names in the run, and what they stand beside."""

    words: str
    figures: tuple[str, ...]
    beside: str


#: A row whose figures a run does not have is left out: short runs have shorter logs and smaller tills.
ROWS = (
    Row("start, to its first whole screen", ("start to first paint",), "the smallest app of the same screen library"),
    Row("memory then", ("start to first paint: memory",), "that app"),
    Row(
        "a key that makes a mark, on disk and on screen, 80×24", ("key with a mark, 80×24",), "that app, a line on disk"
    ),
    Row("the same on 200×60", ("key with a mark, 200×60",), "the same"),
    Row("what that key sends to the terminal, 80×24", ("key with a mark, 80×24: bytes",), "cells changed"),
    Row("a key at mark 3,000", ("key at mark 3,000",), "itself at mark 100"),
    Row("a key at mark 10,000", ("key at mark 10,000",), "itself at mark 100"),
    Row("a key with 1,500 teeth", ("key at teeth 1,500",), "itself with 60 teeth"),
    Row("`--help`", ("--help",), "Python, reading arguments and TOML"),
    Row("`recipes`, `check`", ("recipes", "check saw.toml"), "the same"),
    Row("`plan`, `even`", ("plan crosscut-panel", "even flats.toml"), "the same"),
    Row("the till, 300 records", ("till, 300 logs",), "an empty till"),
    Row("the till, 10,000 records", ("till, 10,000 logs",), "an empty till"),
)


def section(run: Mapping[str, Any]) -> str:
    """README's section on ``run``, from its heading to the blank line before the next."""
    found = {one["what"]: one for one in run["figures"]}
    rows = [row for row in ROWS if all(name in found for name in row.figures)]
    lines = [
        HEADING,
        "Processor time beside the least that could do the same, taken in turn in one run of `python -m tests.bench`,",
        f"in a real terminal, and the time on the clock, which tells of others at work too: {run['machine']}.",
        "",
        "| what | takes | on the clock | the least | ratio |",
        "|---|---|---|---|---|",
        *(_row(row, [found[name] for name in row.figures]) for row in rows),
        "",
    ]
    return "\n".join(lines)


def _row(row: Row, figures: list[Mapping[str, Any]]) -> str:
    ours = ", ".join(_amount(one["ours"], one["unit"]) for one in figures)
    walls = ", ".join(_amount(one["wall"], "ms") for one in figures if one["wall"] is not None) or "–"
    least, unit = figures[0]["least"], figures[0]["unit"]
    beside = f"{_amount(least, '')} {row.beside}" if unit == "bytes" else f"{_amount(least, unit)}: {row.beside}"
    ratios = ", ".join(f"{one['ratio']:.1f}" for one in figures)
    return f"| {row.words} | {ours} | {walls} | {beside} | {ratios} |"


def _amount(value: float, unit: str) -> str:
    return f"{value:,.0f} {unit}".strip() if value >= 10 else f"{value:.1f} {unit}".strip()


def told(readme: str, run: Mapping[str, Any]) -> str:
    """``readme`` with the section on ``run`` in place of the one that it has."""
    before, _, rest = readme.partition(HEADING)
    return f"{before}{section(run)}\n## {rest.partition('## ')[2]}"


def main(arguments: list[str]) -> int:
    """Keep the run that was named, and tell the kept one in README."""
    if arguments:
        LAST_RUN.write_text(Path(arguments[0]).read_text(encoding="utf-8"), encoding="utf-8")
    run = json.loads(LAST_RUN.read_text(encoding="utf-8"))
    README.write_text(told(README.read_text(encoding="utf-8"), run), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
