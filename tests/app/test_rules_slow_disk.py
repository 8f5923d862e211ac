"""Bench rules 17 and 24: while a slow disk writes, "saving" shows, no press is taken, and nothing shows as done."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Iterator

import pytest

from at_the_terminal import PATIENCE_S
from bench_person import Person
from bench_shed import Shed
from session.desk import save_thread
from session.log.journal import Journal
from session.walk.mark import Mark


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch, quick_disk: None) -> Iterator[threading.Event]:
    """A disk that takes marks while it is set; it is, to begin with."""
    append, ready = Journal.append, threading.Event()
    ready.set()

    def slow(journal: Journal, mark: Mark) -> Mark:
        assert ready.wait(60)
        return append(journal, mark)

    monkeypatch.setattr(Journal, "append", slow)
    monkeypatch.setattr(save_thread, "SHOWS_AFTER_S", 0.1)
    yield ready
    ready.set()


def begin(person: Person, key: str) -> asyncio.Task[None]:
    """Press ``key`` without waiting for what comes of it."""
    return asyncio.create_task(person.press(key))


async def seen(person: Person, words: str) -> None:
    """Wait until ``words`` are on screen."""
    async with asyncio.timeout(PATIENCE_S):
        while words not in person.look_again():
            await asyncio.sleep(0)


async def test_rule_17_saving_shows_while_a_slow_disk_writes(shed: Shed, disk: threading.Event) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = person.marks_on_disk()
        disk.clear()
        first = begin(person, "2")
        await seen(person, "Saving …")
        assert "NOW 1 " in person.places()
        second = begin(person, "3")
        await seen(person, "Saving … That press was not taken.")
        assert "NOW 1 " in person.places()
        assert person.marks_on_disk() == before
        disk.set()
        await asyncio.gather(first, second)
        await seen(person, "Marked gullet 1 (2 strokes)")
        assert "Saving" not in person.text()
        await person.press("2")
        assert "Saving" not in person.text()
        assert [(mark["tooth"], mark["strokes"]) for mark in person.marks_on_disk()[len(before) :]] == [(1, 2), (3, 2)]


async def test_rule_29_saving_shows_in_the_far_view(shed: Shed, disk: threading.Event) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        await person.press("f")
        disk.clear()
        first = begin(person, "2")
        await seen(person, "Saving …")
        assert person.bench.has_class("far")
        assert "NOW 1 " in person.places()
        disk.set()
        await first
        await seen(person, "Marked gullet 1 (2 strokes)")
        assert person.bench.has_class("far")


async def test_rule_17_what_an_answer_marks_shows_as_saving_too(shed: Shed, disk: threading.Event) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        await person.press("l")
        disk.clear()
        answered = begin(person, "1")
        await seen(person, "Saving …")
        disk.set()
        await answered
        await seen(person, "Left out gullet 1")
        assert "Saving" not in person.text()
        assert person.last()["did"] == "left out"


async def test_rule_23_a_key_holds_the_countdown_while_its_mark_is_saved(shed: Shed, disk: threading.Event) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        await person.press("h", "5", "enter")
        person.clock.pass_s(6)
        disk.clear()
        person.bench.tick()
        key = begin(person, "x")
        await seen(person, "Saving … The countdown is held.")
        disk.set()
        await key
        assert person.bench.desk.countdown.seconds is None
        assert person.last()["by"] == "timer"
        await person.press("2")
        assert [mark["tooth"] for mark in person.marks_on_disk()[-2:]] == [1, 3]


async def test_rule_21_a_signal_while_saving_leaves_a_whole_log(shed: Shed, disk: threading.Event) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = len(person.marks_on_disk())
        disk.clear()
        pressed = begin(person, "2")
        await seen(person, "Saving …")
        threading.Timer(0.05, disk.set).start()
        person.app._stop(143)
        assert len(person.marks_on_disk()) == before + 1
        assert person.last()["strokes"] == 2
        await pressed
