"""The clock is set back or forward while a saw is being filed: the order is that of the seq."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from session.log.journal import Journal
from session.log.log_reader import read_ends, read_log
from session.log.summary import summary_of
from session.machine.disk import Disk
from session.walk.mark import Mark

times = st.datetimes(min_value=datetime(1971, 1, 1), max_value=datetime(2999, 1, 1))
offsets = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))


@given(jumps=st.lists(st.tuples(times, offsets), min_size=1, max_size=12))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
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
