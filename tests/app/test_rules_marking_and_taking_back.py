"""Bench rules 9, 10, 11, 16, 18 and 19: marks, places left out, taking back, the end, feedback, the repeat guard."""

from __future__ import annotations

import re
from functools import partial
from itertools import pairwise
from typing import Any

import pytest

from bench_person import Person
from bench_shed import Shed, works_at
from bench_sight import Glance, Sight
from session.files.settings import Settings
from session.walk import acts
from session.walk.front_question import Ask
from sought import sought
from whole_walk import whole_walk


def short(mark: dict[str, Any]) -> dict[str, Any]:
    """What of a mark tells which operation it is."""
    return {
        key: mark[key] for key in ("did", "stage", "side", "tooth", "strokes", "reason", "of", "many") if key in mark
    }


def note(person: Sight) -> str:
    """What came of the last key, without what the signs on the line mean, which stands at the end of that row."""
    return person.rows()[-4].strip().partition("   ")[0]


def told(words: str, person: Person) -> bool:
    """Whether ``words`` are on screen."""
    return words in person.words()


async def test_rule_09_one_mark_for_one_operation_after_it_is_done(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = person.marks_on_disk()
        await person.press("space", "3", "space")
        assert [short(mark) for mark in person.marks_on_disk()[len(before) :]] == [
            {"did": "done", "stage": "file", "side": 1, "tooth": tooth} | counted
            for tooth, counted in ((1, {}), (3, {"strokes": 3}), (5, {}))
        ]


async def test_rule_09_several_at_once_are_named_first_and_last_asked_first_and_logged_as_such(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=1)) as person:
        before = person.marks_on_disk()
        await person.press("p")
        await person.type("9")
        assert person.marks_on_disk() == before
        await person.press("enter")
        assert person.marks_on_disk() == before
        assert "gullet 3 to gullet 7" in person.words()
        assert "done together" in person.words()
        await person.press("enter")
        assert [short(mark) for mark in person.marks_on_disk()[len(before) :]] == [
            {"did": "done", "stage": "file", "side": 1, "tooth": tooth, "many": "3-7"} for tooth in (3, 5, 7)
        ]
        assert "NOW 9" in person.places()


async def test_rule_09_an_edit_clears_what_was_announced_and_another_answer_is_asked_anew(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=5)) as person:
        before = person.marks_on_disk()
        await person.press("p")
        await person.type("13")
        await person.press("enter")
        assert "gullet 11 to gullet 11, 1 in all, will be marked as done together." in person.words()
        await person.press("backspace")
        assert "will be marked" not in person.words()
        await person.press("enter")
        assert "gullet 1 to gullet 9, 5 in all, will be taken back" in person.words()
        assert person.marks_on_disk() == before
        await person.type("3")
        assert "will be taken back" not in person.words()
        await person.press("enter")
        assert "will be marked as done together" in person.words(), "what was agreed to before is asked anew"
        assert person.marks_on_disk() == before


async def test_rule_09_going_back_says_how_many_places_and_strokes_it_takes_back(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=1)) as person:
        await person.press("4", "2", "space")
        await person.press("p")
        await person.type("3")
        await person.press("enter")
        asked = (
            "gullet 3 to gullet 7, 3 in all with 6 strokes, will be taken back; “take back” right after it undoes that."
        )
        assert asked in person.words()
        assert person.last()["did"] == "done"
        await person.press("enter")
        assert person.last()["did"] == "took back"
        assert "NOW 3" in person.places()
        await person.press("backspace")
        assert "Not gone back: all stands as before, gullet 9 is next." in person.words()
        assert [mark["did"] for mark in person.marks_on_disk()[-3:]] == ["put back"] * 3
        assert "NOW 9" in person.places()


async def test_rule_09_several_at_once_can_be_thought_better_of(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=1)) as person:
        before = person.marks_on_disk()
        await person.press("p")
        await person.type("9")
        await person.press("enter", "escape")
        assert person.marks_on_disk() == before
        assert "NOW 3" in person.places()


async def test_rule_09_setting_the_place_backward_takes_back_and_deletes_nothing(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=4)) as person:
        before = person.marks_on_disk()
        await person.press("p")
        await person.type("5")
        await person.press("enter", "enter")
        after = person.marks_on_disk()
        assert after[: len(before)] == before
        assert [mark["did"] for mark in after[len(before) :]] == ["took back", "took back"]
        assert "NOW 5" in person.places()


@pytest.mark.wide
async def test_rule_09_a_place_that_is_none_is_refused_in_words(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = person.marks_on_disk()
        for wrong in ("4", "99", "0", "-3", "x", "9999999999999999", "[/]"):
            await person.press("p")
            await person.type(wrong)
            await person.press("enter")
            assert f'"{wrong[:12]}" is not worked on this side; allowed: 1, 3, 5 … 23' in person.words()
            await person.press("escape")
        assert person.marks_on_disk() == before


async def test_rule_10_leaving_out_needs_a_reason_and_is_logged(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = person.marks_on_disk()
        await person.press("l", "enter")
        assert "nothing was typed" in person.words()
        await person.type("   ")
        await person.press("enter")
        assert "nothing was typed" in person.words()
        await person.press("escape")
        assert person.marks_on_disk() == before
        assert "NOW 1" in person.places()
        await person.press("l", "2", "l")
        await person.type("a crack, I think")
        await person.press("enter")
        assert [short(mark) for mark in person.marks_on_disk()[len(before) :]] == [
            {"did": "left out", "stage": "file", "side": 1, "tooth": tooth, "reason": reason}
            for tooth, reason in ((1, "broken tooth"), (3, "a crack, I think"))
        ]


async def test_rule_10_all_left_out_are_listed_at_the_end(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", side=1, points=12, jaw=20), size=size) as person:
        await person.press("l", "2", "l", "1")
        await shed.brought(person, works_at("file", side=2))
        assert "NOW 2 " in person.places()
        await person.press("l")
        await person.type("netloft dust")
        await person.press("enter")
        listed = [
            "Left out: 3",
            "file, side 1: gullet 1 – broken tooth",
            "file, side 1: gullet 3 – no flat on either tooth",
            "file, side 2: gullet 2 – netloft dust",
        ]
        await shed.brought(person, works_at("close"))
        for where in ("NOW left out", "Ready to finish", "Finished"):
            await person.go_on(partial(told, where))
            for line in listed:
                assert line in person.panel(), (where, person.text())


@pytest.mark.wide
async def test_rule_10_a_list_longer_than_the_screen_can_still_be_read_whole(shed: Shed) -> None:
    sitting = shed.at("file", side=1)
    left = 0
    while not works_at("dress")(sitting):
        if works_at("file")(sitting):
            sitting.make(acts.leave_out(sitting.state, shed.clock.now(), "broken tooth"))
            left += 1
        shed.answered(sitting, lambda s: s.state.front.ask is Ask.WORK)
    assert left == 24
    async with shed.program(shed.answered(sitting, works_at("close"))) as person:
        assert "NOW left out" in person.words()
        assert "Left out: 24" in person.panel()
        every = {str(tooth) for tooth in range(1, 25)}
        assert "1 of 3 " in person.panel()
        read, before = set(), person.marks_on_disk()
        for _ in range(3):
            read |= set(re.findall(r"gullet (\d+) – broken tooth", person.text()))
            await person.press("down")
        assert read == every, "page by page, and then from the first again"
        assert "1 of 3 " in person.panel()
        assert person.marks_on_disk() == before
        await person.press("question_mark")
        read = set()
        for _ in range(8):
            read |= set(re.findall(r"gullet (\d+) – broken tooth", person.text()))
            await person.press("pagedown")
        assert read == every


async def test_rule_11_at_least_ten_taken_back_one_key_each_saying_what(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=2)) as person:
        await person.go_on(lambda p: "NOW 2 " in p.places() and p.at_work())
        marks = person.marks_on_disk()
        bytes_before = person.log.read_bytes()
        last = [m for m in marks if m["did"] in ("done", "checked", "shifted", "turned")][-14:]
        for number, mark in enumerate(reversed(last), 1):
            await person.press("backspace")
            made = person.marks_on_disk()
            assert len(made) == len(marks) + number
            assert short(made[-1]) == {"did": "took back", "of": mark["seq"]}
            what = f"to side {mark['side']}" if mark["did"] == "turned" else f"gullet {mark['tooth']}"
            what = f"to {what}" if mark["did"] == "shifted" else what
            assert note(person).startswith(f"Took back: {mark['did']} {what}"), (note(person), mark)
        assert person.log.read_bytes().startswith(bytes_before)
        # The turn is taken back as well: until it is made again, that place comes after it.
        assert f"│ next {last[0]['tooth']} " in person.places()


async def test_rule_11_works_on_the_last_place_on_the_closing_screen_and_after_a_restart(shed: Shed) -> None:
    sitting = shed.answered(shed.sitting(), lambda s: s.state.front.ask is Ask.END)
    async with shed.program(sitting) as person:
        for step in ("put by", "wipe", "filings"):
            await person.press("backspace")
            assert note(person) == f"Took back: done {step}."
            assert f"NOW {step}" in person.places()
    async with shed.program(shed.reopened(sitting)) as person:
        before = person.marks_on_disk()
        for number in range(1, 13):
            await person.press("backspace")
            assert note(person).startswith("Took back: ")
            assert len(person.marks_on_disk()) == len(before) + number
        assert person.marks_on_disk()[: len(before)] == before
        undone = {mark["of"] for mark in person.marks_on_disk() if mark["did"] == "took back"}
        assert len(undone) == 15
    # What was taken back stays so: the same place is asked for by the next program.
    asked = []
    for _ in range(2):
        async with shed.program(shed.reopened(sitting)) as person:
            asked.append(sought(r"Next: ([^.]+)\.", person.panel())[1])
    assert asked[0] == asked[1]


async def test_rule_11_with_nothing_to_take_back_it_says_so(shed: Shed) -> None:
    async with shed.bench() as person:
        await person.press("backspace")
        assert note(person).startswith("There is nothing to take back")
        assert person.marks_on_disk() == []


async def test_rule_16_finished_only_after_every_closing_step(shed: Shed) -> None:
    sitting = shed.at("close")
    async with shed.program(sitting) as person:
        for step in ("left out", "filings", "wipe", "put by"):
            assert f"NOW {step}" in person.places()
            before = person.marks_on_disk()
            await person.press("l")
            assert person.marks_on_disk() == before
            await person.press("space")
            assert person.last()["step"] == step
            assert "closed" not in person.words()
        assert "Ready to finish" in person.panel()
        assert "finished" not in {mark["did"] for mark in person.marks_on_disk()}
        await person.press("q", "h")
        assert "INTERRUPTED" in person.text()
        await person.press("enter")
        assert "The same key again goes on with" in person.text()
        await person.press("enter")
        assert "Find the place on the saw" in person.panel()
        await person.press("y")
        await person.go_on(lambda p: p.boxes()[0][1] == "finish")
        await person.press("space")
        assert person.last()["did"] == "finished"
        assert "Finished" in person.panel()
        # What is unread is turned to first.
        for _ in range(5):
            assert "Finished" in person.text(), "the key that led here does not lead on"
            await person.press("space")
        await person.press("y")
        assert "INTERRUPTED" not in person.text()
        assert "Toothline · the till" in person.text()


@pytest.mark.wide
async def test_rule_18_feedback_names_the_place_and_the_number_changes_with_every_tooth(shed: Shed) -> None:
    walk, told = await whole_walk(shed, (80, 24)), 0

    def numerals(glance: Glance) -> list[str]:
        left = 13 if "SIDE 2" in glance.text() else 0
        return [row[left : left + 28] for row in glance.rows()[1:12]]

    for before, after in pairwise(walk.glances):
        place = sought(r"NOW (\S+)", before.places())[1]
        if before.at_work() and re.search(r" SET | FILE ", before.rows()[0]) and place.isdigit():
            kind = "tooth" if " SET " in before.rows()[0] else "gullet"
            assert re.match(rf"Marked {kind} {place}\b", note(after))
            last = " DRESS " in after.rows()[0] or (kind == "tooth" and int(place) == walk.points)
            assert numerals(after) != numerals(before) or last
            told += 1
    assert told == 2 * walk.points


async def test_rule_19_a_second_advance_within_the_guard_is_ignored_and_says_so(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, jaw=200)) as person:
        for key in ("space", "enter", "pagedown", "right", "2"):
            before = len(person.marks_on_disk())
            await person.press(key)
            await person.press(key, after_s=0.29)
            assert note(person) == "Ignored: a second press within 300 ms."
            assert len(person.marks_on_disk()) == before + 1
            await person.press(key, after_s=0.31)
            assert len(person.marks_on_disk()) == before + 2


async def test_rule_19_a_held_pedal_marks_one_place_and_passes_no_question(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = len(person.marks_on_disk())
        await person.press("space")
        for _ in range(25):
            await person.press("space", after_s=0.033)
        assert len(person.marks_on_disk()) == before + 1
        assert "Ignored" in note(person)


async def test_rule_19_the_guard_is_a_setting(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1), settings=Settings(guard_ms=1200)) as person:
        before = len(person.marks_on_disk())
        await person.press("space", after_s=2)
        await person.press("enter", after_s=1.1)
        assert len(person.marks_on_disk()) == before + 1
        assert "1200 ms" in note(person)
        await person.press("space", after_s=1.3)
        assert len(person.marks_on_disk()) == before + 2
