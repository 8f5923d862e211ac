"""What the rehearsal's tests share: saws of every kind, and a bench without a screen that takes the filer's moves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from made_saws import panel_saw
from session.advice.look_over import against
from session.desk.answers import read
from session.rehearsal.filer import Filer, Move
from session.sentences.moment import Moment
from session.sentences.offers import Act
from session.sentences.saying import Saying
from session.texts.steps import AskKind
from session.texts.steps import step as step_of
from session.trade.lengths import parse_length
from session.trade.saw import Cut, End, FilePoints, Leans, Order, Saw
from session.walk import acts
from session.walk.front import Ask
from session.walk.mark import Did, Mark
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.stages import Kind, Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

START = datetime(2025, 5, 6, 7, 30, tzinfo=UTC)

#: More moves than the longest walk here needs; beyond, filer and program have lost each other.
MOST_MOVES = 3000

PANEL = panel_saw(
    name="Netloft cabin saw",
    toothed_length=parse_length("9 in"),
    points=64,
    fleam=25.0,
    set_per_side=parse_length("0.006 in"),
    least_per_side=parse_length("0.003 in"),
    vise_jaw=parse_length("6 in"),
)
RIP = replace(PANEL, name="Slip rip saw", cut=Cut.RIP, fleam=0.0, rake=0.0, sides=1, pitch_mm=25.4 / 4.5, points=41)
DOVETAIL = replace(
    PANEL,
    name="Loft dovetail saw",
    cut=Cut.RIP,
    toothed_length=parse_length("120 mm"),
    plate=parse_length("0.5 mm"),
    points=62,
    pitch_mm=25.4 / 13,
    rake=4.0,
    fleam=0.0,
    set_per_side=parse_length("0.08 mm"),
    least_per_side=None,
    dressing_passes=0,
)
SAWS = {
    "panel": PANEL,
    "one-sided rip": RIP,
    "one-sided rip from the toe": replace(RIP, start=End.TOE),
    "dovetail": DOVETAIL,
    "from the toe": replace(PANEL, start=End.TOE),
    "file to the handle": replace(PANEL, file_points=FilePoints.HANDLE),
    "leaning toward": replace(PANEL, first_leans=Leans.TOWARD, points=63),
    "never set": replace(PANEL, first_leans=Leans.UNSET),
    "filed first": replace(PANEL, order=Order.FILE_FIRST),
    "sloped": replace(PANEL, slope=10.0),
}


class Rehearsed:
    """One walk with its filer: every move is made as the bench would make it, and the rules are asked each time.

    heard: what was said before each move, one for one with ``moves``.
    """

    def __init__(self, saw: Saw, plan: Plan, seed: int, points: int | None = None) -> None:
        self.saw = saw
        self.state = State.start(plan)
        self.filer = Filer(saw, seed, points=points)
        self.moves: list[Move] = []
        self.heard: list[Saying] = []
        self._at = START

    def run(self) -> Rehearsed:
        """Go on to the end. Raises AssertionError when it does not come."""
        while self.step():
            assert len(self.moves) < MOST_MOVES, f"no end in sight at {self.heard[-1].title}: {self.moves[-1]}"
        return self

    def step(self) -> bool:
        """One move; False when the filer has none left."""
        saying = Moment(self.state, self.saw).said
        move = self.filer.next(saying)
        if move is None:
            return False
        self.heard.append(saying)
        self.moves.append(move)
        self._at += timedelta(seconds=move.takes_s)
        self.take(move)
        return True

    def slip(self) -> None:
        """A mark that no hand made: the program believes the place in hand done."""
        self._make(acts.done(self.state, self._at))

    def take(self, move: Move) -> None:
        """Make the marks that ``move`` stands for here."""
        state, at = self.state, self._at
        now = state.front
        match move.act:
            case Act.PAUSE if now.ask is Ask.PAUSED:
                self._make(acts.resume(state, at, after="pause", seconds=move.takes_s))
            case Act.PAUSE:
                self._make(acts.pause(state, at))
            case Act.TAKE_BACK:
                self._make(acts.take_back(state, at))
            case Act.FLAG:
                self._make(acts.flag(state, at))
            case Act.LEAVE_OUT:
                assert move.text
                self._make(acts.leave_out(state, at, move.text))
            case Act.MORE:
                self._make(acts.add(state, at, Stage.LEVEL))
            case Act.AGREE:
                self._agree(now.ask, now.name, now.place)
            case Act.DONE:
                self._done(now.ask, now.place)
            case Act.STROKES:
                assert now.ask is Ask.WORK
                assert now.place is not None
                self._digit(now.place, move.digit)
            case Act.ANSWER:
                assert move.text
                self._answer(move.text)
            case Act.DIFFER:
                assert move.text
                self._set_place(int(move.text))
            case _:
                raise AssertionError(f"{move.act} at {now.ask}: {self.filer.differed}")

    def _agree(self, ask: Ask, name: str, place: Place | None) -> None:
        state, at = self.state, self._at
        match ask:
            case Ask.CAUTION:
                self._make(acts.acknowledge(state, at))
            case Ask.TURN:
                self._make(acts.acknowledge(state, at) if name else acts.turn(state, at))
            case Ask.CHECK if place is not None:
                self._make(acts.check(state, at, place.tooth or place.number))
            case Ask.CONFIRM:
                self._make(acts.confirm(state, at, "yes"))
            case _:
                assert place is not None
                assert place.step == "plan"
                for one in against(state, self.saw):
                    self._make(acts.decide(self.state, at, one.stage, one.take_in, one.why))

    def _done(self, ask: Ask, place: Place | None) -> None:
        state, at = self.state, self._at
        if ask is Ask.SHIFT:
            self._make(acts.shift(state, at))
        elif ask is Ask.END:
            self._make(acts.finish(state, at))
        else:
            assert ask is Ask.WORK
            assert place is not None
            if place.stage is Stage.LEVEL and place.tooth:
                given = [mark.value for mark in state.outcomes.values() if mark.unit == "fine grade"]
                assert isinstance(given[-1], int)
                self._make(acts.grade(state, at, given[-1]))
            else:
                assert place.kind is not Kind.GULLET
                self._make(acts.done(state, at))

    def _digit(self, place: Place, digit: int) -> None:
        state, at = self.state, self._at
        if place.stage is Stage.LEVEL and place.tooth:
            self._make(acts.grade(state, at, digit))
        elif place.kind is Kind.GULLET:
            self._make(acts.done(state, at, strokes=digit))
        else:
            asks = step_of(place.stage, place.step).asks
            assert asks is not None
            chosen = asks.choices[digit - 1]
            if place.stage is Stage.LEVEL and digit > 1:
                self._make(acts.add(state, at, Stage.LEVEL, passes=1 if digit == 2 else 0, reason=chosen))
            else:
                self._make(acts.measure(state, at, asks.what, chosen, entered=chosen))
                self._make(acts.done(self.state, at))

    def _answer(self, text: str) -> None:
        place = self.state.place
        assert place is not None
        asks = step_of(place.stage, place.step).asks
        assert asks is not None
        for one in read(asks, text, self.saw):
            self._make(acts.measure(self.state, self._at, one.what, one.value, unit=one.unit, entered=one.entered))
        # The numbers of a cut leave the step open for how it cut.
        if asks.kind is not AskKind.CUT:
            self._make(acts.done(self.state, self._at))

    def _set_place(self, tooth: int) -> None:
        """The place on the saw is ``tooth``: the check point or the question is closed, and the place set."""
        state, at = self.state, self._at
        leg, _ = state.route.leg_at(state.here)
        target = next(place for place in leg.places if place.tooth == tooth)
        before = leg.places[leg.places.index(target) - 1]
        ask = state.front.ask
        assert ask in (Ask.CHECK, Ask.CONFIRM)
        if ask is Ask.CHECK:
            self._make(acts.check(state, at, before.tooth))
        for mark in acts.set_place(self.state, at, target):
            self._make(mark)
        if ask is Ask.CONFIRM:
            self._make(acts.confirm(self.state, at, "set"))

    def _make(self, mark: Mark) -> None:
        assert why_not(self.state, mark) is None, why_not(self.state, mark)
        self.state = self.state.after(mark)

    def did(self, did: Did) -> list[Mark]:
        """The marks of one kind, in order."""
        return [mark for mark in self.state.marks if mark.did is did]


@pytest.fixture(scope="session")
def walk_through() -> Callable[..., Rehearsed]:
    """Play one whole walk; ``plan`` is the saw's own when None. The same walk is played once only."""
    played: dict[tuple[object, ...], Rehearsed] = {}

    def walk(saw: Saw, seed: int, plan: Plan | None = None, points: int | None = None) -> Rehearsed:
        key = (saw, seed, plan, points)
        if key not in played:
            played[key] = Rehearsed(saw, plan or make_plan(saw), seed, points).run()
        return played[key]

    return walk


@pytest.fixture(params=list(SAWS), scope="session")
def saw(request: pytest.FixtureRequest) -> Saw:
    """One saw of each kind in turn."""
    return SAWS[str(request.param)]
