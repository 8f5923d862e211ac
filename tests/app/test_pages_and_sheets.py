"""Pages of the words begin anew at each place, and a sheet over the bench answers every key and every new answer."""

from __future__ import annotations

from typing import Any

from textual.widgets import Input

from session.bench.screens.prompt import Prompt
from session.bench.widgets.words import Words


async def test_a_new_place_begins_on_its_first_page_and_the_last_says_it_starts_over(shed: Any) -> None:
    async with shed.program(shed.at("file", side=1), size=(80, 24)) as person:
        assert "1 of 2 ↓ reads on" in person.panel()
        await person.press("down")
        assert "2 of 2 ↓ from the top" in person.panel()
        await person.press("space")
        assert person.last()["did"] == "done"
        assert "1 of 2 ↓ reads on" in person.panel()


async def test_another_question_at_the_same_place_begins_on_its_first_page(shed: Any) -> None:
    sitting = shed.answered(shed.sitting(), lambda s: s.state.place is not None and s.state.place.step == "flats")
    async with shed.program(sitting, size=(80, 24)) as person:
        await person.press("down")
        assert "2 of 2 ↓ from the top" in person.panel()
        await person.press("5")
        # Reshaping has come in: the place is the same, and what is asked there is not.
        assert "NOW flats" in person.places()
        assert person.panel().partition(" of ")[0].endswith("1")


async def test_looking_back_says_of_a_key_without_use_what_closes_it(shed: Any) -> None:
    async with shed.program(shed.at("file", side=1, done=2)) as person:
        for key in ("space", "p", "left"):
            await person.press("pageup")
            sheet = person.app.screen
            assert isinstance(sheet, Prompt)
            assert str(sheet.query_one("#wrong", Words).visual) == ""
            await person.press("down")
            assert str(sheet.query_one("#wrong", Words).visual) == "", "that one moves along the list"
            await person.press(key)
            told = str(sheet.query_one("#wrong", Words).visual)
            assert "Esc closes" in told, key
            assert told != str(sheet.query_one(".foot", Words).visual), "one line, drawn twice"
            await person.press("escape")
            assert not isinstance(person.app.screen, Prompt)


async def test_no_ends_of_words_of_the_bench_stand_beside_a_sheet(shed: Any) -> None:
    async with shed.program(shed.at("file", side=1, done=2), size=(80, 24)) as person:
        await person.press("l")
        sheet = person.app.screen.query_one(".sheet")
        assert (sheet.region.x, sheet.region.width) == (0, 80)


async def test_what_was_refused_stays_to_be_mended(shed: Any) -> None:
    sitting = shed.answered(shed.sitting(), lambda s: s.state.place is not None and s.state.place.step == "points")
    async with shed.program(sitting) as person:
        await person.press("a")
        await person.type("24 al")
        await person.press("enter")
        assert '"al" is not known' in person.words()
        await person.press("backspace", "backspace")
        await person.type("in 1 in")
        sheet = person.app.screen
        assert isinstance(sheet, Prompt)
        assert sheet.query_one("#typed", Input).value == "24 in 1 in"


async def test_a_digit_after_a_refused_answer_is_a_choice_again(shed: Any) -> None:
    sitting = shed.answered(shed.sitting(), lambda s: s.state.place is not None and s.state.place.step == "line")
    async with shed.program(sitting) as person:
        second = person.bench.desk.moment.said.choices[1]
        await person.press("a")
        await person.type("lots")
        await person.press("enter")
        assert '"lots" is not one of' in person.words()
        await person.press("2")
        assert not isinstance(person.app.screen, Prompt)
        told = [mark["value"] for mark in person.marks_on_disk() if mark.get("what") == "line"]
        assert told == [second]
