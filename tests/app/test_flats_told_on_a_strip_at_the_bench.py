"""Two keys a tooth at the bench and line by line: the width of a flat, then its place on the strip."""

from __future__ import annotations

import pytest

from bench_shed import Shed
from ears import Listening
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.trade.strip_readings import QUARTER
from session.walk.front_question import Ask
from session.walk.stages import Stage


def at_the_flats(shed: Shed) -> Sitting:
    """A sash saw of 24 teeth, leveled, its flats to be looked at."""

    def there(sitting: Sitting) -> bool:
        place = sitting.state.place
        looks = place is not None and (place.stage, place.step) == (Stage.LEVEL, "flats")
        return sitting.state.front.ask is Ask.WORK and looks

    return shed.answered(shed.sitting(), there)


async def test_width_then_place_each_by_one_key_on_disk_before_it_shows(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(at_the_flats(shed), size=size) as person:
        await person.press("4")
        assert "Grade the flats" in person.text()
        await person.press("3")
        assert person.large("1")
        assert "Place on the strip" in person.text()
        assert "5 on its mark, 1-4 toe, 6-9 heel" in person.words()
        # The place is seen as it will be told: a row for each key, and what the keys are on the box.
        assert ("1–9", "place") in person.boxes()
        assert ("Space", "not told") in person.boxes()
        assert any("▀▀▀▀│▀▀▀▀" in row for row in person.rows())
        assert any("◀ toe" in row and "heel ▶" in row for row in person.rows())
        await person.press("4")
        assert person.large("2")
        assert "Told tooth 1: a quarter toward the toe." in person.words()
        told = person.marks_on_disk()[-2:]
        assert [(m["tooth"], m.get("step"), m["value"], m["unit"]) for m in told] == [
            (1, None, 3, "fine grade"),
            (1, "strip", 1, QUARTER),
        ]
        # A slip is taken back by one key, and then the grade by another.
        await person.press("backspace")
        assert "Place on the strip" in person.text()
        assert person.large("1")
        await person.press("6", "2", "space", "0")
        assert "Grade the flats" in person.text()
        assert person.large("4")


async def test_the_strip_is_laid_aside_by_one_key(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(at_the_flats(shed), size=size) as person:
        await person.press("4", "3", "4", "3", "0")
        assert "laid aside" in person.words()
        await person.press("3", "3", "3")
        assert "Grade the flats" in person.text()
        assert person.large("6")


async def test_plain_signs_draw_the_places_too(shed: Shed) -> None:
    async with shed.program(at_the_flats(shed), settings=Settings(drawing="ascii")) as person:
        await person.press("4", "3")
        assert any("====|====" in row for row in person.rows())


def test_line_by_line_says_the_same_and_takes_the_same_digits(shed: Shed, ears: Listening) -> None:
    one = ears(at_the_flats(shed))
    assert "4: grade them on a strip" in one.heard
    one.type("4")
    said = one.type("3")
    assert "Place on the strip." in said
    assert "5: its middle lies on the mark." in said
    assert "4, 3, 2, 1: to the toe by 1/4, 1/2, 3/4, all of its width or more." in said
    assert any(line.startswith("Type: Enter (not told), a number (place)") for line in said)
    assert "Told tooth 1: half toward the heel." in one.type("7")
    assert one.marks()[-1]["value"] == -2
    assert "Told tooth 1: half toward the heel." not in one.type("3")
    assert any("allowed: 1 to 9" in line for line in one.type("10"))
    assert any("Skipped" in line for line in one.type(""))


@pytest.mark.parametrize("kept", [0, 1])
def test_after_a_restart_the_same_half_of_the_tooth_is_asked_for(shed: Shed, ears: Listening, kept: int) -> None:
    one = ears(at_the_flats(shed))
    one.type("4", "3", *["8"] * kept)
    again = shed.reopened(one.sitting)
    place = again.state.place
    assert place is not None
    assert (place.tooth, place.on_strip) == ((1, True) if not kept else (2, False))
    again.close()
