"""How long a set is told to last from records, against steel that is bent, filed and stoned here: 40 random histories.

The steel: a tooth stands straight up to its bend and leans out above it. Leveling lowers its point, filing its gullet,
and the stone takes a little off its side. None of the program's formulas is asked for what happens to it. The program
is given the records that a person leaves: grades of flats, and widths read to half a thousandth of an inch on some days
and not on others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import pytest

from session.advice.set_advice import set_today
from session.files.recipe import load_recipe, recipe_from_values
from session.files.supplied import find_recipe
from session.log.line_facts import LineFacts
from session.log.log_bytes import LogStanding
from session.log.summary import Summary
from session.till.past_sharpening import Sharpening
from session.till.set_loss import set_wear

VALUES = load_recipe(find_recipe("rip", [])).values

HALF_THOU = 0.0127
STONE = 0.005
#: Width of a flat as a share of the pitch, by the grades that are given here.
GRADES = {2: 0.02, 3: 0.04}


@dataclass
class Steel:
    """One tooth; heights in mm from the gullet of the first day, None while nobody has bent it."""

    top: float
    gullet: float = 0.0
    bend: float | None = None
    lean: float = 0.0
    stoned: float = 0.0

    def stands_out(self) -> float:
        return 0.0 if self.bend is None else max(0.0, (self.top - self.bend) * self.lean - self.stoned)

    def set_to(self, out: float, share: float) -> None:
        arm = (self.top - self.gullet) * share
        self.bend, self.lean, self.stoned = self.top - arm, out / arm, 0.0


def recipe(rng: Random) -> tuple[dict[str, Any], float, float, float, float]:
    """A rip saw as supplied with another pitch and set: its recipe, depth, plate, set and least in mm."""
    points = rng.choice((4, 5.5, 7, 9))
    pitch = 25.4 / (points - 1)
    wanted = rng.uniform(0.12, 0.3)
    least = wanted * rng.uniform(0.35, 0.6)
    teeth = {key: value for key, value in VALUES["teeth"].items() if "_per_" not in key}
    values = {
        **VALUES,
        "saw": {key: value for key, value in VALUES["saw"].items() if key != "plate_gauge"}
        | {"plate_thickness": "1.1 mm"},
        "teeth": {**teeth, "points_per_inch": points, "rake": 0, "fleam": 0},
        "set": {
            "per_side": f"{wanted} mm",
            "least_per_side": f"{least} mm",
            "bent_share": rng.choice((0.35, 0.4, 0.5)),
        },
    }
    # An upright tooth of a 60° file is p / tan 60° deep.
    return values, pitch / math.sqrt(3), 1.1, wanted, least


def read(width: float) -> float:
    """A caliper's reading, to half a thousandth of an inch."""
    return round(width / HALF_THOU) * HALF_THOU


def record(values: dict[str, Any], done: dict[str, int], grade: int, widths: dict[str, float]) -> Sharpening:
    counts = tuple(100 if one == grade else 0 for one in range(6))
    summary = Summary(
        done=done,
        line=LineFacts(passes=1, flats={1: counts}),
        measured={what: (width, "mm") for what, width in widths.items()},
    )
    return Sharpening(
        path=Path("log.toml"), header={"recipe": values}, state=LogStanding.FINISHED, odd="", summary=summary
    )


@pytest.mark.parametrize("seed", range(40))
def test_no_history_in_records_is_told_to_last_longer_by_more_than_one_sharpening(seed: int) -> None:
    rng = Random(seed)
    values, depth, plate, wanted, least = recipe(rng)
    saw, share = recipe_from_values(values).saw, values["set"]["bent_share"]
    steel = Steel(top=depth)
    history = []
    for day in range(rng.randrange(1, 9)):
        grade = rng.choice((2, 3))
        off, widths = GRADES[grade] * depth, {}
        sets = day == 0 or steel.stands_out() < least or rng.random() < 0.1
        if not sets and rng.random() < 0.4:
            widths["over the points"] = read(plate + 2 * steel.stands_out())
        steel.top -= off
        if sets:
            steel.set_to(wanted * rng.uniform(0.96, 1.04), share)
            if rng.random() < 0.7:
                widths["over the points after"] = read(plate + 2 * steel.stands_out())
        steel.gullet -= off
        stones = rng.choice((0, 1, 1, 2))
        steel.stoned += stones * STONE
        done = {"level": 1, "file": 100} | ({"set": 100} if sets else {}) | ({"dress": 2 * stones} if stones else {})
        history.append(record(values, done, grade, widths))
    wear = set_wear(history)
    assert wear.line is not None
    assert wear.each_mm is not None
    state = set_today(saw, wear.line, down_mm=wear.each_mm)
    assert state is not None
    assert state.outlives is not None
    truth = 0
    while truth < 500:
        steel.top -= wear.each_mm
        steel.stoned += saw.dressing_passes * STONE
        if steel.stands_out() < least:
            break
        truth += 1
    assert state.outlives <= truth + 1
    # Nor so little that nobody would believe it.
    each = steel.lean * wear.each_mm + saw.dressing_passes * STONE
    assert state.outlives >= truth - 2 - math.ceil(3 * HALF_THOU / each)
