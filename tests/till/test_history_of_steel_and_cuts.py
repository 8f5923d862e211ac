"""What a saw's history teaches: steel taken off, the set left, and how its cuts fall off."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from drawn_teeth import OLD_GRADES, PANEL
from made_history import (
    DAY0,
    SAW,
    a_cut,
    filed,
    leveled,
    measured,
    proved,
    recipe,
    told,
    write_log,
)
from session.log import log_reader
from session.till import past_sharpening
from session.till.kept_cuts import write_cut
from session.till.till_folder import Till
from session.walk.mark import Did
from session.walk.stages import Stage


def test_steel_taken_off_is_the_height_of_the_middle_flat(tmp_path: Path) -> None:
    write_log(tmp_path, DAY0, leveled([0, 2, 2, 2, 4]) + filed(4))
    (one,) = told(tmp_path).finished
    assert one.off_mm == pytest.approx(PANEL.came_down(OLD_GRADES[2]), rel=1e-4)
    assert one.lowered is not None
    ends = (one.lowered.least_mm, one.lowered.most_mm)
    assert ends == pytest.approx([PANEL.came_down(share) for share in (0.07, 0.14)], rel=1e-4)


@pytest.mark.parametrize(
    ("fields", "known"),
    [
        (filed(4), 0.0),
        (leveled([]) + filed(4), None),
        ([*leveled([2, 2], passes=1), {"did": Did.DONE, "stage": Stage.LEVEL, "number": 2}], None),
        ([*leveled([2, 2]), {"did": Did.DONE, "stage": Stage.RESHAPE, "side": 1, "tooth": 1, "strokes": 3}], None),
    ],
    ids=["not leveled", "not graded", "a pass after the grading", "reshaped and leveled again unseen"],
)
def test_steel_that_nobody_saw_is_not_known(tmp_path: Path, fields: list[dict[str, Any]], known: float | None) -> None:
    write_log(tmp_path, DAY0, fields)
    (one,) = told(tmp_path).finished
    assert one.off_mm == known


def test_the_set_left_is_less_by_what_leveling_took(tmp_path: Path) -> None:
    plate = recipe().saw.plate.mm
    over = measured("over the points", plate + 0.4, "mm")
    write_log(tmp_path, DAY0, [over, *leveled([2, 2, 2]), *filed(3)])
    set_today = {"did": Did.DONE, "stage": Stage.SET, "side": 1, "tooth": 2, "by": "key"}
    write_log(tmp_path, DAY0 + timedelta(days=9), [over, set_today, *filed(3)])
    worn, renewed = told(tmp_path).finished
    # Four tenths of the tooth are bent (the recipe's, from memory), straight from the bend to the point.
    arm = 0.4 * PANEL.came_down(1.0)
    assert worn.found_set_mm == pytest.approx(0.2)
    assert worn.left_set_mm == pytest.approx(0.2 * (arm - PANEL.came_down(OLD_GRADES[2])) / arm, rel=1e-4)
    assert renewed.found_set_mm == pytest.approx(0.2)
    assert renewed.left_set_mm is None
    assert told(tmp_path).since_set == 0


def test_a_fall_of_one_percent_a_day_makes_the_saw_due_on_day_thirty(tmp_path: Path) -> None:
    till = Till(tmp_path)
    path = write_log(tmp_path, DAY0, filed(2) + proved(200.0))
    ended = past_sharpening.sharpening(log_reader.read_ends(path)).ended
    assert ended is not None
    for day in (5, 10, 15):
        write_cut(till, SAW, a_cut(ended + timedelta(days=day), 200.0 * (1 - 0.01 * day)))
    few = told(tmp_path).dulling
    assert (few.enough, few.due_in_days) == (False, None)
    assert few.why.startswith("Not enough cuts yet: 3 ")
    write_cut(till, SAW, a_cut(ended + timedelta(days=20), 160.0))
    enough = told(tmp_path)
    assert enough.dulling.enough
    # The saw is due at 70 % (DUE_SHARE), ten days after the cut of day 20.
    assert enough.dulling.due_in_days == pytest.approx(10.0, abs=1e-6)
    assert enough.dulling.counted_from == pytest.approx(20.0)


def test_cuts_count_from_the_sharpening_before_them(tmp_path: Path) -> None:
    till = Till(tmp_path)
    for at in (DAY0 - timedelta(days=3), DAY0 + timedelta(days=2), DAY0 + timedelta(days=12)):
        write_cut(till, SAW, a_cut(at))
    write_log(tmp_path, DAY0, filed(2) + proved(200.0))
    write_log(tmp_path, DAY0 + timedelta(days=10), filed(2))
    found = told(tmp_path)
    assert [len(cuts) for cuts in found.series] == [2, 1]
    days = [found.days_after(cut) for _, cut in found.cuts]
    assert days[0] is None
    assert days[1:] == pytest.approx([2.0, 2.0], abs=0.01)


def test_the_wander_of_an_earlier_cut_is_not_that_of_the_last(tmp_path: Path) -> None:
    wandered = [*proved(160.0), measured("cut wander", 1.0, "mm"), measured("cut wander to", "left")]
    write_log(tmp_path, DAY0, wandered)
    write_log(tmp_path, DAY0 + timedelta(days=1), [*wandered, *proved(160.0)])
    first, second = told(tmp_path).finished
    assert first.trial is not None
    assert (first.trial.wander_mm, first.trial.wander_side) == (-1.0, "left")
    assert second.trial is not None
    assert second.trial.wander_mm == 0
