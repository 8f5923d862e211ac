"""What the rehearsal's tests share: saws of every kind, and a desk without a screen that takes the filer's moves."""

from __future__ import annotations

import atexit
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp

import pytest

from made_saws import panel_saw
from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.machine.disk import Disk
from session.rehearsal.desk_run import DeskRun
from session.rehearsal.filer import Filer
from session.rehearsal.hand_habits import Habit
from session.trade.lengths import Length, parse_length
from session.trade.saw import Cut, End, FilePoints, Leans, Order, Saw
from session.walk import acts
from session.walk.mark import Did, Mark
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

#: Where the logs of all walks here lie while the tests run.
LOGS = Path(mkdtemp(prefix="toothline-rehearsal-"))
atexit.register(rmtree, LOGS, ignore_errors=True)

START = datetime(2025, 5, 6, 7, 30, tzinfo=UTC)

PANEL = panel_saw(
    name="Netloft cabin saw",
    toothed_length=parse_length("4.5 in"),
    points=32,
    fleam=25.0,
    set_per_side=parse_length("0.006 in"),
    least_per_side=parse_length("0.003 in"),
    vise_jaw=parse_length("3 in"),
)
RIP = replace(PANEL, name="Slip rip saw", cut=Cut.RIP, fleam=0.0, rake=0.0, sides=1, pitch_mm=25.4 / 4.5, points=21)
DOVETAIL = replace(
    PANEL,
    name="Loft dovetail saw",
    cut=Cut.RIP,
    toothed_length=parse_length("60 mm"),
    plate=parse_length("0.5 mm"),
    points=31,
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
    "leaning toward": replace(PANEL, first_leans=Leans.TOWARD, points=31),
    "never set": replace(PANEL, first_leans=Leans.UNSET),
    "filed first": replace(PANEL, order=Order.FILE_FIRST),
    "sloped": replace(PANEL, slope=10.0),
}


class Unsynced(Disk):
    """A disk that does not wait for the medium: nothing here is to outlast the test."""

    def fsync(self, fd: int) -> None:
        pass

    def fsync_dir(self, path: Path) -> None:
        pass


class Rehearsed(DeskRun):
    """One walk with its filer at a desk, its log in a folder that is thrown away."""

    def __init__(
        self,
        saw: Saw,
        plan: Plan,
        seed: int,
        points: int | None = None,
        habit: Habit | None = Habit.STEADY,
        *,
        strip: bool = False,
    ) -> None:
        clock = SetClock(START)
        header = {"session": {"started": START, "saw": saw.name}}
        journal = Journal.create(LOGS, header, started=START, disk=Unsynced())
        desk = Desk(Sitting(saw, plan, journal, clock))
        super().__init__(desk, clock, Filer(saw, seed, points=points, habit=habit, strip=strip))
        self.saw = saw

    @property
    def state(self) -> State:
        """The state after the moves so far."""
        return self.desk.sitting.state

    def slip(self) -> None:
        """A mark that no hand made: the program believes the place in hand done."""
        self.desk.sitting.make(acts.done(self.state, self.clock.now()))

    def did(self, did: Did) -> list[Mark]:
        """The marks of one kind, in order."""
        return [mark for mark in self.state.marks if mark.did is did]


@pytest.fixture(scope="session")
def walk_through() -> Callable[..., Rehearsed]:
    """Play one whole walk, each once only.

    plan: the saw's own when None. habit: steady hands unless said otherwise; None for those that the seed has.
    strip: whether the filer has a printed strip.
    """
    played: dict[tuple[object, ...], Rehearsed] = {}

    def walk(
        saw: Saw,
        seed: int,
        plan: Plan | None = None,
        points: int | None = None,
        habit: Habit | None = Habit.STEADY,
        strip: bool = False,
    ) -> Rehearsed:
        key = (saw, seed, plan, points, habit, strip)
        if key not in played:
            played[key] = Rehearsed(saw, plan or make_plan(saw), seed, points, habit, strip=strip).run()
            played[key].desk.sitting.close()
        return played[key]

    return walk


@pytest.fixture(params=list(SAWS), scope="session")
def saw(request: pytest.FixtureRequest) -> Saw:
    """One saw of each kind in turn."""
    return SAWS[str(request.param)]


@pytest.fixture(scope="session")
def long_saw(saw: Saw) -> Saw:
    """The same kind of saw with twice as many teeth: what is to be found at a check needs one on its way."""
    twice = Length.of(2 * saw.toothed_length.mm)
    return replace(saw, toothed_length=twice, points=2 * saw.points, vise_jaw=parse_length("6 in"))


@pytest.fixture(scope="session")
def never_set() -> Saw:
    """A crosscut saw that is set anew today, so that whatever the hands do to its set is theirs."""
    return SAWS["never set"]


@pytest.fixture(scope="session")
def saws() -> dict[str, Saw]:
    """The saws of every kind, by their names here."""
    return SAWS


@pytest.fixture(scope="session")
def kind() -> type[Rehearsed]:
    """What a walk is made of: a saw, a plan, a seed, points and a habit."""
    return Rehearsed
