"""A digit pressed where an answer can only be typed begins that answer; what follows it is typed behind it."""

from __future__ import annotations

from textual.widgets import Input

from bench_shed import Shed


async def test_a_digit_begins_the_numbers_of_low_teeth_and_a_ten_is_no_one(shed: Shed) -> None:
    async with shed.program(shed.at("look over")) as person:
        await person.go_on(lambda p: "NOW low teeth" in p.places())
        marks = len(person.marks_on_disk())
        await person.press("1", "0")
        assert len(person.marks_on_disk()) == marks
        assert person.app.screen.query_one("#typed", Input).value == "10"
        await person.press(",", "1", "2", "enter")
        assert "NOW low teeth" not in person.places()
        told = person.marks_on_disk()[marks:]
        assert [mark["value"] for mark in told if mark["did"] == "measured"] == ["10, 12"]


async def test_what_is_begun_by_a_digit_is_closed_without_an_answer(shed: Shed) -> None:
    async with shed.program(shed.at("look over")) as person:
        await person.go_on(lambda p: "NOW crack" in p.places())
        marks = len(person.marks_on_disk())
        await person.press("7", "escape")
        assert "NOW crack" in person.places()
        assert len(person.marks_on_disk()) == marks
