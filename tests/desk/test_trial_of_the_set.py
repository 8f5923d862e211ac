"""Six teeth are bent, then it is said what the caliper should read before the rest is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.trade.saw import Leans
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.measurables import Measurable
from session.walk.stages import FACTS, LEAN_ITEM, Kind, Stage
from session.walk.work_plan import make_plan

RIGHT = "Six are bent. Caliper over one and its neighbor, not bent yet: {}."
AT = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


@pytest.fixture
def setting(tmp_path: Path) -> Iterator[Callable[..., list[tuple[int, str]]]]:
    """The lines that begin with one of ``begin``, each with how many teeth are bent, over the first ten."""
    made: list[Sitting] = []

    def work(
        leans: Leans | None = None, begin: tuple[str, ...] = ("Six are bent",), **measured: float
    ) -> list[tuple[int, str]]:
        found, clock = load_recipe(find_recipe("crosscut-panel", [])), SetClock(AT)
        out = frozenset(stage for stage, facts in FACTS.items() if facts.optional and stage is not Stage.SET)
        sitting = Sitting.start(tmp_path / str(len(made)), found, make_plan(found.saw, leave_out=out), clock)
        made.append(sitting)
        desk, bent, told = Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9), 0, list[tuple[int, str]]()
        while bent < 10:
            clock.pass_s(2.0)
            front, place = desk.moment.front, desk.moment.place
            at_work = front.ask is Ask.WORK and place is not None
            if at_work and place is not None and place.stage is Stage.SET and place.kind is Kind.TOOTH:
                told += [(bent, line) for line in desk.moment.said.lines if line.startswith(begin)]
                bent += 1
            elif at_work and measured:
                for what, value in measured.items():
                    mark = acts.measure(sitting.state, clock.now(), Measurable[what], value, unit="in")
                    assert not desk.making.make(mark).refused
                measured = {}
            if leans is not None and front.name == LEAN_ITEM:
                assert not desk.steps.lean(leans).refused
                continue
            assert not desk.act(Act.AGREE if front.ask.holds else Act.DONE).refused
        return told

    yield work
    for sitting in made:
        sitting.close()


def test_after_six_teeth_the_width_over_a_bent_and_an_old_tooth_is_told(
    setting: Callable[..., list[tuple[int, str]]],
) -> None:
    # Plate 35 thou, 6 wanted on the bent row, (43 - 35) / 2 = 4 thou found on the other.
    assert setting(OVER_POINTS=0.043) == [(6, RIGHT.format("0.045 in"))]


def test_of_a_saw_that_was_never_set_the_neighbor_stands_straight(
    setting: Callable[..., list[tuple[int, str]]],
) -> None:
    assert setting(Leans.UNSET) == [(6, RIGHT.format("0.041 in"))]


def test_where_nothing_was_measured_the_plate_and_one_bend_are_told(
    setting: Callable[..., list[tuple[int, str]]],
) -> None:
    # Plate 35 thou and 6 of the bent row; what the other row has nobody knows. In the end it is to be 47.
    assert setting() == [(6, RIGHT.removesuffix(".").format("0.041 in") + ", and the neighbor's lean.")]


def test_less_and_more_than_told_each_have_their_remedy_beside_the_width(
    setting: Callable[..., list[tuple[int, str]]],
) -> None:
    told = [line for bent, line in setting(begin=("Six are bent", "Less", "More"), OVER_POINTS=0.043) if bent == 6]
    assert [line.split(":")[0] for line in told] == [
        "Six are bent. Caliper over one and its neighbor, not bent yet",
        "Less",
        "More",
    ]
    assert "a little more" in told[1]
    # Bent the other way a tooth may break off.
    assert "do not bend back" in told[2]
