from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from session.records.line_facts import LineFacts
from session.records.logfile import Standing
from session.records.recipe import load_recipe
from session.records.set_wear import SetWear, set_wear
from session.records.sharpening import Sharpening
from session.records.summary import Summary
from session.records.supplied import find_recipe
from session.trade.grades import SHARES
from session.trade.tooth import tooth_of

RECIPE = load_recipe(find_recipe("crosscut-panel", []))
DEPTH = tooth_of(RECIPE.saw).depth_mm


def sharpened(grade: int | None = None, passes: int = 2, was_set: bool = False) -> Sharpening:
    done = {"level": passes, "file": 155} | ({"set": 155} if was_set else {})
    flats = {} if grade is None else {1: tuple(155 * (one == grade) for one in range(len(SHARES)))}
    return Sharpening(
        path=Path("log.toml"),
        header={"recipe": RECIPE.values},
        state=Standing.FINISHED,
        odd="",
        summary=Summary(
            done={stage: count for stage, count in done.items() if count}, line=LineFacts(passes=passes, flats=flats)
        ),
    )


@pytest.mark.parametrize(
    ("finished", "each", "came_down"),
    [
        ([], None, 0.0),
        ([sharpened(2)], SHARES[2] * DEPTH, 0.0),
        ([sharpened(2), sharpened(1)], SHARES[1] * DEPTH, 0.0),
        ([sharpened(3, was_set=True)], SHARES[3] * DEPTH, 0.0),
        ([sharpened(3, was_set=True), sharpened(1), sharpened(2)], SHARES[2] * DEPTH, (SHARES[1] + SHARES[2]) * DEPTH),
        ([sharpened(was_set=True), sharpened(2, was_set=True), sharpened(1)], SHARES[1] * DEPTH, SHARES[1] * DEPTH),
        # Flats not graded: as the last known one, else as a light one, 0.04 mm.
        ([sharpened(2, was_set=True), sharpened()], SHARES[2] * DEPTH, SHARES[2] * DEPTH),
        ([sharpened(was_set=True), sharpened()], None, 0.04),
        # Only touched up: no leveling, so nothing of the set is gone.
        ([sharpened(2, was_set=True), sharpened(passes=0)], SHARES[2] * DEPTH, 0.0),
    ],
)
def test_wear_since_the_last_setting(finished: Sequence[Sharpening], each: float | None, came_down: float) -> None:
    found = set_wear(finished)
    assert found == SetWear(
        each if each is None else pytest.approx(each),  # type: ignore[arg-type]
        pytest.approx(came_down),  # type: ignore[arg-type]
    )
