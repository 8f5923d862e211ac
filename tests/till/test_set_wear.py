from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

import pytest

from drawn_teeth import OLD_GRADES, PANEL
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.line_facts import LineFacts
from session.log.log_bytes import LogStanding
from session.log.summary import Summary
from session.till.past_sharpening import Sharpening
from session.till.set_loss import set_wear
from session.trade.setting import STONE_PASS_MM

RECIPE = load_recipe(find_recipe("crosscut-panel", []))
PLATE_MM = RECIPE.saw.plate.mm

#: What the line comes down by grade, drawn: a hair, a small flat, a clear one.
HAIR, SMALL, CLEAR = (PANEL.came_down(OLD_GRADES[grade]) for grade in (1, 2, 3))
MEDIAN = (HAIR + SMALL) / 2

#: A drawing's figures have five places.
drawn = partial(pytest.approx, rel=1e-4, abs=1e-9)


def sharpened(
    grade: int | None = None,
    passes: int = 2,
    was_set: bool = False,
    found_mm: float | None = None,
    after_mm: float | None = None,
    end_mm: float | None = None,
    strokes: float | None = None,
    stoned: int = 0,
) -> Sharpening:
    """One finished sharpening; set per side as measured before it, after setting and after dressing."""
    done = {"level": passes, "file": 155, "dress": 2 * stoned} | ({"set": 155} if was_set else {})
    flats = {} if grade is None else {1: tuple(155 * (one == grade) for one in range(len(OLD_GRADES)))}
    over = {"over the points": found_mm, "over the points after": after_mm, "over the points in the end": end_mm}
    return Sharpening(
        path=Path("log.toml"),
        header={"recipe": RECIPE.values},
        state=LogStanding.FINISHED,
        odd="",
        summary=Summary(
            done={stage: count for stage, count in done.items() if count},
            line=LineFacts(passes=passes, flats=flats, strokes_each=strokes),
            measured={what: (PLATE_MM + 2 * mm, "mm") for what, mm in over.items() if mm is not None},
        ),
    )


@pytest.mark.parametrize(
    ("finished", "each", "known", "came_down"),
    [
        ([], None, 0, 0.0),
        ([sharpened(2)], SMALL, 1, 0.0),
        ([sharpened(2), sharpened(1)], MEDIAN, 2, 0.0),
        ([sharpened(3, was_set=True)], CLEAR, 1, 0.0),
        (
            [sharpened(3, was_set=True), sharpened(1), sharpened(2)],
            SMALL,
            3,
            HAIR + SMALL,
        ),
        ([sharpened(was_set=True), sharpened(2, was_set=True), sharpened(1)], MEDIAN, 2, HAIR),
        # Flats not graded: as the median of the known ones, else as a light one, 0.04 mm.
        ([sharpened(2, was_set=True), sharpened(1), sharpened()], MEDIAN, 2, HAIR + MEDIAN),
        ([sharpened(was_set=True), sharpened()], None, 0, 0.04),
        # Only touched up, strokes not counted: a filed line comes down as well, so that it counts as the others; but
        # nothing is said of what one takes that levels.
        ([sharpened(2, was_set=True), sharpened(passes=0)], SMALL, 1, SMALL),
        # Two strokes counted in every gullet, what print gives a light sharpening: 0.04 mm off the line.
        (
            [sharpened(2, was_set=True), sharpened(passes=0, strokes=2.0)],
            SMALL,
            1,
            0.04,
        ),
    ],
)
def test_wear_since_the_last_setting(
    finished: Sequence[Sharpening], each: float | None, known: int, came_down: float
) -> None:
    found = set_wear(finished)
    assert found.each_mm == (None if each is None else drawn(each))
    assert (found.known, found.told_mm, found.measured) == (known, None, False)
    assert found.came_down_mm == drawn(came_down)
    assert (found.line is None) is not any(one.was_set for one in finished)


SET = 0.1524  # the recipe's 0.006 in

#: The bent part of a full tooth, four tenths of it (the recipe's, from memory).
ARM = 0.4 * PANEL.came_down(1.0)


def arm(grade: int) -> float:
    """The bent part on a day when the line had just been leveled, the gullets not yet deepened again.

    What is left of the tooth is the gullet between two flats, from its bottom to the line.
    """
    return 0.4 * -PANEL.gullet(PANEL.pitch * (1 - OLD_GRADES[grade]))[1][1]


def test_a_set_measured_after_setting_is_what_wears_from_then_on() -> None:
    found = set_wear([sharpened(2, was_set=True, after_mm=0.16), sharpened(1)])
    assert found.told_mm == pytest.approx(0.16)
    assert found.measured is True
    assert found.came_down_mm == drawn(HAIR)
    assert found.line is not None
    assert found.line.slope == drawn(0.16 / arm(2))
    assert found.line.left_mm == drawn(0.16 - 0.16 / arm(2) * HAIR)


def test_what_is_found_later_is_a_point_on_the_same_line() -> None:
    finished = [sharpened(2, was_set=True, after_mm=0.16), sharpened(1, found_mm=0.15), sharpened(1)]
    found = set_wear(finished)
    assert found.told_mm == pytest.approx(0.15)
    assert found.came_down_mm == drawn(2 * HAIR)
    assert found.line is not None
    assert found.line.slope == drawn(0.16 / arm(2))
    assert found.line.left_mm == drawn(0.15 - 0.16 / arm(2) * 2 * HAIR)


def test_a_later_measure_tells_the_slope_that_nobody_measured_on_the_day_of_setting() -> None:
    found = set_wear([sharpened(2, was_set=True), sharpened(1), sharpened(1, found_mm=0.12)])
    assert found.line is not None
    assert found.line.slope == drawn(0.12 / (arm(2) - HAIR))


def test_a_measure_without_a_day_of_setting_goes_by_the_recipes_bend() -> None:
    found = set_wear([sharpened(1, found_mm=0.1)])
    assert found.line is not None
    assert found.line.slope == drawn(SET / ARM)
    assert found.line.left_mm == drawn(0.1 - SET / ARM * HAIR)


def test_a_saw_never_set_and_never_measured_is_not_known() -> None:
    assert set_wear([sharpened(1), sharpened(2)]).line is None


def test_the_stone_takes_its_share() -> None:
    plain, stoned = sharpened(2, was_set=True, after_mm=0.16), sharpened(2, was_set=True, after_mm=0.16, stoned=2)
    lines = [set_wear([one]).line for one in (plain, stoned)]
    assert lines[0] is not None
    assert lines[1] is not None
    assert lines[0].left_mm - lines[1].left_mm == pytest.approx(2 * STONE_PASS_MM)
    assert lines[0].slope == lines[1].slope


def test_a_setting_that_nobody_measured_makes_older_measurements_void() -> None:
    found = set_wear([sharpened(1, was_set=True, after_mm=0.16), sharpened(1, was_set=True, found_mm=0.1)])
    assert (found.told_mm, found.measured, found.came_down_mm) == (None, False, 0.0)
    assert found.line is not None
    assert found.line.left_mm == pytest.approx(SET)


def test_the_set_left_is_the_one_measured_after_setting() -> None:
    assert sharpened(2, was_set=True, found_mm=0.05, after_mm=0.16).left_set_mm == pytest.approx(0.16)
    assert sharpened(2, was_set=True, found_mm=0.05).left_set_mm is None
    # Thinner than the plate is a misreading, and then the one before the setting does not stand in for it.
    assert sharpened(2, was_set=True, found_mm=0.05, after_mm=-0.1).left_set_mm is None


@pytest.mark.parametrize("was_set", [True, False])
def test_what_was_measured_after_dressing_is_what_the_next_sharpening_begins_with(was_set: bool) -> None:
    last = sharpened(2, was_set=was_set, after_mm=0.16 if was_set else None, end_mm=0.12, stoned=2)
    assert last.left_set_mm == pytest.approx(0.12)
    wear = set_wear([sharpened(2, was_set=True, after_mm=0.2), last])
    assert wear.line is not None
    assert [wear.line.left_mm, wear.told_mm, wear.came_down_mm] == pytest.approx([0.12, 0.12, 0.0])
    assert wear.measured
    later = set_wear([sharpened(2, was_set=True, after_mm=0.2), last, sharpened(1)]).line
    assert later is not None
    assert later.left_mm < 0.12
