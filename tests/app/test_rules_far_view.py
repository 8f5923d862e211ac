"""Bench rule 29: the far view, read from two meters, in which all goes on as at the ordinary screen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench_person import Person
from bench_shed import Shed, works_at
from moments_met import CROSSCUT, moments
from session.files.settings import Settings
from session.pictures.far_view import far_rows
from session.pictures.large_letters import plate, pointed, spelled
from session.pictures.numerals import SIZES, numeral
from session.pictures.picture_rows import Role, Rows, plain
from session.sentences.glance import Glance, Push, glance
from session.texts.wording import LEVELED
from session.walk.stages import Stage

#: What only the ordinary screen shows: the sign at the handle's edge.
SIGN = "handle right"


def height(person: Person, number: str) -> int:
    """Rows of ``number`` as it stands on screen in the largest numerals; 0 where it stands in none."""
    rows = person.rows()
    for times in range(12, 0, -1):
        for base in SIZES:
            lines = [line.rstrip() for line in plain(numeral(number, base))]
            drawn = ["".join(cell * times for cell in line) for line in lines for _ in range(times)]
            at = range(len(rows) - len(drawn))
            # Every row of it, one under the other, from one column on.
            for top in at:
                left = rows[top].find(drawn[0].strip()) - (len(drawn[0]) - len(drawn[0].lstrip()))
                if left >= 0 and all(rows[top + n][left:].startswith(line) for n, line in enumerate(drawn)):
                    return base * times
    return 0


def stands(person: Person, picture: Rows) -> bool:
    """Whether ``picture`` stands on screen, row under row."""
    rows, lines = person.rows(), [line.rstrip() for line in plain(picture)]
    return any(
        all(rows[top + n][left : left + len(line)] == line for n, line in enumerate(lines))
        for top in range(len(rows) - len(lines) + 1)
        for left in range(len(rows[0]))
        if rows[top][left : left + len(lines[0])] == lines[0]
    )


def letters(text: str, factor: int = 1) -> Rows:
    return pointed(spelled(text), Role.STRONG, factor=factor)


def is_far(person: Person) -> bool:
    return person.bench.has_class("far")


@pytest.mark.parametrize("window", [(80, 24), (120, 36), (200, 60)], ids=lambda one: "{}x{}".format(*one))
async def test_rule_29_gullet_side_strokes_direction_and_stop_stand_large(shed: Shed, window: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", 1, 2), size=window) as person:
        before = person.rows()
        await person.press("f")
        number = person.places().partition("NOW ")[2].partition(" ")[0]
        factor = 2 if window[0] == 200 else 1
        assert height(person, number) >= {80: 9, 120: 18, 200: 30}[window[0]]
        assert stands(person, pointed(plate("side 1", "right"), Role.HANDLE, factor=factor))
        assert stands(person, letters("light", factor)), "no flat was graded, so no count is known"
        stops = (
            "stop when half of each flat is gone",
            "stop at half of each flat",
            "stop: half each flat",
        )
        assert any(stands(person, letters(stop, factor)) for stop in stops)
        # Where one is, what to do and what to mind stay in words (bench rules 3 and 4).
        assert person.rows()[0] == before[0]
        for row in before:
            if " NOW " in row or "IN EFFECT" in row or "file level" in row:
                assert row in person.rows()
        await person.press("f")
        assert person.rows()[:-4] == before[:-4]


@pytest.mark.parametrize("window", [(80, 24), (120, 36)], ids=lambda one: "{}x{}".format(*one))
async def test_a_second_face_to_be_filed_is_told_from_afar_too(shed: Shed, window: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", 2), size=window) as person:
        await person.press("f")
        assert any("Then the back of tooth 1, heel side" in row for row in person.rows())


def test_what_the_row_of_words_cannot_hold_is_said_to_be_there() -> None:
    told = Glance(
        kind="gullet",
        number=1,
        of=24,
        side=1,
        strokes=2,
        counted=None,
        light=False,
        lean="press to the heel",
        lean_way=Push.RIGHT,
        push=Push.TO_LEFT,
        pushes="tip to the toe",
        stop=("stop at half of each flat",),
        also=("Then the back of tooth 1.", "Tooth 2 is low: nothing comes off it, and a good deal more of words."),
    )
    shown = "\n".join(plain(far_rows(told, "right", 78, 17)))
    assert "↑ tip to the toe ◀. Then the back of tooth 1. More: read near." in shown


#: A tooth to be set.
SET = Glance(
    kind="tooth",
    number=31,
    of=64,
    side=1,
    strokes=None,
    counted=None,
    light=False,
    lean="",
    lean_way=None,
    push=Push.AWAY,
    pushes="bend it away from you",
    stop=("stop at the anvil",),
)


def test_the_tool_is_named_where_the_row_of_words_has_room_for_it_too() -> None:
    whole, short = "The saw set upright: plunger on your side, anvil beyond; stand at this tooth.", "The saw set."
    told = replace(SET, tool=(whole, short))
    assert whole in "\n".join(plain(far_rows(told, "right", 78, 17)))
    beside = replace(told, also=("Tooth 32 is low: nothing comes off it.",))
    assert f"{beside.also[0]} {short}" in "\n".join(plain(far_rows(beside, "right", 78, 17)))
    full = replace(told, also=("Tooth 32 is low: nothing comes off it, and some more words after that.",))
    shown = "\n".join(plain(far_rows(full, "right", 78, 17)))
    assert full.also[0] in shown
    assert "aw set" not in shown
    assert "More: read near." not in shown, "nothing that is to be done is left out"


@pytest.mark.parametrize("room", [(78, 17), (118, 25)])
def test_in_ascii_the_stop_stands_in_letters_before_the_way_of_the_hand_does(room: tuple[int, int]) -> None:
    rows = plain(far_rows(SET, "right", *room, ascii=True))
    stop = [line.strip() for line in plain(pointed(spelled("stop at the anvil"), Role.STRONG, ascii=True))]
    assert all(any(line in row for row in rows) for line in stop)
    assert any("bend it away from you" in row for row in rows)
    assert any("##########" in row for row in rows[:7]), "the plate of the side"


async def test_rule_29_the_number_grows_with_the_window(shed: Shed) -> None:
    async with shed.program(shed.at("file", 1, 2)) as person:
        await person.press("f")
        number = person.places().partition("NOW ")[2].partition(" ")[0]
        found = []
        for window in ((80, 24), (120, 36), (200, 60)):
            await person.resize(*window)
            found.append(height(person, number))
        assert found == sorted(set(found)), found


async def test_rule_29_the_side_is_a_plate_that_points_to_the_handle_and_no_number(shed: Shed) -> None:
    async with shed.program(shed.at("file", 2, 2), size=(120, 36)) as person:
        await person.press("f")
        assert stands(person, pointed(plate("side 2", "left"), Role.HANDLE))
        assert not stands(person, letters("2"))
        assert height(person, "2") == 0


async def test_rule_29_marks_counts_and_taking_back_go_on_in_it(shed: Shed) -> None:
    async with shed.program(shed.at("file", 1, 2), size=(120, 36)) as person:
        await person.press("f")
        await person.press("4")
        assert (person.last()["did"], person.last()["strokes"]) == ("done", 4)
        assert stands(person, letters("last 4"))
        await person.press("space", "full_stop")
        assert person.last()["did"] == "flagged"
        await person.press("backspace")
        assert person.last()["did"] == "took back"
        assert is_far(person)
        await person.press("h")
        await person.type("20")
        await person.press("enter")
        shed.clock.pass_s(5)
        person.bench.tick()
        await person.settle()
        assert stands(person, letters("in 15 s"))
        shed.clock.pass_s(16)
        person.bench.tick()
        await person.settle()
        assert person.last()["by"] == "timer"


async def test_rule_29_it_gives_way_to_what_is_asked_and_comes_back(shed: Shed) -> None:
    async with shed.program(shed.at("file", 1, 2), size=(120, 36)) as person:
        await person.press("f")
        await person.press("escape")
        assert not is_far(person)
        assert "Paused" in person.text()
        await person.press("escape", "y")
        # The cautions again, whole on the ordinary screen, then the work as it was.
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        assert is_far(person)
        await person.go_on(lambda p: p.boxes()[0][1] != "done")
        assert not is_far(person)
        assert SIGN in person.text()
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        assert is_far(person)


async def test_rule_29_it_lasts_for_the_sitting_through_every_stage(shed: Shed) -> None:
    async with shed.program(shed.sitting(), size=(120, 36)) as person:
        await person.press("f")
        assert not is_far(person)
        for stage, far in ((Stage.LEVEL, True), (Stage.SET, True), (Stage.FILE, True), (Stage.DRESS, True)):
            await shed.brought(person, works_at(stage))
            assert is_far(person) is far, stage
            assert person.boxes()[-2][1] == "near view"
        await shed.brought(person, works_at(Stage.PROVE))
        assert not is_far(person)


async def test_rule_29_without_color_in_ascii_and_small_again(shed: Shed) -> None:
    settings = Settings(drawing="ascii")
    async with shed.program(shed.at("file", 1, 2), settings=settings, environment={"NO_COLOR": "1"}) as person:
        await person.press("f")
        assert person.text().isascii()
        assert any("#" * 20 in row for row in person.rows()), "the plate of the side"
        await person.resize(40, 10)
        assert "The bench needs" in person.words()
        await person.resize(80, 24)
        assert is_far(person)
        assert "####" in person.text()


async def test_rule_29_a_touch_leads_back(shed: Shed) -> None:
    async with shed.program(shed.at("file", 1, 2), size=(120, 36)) as person:
        await person.touch("far view")
        assert is_far(person)
        await person.click(30, 8)
        assert not is_far(person)


def test_from_afar_tool_stand_direction_and_stop_are_told_for_every_kind_of_work() -> None:
    wanted = {
        Stage.LEVEL: ("mill file", "stand to reach", "heel to toe", LEVELED),
        Stage.SET: ("The saw set upright", "anvil beyond", "stand at this tooth", "away from you", "anvil"),
        Stage.FILE: ("Triangular file", "stand at this gullet", "tip to the toe", "stop"),
        Stage.DRESS: ("oilstone", "stand before it", "heel to toe", "once"),
    }
    met = set()
    for at in moments(CROSSCUT):
        told = glance(at)
        if told is not None and at.place is not None and not (at.place.stage is Stage.LEVEL and at.place.tooth):
            met.add(at.place.stage)
            words = " ".join((*told.tool[:1], told.pushes, *told.stop))
            assert all(word in words for word in wanted[at.place.stage]), words
            rows = [*map(str.strip, plain(far_rows(told, "right", 78, 17)))]
            # What is to be done besides goes before the tool, which is in the hands.
            assert told.also or told.tool[0] in rows, rows
    assert met == set(wanted)
