"""From the last screen to the till: all is read first, the saw just worked is in hand, a held key begins nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual import events

from at_the_terminal import send
from bench_person import Person
from session.bench.app import BenchApp
from session.bench.screens import till_screen
from session.files.settings import Settings
from session.form.own_saw_form import new_saw_form
from session.log.sitting import Sitting
from session.till.till_folder import slug
from session.till.till_list import entries, saw_entries


def logs_of(shed: Any) -> list[Path]:
    return sorted((shed.till.path / "logs").rglob("*.toml"))


def in_hand(person: Any) -> str:
    return next(str(row) for row in person.rows() if row.startswith((" ▶", "▶")))


async def test_the_advance_key_turns_the_pages_of_what_was_done_and_another_leads_to_the_till(shed: Any) -> None:
    async with shed.program(shed.at("close"), size=(80, 24)) as person:
        await person.go_on(lambda person: " FINISHED " in person.rows()[0])
        assert "1 of 2 " in person.panel()
        await person.press("space")
        assert "2 of 2 " in person.panel()
        assert "All is read: y leads to the till." in person.words()
        await person.press("down", "space", "y")
        assert "the till at" in person.rows()[0]


async def test_a_held_key_begins_no_other_sharpening_and_the_saw_just_worked_is_in_hand(shed: Any) -> None:
    other = shed.hang_up("Boat-shed aft saw").rename(shed.till.path / "aft.toml")
    assert other.exists()
    async with shed.program(shed.at("close"), size=(80, 24)) as person:
        await person.go_on(lambda person: " FINISHED " in person.rows()[0])
        kept = logs_of(shed)
        await person.press("space", "y")
        assert "Boat-shed sash saw" in in_hand(person)
        await person.press(*["space"] * 12, after_s=0.03)
        assert "the till at" in person.rows()[0]
        await person.press("space")
        assert "The same key again begins another sharpening of Boat-shed sash saw." in person.words()
        await person.press(*["space"] * 12, after_s=0.03)
        assert logs_of(shed) == kept
        await person.press("space")
        assert len(logs_of(shed)) == len(kept) + 1


async def hung_up(person: Person) -> list[str]:
    """The rows of the till after the saw in hand was hung up unfinished."""
    await person.press("q", "h")
    return person.rows()


async def test_a_bench_opened_at_once_leads_to_the_same_till_as_one_opened_from_it(shed: Any) -> None:
    other = shed.hang_up("Boat-shed aft saw").rename(shed.till.path / "aft.toml")
    assert other.exists()
    shed.at("file", side=1, done=2).close()
    async with shed.program() as person:
        await person.press("enter")
        assert "NOW 5 " in person.places()
        wanted = await hung_up(person)
    log = logs_of(shed)[0]
    async with shed.program(Sitting.resume(log, shed.clock)) as person:
        assert await hung_up(person) == wanted
        assert "INTERRUPTED  Boat-shed sash saw" in in_hand(person)
        await person.press("space")
        assert "The same key again goes on with Boat-shed sash saw." in person.words()
        await person.press("space")
        assert "NOW 5 " in person.places()


async def test_the_till_is_not_read_before_it_is_seen(shed: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[Path] = []

    def counted(till: Any) -> Any:
        read.append(till.path)
        return entries(till)

    monkeypatch.setattr(till_screen, "entries", counted)
    async with shed.program(shed.at("file", side=1)) as person:
        await person.press("space", "q", "escape")
        await person.resize(120, 36)
        assert read == []
        await hung_up(person)
        assert read == [shed.till.path]
    async with shed.program(shed.reopened(shed.sitting())) as person:
        await person.press("q", "q")
        assert person.left()
        assert read == [shed.till.path]


async def test_keys_typed_ahead_of_the_till_begin_nothing(shed: Any) -> None:
    async with shed.program(shed.at("close")) as person:
        await person.go_on(lambda person: " FINISHED " in person.rows()[0])
        await person.press("space")
        assert "All is read: y leads to the till." in person.words()
        shed.clock.pass_s(1.0)
        kept = logs_of(shed)
        send(person.app, events.Key("y", "y"))
        for _ in range(12):
            send(person.app, events.Key("space", " "))
        await person.settle()
        assert "the till at" in person.rows()[0]
        assert "Boat-shed sash saw" in in_hand(person)
        assert logs_of(shed) == kept


async def test_what_is_wrong_in_the_settings_is_told_at_the_till_that_a_bench_leads_to(shed: Any) -> None:
    told = ("settings.toml: first complaint", "settings.toml: second complaint")
    app = BenchApp(shed.till, Settings(), shed.clock, sitting=shed.at("file", side=1), complaints=told)
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            person = Person(app, pilot, shed.clock)
            await person.settle()
            await hung_up(person)
            assert all(complaint in person.text() for complaint in told)
    finally:
        app.release()


@pytest.mark.parametrize("hangs", [pytest.param(True, marks=pytest.mark.wide), False], ids=["hung up", "left"])
async def test_a_form_opened_at_once_leads_to_the_till(shed: Any, hangs: bool) -> None:
    shed.hang_up()
    settings = Settings()
    app = BenchApp(shed.till, settings, shed.clock, form=new_saw_form(shed.till, shed.clock, settings))
    try:
        async with app.run_test(size=(80, 24)) as pilot:
            person = Person(app, pilot, shed.clock)
            await person.settle()
            assert "1 of 17" in person.rows()[0]
            if hangs:
                told = ("enter", *"Saw 7", "enter", "enter", "3", "2", *"26", "enter", *"7 ppi", "enter")
                await person.press(*told, *["enter"] * 10, after_s=0.0)
                await person.press("enter")
                assert "Hung up: " in person.text()
            await person.press("escape")
            assert "the till at" in person.rows()[0]
            assert "Boat-shed sash saw" in person.text()
            assert ("Saw 7  crosscut" in person.text()) is hangs
            await person.press("space")
            assert "FILE" not in person.rows()[0]
            assert "handle" in person.rows()[0]
            assert len(logs_of(shed)) == 1
    finally:
        app.release()


def test_a_supplied_saw_that_has_records_stands_before_those_without(shed: Any) -> None:
    shed.hang_up()
    names = [entry.name for entry in saw_entries(shed.till)]
    last = names[-1]
    shed.till.log_folder(slug(last)).mkdir(parents=True, exist_ok=True)
    listed = [entry.name for entry in entries(shed.till)]
    assert listed[:2] == ["Boat-shed sash saw", last]
    assert sorted(listed) == sorted(names)
