"""What each corner of each file did in one walk, by the marks of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from session.walk.account import Account
from session.walk.corner_work import CornerWork, corner_work
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.stages import Stage

AT = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


def marks(*steps: dict[str, Any]) -> list[Mark]:
    return [Mark(seq=seq, at=AT + timedelta(seconds=9 * seq), **step) for seq, step in enumerate(steps, 1)]


def filed(tooth: int, strokes: int | None = None, stage: Stage = Stage.FILE) -> dict[str, Any]:
    return {"did": Did.DONE, "stage": stage, "side": 1, "tooth": tooth, "strokes": strokes}


def took(name: str, corner: int | None = None) -> list[dict[str, Any]]:
    told: list[dict[str, Any]] = [{"did": Did.MEASURED, "stage": Stage.FILE, "what": Measurable.FILE, "value": name}]
    if corner is not None:
        told.append({"did": Did.MEASURED, "stage": Stage.FILE, "what": Measurable.FILE_CORNER, "value": corner})
    return told


def work(*steps: dict[str, Any]) -> tuple[CornerWork, ...]:
    return corner_work(Account.of(marks(*steps)))


def test_a_change_in_the_middle_counts_from_there_on() -> None:
    assert work(filed(1), *took("a", 2), filed(3), filed(5), *took("a", 3), filed(7), *took("b"), filed(9)) == (
        CornerWork(gullets=1),
        CornerWork(file="a", corner=2, gullets=2),
        CornerWork(file="a", corner=3, gullets=1),
        CornerWork(file="b", gullets=1),
    )


def test_reshaping_wears_a_corner_as_filing_does() -> None:
    reshaped = [filed(tooth, 9, Stage.RESHAPE) for tooth in (1, 2)]
    assert work(*took("a", 1), *reshaped, filed(1, 2), filed(3)) == (
        CornerWork(file="a", corner=1, gullets=4, counted=3, strokes=20),
    )


def test_one_stroke_everywhere_is_no_count() -> None:
    assert work(*took("a", 1), filed(1, 1), filed(3, 1)) == (CornerWork(file="a", corner=1, gullets=2),)


def test_what_is_taken_back_left_out_or_no_gullet_wears_nothing() -> None:
    steps = [
        *took("a", 1),
        filed(1, 3),
        {"did": Did.TOOK_BACK, "of": 3},
        {"did": Did.LEFT_OUT, "stage": Stage.FILE, "side": 1, "tooth": 3, "reason": "broken tooth"},
        {"did": Did.DONE, "stage": Stage.DRESS, "side": 1, "number": 1},
        {"did": Did.DONE, "stage": Stage.LEVEL, "number": 1},
    ]
    assert work(*steps) == ()


def test_a_change_that_is_taken_back_never_was() -> None:
    steps = [*took("a", 1), filed(1), *took("b"), {"did": Did.TOOK_BACK, "of": 4}, filed(3)]
    assert work(*steps) == (CornerWork(file="a", corner=1, gullets=2),)


@given(st.lists(st.one_of(st.integers(2, 9), st.none(), st.sampled_from(["a", "b"])), max_size=30))
def test_no_gullet_and_no_stroke_is_lost_or_counted_twice(acts: Sequence[int | str | None]) -> None:
    steps: list[dict[str, Any]] = []
    for tooth, act in enumerate(acts, 1):
        steps += took(act) if isinstance(act, str) else [filed(tooth, act)]
    found = work(*steps)
    gullets = [act for act in acts if not isinstance(act, str)]
    assert sum(one.gullets for one in found) == len(gullets)
    assert sum(one.strokes for one in found) == sum(act or 0 for act in gullets)
    assert sum(one.counted for one in found) == sum(act is not None for act in gullets)
