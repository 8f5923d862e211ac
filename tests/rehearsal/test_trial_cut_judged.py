"""The filer judges its trial cut from its own plate, says so, and does what the program adds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from made_saws import small_saw
from session.rehearsal.cut_judgment import cut_fault
from session.rehearsal.hand_habits import Habit, habit_of
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.stages import Stage

Walk = Callable[..., Any]

SAW = small_saw(
    18, 3.5, toothed_length=parse_length("60 mm"), plate=parse_length("0.9 mm"), set_per_side=parse_length("0.15 mm")
)

#: What each habit of the hands shows at the first trial cut, on a saw that is set anew.
SHOWS = {
    Habit.STEADY: {"good"},
    Habit.ONE_SIDE: {"wanders"},
    Habit.LIGHT: {"binds"},
    Habit.HEAVY: {"rough"},
    Habit.FAR_TOO_HARD: {"drags", "hangs up"},
    Habit.UNEVEN: {"jumps"},
    Habit.UNEVEN_ROW: {"wanders"},
    Habit.NOW_AND_THEN: {"rough"},
    Habit.TILTED: {"wanders"},
    Habit.PAST_THE_HEEL: {"jumps"},
    Habit.IMPATIENT: {"slow"},
    Habit.LIFTS_EARLY: {"slow"},
}

#: What one round of its remedy mends; more than that is stoned down, or leveled again, bit by bit.
MENDED_AT_ONCE = (
    *(Habit.LIGHT, Habit.HEAVY, Habit.UNEVEN, Habit.LIFTS_EARLY),
    *(Habit.TILTED, Habit.PAST_THE_HEEL, Habit.IMPATIENT),
)


#: A filer whose hands show the habit, where the one of seed 0 does not: after one light pass, teeth that were passed
#: over may stand too little above the others to catch.
SHOWN_BY = {Habit.PAST_THE_HEEL: 2}


def plate(**changes: Callable[[int], float]) -> SimulatedPlate:
    """A sharp and even plate; by name of a field, what a tooth of that number has instead."""
    made = SimulatedPlate(SAW, [ToothSteel(3.5 * k, 3.5 * k, 0.0, 0.15, 0.0) for k in range(SAW.points)])
    for name, of in changes.items():
        for number, steel in enumerate(made.teeth, 1):
            setattr(steel, name, of(number))
    return made


def told(walk: Any) -> list[str]:
    return [str(mark.value) for mark in walk.did(Did.MEASURED) if mark.what == Measurable.TRIAL_CUT]


@pytest.mark.parametrize(
    ("changes", "name", "stage", "toward"),
    [
        ({}, None, None, ""),
        # Handle on the right, teeth up: tooth 1 leans away, and in the cut its row is the left one.
        ({"set_mm": lambda k: 0.17 if k % 2 else 0.15}, "wanders", Stage.DRESS, "left"),
        ({"set_mm": lambda k: 0.15 if k % 2 else 0.17}, "wanders", Stage.DRESS, "right"),
        ({"set_mm": lambda k: 0.06}, "binds", Stage.SET, ""),
        ({"set_mm": lambda k: 0.21}, "rough", Stage.DRESS, ""),
        ({"set_mm": lambda k: 0.26}, "drags", Stage.DRESS, ""),
        ({"set_mm": lambda k: 0.23 if k == 7 else 0.15}, "rough", Stage.DRESS, ""),
        ({"set_mm": lambda k: 0.10 + 0.004 * k}, "jumps", Stage.SET, ""),
        ({"set_mm": lambda k: 0.15 if k % 2 else 0.08 + 0.005 * k}, "wanders", Stage.SET, "left"),
        ({"top": lambda k: 0.0 if k == 7 else -0.03}, "jumps", Stage.LEVEL, ""),
        ({"top": lambda k: 0.0 if k % 2 else -0.02}, "wanders", Stage.LEVEL, "left"),
        ({"top": lambda k: -0.02 if k in (3, 4, 7, 10, 12) else 0.0}, "slow", Stage.LEVEL, ""),
        ({"back": lambda k: 3.5 * (k - 1) - (0.02 if k == 5 else 0.0)}, "slow", Stage.FILE, ""),
    ],
)
def test_what_a_plate_shows_in_a_cut(changes: dict[str, Any], name: str | None, stage: Stage, toward: str) -> None:
    made = plate(**changes)
    if "top" in changes:
        # Sharp at their own heights: the flanks meet where the tooth ends.
        for steel in made.teeth:
            steel.front = steel.back + steel.top / made.rise
            steel.set_top = steel.top
    if "back" in changes:
        made.teeth[4].front, made.teeth[4].back = made.teeth[4].back + 0.02, made.teeth[4].back
    found = cut_fault(made, rake=SAW.rake)
    if name is None:
        assert found is None
    else:
        assert found is not None
        assert (found.name, found.stage, found.toward) == (name, stage, toward)


@pytest.mark.wide
@pytest.mark.parametrize("habit", Habit)
def test_each_habit_of_the_hands_shows_in_the_first_cut(habit: Habit, never_set: Saw, walk_through: Walk) -> None:
    walk = walk_through(never_set, SHOWN_BY.get(habit, 0), habit=habit)
    assert told(walk)[0] in SHOWS[habit]


@pytest.mark.wide
@pytest.mark.parametrize("habit", MENDED_AT_ONCE)
def test_the_remedy_that_is_added_mends_the_fault(habit: Habit, never_set: Saw, walk_through: Walk) -> None:
    walk = walk_through(never_set, SHOWN_BY.get(habit, 0), habit=habit)
    assert len(walk.filer.remedies) == 1
    # A remedy of two stages is cut after the first, and a good cut leaves out the second.
    assert set(told(walk)[1:]) == {"good"}
    assert cut_fault(walk.filer.plate, rake=never_set.rake) is None


def test_it_says_to_which_side_the_cut_went_and_stones_that_side(never_set: Saw, walk_through: Walk) -> None:
    walk = walk_through(never_set, 0, habit=Habit.ONE_SIDE)
    # The habit bends more from side 1, with the handle on the right: those teeth are the left row in the cut.
    toward = {mark.value for mark in walk.did(Did.MEASURED) if mark.what == Measurable.CUT_WANDER_TO}
    assert toward == {"left"}
    stoned = [mark.side for mark in walk.did(Did.DONE) if mark.stage is Stage.DRESS and mark.round and mark.number]
    assert set(stoned) == {2}


@pytest.mark.wide
def test_every_remedy_that_can_be_added_is_tried(never_set: Saw, walk_through: Walk) -> None:
    stoned = {(Stage.DRESS, 0), (Stage.DRESS, 1), (Stage.DRESS, 2)}
    wanted = stoned | {(stage, 0) for stage in (Stage.SET, Stage.FILE, Stage.LEVEL, Stage.PROVE)}
    added = set[tuple[Stage, int]]()
    # A saw may do without one of them: then other seeds are looked at as well.
    for seed in range(4):
        if added == wanted:
            break
        for habit in Habit:
            walk = walk_through(never_set, seed, habit=habit)
            done = {(mark.stage, mark.round) for mark in walk.did(Did.DONE)}
            for mark in walk.did(Did.ADDED):
                if mark.reason in walk.filer.remedies and mark.seq not in walk.state.taken:
                    added.add((mark.stage, mark.side or 0))
                    # Added is not done, but here the filer did it: places of a later round stand in the record.
                    assert any(stage is mark.stage and (number or 1) > 1 for stage, number in done)
    assert added == wanted


def test_habits_come_by_the_seed_and_some_hands_are_steady() -> None:
    found = [habit_of(seed) for seed in range(200)]
    assert set(found) == set(Habit)
    assert found == [habit_of(seed) for seed in range(200)]
    assert 0.2 < found.count(Habit.STEADY) / len(found) < 0.5


def test_filers_as_they_come_do_not_call_all_cuts_good(never_set: Saw, walk_through: Walk) -> None:
    first = set()
    for seed in range(6):
        first.add(told(walk_through(never_set, seed, habit=None))[0])
        if len(first) > 1:
            return
    raise AssertionError(f"six first cuts, all called {first}")
