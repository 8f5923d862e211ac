"""Bench rules 20 and 21: the one-hand keys, one's own keys, and no single key that quits, deletes or rewrites."""

from __future__ import annotations

import string

import pytest
from textual.keys import Keys

from bench_person import Person
from bench_shed import Shed
from session.files.settings import Settings

#: Every key that has a name, the printable ones, and the usual ones held with Ctrl, Alt or Shift.
NAMED = sorted({key.value for key in Keys if not key.value.startswith("<") and "scroll" not in key.value})
PRINTABLE = [*sorted(set(string.printable) - set(string.whitespace)), "ö", "ß", "€", "½"]
HELD = [f"alt+{key}" for key in "acdnqswxyz"]
KEYBOARD = list(dict.fromkeys([*NAMED, *PRINTABLE, *HELD, "shift+delete", "ctrl+delete", "alt+f4", "ctrl+backspace"]))


def sheet_is_open(person: Person) -> bool:
    """Whether a sheet lies over the bench: its frame is wider than any box."""
    return any("╭" + 60 * "─" in row for row in person.rows())


async def clear_up(person: Person) -> None:
    """Close what a key opened, and come back to the place in hand by keys."""
    for _ in range(30):
        if any(screen.has_class("far") for screen in person.app.screen_stack):
            # On a small screen the far view has no boxes; the key that led to it leads back.
            await person.press("f")
            continue
        box = person.boxes()[0]
        if sheet_is_open(person) or not person.rows()[-2].startswith("│") or box == ("Esc", "go on"):
            await person.press("escape")
        elif box[1] in ("yes, here", "understood", "agrees", "yes, done", "found"):
            await person.press("y")
        elif box[1] in ("shifted", "clamped", "laid flat"):
            await person.press("space")
        else:
            assert box[1] == "done", person.text()
            return
    raise AssertionError(f"no way back to the place in hand:\n{person.text()}")


async def test_rule_20_the_advance_keys_mark_and_go_on(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        for number, key in enumerate(("space", "enter", "pagedown", "right")):
            before = person.marks_on_disk()
            await person.press(key)
            made = person.marks_on_disk()[len(before) :]
            assert [(mark["did"], mark["tooth"], mark["by"]) for mark in made] == [("done", 2 * number + 1, "key")]
            assert f"NOW {2 * number + 3} " in person.places()


async def test_rule_20_looking_back_shows_the_marks_and_changes_nothing(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=5)) as person:
        before, screen = person.log.read_bytes(), person.text()
        for key in ("pageup", "left"):
            await person.press(key)
            assert "Looking back" in person.words()
            assert "done gullet 9" in person.words()
            await person.press("escape")
            assert person.log.read_bytes() == before
            assert person.places() in screen


async def test_rule_20_a_presenters_one_button_pauses_and_goes_on_without_harm(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=5)) as person:
        done = [mark for mark in person.marks_on_disk() if mark["did"] == "done"]
        before = person.log.read_bytes()
        for _ in range(3):
            await person.press("f5")
            assert "Paused" in person.panel()
            await person.press("escape")
            assert "Paused" not in person.panel()
        assert person.log.read_bytes().startswith(before)
        assert [mark for mark in person.marks_on_disk() if mark["did"] == "done"] == done
        await person.press("f5", "pagedown")
        assert "Paused" in person.panel()
        await person.press("f5", "y")
        await clear_up(person)
        assert "NOW 11 " in person.places()


async def test_rule_20_a_flag_is_one_key_and_moves_nothing(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=1)) as person:
        for tooth, key in ((3, "full_stop"), (5, "b")):
            count = len(person.marks_on_disk())
            await person.press(key)
            assert len(person.marks_on_disk()) == count + 1
            assert (person.last()["did"], person.last()["tooth"]) == ("flagged", tooth)
            assert f"NOW {tooth} " in person.places()
            assert f"Flagged gullet {tooth}" in person.words()
            assert "!" in "".join(person.rows())
            await person.press("space")


async def test_rule_20_the_other_keys_of_the_table(shed: Shed) -> None:
    asks = {"l": "Leave out gullet 11: why?", "p": "Which gullet is NEXT to be filed?", "question_mark": "Help"}
    async with shed.program(shed.at("file", side=1, done=5)) as person:
        before = person.marks_on_disk()
        for key, words in asks.items():
            await person.press(key)
            assert words in person.words(), key
            assert person.marks_on_disk() == before, key
            await person.press("escape")
        for key, did in (("backspace", "took back"), ("escape", "paused")):
            await person.press(key)
            assert person.last()["did"] == did


async def test_rule_20_keys_can_be_given_by_a_file_and_then_only_they_count(shed: Shed) -> None:
    settings = Settings(keys={"done": ("x", "f9"), "take back": ("u",)})
    async with shed.program(shed.at("file", side=1), settings=settings) as person:
        before = len(person.marks_on_disk())
        await person.press("space", "enter", "backspace")
        assert len(person.marks_on_disk()) == before
        await person.press("x", "f9")
        assert [mark["tooth"] for mark in person.marks_on_disk()[before:]] == [1, 3]
        await person.press("u")
        assert person.last()["did"] == "took back"
        assert ("x", "done") in person.boxes()
        assert ("u", "undo") in person.boxes()
        await person.press("question_mark")
        assert "x F9 the place in hand is done" in person.words()


async def test_rule_20_a_key_that_had_another_meaning_loses_it(shed: Shed) -> None:
    settings = Settings(keys={"done": ("b", "space")})
    async with shed.program(shed.at("file", side=1), settings=settings) as person:
        await person.press("b")
        assert (person.last()["did"], person.last()["tooth"]) == ("done", 1)


@pytest.mark.wide
async def test_rule_21_no_single_key_of_the_keyboard_quits_deletes_or_rewrites(shed: Shed) -> None:
    assert len(KEYBOARD) > 200
    async with shed.program(shed.at("file", side=1, done=4, points=400, jaw=1400)) as person:
        for key in KEYBOARD:
            before = person.log.read_bytes()
            await person.press(key)
            assert person.app.is_running, key
            assert not person.left(), key
            assert person.log.read_bytes().startswith(before), key
            assert "the till at" not in person.rows()[0], f"{key} left the bench"
            await clear_up(person)
        marks = person.marks_on_disk()
        assert person.app.return_code is None
    dids = [mark["did"] for mark in marks]
    assert "finished" not in dids
    assert {"done", "took back", "flagged", "paused"} <= set(dids), "the keys did arrive"
    assert not any("many" in mark for mark in marks)


async def test_rule_21_leaving_takes_two_keys_and_says_that_all_is_saved(shed: Shed) -> None:
    for second, gone in (("space", False), ("escape", False), ("q", True)):
        sitting = shed.at("file", side=1, done=4)
        async with shed.program(sitting) as person:
            marks = len(person.marks_on_disk())
            await person.press("q")
            assert not person.left()
            assert f"All is saved: {marks} marks in {person.log.name}" in person.words()
            await person.press(second)
            assert person.left() == gone
            assert len(person.marks_on_disk()) == marks


@pytest.mark.wide
async def test_rule_20_keys_can_be_swapped_and_written_as_the_sign_they_print(shed: Shed) -> None:
    settings = Settings(keys={"flag": ("?",), "help": ("b", "f1"), "leave out": ("p",), "set place": ("l",)})
    async with shed.program(shed.at("file", side=1), settings=settings) as person:
        await person.press("question_mark")
        assert (person.last()["did"], person.last()["tooth"]) == ("flagged", 1)
        await person.press("b")
        assert "Help" in person.words()
        await person.press("escape", "p")
        assert "Leave out gullet 1: why?" in person.words()
        await person.press("escape", "l")
        assert "Which gullet is NEXT to be filed?" in person.words()
        await person.press("escape", "full_stop")
        assert person.last()["did"] == "flagged", "what lost its key does nothing more by it"
        assert sum(mark["did"] == "flagged" for mark in person.marks_on_disk()) == 1
