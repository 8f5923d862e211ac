"""Every moment of a sharpening in which all goes as asked, without a log, a desk or a screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.moment import Moment
from session.texts.guidance import Level
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)

#: A crosscut and a rip saw, short, in a short vise, so that they are shifted.
CROSSCUT = replace(load_recipe(find_recipe("crosscut-panel", [])).saw, points=24, vise_jaw=parse_length("2 in"))
RIP = replace(load_recipe(find_recipe("rip", [])).saw, points=12, vise_jaw=parse_length("2 in"))


def moments(saw: Saw, level: Level = Level.TAUGHT, *, reshape: bool = False, graded: bool = False) -> Iterator[Moment]:
    """The moments from the first caution to the end; with reshaping and with the flats graded where that is wanted."""
    state = State.start(make_plan(saw))
    while True:
        now, place = state.front, state.place
        yield Moment(state, saw, level)
        match now.ask:
            case Ask.FINISHED:
                return
            case Ask.END:
                mark = acts.finish(state, AT)
            case Ask.CAUTION:
                mark = acts.acknowledge(state, AT)
            case Ask.TURN:
                mark = acts.acknowledge(state, AT) if now.name else acts.turn(state, AT)
            case Ask.SHIFT:
                mark = acts.shift(state, AT)
            case Ask.FIT:
                mark = acts.fit(state, AT)
            case Ask.CHECK:
                assert now.place is not None
                mark = acts.check(state, AT, now.place.tooth)
            case _ if place is not None and place.step == "plan" and reshape and Stage.RESHAPE not in state.taken_in:
                mark = acts.decide(state, AT, Stage.RESHAPE, True, "uneven")
            case _ if place is not None and place.step == "flats" and graded and not state.flats:
                mark = acts.add(state, AT, Stage.LEVEL, passes=0)
            case _ if place is not None and place.stage is Stage.LEVEL and place.tooth:
                mark = acts.grade(state, AT, 0 if place.tooth in (4, 11) else 1 + place.tooth % 3)
            case _:
                mark = acts.done(state, AT)
        state = state.after(mark)
