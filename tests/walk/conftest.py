"""What the walk's tests share: small saws from the boat shed, and a hand that answers whatever is asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from as_asked import as_asked
from made_saws import small_saw
from session.trade.lengths import Length
from session.trade.saw import Saw
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

PITCH_MM = 3.0
START = datetime(2024, 3, 4, 8, 0, tzinfo=UTC)


def _work(state: State, at: datetime) -> Mark:
    place = state.place
    graded = place is not None and place.stage is Stage.LEVEL and place.tooth and not place.on_strip
    return acts.grade(state, at, 2) if graded else acts.done(state, at)


@dataclass
class Hand:
    """Makes marks one by one, each only when the rules let it, ten seconds apart."""

    plan: Plan
    state: State = field(init=False)
    at: datetime = START

    def __post_init__(self) -> None:
        self.state = State.start(self.plan)

    def make(self, maker: Callable[..., Mark], *args: Any, **fields: Any) -> Mark:
        self.at += timedelta(seconds=10)
        return self.put(maker(self.state, self.at, *args, **fields))

    def put(self, mark: Mark) -> Mark:
        assert why_not(self.state, mark) is None
        self.state = self.state.after(mark)
        return mark

    def answer(self) -> Mark:
        """Answer what stands in front, whatever it is, the way that goes on."""
        self.at += timedelta(seconds=10)
        return self.put(as_asked(self.state, self.at, _work))

    def until(self, wanted: Callable[[State], bool]) -> State:
        for _ in range(2000):
            if wanted(self.state):
                return self.state
            self.answer()
        raise AssertionError("never came to what was wanted")

    def to_ask(self, ask: Ask, stage: Stage | None = None) -> State:
        """Go on until ``ask`` stands in front, in ``stage`` when one is given."""

        def there(state: State) -> bool:
            fits = stage is None or (state.place is not None and state.place.stage is stage)
            return fits and state.front.ask is ask

        return self.until(there)

    def to_place(self, place: Place) -> State:
        """Go on until ``place`` is in hand and nothing else is asked."""
        return self.until(lambda state: state.place == place and state.front.ask is Ask.WORK)

    def dids(self) -> list[Did]:
        return [mark.did for mark in self.state.marks]


def _saw(points: int = 8, **changes: Any) -> Saw:
    return small_saw(points, PITCH_MM, **{"vise_jaw": Length.of(1000.0), **changes})


@pytest.fixture
def saw_of() -> Callable[..., Saw]:
    """A saw of so many points of 3 mm, and whatever else is asked of it; the vise holds it all."""
    return _saw


@pytest.fixture
def plan_of() -> Callable[..., Plan]:
    """The default plan for such a saw; ``leave_out`` and ``check_spacing`` go to the plan."""

    def make(points: int = 8, **changes: Any) -> Plan:
        for_plan = {k: changes.pop(k) for k in ("leave_out", "check_spacing", "level_passes") if k in changes}
        return make_plan(_saw(points, **changes), **for_plan)

    return make


@pytest.fixture
def hand_of(plan_of: Callable[..., Plan]) -> Callable[..., Hand]:
    """A hand at the start of such a plan."""
    return lambda points=8, **changes: Hand(plan_of(points, **changes))


@pytest.fixture
def only_filing() -> dict[str, Any]:
    """Changes that leave nothing but looking over, filing and closing."""
    optional = {Stage.LEVEL, Stage.SET, Stage.DRESS, Stage.PROVE}
    return {"leave_out": frozenset(optional)}
