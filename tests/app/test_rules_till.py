"""The till: leaving it takes two presses as well (bench rule 21)."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import Any

import pytest

from bench_person import Person
from bench_shed import works_at
from session.advice import saw_advice
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.bench import app as bench_app
from session.bench.app import BenchApp
from session.bench.screens import till_screen
from session.files.settings import Settings
from session.machine.refusal import Refusal
from session.till.till_folder import Till


@pytest.mark.parametrize("key", ["q", "ctrl+q", "ctrl+c"])
async def test_rule_21_no_single_key_leaves_the_till(shed: Any, key: str) -> None:
    shed.hang_up()
    async with shed.program() as person:
        await person.press(key)
        assert not person.left()
        assert "q again leaves" in person.words()
        await person.press(key)
        assert person.left()
        assert person.app.return_code == 0


async def test_rule_21_any_other_key_takes_leaving_the_till_back(shed: Any) -> None:
    shed.hang_up()
    async with shed.program() as person:
        await person.press("q", "down", "q")
        assert not person.left()
        assert "q again leaves" in person.words()


async def test_a_till_whose_logs_cannot_be_listed_says_so_and_still_opens(shed: Any, monkeypatch: Any) -> None:
    def refuse(till: Till) -> list[Path]:
        raise Refusal("logs: cannot be looked into", 4)

    shed.hang_up()
    monkeypatch.setattr(Till, "log_folders", refuse)
    async with shed.program() as person:
        assert "cannot be looked into" in person.words()
        assert "Boat-shed sash saw" in person.words()


async def test_a_till_of_many_records_shows_its_saws_before_all_are_read(shed: Any, monkeypatch: Any) -> None:
    go_on = threading.Event()
    monkeypatch.setattr(till_screen, "READ_AT_ONCE", 0)
    unfinished = Till.unfinished

    def slow(till: Till, name: str | None = None) -> Any:
        assert threading.current_thread() is not threading.main_thread()
        assert go_on.wait(60)
        return unfinished(till, name)

    monkeypatch.setattr(Till, "unfinished", slow)
    shed.at("file", side=1, done=2).close()
    app = BenchApp(shed.till, Settings(), shed.clock)
    async with app.run_test(size=(80, 24)) as pilot:
        person = Person(app, pilot, shed.clock)
        await pilot.pause()
        assert "Boat-shed sash saw" in person.look_again()
        assert "reading the records" in person.look_again()
        assert "INTERRUPTED" not in person.look_again()
        go_on.set()
        await person.settle()
        assert "▶ INTERRUPTED  Boat-shed sash saw" in person.text()
        assert "reading the records" not in person.text()


async def test_the_saw_that_was_chosen_stays_in_hand_when_the_records_are_read(shed: Any, monkeypatch: Any) -> None:
    go_on = threading.Event()
    monkeypatch.setattr(till_screen, "READ_AT_ONCE", 0)
    unfinished = Till.unfinished
    monkeypatch.setattr(Till, "unfinished", lambda till, name=None: go_on.wait(60) and unfinished(till, name))
    shed.at("file", side=1, done=2).close()
    app = BenchApp(shed.till, Settings(), shed.clock)
    async with app.run_test(size=(80, 24)) as pilot:
        person = Person(app, pilot, shed.clock)
        await pilot.pause()
        await pilot.press("down")
        chosen = next(row for row in person.look_again().splitlines() if row.startswith(" ▶"))
        go_on.set()
        await person.settle()
        assert chosen in person.text().splitlines()
        assert "INTERRUPTED" in person.text()


async def test_the_bench_of_a_till_of_many_records_opens_before_they_are_read(shed: Any, monkeypatch: Any) -> None:
    go_on = threading.Event()
    monkeypatch.setattr(bench_app, "READ_AT_ONCE", 0)

    def slow(till: Till, name: str) -> SawRecords:
        assert threading.current_thread() is not threading.main_thread()
        assert go_on.wait(60)
        return SawRecords(broken=(3,))

    monkeypatch.setattr(saw_advice, "saw_records", slow)
    sitting = shed.sitting()
    shed.answered(sitting, works_at("look over"))
    app = BenchApp(shed.till, Settings(), shed.clock, sitting=sitting)
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            person = Person(app, pilot, shed.clock)
            await person.settle()
            before = person.bench.desk.moment
            assert before.records == NO_HISTORY
            go_on.set()
            while person.bench.desk.moment.records == NO_HISTORY:
                await person.settle()
            assert person.bench.desk.moment.records.broken == (3,)
            assert person.bench.desk.moment.state is before.state
    finally:
        app.release()
