"""Lists on the screen: chosen by digit, by arrows or by touch, the row in hand told by a sign (rules 7, 19 and 34)."""

from __future__ import annotations

import pytest

from bench_person import Person
from bench_shed import Shed
from session.files.settings import Drawing, Settings


def signed(person: Person) -> list[str]:
    """The rows of the sheet in front with the sign at them."""
    return [row.partition("▶")[2].strip(" │")[:30] for row in person.rows() if "│ ▶" in row and "handle" not in row]


async def test_arrows_point_and_enter_takes_while_the_line_to_type_on_has_the_keys(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.press("l")
        assert "▶" not in "".join(person.rows()[3:20])
        await person.press("enter")
        assert "nothing was typed" in person.words(), "no choice is in hand before an arrow"
        await person.press("down", "down", "up", "down", "enter")
        assert person.last()["did"] == "left out"
        second = person.last()["reason"]
        await person.press("backspace", "l", "2")
        assert person.last()["reason"] == second, "the second of the list"


async def test_what_is_typed_goes_before_the_choice_in_hand(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.press("l", "down")
        await person.type("netloft dust")
        await person.press("enter")
        assert person.last()["reason"] == "netloft dust"


async def test_keys_that_go_on_never_begin_a_choice(shed: Shed) -> None:
    async with shed.program(shed.at("prove")) as person:
        before = person.marks_on_disk()
        await person.press("plus")
        assert "A short extra stage" in person.words()
        await person.press("enter", "space", "pagedown", "right", "enter", "enter", "pageup", "left")
        assert "A short extra stage" in person.words()
        assert person.marks_on_disk() == before
        await person.press("down", "enter")
        assert (person.last()["did"], person.last()["reason"]) == ("added", "one more light dressing pass, side 1")


@pytest.mark.wide
async def test_looking_back_is_one_list_however_many_marks_there_are(shed: Shed) -> None:
    drawn = []
    for done in (3, 40):
        async with shed.program(shed.at("file", side=1, done=done, points=400, jaw=1400)) as person:
            await person.press("pageup")
            assert "Looking back" in person.words()
            drawn.append(len(list(person.app.screen.walk_children())))
            (newest,) = signed(person)
            assert newest.startswith(str(person.last()["seq"]))
            await person.press("down", "down")
            (third,) = signed(person)
            assert int(third.split()[0]) < int(newest.split()[0])
            await person.press("end", "up", "home", "enter", "space", "left")
            assert signed(person) == [newest]
            await person.press("escape")
            assert "Looking back" not in person.words()
    assert drawn[0] == drawn[1]


@pytest.mark.parametrize("drawing", ["blocks", "ascii"])
async def test_the_saw_in_hand_has_the_sign(shed: Shed, drawing: Drawing) -> None:
    sign = {"blocks": "▶", "ascii": ">"}[drawing]
    async with shed.program(settings=Settings(drawing=drawing)) as person:
        rows = [row for row in person.rows() if "supplied: " in row]
        assert [row.strip().startswith(sign) for row in rows] == [True] + [False] * (len(rows) - 1)
        await person.press("down")
        rows = [row for row in person.rows() if "supplied: " in row]
        assert [row.strip().startswith(sign) for row in rows] == [False, True] + [False] * (len(rows) - 2)
