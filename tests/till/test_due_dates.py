"""When a saw is due, as a date with its range, from records written as the program writes them."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from made_history import DAY0, SAW, a_cut, filed, proved, told, write_log
from session.log import log_reader
from session.till import past_sharpening
from session.till.due_date import Due, due
from session.till.kept_cuts import write_cut
from session.till.saw_history import SawHistory
from session.till.till_folder import Till


def sharpened(till: Path, begun: datetime, first_mm2: float | None = 200.0) -> datetime:
    """A sharpening, with its trial cut or without; when it ended."""
    path = write_log(till, begun, filed(2) + ([] if first_mm2 is None else proved(first_mm2)))
    ended = past_sharpening.sharpening(log_reader.read_ends(path)).ended
    assert ended is not None
    return ended


def dulled(till: Path, ended: datetime, days: tuple[int, ...]) -> None:
    """Cuts on later days, one hundredth less a day."""
    for day in days:
        write_cut(Till(till), SAW, a_cut(ended + timedelta(days=day), 200.0 * (1 - 0.01 * day)))


def test_a_date_comes_with_its_range(tmp_path: Path) -> None:
    ended = sharpened(tmp_path, DAY0)
    dulled(tmp_path, ended, (5, 10, 15, 20))
    found = due(told(tmp_path), ended + timedelta(days=22))
    assert found.day == (ended + timedelta(days=30)).date()
    assert found.in_days == pytest.approx(8.0)
    assert found.earliest is not None
    assert found.latest is not None
    assert found.earliest < found.day < found.latest
    assert found.when == f": about {found.day} ({found.earliest} to {found.latest}, 7 times in 10)"
    assert found.missing == 0


def test_a_day_that_is_past_says_now(tmp_path: Path) -> None:
    ended = sharpened(tmp_path, DAY0)
    dulled(tmp_path, ended, (5, 10, 15, 20))
    found = due(told(tmp_path), ended + timedelta(days=40))
    assert found.in_days == 0.0
    assert found.day == (ended + timedelta(days=30)).date()
    assert found.when.startswith(" now: about ")


def test_a_first_cut_alone_tells_no_date_but_what_is_missing(tmp_path: Path) -> None:
    ended = sharpened(tmp_path, DAY0)
    found = due(told(tmp_path), ended + timedelta(days=1))
    assert (found.day, found.earliest, found.latest, found.in_days) == (None, None, None, None)
    assert found.missing == 4
    assert "Not enough cuts yet" in found.why
    assert "needed: 4" in found.why
    dulled(tmp_path, ended, (5, 10, 15))
    assert due(told(tmp_path), ended + timedelta(days=16)).missing == 1


def test_a_saw_without_any_cut_says_that_none_is_recorded(tmp_path: Path) -> None:
    ended = sharpened(tmp_path, DAY0, None)
    found = due(told(tmp_path), ended)
    assert found.day is None
    assert "none is recorded; needed: a first and 4 later ones" in found.why


@pytest.mark.parametrize("first_mm2", [None, 200.0])
def test_a_new_sharpening_begins_anew_and_is_not_counted_from_the_cuts_before_it(
    tmp_path: Path, first_mm2: float | None
) -> None:
    before = sharpened(tmp_path, DAY0)
    dulled(tmp_path, before, (5, 10, 15, 20))
    ended = sharpened(tmp_path, DAY0 + timedelta(days=90), first_mm2)
    found = due(told(tmp_path), ended + timedelta(days=1))
    assert found.day == (ended + timedelta(days=30)).date()
    assert found.in_days == pytest.approx(29.0)
    # It rests on another sharpening alone, and another month's work: a wider range than that of its own cuts.
    own = due(told_of_one(tmp_path / "own"), ended + timedelta(days=1))
    assert (found.latest_in_days or 0) - (found.earliest_in_days or 0) > own_width(own)
    assert "none of them of the last one" in found.why


def told_of_one(till: Path) -> SawHistory:
    ended = sharpened(till, DAY0 + timedelta(days=90))
    dulled(till, ended, (5, 10, 15, 20))
    return told(till)


def own_width(found: Due) -> float:
    assert found.latest_in_days is not None
    assert found.earliest_in_days is not None
    return found.latest_in_days - found.earliest_in_days
