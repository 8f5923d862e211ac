"""Bench rules 12 and 13: after a restart, a pause or a long silence the place is found again on the saw."""

from __future__ import annotations

from contextlib import AbstractAsyncContextManager
from typing import Any

import pytest

from bench_person import Person
from bench_shed import Shed
from session.bench.screens.bench_screen import BenchScreen
from session.log.sitting import Sitting
from sought import sought

FOUND = "Find the place on the saw"


def standing(person: Person) -> list[dict[str, Any]]:
    """The marks that say something was done at a place and that still stand."""
    marks = person.marks_on_disk()
    gone = {mark["of"] for mark in marks if mark["did"] == "took back"}
    return [mark for mark in marks if mark["did"] == "done" and mark["seq"] not in gone]


def check_confirmation(person: Person) -> None:
    """Whether what stands there is the whole question, against the saw."""
    panel = person.panel()
    assert FOUND in panel
    last = [mark["tooth"] for mark in standing(person)[-3:]]
    assert len(last) == 3
    positions = [sought(rf"\bdone {tooth}\b", panel).start() for tooth in last]
    assert positions == sorted(positions)
    following = standing(person)[-1]["tooth"] + 2
    assert f"Next: gullet {following}, its tooth {3 * (following - 1)} mm from the heel." in panel
    # After a silence the gullet may have been filed meanwhile: that is asked, and nothing besides.
    silent = f"Look at the saw: gullet {following}: filed, not yet, or begun?" in person.words()
    assert silent != (f"is gullet {following} next?" in person.words())
    answers = ("filed", "not yet", "begun", "elsewhere", "undo") if silent else ("yes, here", "undo", "differs")
    boxes = [word for _, word in person.boxes()]
    assert all(words in boxes for words in answers)
    assert not silent or not {"yes, here", "differs"} & set(boxes), "one question, a key for each answer"


def interrupt(
    shed: Shed, sitting: Sitting, how: str, size: tuple[int, int] = (80, 24)
) -> AbstractAsyncContextManager[Person]:
    """A program at the bench after an interruption of the kind ``how``."""
    if how == "restart":
        return shed.program(shed.reopened(sitting), size=size)
    return shed.program(sitting, size=size)


INTERRUPTIONS = ["restart", "pause", "silence"]


async def after(person: Person, how: str) -> None:
    """Let the interruption be over, as far as the person's keys go."""
    if how == "pause":
        await person.press("escape")
        assert "Paused" in person.panel()
        await person.press("space", after_s=400)
        assert person.last()["did"] == "paused"
        await person.press("escape")
    elif how == "silence":
        await person.press("g")
        await person.press("space", after_s=61)
    assert person.last()["did"] == "resumed"


@pytest.mark.parametrize(
    ("how", "size"), [*((how, (80, 24)) for how in ("restart", "pause", "silence")), ("restart", (120, 36))]
)
async def test_rule_12_the_place_is_confirmed_with_last_marks_next_and_distance(
    shed: Shed, size: tuple[int, int], how: str
) -> None:
    async with interrupt(shed, shed.at("file", side=1, done=4), how, size) as person:
        await after(person, how)
        check_confirmation(person)
        before = person.marks_on_disk()
        await person.press("space", "enter", "pagedown", "right", "9" if how == "silence" else "1")
        assert person.marks_on_disk() == before
        check_confirmation(person)
        await person.press("2" if how == "silence" else "y")
        assert person.last()["did"] == "confirmed"
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        assert "NOW 9" in person.places()


@pytest.mark.parametrize(("how", "back"), [("restart", 3), ("pause", 1), ("silence", 3)])
async def test_rule_12_one_to_three_back_is_an_answer(shed: Shed, how: str, back: int) -> None:
    async with interrupt(shed, shed.at("file", side=1, done=6, jaw=200), how) as person:
        await after(person, how)
        for _ in range(back):
            await person.press("backspace")
            assert person.last()["did"] == "took back"
            check_confirmation(person)
        await person.press("2" if how == "silence" else "y")
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        assert f"NOW {13 - 2 * back} " in person.places()


@pytest.mark.parametrize(
    ("how", "found", "dids"),
    [
        ("restart", "13", ["done", "done", "confirmed"]),
        ("pause", "5", ["took back"] * 2),
        ("silence", "13", ["done", "done", "confirmed"]),
    ],
)
async def test_rule_12_setting_the_place_is_an_answer(shed: Shed, how: str, found: str, dids: list[str]) -> None:
    async with interrupt(shed, shed.at("file", side=1, done=4), how) as person:
        await after(person, how)
        before = person.marks_on_disk()
        await person.press("n")
        await person.type(found)
        await person.press("enter")
        assert ("done together" if dids[0] == "done" else "will be taken back") in person.words()
        await person.press("enter")
        made = person.marks_on_disk()[len(before) :]
        assert [mark["did"] for mark in made][: len(dids)] == dids
        assert made[-1]["did"] == "confirmed"
        assert f"NOW {found}" in person.places()
        assert FOUND not in person.panel()


@pytest.mark.parametrize(("silence", "asked"), [(59, False), (61, True)])
async def test_rule_12_a_silence_counts_from_a_minute_on(shed: Shed, silence: float, asked: bool) -> None:
    async with shed.program(shed.at("file", side=1, done=4)) as person:
        done = len(standing(person))
        await person.press("space")
        await person.press("space", after_s=silence)
        assert (FOUND in person.panel()) == asked
        assert len(standing(person)) == done + 1 + (not asked)


async def test_rule_12_slow_work_is_no_silence(shed: Shed) -> None:
    """The limit is five times the median operation, when that is more than a minute."""
    async with shed.program(shed.at("file", side=1)) as person:
        for _ in range(5):
            await person.press("space", after_s=40)
        done = len(standing(person))
        await person.press("space", after_s=150)
        assert len(standing(person)) == done + 1


@pytest.mark.wide
async def test_rule_12_a_look_at_the_help_does_not_end_a_silence(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, jaw=200)) as person:
        for looked, then in (
            (("question_mark", "escape"), "space"),
            (("g",), "full_stop"),
            (("pageup", "escape"), "l"),
            (("t", "escape"), "3"),
        ):
            await person.press("space")
            before = person.marks_on_disk()
            await person.press(looked[0], after_s=300)
            await person.press(*looked[1:], then)
            made = person.marks_on_disk()[len(before) :]
            assert [mark["did"] for mark in made] == ["resumed"], then
            assert FOUND in person.panel(), then
            # Each look again from a place that was found.
            await person.press("2")
            await person.go_on(lambda p: p.boxes()[0][1] == "done")


@pytest.mark.parametrize(
    ("press", "answer", "made"),
    [
        ("space", "1", [("resumed", None), ("confirmed", None), ("done", None)]),
        ("4", "1", [("resumed", None), ("confirmed", None), ("done", 4)]),
        ("4", "2", [("resumed", None), ("confirmed", None)]),
        ("4", "3", [("resumed", None), ("confirmed", None)]),
    ],
)
async def test_rule_32_a_press_after_a_silence_is_asked_about_and_not_swallowed(
    shed: Shed, press: str, answer: str, made: list[tuple[str, int | None]]
) -> None:
    async with shed.program(shed.at("file", side=1, done=4)) as person:
        await person.press("space")
        before = len(person.marks_on_disk())
        await person.press(press, after_s=300)
        assert "Look at the saw: gullet 11: filed, not yet, or begun?" in person.words()
        counted = ", 4 strokes" if press == "4" else ""
        assert f"1 filed{counted}: mark it and go on 2 not yet: it is next" in person.panel()
        assert "3 begun: finish it, and count all its strokes" in person.panel()
        for neither in ("y", "enter"):
            kept = person.marks_on_disk()
            await person.press(neither, after_s=5)
            assert "Press 1, 2 or 3: 1 filed, 2 not yet, 3 begun. Nothing was marked." in person.words()
            assert person.marks_on_disk() == kept, "a yes says neither which nor that it was done"
        await person.press(answer)
        marks = person.marks_on_disk()[before:]
        assert [(mark["did"], mark.get("strokes")) for mark in marks] == made
        assert f"NOW {13 if answer == '1' else 11} " in person.places()


async def test_rule_32_looking_over_has_no_silence(shed: Shed) -> None:
    async with shed.program(shed.at("look over")) as person:
        await person.press("space")
        count = len(person.marks_on_disk())
        await person.press("space", after_s=3000)
        assert len(person.marks_on_disk()) == count + 1
        assert FOUND not in person.panel()


@pytest.mark.parametrize("how", INTERRUPTIONS)
async def test_rule_13_resuming_neither_advances_nor_starts_a_timer(shed: Shed, how: str) -> None:
    async with interrupt(shed, shed.at("file", side=1, done=4), how) as person:
        await person.press("g")
        await after(person, how)
        await person.press("2" if how == "silence" else "y")
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        before, places = person.marks_on_disk(), person.places()
        bench = person.app.screen
        assert isinstance(bench, BenchScreen)
        for _ in range(5):
            shed.clock.pass_s(50)
            bench.tick()
            await person.settle()
        assert person.marks_on_disk() == before
        assert person.places() == places


async def test_rule_13_a_countdown_does_not_outlive_a_pause(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=4)) as person:
        await person.press("h")
        await person.type("5")
        await person.press("enter")
        await person.press("space")  # any key holds it
        await person.press("escape", "escape", "y")
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        before = person.marks_on_disk()
        bench = person.app.screen
        assert isinstance(bench, BenchScreen)
        shed.clock.pass_s(50)
        bench.tick()
        await person.settle()
        assert person.marks_on_disk() == before
