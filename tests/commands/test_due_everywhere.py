"""One saw is due on one date with one range, wherever that is told."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from made_history import SAW, SLUG, a_cut, filed, proved, write_log
from session.advice.saw_advice import next_visit
from session.cli import main
from session.log import log_reader
from session.machine.clock import SystemClock
from session.till import past_sharpening
from session.till.kept_cuts import write_cut
from session.till.till_folder import Till

RECIPE = "crosscut-panel"


def sharpened(till: Path, days_ago: int, later: tuple[int, ...]) -> datetime:
    """A sharpening of so many days ago with its trial cut, and cuts on later days."""
    begun = SystemClock().now() - timedelta(days=days_ago)
    path = write_log(till, begun.replace(microsecond=0), filed(2) + proved(200.0))
    ended = past_sharpening.sharpening(log_reader.read_ends(path)).ended
    assert ended is not None
    for day in later:
        write_cut(Till(till), SAW, a_cut(ended + timedelta(days=day), 200.0 * (1 - 0.01 * day)))
    return ended


def told(capsys: pytest.CaptureFixture[str], till: Path, *words: str) -> str:
    assert main(["--till", str(till), *words]) == 0
    return capsys.readouterr().out


def test_history_plan_advise_and_the_till_tell_one_date_with_its_range(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ended = sharpened(tmp_path, 22, (5, 10, 15, 20))
    (saw,) = json.loads(told(capsys, tmp_path, "history", "--json"))["saws"]
    due = saw["due"]
    assert due["date"] == (ended + timedelta(days=30)).astimezone().date().isoformat()
    assert due["earliest"] < due["date"] < due["latest"]
    assert due["earliest_in_days"] < due["in_days"] < due["latest_in_days"]
    dates = ("date", "earliest", "latest")
    for command in ("plan", "advise"):
        other = json.loads(told(capsys, tmp_path, command, RECIPE, "--json"))["due"]
        assert [other[key] for key in dates] == [due[key] for key in dates]
    words = f"Due: about {due['date']} ({due['earliest']} to {due['latest']}, 7 times in 10)."
    for said in (("history", SLUG), ("plan", RECIPE), ("plan", RECIPE, "--why"), ("advise", RECIPE)):
        assert words in told(capsys, tmp_path, *said)
    assert next_visit(Till(tmp_path), SAW.name, SystemClock().now())[0] == words
    assert saw["next_time"][0]["text"] == words


def test_from_a_first_cut_alone_nobody_tells_a_date(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sharpened(tmp_path, 3, ())
    for command in ("history", "plan", "advise"):
        words = told(capsys, tmp_path, command, *([] if command == "history" else [RECIPE]))
        missing = "Not enough cuts yet: 0 in this wood, on days after the first cut of a sharpening; needed: 4."
        assert f"Due: {missing}" in words
        assert "Due: about" not in words
        data = json.loads(told(capsys, tmp_path, command, *([] if command == "history" else [RECIPE]), "--json"))
        due = data["saws"][0]["due"] if command == "history" else data["due"]
        assert [due[key] for key in ("date", "earliest", "latest", "in_days")] == [None] * 4
        assert due["cuts_missing"] == 4
    assert "4 later cuts would tell the date." in next_visit(Till(tmp_path), SAW.name, SystemClock().now())[0]
