"""Moments of a sharpening to be held against goldens: a worker who comes to them, and what is on screen then."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import cycle
from pathlib import Path
from typing import Protocol

from rich.cells import cell_len

from bench_person import Person
from bench_shed import Shed
from own_plan import keep_plan
from session.advice.untouched_plan import own_plan
from session.desk.act_reply import Reply
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.till.till_folder import slug
from session.walk.front_question import Ask, Front
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

#: Compares a text with the golden of that name.
Golden = Callable[[str, str], None]

#: Whether a moment that is looked for has come.
Moment = Callable[[Front, State], bool]

SIZES = ((80, 24), (120, 36))


LARGE = (200, 60)


PANEL_SAW = supplied_folder("demo") / "netloft-panel-saw.toml"


class Working(Protocol):
    """Gives a saw worked until a moment."""

    def __call__(
        self, moment: Moment, *, file: Path = PANEL_SAW, grading: bool = True, reshape: bool = False
    ) -> Sitting: ...


#: An uneven line with a low tooth now and then, one grade a tooth.
GRADES = (2, 2, 3, 2, 1, 2, 2, 4, 3, 2, 2, 1, 0, 2, 3, 2, 2)


@dataclass
class Worker:
    """Works a saw as a person would, up to a moment; ``grading`` the flats and taking in to ``reshape`` when wanted."""

    sitting: Sitting
    clock: SetClock
    grading: bool = True
    reshape: bool = False
    grades: Iterator[int] = field(default_factory=lambda: cycle(GRADES))

    def until(self, moment: Moment) -> Sitting:
        if not any(moment(now, self.sitting.state) for now in self.each()):
            raise AssertionError("the moment never came")
        return self.sitting

    def each(self) -> Iterator[Front]:
        """What is asked, 4 s after the answer before; answered when the next is wanted."""
        hands = Desk(self.sitting)
        for _ in range(5000):
            self.clock.pass_s(4)
            now = self.sitting.state.front
            yield now
            reply = self.answer(hands, now)
            assert not reply.refused, reply

    def answer(self, hands: Desk, now: Front) -> Reply:
        state = self.sitting.state
        stage, step = (now.place.stage, now.place.step) if now.place else (None, None)
        if now.ask.holds:
            return hands.act(Act.AGREE)
        if now.ask is Ask.WORK and step == "plan" and not own_plan(state):
            keep_plan(self.sitting)
        if now.ask is Ask.WORK and step == "plan" and self.reshape and Stage.RESHAPE not in state.taken_in:
            return hands.act(Act.STROKES, 2)
        if now.ask is Ask.WORK and stage is Stage.LEVEL and step:
            return hands.act(Act.STROKES, 1 if state.flats or not self.grading else 3)
        if now.ask is Ask.WORK and stage is Stage.LEVEL and now.place and now.place.tooth:
            return hands.act(Act.STROKES, next(self.grades))
        if now.ask is Ask.WORK and stage in (Stage.FILE, Stage.RESHAPE) and now.place:
            low = state.flats.get(now.place.tooth) == 0
            return hands.leave_out("low tooth, no flat") if low else hands.act(Act.STROKES, 2)
        return hands.act(Act.DONE)


@dataclass(frozen=True)
class Frame:
    """A moment of a sharpening: when it was, by both ways of the clock, and how much of the log was written by then."""

    state: State
    now: datetime
    steady_s: float
    size: int


class Reel:
    """The panel saw worked as far as anyone has asked, so that a test can begin at any moment of it at once.

    Nobody but the reel works on its log; who begins at a moment has a log of their own, the same up to there.
    """

    def __init__(self, folder: Path) -> None:
        self._shed = Shed(folder)
        self._worker = Worker(begun(PANEL_SAW, self._shed), self._shed.clock)
        self._asked = self._worker.each()
        self._frames: list[Frame] = []

    def until(self, moment: Moment, shed: Shed) -> Sitting:
        """The sharpening at the first such moment, in the till of ``shed``, whose clock stands as it did then."""
        frame = next((one for one in self._all() if moment(one.state.front, one.state)), None)
        assert frame is not None, "the moment never came"
        kept = self._worker.sitting
        path = shed.till.path / kept.journal.path.relative_to(self._shed.till.path)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(kept.journal.path.read_bytes()[: frame.size])
        shed.clock.moment, shed.clock.steady = frame.now, frame.steady_s
        sitting = Sitting(kept.saw, kept.plan, Journal.open(path), shed.clock)
        assert sitting.journal.marks == frame.state.marks
        sitting.state = frame.state
        return sitting

    def _all(self) -> Iterator[Frame]:
        yield from self._frames
        for _ in self._asked:
            sitting, clock = self._worker.sitting, self._shed.clock
            size = sitting.journal.path.stat().st_size
            self._frames.append(Frame(sitting.state, clock.now(), clock.steady_s(), size))
            yield self._frames[-1]

    def close(self) -> None:
        """Let go of the log."""
        self._worker.sitting.close()


def begun(file: Path, shed: Shed) -> Sitting:
    """A new sharpening of the saw in ``file``, in the till of ``shed``."""
    recipe = load_recipe(file)
    folder = shed.till.log_folder(slug(recipe.saw.name))
    return Sitting.start(folder, recipe, make_plan(recipe.saw), shed.clock)


def at(stage: Stage, tooth: int = 0, *, side: int = 0, step: str = "", number: int = 0) -> Moment:
    """The moment when that place is worked."""

    def there(now: Front, state: State) -> bool:
        place = now.place
        return (
            now.ask is Ask.WORK
            and place is not None
            and place.stage is stage
            and (side in (0, place.side))
            and (place.tooth, place.step or "", place.number or 0) == (tooth, step, number)
        )

    return there


def asked(ask: Ask, name: str = "", *, stage: Stage | None = None, side: int = 0) -> Moment:
    """The moment when that is asked."""
    return lambda now, state: (
        now.ask is ask
        and (now.name == name or not name)
        and (stage is None or (now.place is not None and now.place.stage is stage))
        and side in (0, now.side)
    )


def flats_graded(now: Front, state: State) -> bool:
    """The moment when the flats, graded, are looked at again."""
    return bool(state.flats) and at(Stage.LEVEL, step="flats")(now, state)


async def tick(person: Person, seconds: float) -> None:
    """Let time go by, and the bench look at the clock."""
    person.clock.pass_s(seconds)
    person.bench.tick()
    await person.settle()


def shown(person: Person, size: tuple[int, int]) -> str:
    """What is on screen, every row of it as wide as the terminal; the till's own path is masked."""
    rows = person.rows()
    assert len(rows) == size[1]
    assert {cell_len(row) for row in rows} == {size[0]}
    # The path differs from run to run and may be too long for the row.
    return "".join(re.sub(r"(the till at ).*", r"\1TILL", row).rstrip() + "\n" for row in rows)


async def hold(person: Person, golden: Golden, name: str, sizes: tuple[tuple[int, int], ...] = SIZES) -> None:
    """Compare the moment at each size."""
    for size in sizes:
        if person.app.size != size:
            await person.resize(*size)
        golden(f"{name}-{size[0]}x{size[1]}.txt", shown(person, size))
