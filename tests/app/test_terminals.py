"""Terminals of every size and with few or no colors: a change of either loses neither the place nor the focus."""

from __future__ import annotations

import random
import re

import pytest
from textual.widget import Widget

from bench_person import Person
from bench_shed import Shed, works_at
from session.files.settings import Drawing, Settings
from session.pictures.numerals import SIZES, numeral_width
from session.walk.stages import Stage
from sought import sought

STAGES = [stage for stage in Stage if stage is not Stage.RESHAPE]

#: A stage of steps, one of passes and one of gullets; all of them, one after another, in a soak.
FEW = [Stage.LOOK_OVER, Stage.LEVEL, Stage.FILE]
SOAK = pytest.mark.soak("a terminal of other sizes and colors")
of_stages = pytest.mark.parametrize("stages", [FEW, pytest.param(STAGES, marks=SOAK)], ids=["few", "all"])

THEMES = ["bench-dark", "bench-light", "bench-contrast", "bench-plain"]
THEMES += ["ansi-dark", "textual-light", "nord"]


def whole(person: Person) -> tuple[str, list[str], list[str], list[str]]:
    """What says where one is: head, numeral, place row, strip, instruction, boxes."""
    rows = person.rows()
    told = next(n for n, row in enumerate(rows) if "NOW " in row)
    return rows[0], [row[:28] for row in rows[1 : told - 3]], rows[told - 3 : told + 3], rows[-3:]


def focus(person: Person) -> tuple[list[str], Widget | None]:
    return [type(screen).__name__ for screen in person.app.screen_stack], person.app.focused


@pytest.mark.wide
@of_stages
async def test_a_storm_of_sizes_loses_neither_place_nor_focus(shed: Shed, stages: list[Stage]) -> None:
    async with shed.program(shed.sitting()) as person:
        for stage in stages:
            await shed.brought(person, works_at(stage))
            sizes = random.Random(stage)
            before, marks, had = whole(person), person.marks_on_disk(), focus(person)
            for _ in range(4):
                await person.resize(sizes.randint(20, 200), sizes.randint(5, 60))
            await person.resize(80, 24)
            assert whole(person) == before, stage
            assert person.marks_on_disk() == marks, stage
            assert focus(person) == had, stage
            await person.press("space")
            assert [mark["did"] for mark in person.marks_on_disk()[len(marks) :]] == ["done"], stage


@pytest.mark.wide
async def test_a_storm_of_sizes_between_presses_marks_each_place_once(shed: Shed) -> None:
    sizes = random.Random(7)
    sitting = shed.at("set")
    async with shed.program(sitting) as person:
        count = len(person.marks_on_disk())
        for _ in range(26):
            width, height = sizes.randint(60, 160), sizes.randint(18, 60)
            await person.resize(width, height)
            rows = person.rows()
            assert (len(rows), len(rows[0])) == (height, width)
            if width >= 80 and height >= 24:
                now = re.search(r"NOW (\d+)", person.places())
                assert now is None or person.large(now[1]), f"{width}x{height}\n{person.text()}"
                if " DRESS " in rows[0]:
                    break
                key = person.boxes()[0][0]
                await person.press({"Space": "space"}.get(key, key))
            else:
                held = len(person.marks_on_disk())
                await person.press("space", "y", "2")
                assert len(person.marks_on_disk()) == held
        done = [mark for mark in person.marks_on_disk()[count:] if mark["did"] == "done"]
        assert len(done) >= 5
        assert len({(mark["stage"], mark["side"], mark["tooth"]) for mark in done}) == len(done)


@pytest.mark.wide
@of_stages
async def test_theme_guidance_help_and_terms_lose_neither_place_nor_focus(shed: Shed, stages: list[Stage]) -> None:
    async with shed.program(shed.sitting()) as person:
        for stage in stages:
            await shed.brought(person, works_at(stage))
            before, marks, had = whole(person), person.marks_on_disk(), focus(person)
            for theme in ("bench-light", "bench-plain", "ansi-dark"):
                person.app.theme = theme
                await person.settle()
                assert whole(person) == before, (stage, theme)
            for level in ("brief", "bare", "taught"):
                await person.press("g")
                assert f"Guidance: {level}." in person.text(), stage
            for look_up in ("question_mark", "f1", "pageup"):
                await person.press(look_up)
                assert focus(person) != had, stage
                await person.press("down", "pagedown", "escape")
                assert focus(person) == had, stage
            await person.press("t")
            await person.type("fleam")
            await person.press("enter")
            assert "turned from square across the plate" in person.words(), stage
            await person.press("escape")
            assert focus(person) == had, stage
            assert person.marks_on_disk() == marks, stage
            assert whole(person)[:2] == before[:2], stage
            assert person.places() == next(row for row in before[2] if "NOW " in row), stage
            await person.press("space")
            assert len(person.marks_on_disk()) == len(marks) + 1, stage


@pytest.mark.wide
@pytest.mark.parametrize(("theme", "drawing"), [*((theme, "blocks") for theme in THEMES), ("bench-plain", "ascii")])
async def test_every_theme_starts_without_error_and_works(shed: Shed, theme: str, drawing: Drawing) -> None:
    settings = Settings(theme=theme, drawing=drawing)
    async with shed.program(shed.at("file", side=1), settings=settings, size=(120, 36)) as person:
        count = len(person.marks_on_disk())
        for key in ("2", "l", "escape", "question_mark", "escape", "q", "escape", "escape", "escape", "y"):
            await person.press(key)
        assert len(person.marks_on_disk()) == count + 4
        assert person.app.return_code is None
        assert person.text().isascii() == (drawing == "ascii")
        await person.press("q", "h")
        assert "the till at" in person.rows()[0]
        assert person.text().isascii() == (drawing == "ascii")


@pytest.mark.parametrize("value", ["1", "yes"])
async def test_no_color_starts_the_whole_program_without_error(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, value: str
) -> None:
    monkeypatch.setenv("NO_COLOR", value)
    async with shed.program(environment={"NO_COLOR": value}) as person:
        chosen = [row for row in person.rows() if row.lstrip().startswith("▶ ")]
        assert len(chosen) == 1  # the saw that would be opened is told by a sign, not by color
        await person.press("down")
        assert [row for row in person.rows() if row.lstrip().startswith("▶ ")] != chosen
        await person.press("up")
        await person.press("space")
        assert "CAUTION before this stage" in person.text()


#: Least rows of the numerals at each size, by digits: measured, so that a change of layout that costs some is seen.
HEIGHTS = {
    (80, 24): {1: 9, 2: 9, 3: 7, 4: 5},
    (120, 36): {1: 9, 2: 9, 3: 9, 4: 7},
    (200, 60): {1: 9, 2: 9, 3: 9, 4: 9},
}


@pytest.mark.wide
@pytest.mark.parametrize("digits", [1, 2, 3, 4])
async def test_rule_05_rows_of_the_numerals_at_each_size(shed: Shed, digits: int) -> None:
    points = {1: 9, 2: 99, 3: 999, 4: 2999}[digits]
    sitting = shed.at("set", points=points, pitch=1 if digits > 1 else 3, jaw=900, start="toe")
    async with shed.program(sitting) as person:
        for size, heights in HEIGHTS.items():
            await person.resize(*size)
            now = sought(r"NOW (\d+)", person.places())[1]
            assert len(now) == digits
            columns = [row.partition("│")[0] for row in person.rows()[1:] if "│" in row]
            inked = [column for column in columns if "█" in column]
            wanted = heights[digits]
            assert wanted in SIZES
            assert numeral_width(now, wanted) <= len(columns[0])
            assert len(inked) == wanted
            assert person.large(now), person.text()
            await person.press("space")
            assert person.large(sought(r"NOW (\d+)", person.places())[1])
            assert not person.large(now)


@pytest.mark.wide
async def test_drawn_in_ascii_nothing_else_is_sent_by_long_texts_and_lists(shed: Shed) -> None:
    settings = Settings(drawing="ascii")
    shed.hang_up(name="Netloft " * 10)
    async with shed.program(settings=settings) as person:
        assert person.text().isascii(), person.text()
    async with shed.program(shed.sitting(name="Netloft " * 10), settings=settings) as person:
        assert person.text().isascii(), person.text()
        for key in ("question_mark", "pageup"):
            await person.press(key)
            assert person.text().isascii(), person.text()
            await person.press("escape")


@pytest.mark.wide
async def test_a_sheet_that_shows_only_a_part_says_so(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        await person.press("question_mark")
        assert "↑ ↓ show the rest" in person.text()
        assert "leave; asks once" not in person.text()
    async with shed.program(shed.at("file", side=1), size=(120, 68)) as person:
        await person.press("question_mark")
        assert "leave; asks once" in person.text()
        assert "show the rest" not in person.text()
