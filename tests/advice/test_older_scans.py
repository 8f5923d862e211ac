"""Which scan is used where the newest is of another line: an older one, as long as no file was on the line since."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.advice.measured_looks import MeasuredLooks
from session.advice.saw_advice import looks_of
from session.advice.scan_in_use import scan_in_use
from session.files.recipe import load_recipe
from session.files.scanned_file import KeptScan
from session.files.supplied import find_recipe
from session.log.log_bytes import LogStanding, make_header
from session.log.mark_block import encode
from session.log.summary import summarize
from session.till.kept_scans import newest_line, write_scan
from session.till.known_saws import KnownSaw, saw_named
from session.till.past_sharpening import Sharpening
from session.till.saw_history import SawHistory, history
from session.till.till_folder import Till
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from told_line import told_line

AT = datetime(2026, 11, 20, 9, 0, tzinfo=UTC)
TODAY = date(2026, 11, 25)
RECIPE = load_recipe(find_recipe("crosscut-panel", []))
SAW = RECIPE.saw
GOOD, PART = told_line(155, 3.63), told_line(60, 3.63)
HOUR = timedelta(hours=1)


def test_the_newest_is_used_where_nothing_speaks_against_it() -> None:
    use = scan_in_use(MeasuredLooks(AT, GOOD, older=(MeasuredLooks(AT - HOUR, GOOD),)), SAW)
    assert (use.looks, use.told(TODAY)) == (use.newest, "")


@pytest.mark.parametrize("bad", [1, 2])
def test_the_first_older_one_of_this_line_steps_in(bad: int) -> None:
    lines = [PART] * (bad - 1) + [GOOD, GOOD]
    older = tuple(MeasuredLooks(AT - (at + 1) * HOUR, line) for at, line in enumerate(lines))
    use = scan_in_use(MeasuredLooks(AT, PART, older=older), SAW)
    assert use.looks is older[bad - 1]
    told = use.told(TODAY)
    assert told.startswith("The scan of 2026-11-20 is not used: it shows 60 teeth where the recipe has 155 points")
    assert told.endswith(f"An older one is used, of 2026-11-20 0{9 - bad}:00, 5 days ago.")


def test_none_is_used_that_is_older_than_the_last_file_on_the_line_and_it_is_said_why() -> None:
    older = (MeasuredLooks(AT - 2 * HOUR, GOOD),)
    newest = MeasuredLooks(AT, PART, older=older)
    assert scan_in_use(newest, SAW, filed=AT - 3 * HOUR).looks is older[0]
    use = scan_in_use(newest, SAW, filed=AT - HOUR)
    why = "None is used: no other of this line was made since a file was on it."
    assert (use.looks, use.instead(TODAY)) == (None, why)
    known = scan_in_use(MeasuredLooks(AT, PART, older_filed=True), SAW)
    assert (known.looks, known.instead(TODAY)) == (None, use.instead(TODAY))
    between = MeasuredLooks(AT, PART, older=(MeasuredLooks(AT - HOUR, PART),), older_filed=True)
    assert scan_in_use(between, SAW).instead(TODAY) == why
    assert scan_in_use(MeasuredLooks(AT, PART), SAW).instead(TODAY) == "", "there is no other to be spoken of"
    other = scan_in_use(MeasuredLooks(AT, PART, older=(MeasuredLooks(AT - HOUR, PART),)), SAW)
    assert other.instead(TODAY) == "None is used: no other is of this line."


def test_whoever_counted_today_is_believed_before_the_recipe() -> None:
    newest = MeasuredLooks(AT, told_line(140, 154 * 3.63 / 139), older=(MeasuredLooks(AT - HOUR, GOOD),))
    assert scan_in_use(newest, SAW).looks is newest.older[0]
    assert scan_in_use(newest, SAW, points=140).looks is newest


def looks(till: Till, saw: KnownSaw, past: SawHistory | None = None) -> MeasuredLooks:
    found = looks_of(newest_line(till, saw), past or history([till], saw), till)
    assert found is not None
    return found


def keep(till: Till, saw: KnownSaw, at: datetime) -> None:
    write_scan(till, saw, KeptScan(at=at, saw=saw.name, line=GOOD))


def log(folder: Path, saw: KnownSaw, *marks: tuple[datetime, dict[str, Any]]) -> None:
    """A sharpening of the saw that was begun before the first mark and never finished."""
    begun = marks[0][0] - HOUR
    path = folder / "logs" / saw.slug / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    header = {"format": 1, "session": {"started": begun, "saw": saw.name}}
    made = [Mark(**{"seq": seq, "at": at, "did": Did.DONE, **place}) for seq, (at, place) in enumerate(marks, 1)]
    path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in made))


def test_older_ones_are_known_up_to_the_last_file_on_the_line_of_an_unfinished_sharpening(tmp_path: Path) -> None:
    till, saw = Till(tmp_path), saw_named(Till(tmp_path), SAW.name)
    for hours in (-3, -2):
        keep(till, saw, AT + hours * HOUR)
    known = looks(till, saw)
    assert ([one.at for one in known.older], known.older_filed) == ([AT - 3 * HOUR], False)
    # Looked at alone, the line is as it was.
    log(tmp_path, saw, (AT - HOUR, {"stage": Stage.LOOK_OVER, "step": "line"}))
    assert looks(till, saw) == known
    log(tmp_path, saw, (AT, {"stage": Stage.LEVEL, "number": 1}))
    keep(till, saw, AT + HOUR)
    after = looks(till, saw)
    assert (after.at, after.filed_since, after.older, after.older_filed) == (AT + HOUR, False, (), True)
    keep(till, saw, AT + 2 * HOUR)
    again = looks(till, saw)
    assert ([one.at for one in again.older], again.older_filed) == ([AT + HOUR], True)


def test_a_sharpening_that_was_finished_since_leaves_no_older_one(tmp_path: Path) -> None:
    till, saw = Till(tmp_path), saw_named(Till(tmp_path), SAW.name)
    for hours in (-3, -2, 2):
        keep(till, saw, AT + hours * HOUR)
    summary = replace(summarize(Account.of([])), last=AT)
    one = Sharpening(path=tmp_path / "one.toml", header={}, state=LogStanding.FINISHED, odd="", summary=summary)
    told = looks(till, saw, SawHistory(saw=saw, sharpenings=(one,)))
    assert (told.at, told.filed_since, told.older, told.older_filed) == (AT + 2 * HOUR, False, (), True)
