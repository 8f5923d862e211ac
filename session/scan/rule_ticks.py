"""The ticks of a steel rule in a scan: how many dots a millimeter takes along it.

In a band across the ticks light goes up and down evenly. Where it is darkest beside what is around it (or lightest, on
a black rule) lies a tick, to a part of a dot; all of them in step give the spacing. A second band tells how the ticks
lean, and so how the rule lies.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.light_levels import USUAL, Floats, Gray
from session.trade.rounding import decimals, whole_number
from session.value_class import dataclass

#: What the ticks of rules stand apart, mm.
SPACINGS: Final = (0.5, 1.0, 25.4 / 64, 25.4 / 32, 25.4 / 16, 25.4 / 20, 25.4 / 10, 25.4 / 8)

#: A scanner's word on its dots is never off by more than this share (our own limit).
MOST_OFF: Final = 0.03

#: The fewest ticks that tell a scale, the shortest stretch, mm, and the most that the rule may be askew, degrees.
FEWEST: Final = 20
SHORTEST_MM: Final = 40.0
MOST_TILT: Final = 5.0

#: From tick to tick a rule has whole spaces, to this part of one: its length in another unit may be rounded.
PART_OF_A_SPACE: Final = 0.2

#: How far a rule itself may be out, as a share (common practice, no source: a few tenths of a mm in a meter).
SE_RULE: Final = 0.0003


@dataclass(frozen=True, slots=True)
class RuleScale:
    """dots_per_mm: along the rule. se: its relative standard uncertainty, the rule's own in it. spaces: how many were
    seen, spacing_mm apart. upright: whether the rule lies along the columns."""

    dots_per_mm: float
    se: float
    spaces: int
    spacing_mm: float
    upright: bool


@dataclass(frozen=True, slots=True)
class _Comb:
    """Ticks in step: place of the first, dots from one to the next, what is seen of them, scatter in dots."""

    first: float
    step: float
    places: Floats
    numbers: Floats
    scatter: float


@dataclass(frozen=True, slots=True)
class _Row:
    """A comb, and what its ticks stand apart, mm."""

    comb: _Comb
    spacing: float


def rule_scale(dots: Gray, per_mm: tuple[float, float], length_mm: float) -> RuleScale:
    """The scale by a rule of ``length_mm`` between its first and last tick. per_mm: the scanner's word.

    Raises Refusal.
    """
    found: list[tuple[bool, _Row, float]] = []
    for upright in (False, True):
        picture, (along, across) = (dots.T, per_mm[::-1]) if upright else (dots, per_mm)
        best = _best(picture, along, across)
        if best is not None:
            found.append((upright, *best))
    if not found:
        raise Refusal(
            "no even row of ticks is to be seen in it; scan a steel rule flat on the glass, along the rim, ticks down"
        )
    upright, row, turn = max(found, key=lambda one: len(one[1].comb.places))
    comb, spacing = row.comb, row.spacing
    spaces = whole_number(float(comb.numbers[-1] - comb.numbers[0]))
    seen = spaces * spacing
    if abs(seen - length_mm) > 2.5 * spacing:
        raise Refusal(
            f"its ticks go on for {decimals(seen, 1)} mm at {decimals(spacing, 2)} mm each, and --length says "
            f"{decimals(length_mm, 1)} mm; allowed: what lies between the first tick and the last that it shows"
        )
    parts = length_mm / spacing
    if abs(parts - whole_number(parts)) > PART_OF_A_SPACE:
        raise Refusal(
            f"its ticks stand {decimals(spacing, 2)} mm apart, and --length says {decimals(length_mm, 1)} mm, which is "
            f"no whole number of such spaces; by its ticks it is {decimals(seen, 1)} mm long"
        )
    step = comb.step * math.cos(turn)
    spread = float(np.std(comb.numbers)) * math.sqrt(len(comb.numbers))
    se = math.hypot(comb.scatter / spread / comb.step, SE_RULE)
    return RuleScale(step / spacing, se, spaces, spacing, upright)


def _best(picture: Gray, along: float, across: float) -> tuple[_Row, float] | None:
    """The longest row of ticks along the rows of ``picture``, and how the rule is turned, radians."""
    high = max(3, whole_number(0.5 * across))
    best: tuple[_Row, int] | None = None
    for top in range(0, picture.shape[0] - high, high):
        line = USUAL[picture[top : top + high]].mean(axis=0).astype(float)
        seen = _row(line, along)
        if seen is not None and (best is None or len(seen.comb.places) > len(best[0].comb.places)):
            best = seen, top
    if best is None:
        return None
    row, top = best
    comb = row.comb
    turns = []
    for other in (top - high, top + high, top - high // 2, top + high // 2):
        if 0 <= other < picture.shape[0] - high:
            beside = _row(USUAL[picture[other : other + high]].mean(axis=0).astype(float), along, comb.step)
            if beside is not None:
                off = (beside.comb.first - comb.first + comb.step / 2.0) % comb.step - comb.step / 2.0
                turns.append(math.atan2(off / along, (other - top) / across))
    turn = float(np.median([math.remainder(one, math.pi) for one in turns])) if turns else 0.0
    return None if abs(math.degrees(turn)) > MOST_TILT else (row, turn)


def _row(line: Floats, along: float, step: float | None = None) -> _Row | None:
    """The ticks in one band, for the spacing that explains most of them."""
    found = []
    for spacing in SPACINGS:
        guess = spacing * along
        if guess < 6.0 or (step is not None and abs(step / guess - 1.0) > MOST_OFF):
            continue
        comb = _in_step(_ticks(line, guess), guess)
        if comb is not None and comb.step * (len(comb.places) - 1) / along > SHORTEST_MM - spacing:
            found.append(_Row(comb, spacing))
    # Every second tick is in step as well: the finest row that is whole is the rule's.
    return max(found, key=lambda one: len(one.comb.places), default=None)


def _ticks(line: Floats, guess: float) -> Floats:
    """Where light is darkest or lightest beside what is around it, whichever kind is narrower, in dots."""
    reach = max(3, whole_number(guess))
    sums = np.concatenate([[0.0], np.cumsum(np.pad(line, reach, mode="edge"))])
    off = line - (sums[2 * reach + 1 :] - sums[: -2 * reach - 1]) / (2 * reach + 1)
    # Sorted, not asked for percentiles: a picture has a thousand such lines.
    last = len(off) - 1
    scale = float(np.sort(np.abs(off))[int(0.9 * last)])
    if scale < 0.01:
        return np.empty(0)
    ordered = np.sort(off)
    if abs(float(ordered[int(0.02 * last)])) > float(ordered[int(0.98 * last)]):
        off = -off
    over = off > 0.4 * scale
    bounds = np.flatnonzero(np.diff(np.concatenate([[0], over.astype(int), [0]])))
    places = []
    for begin, end in zip(bounds[::2], bounds[1::2], strict=True):
        if end - begin < 0.6 * guess:
            weight = off[begin:end]
            places.append(float(np.dot(weight, np.arange(begin, end)) / np.sum(weight)))
    return np.array(places)


def _in_step(places: Floats, guess: float) -> _Comb | None:
    """The longest run of places that keep step, fitted."""
    if len(places) < FEWEST:
        return None
    steps = np.diff(places)
    good = np.abs(steps / guess - 1.0) < 2.0 * MOST_OFF
    bounds = np.flatnonzero(np.diff(np.concatenate([[0], good.astype(int), [0]])))
    if not len(bounds):
        return None
    first, last = max(zip(bounds[::2], bounds[1::2], strict=True), key=lambda one: one[1] - one[0])
    run = places[first : last + 1]
    if len(run) < FEWEST:
        return None
    numbers = np.arange(len(run), dtype=float)
    for _ in range(4):
        step, begin = np.polyfit(numbers, run, 1)
        off = run - begin - step * numbers
        scatter = max(0.02, 1.4826 * float(np.median(np.abs(off))))
        kept = np.abs(off) < 4.0 * scatter
        if kept.all():
            break
        run, numbers = run[kept], numbers[kept]
    if abs(step / guess - 1.0) > MOST_OFF or len(run) < FEWEST:
        return None
    return _Comb(float(begin), float(step), run, numbers, scatter)
