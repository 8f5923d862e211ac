"""A program that loses its place is found out at the next check, and every gullet is still filed."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from session.sentences.offers import Act
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

SOAK = pytest.mark.soak("a slip of the filer's")

#: Every kind of saw, for a soak.
KINDS = (
    *("panel", "one-sided rip", "one-sided rip from the toe", "dovetail", "from the toe", "file to the handle"),
    *("leaning toward", "never set", "filed first", "sloped"),
)


@cache
def slipped(kind: Any, saw: Saw, seed: int, at: int) -> Any:
    """A walk in which the program believes a gullet done that no file has touched: the ``at``-th of the filing."""
    walk = kind(saw, make_plan(saw), seed)
    while True:
        now = walk.state.front
        done = sum(one.stage is Stage.FILE for one in walk.state.outcomes)
        fresh = walk.filer._told is not None and walk.filer._slip is None
        filing = now.ask is Ask.WORK and now.place is not None and now.place.stage is Stage.FILE
        if filing and done >= at and fresh and not walk.state.paused:
            break
        assert walk.step()
    walk.slip()
    return walk.run()


@pytest.mark.parametrize(
    ("saw", "at"),
    [
        *((name, 5) for name in ("panel", "one-sided rip")),
        *(pytest.param(name, 5, marks=pytest.mark.wide) for name in ("leaning toward", "never set")),
        *(pytest.param(name, at, marks=SOAK) for name in KINDS for at in (2, 5, 9)),
    ],
    indirect=["saw"],
)
def test_a_mark_that_no_hand_made_is_found_at_the_next_check(long_saw: Saw, kind: Any, at: int) -> None:
    found_at_the_next_check(slipped(kind, long_saw, 1, at))


@pytest.mark.parametrize("at", [2, pytest.param(9, marks=pytest.mark.wide)])
def test_an_early_mark_and_a_late_one_are_found_as_well(saws: dict[str, Saw], kind: Any, at: int) -> None:
    long_saw = replace(saws["panel"], toothed_length=parse_length("9 in"), points=64)
    found_at_the_next_check(slipped(kind, long_saw, 1, at))


def found_at_the_next_check(walk: Any) -> None:
    differ = [move for move in walk.moves if move.act is Act.DIFFER]
    assert len(differ) == 1
    assert len(walk.filer.differed) == 1
    assert walk.state.finished
    # The place was set back by one, so the log has as many gullets done as the saw has been filed.
    filed = Counter(one.gullet for one in walk.filer.plate.filed)
    left = Counter(place.tooth for place, mark in walk.state.left_out() if mark.stage is Stage.FILE)
    assert set(filed + left) == set(range(1, walk.filer.plate.points + 1))
    # Once more only where the trial cut showed that a flat was left, and filing was added for it.
    again = sum(mark.stage is Stage.FILE for mark in walk.did(Did.ADDED))
    assert max((filed + left).values()) == 1 + again


@pytest.mark.wide
def test_the_log_says_where_the_difference_was_found(long_saw: Saw, kind: Any) -> None:
    walk = slipped(kind, long_saw, 1, 5)
    odd = [mark for mark in walk.did(Did.CHECKED) if mark.value != (mark.tooth or mark.number)]
    set_anew = [mark for mark in walk.did(Did.CONFIRMED) if mark.what == "set"]
    assert len(odd) + len(set_anew) == 1
    assert walk.did(Did.TOOK_BACK)
