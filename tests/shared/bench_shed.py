"""A till in a folder with a small saw in it, and the program running on it."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Any

from bench_person import Person
from session.bench.app import BenchApp
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.till.till_folder import Till, slug
from session.trade.saw import Saw
from session.walk import acts
from session.walk.front_question import Ask, Front
from session.walk.mark import Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan
from small_recipe import small_recipe

BEGUN = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)

_ANSWERS: dict[Ask, Callable[[State, Front, datetime], Mark]] = {
    Ask.CAUTION: lambda state, now, at: acts.acknowledge(state, at),
    Ask.TURN: lambda state, now, at: acts.acknowledge(state, at) if now.name else acts.turn(state, at),
    Ask.SHIFT: lambda state, now, at: acts.shift(state, at),
    Ask.FIT: lambda state, now, at: acts.fit(state, at),
    Ask.CHECK: lambda state, now, at: acts.check(state, at, now.place.tooth if now.place else 0),
    Ask.WORK: lambda state, now, at: acts.done(state, at),
    Ask.CONFIRM: lambda state, now, at: acts.confirm(state, at, "yes"),
}


@dataclass(frozen=True)
class Kept:
    """A sharpening that came to a place before.

    file: its log within the till. log: the bytes in it. took_s: how long it took on the shed's clock.
    """

    saw: Saw
    plan: Plan
    state: State
    file: Path
    log: bytes
    took_s: float


#: By the saw, the place and the time: many tests begin at the same place.
_KEPT: dict[tuple[object, ...], Kept] = {}


def works_at(stage: str, *, side: int = 0, step: str = "") -> Callable[[Sitting], bool]:
    """Whether a sharpening asks for work of ``stage``, on ``side``, at ``step`` where one is named."""

    def there(sitting: Sitting) -> bool:
        place = sitting.state.place
        return (
            sitting.state.front.ask is Ask.WORK
            and place is not None
            and place.stage == stage
            and side in (0, place.side)
            and (not step or place.step == step)
        )

    return there


class Shed:
    """A till in a folder, with one small saw in it."""

    def __init__(self, folder: Path) -> None:
        self.till = Till(folder)
        self.clock = SetClock(BEGUN)

    def hang_up(
        self, name: str = "Boat-shed sash saw", points: int = 24, pitch: int = 3, jaw: int = 40, start: str = "heel"
    ) -> Path:
        """Put a saw of ``points`` teeth into the till, ``pitch`` mm apart; ``jaw`` mm of it go into the vise at once.

        ``name`` is written between the quotes of a TOML text, escapes and all.
        """
        self.till.path.mkdir(parents=True, exist_ok=True)
        path = self.till.path / "saw.toml"
        path.write_text(small_recipe(points, name=name, pitch=pitch, jaw=jaw, start=start), encoding="utf-8")
        return path

    def sitting(self, *, without: tuple[Stage, ...] = (), **saw: Any) -> Sitting:
        """A new sharpening of a saw hung up so, ``without`` some stages."""
        recipe = load_recipe(self.hang_up(**saw))
        plan = make_plan(recipe.saw, leave_out=frozenset(without))
        return Sitting.start(self.till.log_folder(slug(recipe.saw.name)), recipe, plan, self.clock)

    def at(self, stage: str, side: int = 0, done: int = 0, *, without: tuple[Stage, ...] = (), **saw: Any) -> Sitting:
        """A sharpening with all that comes before ``stage`` (and ``side``) and ``done`` of its places behind it."""

        def there(sitting: Sitting) -> bool:
            place = sitting.state.place
            if sitting.state.front.ask is not Ask.WORK or place is None:
                return False
            places, _ = sitting.state.route.leg_at(sitting.state.here)
            behind = sum(p in sitting.state.outcomes for p in places.places)
            return place.stage == stage and side in (0, place.side) and behind >= done

        recipe = self.hang_up(**saw).read_bytes()
        key = (recipe, without, stage, side, done, self.clock.now())
        if kept := _KEPT.get(key):
            return self._again(kept)
        begun = self.clock.steady_s()
        sitting = self.answered(self.sitting(without=without, **saw), there)
        path = sitting.journal.path
        _KEPT[key] = Kept(
            saw=sitting.saw,
            plan=sitting.plan,
            state=sitting.state,
            file=path.relative_to(self.till.path),
            log=path.read_bytes(),
            took_s=self.clock.steady_s() - begun,
        )
        return sitting

    def _again(self, kept: Kept) -> Sitting:
        """Such a sharpening in this till, its log the same byte for byte, without working it again."""
        self.clock.pass_s(kept.took_s)
        path = self.till.path / kept.file
        path.parent.mkdir(parents=True, exist_ok=True)
        assert not path.exists()
        path.write_bytes(kept.log)
        sitting = Sitting(kept.saw, kept.plan, Journal.open(path), self.clock)
        assert sitting.journal.marks == kept.state.marks
        sitting.state = kept.state
        return sitting

    def answered(self, sitting: Sitting, until: Callable[[Sitting], bool]) -> Sitting:
        """``sitting`` with what is asked done or agreed to until ``until`` holds, 5 s an act."""
        for _ in range(5000):
            if until(sitting):
                return sitting
            self.clock.pass_s(5)
            answer = _ANSWERS[sitting.state.front.ask]
            sitting.make(answer(sitting.state, sitting.state.front, self.clock.now()))
        raise AssertionError("never came to what was wanted")

    async def brought(self, person: Person, until: Callable[[Sitting], bool]) -> None:
        """Bring the sharpening that ``person`` is at on to where ``until`` holds, without a key, and show it."""
        sitting = person.app.sitting
        assert sitting is not None
        self.answered(sitting, until)
        # Not that much time went by for the person.
        person.bench.desk.touched()
        person.bench.show()
        await person.settle()

    def reopened(self, sitting: Sitting) -> Sitting:
        """The same log after the program was killed and opened again."""
        sitting.close()
        self.clock.pass_s(600)
        return Sitting.resume(sitting.journal.path, self.clock)

    @asynccontextmanager
    async def program(
        self,
        sitting: Sitting | None = None,
        *,
        size: tuple[int, int] = (80, 24),
        settings: Settings | None = None,
        environment: Mapping[str, str] = MappingProxyType({}),
    ) -> AsyncIterator[Person]:
        """The program running on the till, or on ``sitting`` at once."""
        app = BenchApp(self.till, settings or Settings(), self.clock, sitting=sitting, environment=environment)
        # A list scrolls at once: how it gets there is nobody's rule, and each picture on the way would be drawn.
        app.animation_level = "none"
        try:
            async with app.run_test(size=size, notifications=True) as pilot:
                person = Person(app, pilot, self.clock)
                await person.settle()
                yield person
        finally:
            app.release()

    @asynccontextmanager
    async def bench(
        self,
        *,
        size: tuple[int, int] = (80, 24),
        settings: Settings | None = None,
        **saw: Any,
    ) -> AsyncIterator[Person]:
        """The program at the start of a new sharpening."""
        async with self.program(self.sitting(**saw), size=size, settings=settings) as person:
            yield person
