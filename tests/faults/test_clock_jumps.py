"""The clock is set back or forward while a saw is being filed: the order is that of the seq."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from made_history import DAY0, SAW, a_cut, filed, proved, told, write_log
from made_saws import small_saw
from press_sweep import Unsynced
from random_walks import onward
from session.desk.act_reply import Reply
from session.desk.countdown import UNSEEN_S
from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.log_reader import read_ends, read_log
from session.log.sitting import Sitting
from session.log.summary import summary_of
from session.machine.clock import SetClock, SystemClock
from session.machine.disk import Disk
from session.sentences.offers import Act
from session.till.due_date import due
from session.till.kept_cuts import write_cut
from session.till.till_folder import Till
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.pace import CAP_S
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

times = st.datetimes(min_value=datetime(1971, 1, 1), max_value=datetime(2999, 1, 1))
offsets = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))


@given(jumps=st.lists(st.tuples(times, offsets), min_size=1, max_size=12))
@examples(40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_marks_keep_their_order_whatever_the_clock_says(
    jumps: list[tuple[datetime, timezone]], tmp_path: Path, header: dict[str, Any], mark: Callable[..., Mark]
) -> None:
    marks = [mark(seq, at=time.replace(tzinfo=zone)) for seq, (time, zone) in enumerate(jumps, start=1)]
    with Journal.create(tmp_path, header, started=marks[0].at) as journal:
        for made in marks:
            journal.append(made)
    log = read_log(journal.path)
    assert [made.seq for made in log.marks] == list(range(1, len(marks) + 1))
    assert [made.at for made in log.marks] == [made.at for made in marks]
    assert [made.at.utcoffset() for made in log.marks] == [made.at.utcoffset() for made in marks]
    assert read_ends(journal.path).last == marks[-1]
    assert summary_of(log).minutes >= 0


def test_a_clock_that_stands_still_or_goes_back_loses_no_torn_end(
    tmp_path: Path, header: dict[str, Any], begun: datetime
) -> None:
    usual = datetime(2026, 3, 7, 9, tzinfo=UTC)
    readings = [usual, usual, datetime(1970, 1, 1, tzinfo=UTC), usual]

    class BadClock(Disk):
        def now(self) -> datetime:
            return readings[-1]

    clock = BadClock()
    with Journal.create(tmp_path, header, started=begun) as journal:
        pass
    kept: list[tuple[Path, bytes]] = []
    while readings:
        with journal.path.open("ab") as file:
            file.write(b"\n[[mark]]\nseq = %d" % len(kept))
        with Journal.open(journal.path, disk=clock) as again:
            assert again.torn is not None
            assert again.torn.file is not None
            kept.append((again.torn.file, again.torn.data))
        readings.pop()
    assert len({file for file, _ in kept}) == 4
    assert all(file.read_bytes() == data for file, data in kept)


class Wall(SetClock):
    """A clock whose time of day can be set without time going by."""

    def set(self, **ahead: float) -> None:
        """Set the time of day so much ahead, or back."""
        self.moment += timedelta(**ahead)


YEARS = [{"days": 365.0 * years} for years in (-30, -1, 1, 30)]


class Filing:
    """A desk at the third gullet of a small saw, some gullets filed at an even pace of 20 s."""

    def __init__(self, folder: Path) -> None:
        saw = small_saw(24, 3.0)
        out = frozenset({Stage.LEVEL, Stage.SET, Stage.DRESS})
        self.clock = Wall(datetime(2026, 11, 25, 21, tzinfo=UTC))
        header = {"session": {"started": self.clock.now(), "saw": saw.name}}
        self.journal = Journal.create(folder, header, started=self.clock.now(), disk=Unsynced())
        self.desk = Desk(Sitting(saw, make_plan(saw, leave_out=out), self.journal, self.clock))
        while self.state.front.ask is not Ask.WORK or (place := self.state.place) is None or place.stage != Stage.FILE:
            self.clock.pass_s(5)
            self.desk.sitting.make(next(onward(self.state, self.clock.now())))
        self.desk.touched()
        self.file(5)

    @property
    def state(self) -> State:
        return self.desk.sitting.state

    def file(self, many: int) -> None:
        for _ in range(many):
            self.act(Act.DONE, after_s=20)

    def act(self, act: Act, after_s: float = 5.0) -> Reply:
        self.clock.pass_s(after_s)
        return self.desk.act(act)

    def filed(self) -> int:
        return sum(mark.did is Did.DONE and mark.stage is Stage.FILE for mark in self.state.marks)


@pytest.fixture
def filing(tmp_path: Path) -> Iterator[Filing]:
    filing = Filing(tmp_path)
    yield filing
    filing.journal.close()


@pytest.mark.parametrize("jump", YEARS, ids=lambda jump: f"{jump['days'] / 365:+.0f} years")
def test_rule_12_a_jump_of_the_clock_asks_nothing_and_spoils_no_pace(filing: Filing, jump: dict[str, float]) -> None:
    pace, worked, filed = filing.state.intervals.recent_s, filing.state.worked.seconds, filing.filed()
    filing.clock.set(**jump)
    filing.file(1)
    # The silence is counted on a clock that nobody sets.
    assert (filing.state.front.ask, filing.filed()) == (Ask.WORK, filed + 1)
    assert filing.state.intervals.recent_s == pace == 20.0
    assert 0 <= filing.state.worked.seconds - worked <= CAP_S
    filing.file(3)
    assert filing.state.intervals.recent_s == pace
    assert [mark.seq for mark in filing.state.marks] == list(range(1, len(filing.state.marks) + 1))
    assert summary_of(read_log(filing.journal.path)).minutes >= 0


@pytest.mark.parametrize("jump", YEARS, ids=lambda jump: f"{jump['days'] / 365:+.0f} years")
def test_going_on_after_a_jump_tells_no_time_below_nothing(filing: Filing, jump: dict[str, float]) -> None:
    filing.journal.close()
    filing.clock.set(**jump)
    marks = filing.state.marks
    header = read_log(filing.journal.path).header
    with Journal.open(filing.journal.path) as journal:
        sitting = Sitting(small_saw(24, 3.0), filing.state.plan, journal, filing.clock)
        rested = filing.clock.now() - marks[-1].at
        sitting.make(acts.resume(sitting.state, filing.clock.now(), after="restart", seconds=rested.total_seconds()))
        resumed = sitting.state.marks[-1]
        assert isinstance(resumed.value, int | float)
        assert resumed.value == max(0.0, rested.total_seconds())
        assert sitting.state.worked.seconds <= filing.state.worked.seconds + CAP_S
        assert sitting.state.place == filing.state.place
    assert read_log(filing.journal.path).header == header


NIGHT_S = 8 * 3600.0


def hands_free(filing: Filing, seconds: int = 30) -> None:
    filing.desk.time(seconds)
    for _ in range(2):
        filing.clock.pass_s(seconds)
        assert filing.desk.tick() is not None


def found_again(filing: Filing, filed: int) -> None:
    """Nothing was marked; a press asks for the place, “not yet” goes on, and the pace is what it was."""
    assert filing.filed() == filed
    pace = filing.state.intervals.recent_s
    assert "without a key: find the place on the saw first" in filing.act(Act.DONE).note
    assert (filing.state.front.ask, filing.filed()) == (Ask.CONFIRM, filed)
    filing.clock.pass_s(5)
    filing.desk.act(Act.STROKES, 2)
    filing.file(2)
    assert filing.filed() == filed + 2
    assert filing.state.intervals.recent_s == pace
    assert summary_of(read_log(filing.journal.path)).minutes < 15


def test_rule_23_a_night_asleep_in_the_middle_of_hands_free_marks_nothing(filing: Filing) -> None:
    hands_free(filing)
    filed = filing.filed()
    filing.clock.pass_s(NIGHT_S)
    reply = filing.desk.tick(shown=True)
    assert reply is not None
    assert reply.note == "The countdown is held: 7 h 59 min went by unseen."
    assert filing.desk.tick(shown=True) is None
    found_again(filing, filed)


def test_rule_23_a_key_that_wakes_the_machine_is_no_yes_to_the_place(filing: Filing) -> None:
    hands_free(filing)
    filed = filing.filed()
    filing.clock.pass_s(NIGHT_S)
    assert filing.desk.act(Act.DONE).note == "The countdown is held; nothing was marked."
    found_again(filing, filed)


def test_a_countdown_that_is_looked_at_late_but_not_too_late_marks(filing: Filing) -> None:
    hands_free(filing)
    filed = filing.filed()
    filing.clock.pass_s(30 + UNSEEN_S - 1)
    assert filing.desk.tick(shown=True) is not None
    assert filing.filed() == filed + 1
    filing.clock.pass_s(30 + UNSEEN_S)
    filing.desk.tick(shown=True)
    assert filing.filed() == filed + 1
    filing.act(Act.DONE)
    assert filing.filed() == filed + 2, "no silence that matters"


def test_rule_12_a_night_asleep_without_hands_free_asks_for_the_place(filing: Filing) -> None:
    filed = filing.filed()
    filing.clock.pass_s(NIGHT_S)
    found_again(filing, filed)


@pytest.mark.skipif(
    not hasattr(time, "CLOCK_BOOTTIME"), reason="the system does not tell the time since it was started"
)
def test_the_machines_steady_count_goes_on_while_it_sleeps() -> None:
    before = time.clock_gettime(time.CLOCK_BOOTTIME)
    counted = SystemClock().steady_s()
    assert before <= counted <= time.clock_gettime(time.CLOCK_BOOTTIME)


@pytest.mark.parametrize("days", [-365.0 * 5, -2.0])
def test_a_last_sharpening_that_is_still_to_come_tells_no_date(tmp_path: Path, days: float) -> None:
    ended = dulled(tmp_path, DAY0)
    known = due(told(tmp_path), ended + timedelta(days=22))
    assert known.day is not None
    found = due(told(tmp_path), ended + timedelta(days=days))
    assert (found.day, found.earliest, found.latest, found.in_days, found.earliest_in_days) == (None,) * 5
    assert found.when == ": not known yet"
    assert found.why.startswith(f"Not known: the clock says {ended + timedelta(days=days):%Y-%m-%d}, and the last")
    assert found.why.endswith("said 2026-03-07, which is still to come")


def test_a_clock_that_is_a_few_hours_behind_tells_the_date_all_the_same(tmp_path: Path) -> None:
    ended = dulled(tmp_path, DAY0)
    assert due(told(tmp_path), ended - timedelta(hours=20)).day is not None


def test_a_sharpening_of_a_clock_that_began_anew_tells_no_date(tmp_path: Path) -> None:
    ended = dulled(tmp_path, datetime(1980, 1, 1, 0, 3, tzinfo=UTC))
    found = due(told(tmp_path), datetime(2026, 11, 25, tzinfo=UTC))
    assert (found.day, found.in_days) == (None, None)
    assert found.why == (
        "Not known: the clock says 2026-11-25, and the last sharpening's said 1980-01-01, which was not that day"
    )
    assert ended.year == 1980


def dulled(till: Path, begun: datetime) -> datetime:
    """A sharpening with cuts on later days, one hundredth less a day; when it ended."""
    write_log(till, begun, filed(2) + proved(200.0))
    ended = told(till).finished[-1].ended
    assert ended is not None
    for day in (5, 10, 15, 20):
        write_cut(Till(till), SAW, a_cut(ended + timedelta(days=day), 200.0 * (1 - 0.01 * day)))
    return ended
