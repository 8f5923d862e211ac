"""The boxes under a mouse or a finger do what their keys do, nothing else does; a window made small loses nothing."""

from __future__ import annotations

import pytest

from bench_shed import Shed


@pytest.mark.wide
async def test_touching_the_boxes_does_the_acts(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        for word, did in (("done", "done"), ("flag", "flagged"), ("undo", "took back")):
            await person.touch(word)
            assert person.last()["did"] == did
            assert f" {word}" in person.text()
        before = person.marks_on_disk()
        await person.touch("leave out")
        assert "why?" in person.words()
        row = next(n for n, text in enumerate(person.rows()) if "broken tooth" in text)
        await person.click(person.rows()[row].index("broken"), row)
        assert (person.last()["did"], person.last()["reason"]) == ("left out", "broken tooth")
        assert len(person.marks_on_disk()) == len(before) + 1
        await person.touch("help")
        assert "Help" in person.words()
        await person.press("escape")
        await person.touch("pause")
        assert person.last()["did"] == "paused"
        await person.touch("go on")
        assert person.last()["did"] == "resumed"
        await person.touch("yes, here")
        assert person.last()["did"] == "confirmed"
        # What was understood in this sitting is shown after a pause, and not asked again.
        await person.touch("done")
        assert person.last()["did"] == "done"
    async with shed.program(shed.sitting()) as person:
        await person.touch("understood")
        assert person.last()["did"] == "acknowledged"


async def test_a_touch_of_the_box_of_all_grades_tells_none_of_them(shed: Shed) -> None:
    async with shed.program(shed.at("level")) as person:
        await person.press("space", "3")
        before = person.log.read_bytes()
        await person.touch("grade")
        assert "Tell it by a digit: 0 to 5." in person.words()
        assert person.log.read_bytes() == before
        await person.press("4")
        assert person.last()["value"] == 4


async def test_a_touch_of_the_box_of_all_strokes_counts_none(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = person.log.read_bytes()
        await person.touch("strokes")
        assert "Press the digit itself: 1 to 9 strokes, 0 for ten and more." in person.words()
        assert person.log.read_bytes() == before
        await person.press("4")
        assert person.last()["strokes"] == 4
        # After a silence a touch of it asks what every press asks, and claims no count either.
        shed.clock.pass_s(3600)
        await person.touch("strokes")
        await person.press("1")
        assert "strokes" not in person.last()
        assert person.last()["did"] == "done"


async def test_every_row_of_a_box_is_the_box_and_one_touch_is_one_mark(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        for row, column in ((0, 0), (1, 2)):
            before = len(person.marks_on_disk())
            x, y = person.rows()[-2].index("Space"), person.app.size.height - 3 + 2 * row
            await person.click(x + column, y)
            assert len(person.marks_on_disk()) == before + 1
            assert person.last()["did"] == "done"


@pytest.mark.wide
async def test_touching_anything_else_does_nothing(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        before, screen = person.log.read_bytes(), person.text()
        for y in range(21):
            await person.click(y * 37 % 80, y)
        await person.click(79, 22)
        assert person.log.read_bytes() == before
        assert person.text() == screen


async def test_a_held_touch_is_guarded_as_a_held_key_is(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        before = len(person.marks_on_disk())
        await person.touch("done")
        shed.clock.pass_s(-0.9)  # the click that follows comes 0.1 s after
        await person.touch("done")
        assert len(person.marks_on_disk()) == before + 1
        assert "Ignored" in person.words()


@pytest.mark.wide
async def test_made_small_and_large_again_nothing_is_lost(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.press("full_stop")
        before, screen = person.log.read_bytes(), person.text()
        for width, height in ((20, 5), (1, 1), (79, 24), (80, 23), (200, 60)):
            await person.resize(width, height)
            if width < 80 or height < 24:
                if width > 10:
                    assert "The bench needs" in person.words()
                assert "NOW 7" not in person.text()
            else:
                assert "NOW 7" in person.text()
        await person.resize(80, 24)
        assert person.text() == screen
        assert person.log.read_bytes() == before


async def test_too_small_to_show_the_place_marks_nothing_of_it(shed: Shed) -> None:
    """Rule 4: what cannot be seen cannot be marked; the words that stand there instead promise the place is kept."""
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.resize(40, 10)
        before = person.log.read_bytes()
        await person.press("space", "enter", "3", "backspace", "l", "full_stop")
        assert person.log.read_bytes() == before
        assert "The bench needs" in person.words()
        await person.resize(80, 24)
        assert "NOW 7 " in person.places()
        await person.press("space")
        assert person.last()["tooth"] == 7


async def test_a_prompt_outlives_a_resize_with_what_was_typed(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.press("l")
        await person.type("netloft dust")
        await person.resize(20, 5)
        await person.resize(120, 36)
        assert "netloft dust" in person.words()
        await person.press("enter")
        assert person.last()["reason"] == "netloft dust"


@pytest.mark.wide
async def test_small_windows_with_something_open_do_not_break(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        before = person.marks_on_disk()
        for key in ("l", "question_mark", "q", "pageup", "p"):
            await person.press(key)
            assert len(person.app.screen_stack) == 3, key
            for width, height in ((20, 5), (10, 3), (80, 24)):
                await person.resize(width, height)
            await person.press("escape")
            assert "NOW 7 " in person.places(), key
            assert person.marks_on_disk() == before, key
