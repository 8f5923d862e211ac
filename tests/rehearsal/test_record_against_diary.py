"""No record says a thing that the filer did not do: its own diary against the finished log."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from record_against_diary import differences
from session.rehearsal.diary import Deed, Kept
from session.rehearsal.hand_habits import Habit, habit_of
from session.trade.saw import Saw
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

Walk = Callable[..., Any]

#: Sharpenings in a soak, and the seeds of each saw there; hands of every habit are among them.
MANY = 500
SEEDS = range(1, 1 + MANY // 10)

#: One seed a saw for the default run, most with hands of another habit.
FEW = (2, 3, 5, 6, 9, 12, 13, 19, 20, 10)
#: Of these in the default run, of the others in the wider one.
UNLIKE = ("panel", "one-sided rip", "never set", "sloped")
SAWS = (
    *("panel", "one-sided rip", "one-sided rip from the toe", "dovetail", "from the toe", "file to the handle"),
    *("leaning toward", "never set", "filed first", "sloped"),
)


def held_against(kind: Any, saw: Saw, seed: int) -> list[str]:
    """What the record of one sharpening says otherwise than its filer's diary."""
    walk = kind(saw, make_plan(saw), seed, None, None).run()
    walk.desk.sitting.close()
    assert walk.state.finished
    return differences(walk.filer.diary, walk.state.marks)


@pytest.mark.parametrize(
    ("name", "seed"),
    [pytest.param(*case, marks=() if case[0] in UNLIKE else pytest.mark.wide) for case in zip(SAWS, FEW, strict=True)],
)
def test_the_record_and_the_diary_agree(name: str, seed: int, saws: dict[str, Saw], kind: Any) -> None:
    assert held_against(kind, saws[name], seed) == []


@pytest.mark.parametrize(
    ("name", "seed"),
    [
        *(("panel", 2), ("one-sided rip from the toe", 0)),
        *(
            pytest.param(*case, marks=pytest.mark.wide)
            for case in (("one-sided rip", 7), ("from the toe", 10), ("dovetail", 0))
        ),
    ],
)
def test_the_record_of_flats_told_on_a_strip_and_the_diary_agree(
    name: str, seed: int, saws: dict[str, Saw], walk_through: Walk
) -> None:
    walk = walk_through(saws[name], seed, strip=True)
    assert walk.state.finished
    assert differences(walk.filer.diary, walk.state.marks) == []
    assert any(deed.kept is Kept.PLACE for deed in walk.filer.diary)
    assert (walk.filer.differed, walk.filer.doubted) == ([], [])


@pytest.mark.soak("a record held against its filer's diary")
@pytest.mark.parametrize("seed", SEEDS)
def test_ever_so_many_records_and_diaries_agree(saw: Saw, seed: int, kind: Any) -> None:
    assert held_against(kind, saw, seed) == []


def test_a_diary_holds_every_sort_of_work(never_set: Saw, walk_through: Walk) -> None:
    walks = [walk_through(never_set, seed, habit=Habit.STEADY, strip=seed == 0) for seed in (0, 1, 2, 5)]
    assert {deed.kept for walk in walks for deed in walk.filer.diary} == set(Kept)


def finished(walk_through: Walk, saw: Saw) -> tuple[list[Deed], list[Mark]]:
    walk = walk_through(saw, 0)
    return list(walk.filer.diary), list(walk.state.marks)


def first(marks: list[Mark], stage: Stage) -> int:
    done = (n for n, mark in enumerate(marks) if mark.did is Did.DONE and mark.stage is stage and not mark.step)
    return next(done)


@pytest.mark.parametrize("stage", [Stage.LEVEL, Stage.SET, Stage.FILE, Stage.DRESS])
def test_work_that_nobody_did_is_found(never_set: Saw, walk_through: Walk, stage: Stage) -> None:
    diary, marks = finished(walk_through, never_set)
    assert differences(diary, marks) == []
    at = first(marks, stage)
    found = differences(diary, [*marks[:at], replace(marks[at], seq=99_999), *marks[at:]])
    assert any(words.startswith(f"in the record alone: {stage}") for words in found)


def test_other_strokes_and_other_answers_are_found(never_set: Saw, walk_through: Walk) -> None:
    diary, marks = finished(walk_through, never_set)
    at = first(marks, Stage.FILE)
    more = replace(marks[at], strokes=(marks[at].strokes or 0) + 1)
    assert len(differences(diary, [*marks[:at], more, *marks[at + 1 :]])) == 2
    cut = next(n for n, mark in enumerate(marks) if mark.did is Did.MEASURED and mark.what == "cut strokes")
    other = replace(marks[cut], entered="7 strokes")
    assert differences(diary, [*marks[:cut], other, *marks[cut + 1 :]])


def test_a_sum_of_the_last_block_that_nobody_did_is_found(never_set: Saw, walk_through: Walk) -> None:
    diary, marks = finished(walk_through, never_set)
    last = marks[-1]
    summary = {**last.extra["summary"], "strokes": {"file": 1}}
    [words] = differences(diary, [*marks[:-1], replace(last, extra={"summary": summary})])
    assert words.startswith("the summary says strokes: {'file': 1}")


def test_the_soak_has_hands_of_every_habit() -> None:
    assert {habit_of(seed) for seed in SEEDS} == set(Habit)
