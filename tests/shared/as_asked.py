"""The mark that does what is asked, for walks in which all goes as asked."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Mark
from session.walk.state import State


def as_asked(state: State, at: datetime, work: Callable[[State, datetime], Mark] = acts.done) -> Mark:
    """Answers what stands in front of ``state``; ``work`` makes the mark where work is asked for."""
    now = state.front
    match now.ask:
        case Ask.PAUSED:
            return acts.resume(state, at, after="pause", seconds=1.0)
        case Ask.CONFIRM:
            return acts.confirm(state, at, "yes")
        case Ask.CHECK:
            assert now.place is not None
            return acts.check(state, at, now.place.tooth)
        case Ask.CAUTION:
            return acts.acknowledge(state, at)
        case Ask.TURN:
            return acts.acknowledge(state, at) if now.name else acts.turn(state, at)
        case Ask.SHIFT:
            return acts.shift(state, at)
        case Ask.FIT:
            return acts.fit(state, at)
        case Ask.WORK:
            return work(state, at)
        case Ask.END:
            return acts.finish(state, at)
        case Ask.FINISHED:
            raise AssertionError("nothing is asked any more")
