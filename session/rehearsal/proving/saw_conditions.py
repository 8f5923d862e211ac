"""Saws as they come to the proof: kinds of saw, and plates in eight conditions. All amounts are judgment.

Layout and wear only; what work does to a plate is `session.rehearsal.plate`.
"""

from __future__ import annotations

from enum import StrEnum
from random import Random
from typing import Any, Final

from session.files.recipe import Recipe, load_recipe, recipe_from_values
from session.files.supplied import supplied_folder
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.trade.saw import Leans, Saw
from session.value_class import dataclass

#: The supplied recipes that saws of the proof are made after, each with a line short enough to be filed often.
KINDS: Final = {
    "crosscut panel": ("crosscut-panel", "9 in"),
    "fine carcass": ("carcass", "6 in"),
    "tenon rip": ("tenon-rip", "8 in"),
    "half rip": ("half-rip", "18 in"),
    "dovetail": ("dovetail", "4 in"),
}


class Condition(StrEnum):
    """How a saw comes to the bench."""

    KEPT = "kept"
    DULL = "dull"
    HOLLOW = "hollow"
    WRECK = "wreck"
    OVER_SET = "over-set"
    UNEVEN_SET = "uneven set"
    BROKEN = "broken"
    HARD_USE = "hard use"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """What a condition is made of; pairs are least and most. Shares of the pitch: out, alternate. In mm: high, flat,
    hollow, chipped. Shares of the set wanted: set, spread, other_row (of the other row against this one)."""

    out: float = 0.015
    high: float = 0.012
    flat: tuple[float, float] = (0.04, 0.12)
    hollow: tuple[float, float] = (0.0, 0.0)
    alternate: tuple[float, float] = (0.0, 0.0)
    set: tuple[float, float] = (0.5, 0.9)
    spread: float = 0.08
    other_row: tuple[float, float] = (0.95, 1.05)
    broken: tuple[int, int] = (0, 0)
    chipped: tuple[float, float] = (0.0, 0.0)


WEARS: Final = {
    Condition.KEPT: Wear(out=0.008, high=0.006, flat=(0.01, 0.05), set=(0.65, 1.0), spread=0.05),
    Condition.DULL: Wear(flat=(0.05, 0.15)),
    Condition.HOLLOW: Wear(hollow=(0.08, 0.35)),
    Condition.WRECK: Wear(out=0.05, high=0.08, flat=(0.03, 0.2), alternate=(0.02, 0.07), set=(0.2, 1.0), spread=0.3),
    Condition.OVER_SET: Wear(out=0.01, high=0.008, flat=(0.01, 0.05), set=(1.5, 2.0)),
    Condition.UNEVEN_SET: Wear(out=0.01, flat=(0.02, 0.08), spread=0.25, other_row=(0.45, 0.8)),
    Condition.BROKEN: Wear(broken=(1, 3)),
    Condition.HARD_USE: Wear(flat=(0.08, 0.25), chipped=(0.1, 0.3), set=(0.4, 0.8)),
}


def recipe_of(kind: str) -> Recipe:
    """The recipe of a ``kind`` of saw, its line shortened."""
    file, length = KINDS[kind]
    values: dict[str, Any] = load_recipe(supplied_folder("recipes") / f"{file}.toml").values
    saw = {key: value for key, value in values["saw"].items() if key != "points_counted"}
    return recipe_from_values({**values, "saw": {**saw, "toothed_length": length}}, where=kind)


def plate_in(saw: Saw, condition: Condition, rng: Random) -> SimulatedPlate:
    """A plate of ``saw`` in that condition, the same for the same ``rng``."""
    wear = WEARS[condition]
    plate = SimulatedPlate(saw, [])
    hollow, alternate = rng.uniform(*wear.hollow), rng.uniform(*wear.alternate) * saw.pitch_mm
    wanted = saw.set_per_side.mm if saw.set_per_side is not None else 0.0
    stands = 0.0 if saw.first_leans is Leans.UNSET else wanted * rng.uniform(*wear.set)
    rows = (1.0, rng.uniform(*wear.other_row))
    chipped = _chipped(rng, saw.points) if wear.chipped[1] else range(0)
    for k in range(1, saw.points + 1):
        along = (k - 1) / max(1, saw.points - 1)
        # A line is used most in its middle, and hangs there.
        used = 0.6 + 0.4 * 4.0 * along * (1.0 - along)
        apex = rng.uniform(-wear.high, wear.high) - hollow * 4.0 * along * (1.0 - along)
        apex -= (alternate if k % 2 else 0.0) * plate.rise
        middle = (k - 1) * saw.pitch_mm + saw.pitch_mm * rng.uniform(-wear.out, wear.out)
        top = apex - rng.uniform(*wear.flat) * used * plate.rise
        if k in chipped:
            top -= rng.uniform(*wear.chipped)
        width = apex / plate.rise
        stood = max(0.0, stands * rows[k % 2] * rng.gauss(1.0, wear.spread))
        plate.teeth.append(ToothSteel(middle + width / 2.0, middle - width / 2.0, top, stood, top))
    for k in _apart(rng, rng.randint(*wear.broken), saw.points):
        steel = plate.tooth(k)
        steel.broken, steel.top = True, steel.top - plate.depth_mm / 2.0
    return plate


def use(plate: SimulatedPlate, rng: Random, *, hard: float = 1.0) -> None:
    """A season's work: points rounded, most in the middle, set sprung back a little, now and then a nail."""
    for k in range(1, plate.points + 1):
        steel = plate.tooth(k)
        if steel.broken:
            continue
        along = (k - 1) / max(1, plate.points - 1)
        used = 0.6 + 0.4 * 4.0 * along * (1.0 - along)
        steel.top = min(steel.top, plate.apex_mm(k) - hard * rng.uniform(0.04, 0.1) * used * plate.rise)
        steel.burr = False
        plate.spring_back(k, rng.uniform(0.0, SPRINGS_BACK))
    if rng.randrange(NAIL_IN) == 0:
        for k in _chipped(rng, plate.points):
            plate.tooth(k).top -= rng.uniform(0.05, 0.2)


#: Of so many seasons one has a nail in it, and the most share of the set that springs back in one.
NAIL_IN: Final = 8
SPRINGS_BACK: Final = 0.06


def _chipped(rng: Random, points: int) -> range:
    """The teeth that met a nail."""
    first = rng.randrange(2, max(3, points - 8))
    return range(first, min(points, first + rng.randint(2, 5)))


def _apart(rng: Random, count: int, points: int) -> list[int]:
    """So many teeth, no two of them neighbors, none at an end."""
    found: list[int] = []
    while len(found) < count:
        tooth = rng.randrange(3, points - 2)
        if all(abs(tooth - other) > 3 for other in found):
            found.append(tooth)
    return found
