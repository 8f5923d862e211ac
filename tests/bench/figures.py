"""A measured figure beside its floor of the same run: pairs taken in turn, medians, and the spread of their ratios."""

from __future__ import annotations

import json
import os
import platform
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import median
from time import process_time
from typing import TypeVar

Told = TypeVar("Told")


@dataclass(frozen=True, slots=True)
class Figure:
    """One row of the table.

    what, floor: what was measured and the least possible beside it. unit: of both. ours, least: medians. ratio: ours
    over least, the median of the pairs. low, high: the middle half of the ratios. wall: milliseconds on the clock of
    ours, a median; None where the clock was not read.
    """

    what: str
    floor: str
    unit: str
    ours: float
    least: float
    ratio: float
    low: float
    high: float
    wall: float | None = None


def figure(
    what: str, floor: str, unit: str, pairs: Sequence[tuple[float, float]], walls: Sequence[float] = ()
) -> Figure:
    """The figure of ``pairs`` of ours and the floor, each pair taken one right after the other.

    walls: what ours took on the clock, in milliseconds.
    """
    ratios = sorted(ours / least for ours, least in pairs)
    low, high = ratios[len(ratios) // 4], ratios[-1 - len(ratios) // 4]
    ours, least = (median(one[of] for one in pairs) for of in (0, 1))
    return Figure(what, floor, unit, ours, least, median(ratios), low, high, median(walls) if walls else None)


def in_turn(ours: Callable[[], Told], least: Callable[[], Told], times: int) -> list[tuple[Told, Told]]:
    """So many pairs, the one that goes first changing with each."""
    pairs = list[tuple[Told, Told]]()
    for number in range(times):
        if number % 2:
            floor, own = least(), ours()
        else:
            own, floor = ours(), least()
        pairs.append((own, floor))
    return pairs


def processor_ms(work: Callable[[], object]) -> float:
    """Milliseconds of this process's processors that ``work`` takes."""
    begun = process_time()
    work()
    return 1000.0 * (process_time() - begun)


def table(figures: Sequence[Figure]) -> str:
    """The figures in rows of Markdown."""
    rows = [("what", "floor in the same run", "unit", "ours", "floor", "ratio", "middle half", "clock, ms")]
    rows += [
        (
            one.what,
            one.floor,
            one.unit,
            _short(one.ours),
            _short(one.least),
            f"{one.ratio:.2f}",
            f"{one.low:.2f}–{one.high:.2f}",
            "" if one.wall is None else _short(one.wall),
        )
        for one in figures
    ]
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]

    def line(cells: Sequence[str]) -> str:
        return f"| {' | '.join(cell.ljust(wide) for cell, wide in zip(cells, widths, strict=True))} |"

    return "\n".join([line(rows[0]), line(["-" * wide for wide in widths]), *map(line, rows[1:])])


def plot(figures: Sequence[Figure], wide: int = 50) -> str:
    """The figures as bars from nothing, the longest ``wide`` signs: bars of one length are what is hoped for."""
    most, name = max(one.ours for one in figures), max(len(one.what) for one in figures)
    return "\n".join(
        f"{one.what.ljust(name)}  {'#' * round(wide * one.ours / most)} {_short(one.ours)} {one.unit}"
        for one in figures
    )


def _short(value: float) -> str:
    return f"{value:,.0f}" if value >= 100 else f"{value:.3g}"


def machine() -> str:
    """The machine in one line."""
    info = Path("/proc/cpuinfo")
    lines = info.read_text(encoding="utf-8").splitlines() if info.exists() else []
    names = (line.partition(":")[2].strip() for line in lines if line.startswith("model name"))
    load = f", load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    return f"{next(names, platform.machine())}, {os.cpu_count()} cores{load}, Python {sys.version.split()[0]}"


def write_json(path: Path, figures: Sequence[Figure]) -> None:
    """The same figures for a program to read."""
    told = {"machine": machine(), "figures": [asdict(one) for one in figures]}
    path.write_text(json.dumps(told, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
