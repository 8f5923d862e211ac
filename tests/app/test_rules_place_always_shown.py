"""Bench rules 4, 5, 6 and 8: where one is, large enough, and on which side, in every stage and at both sizes."""

from __future__ import annotations

import re
from functools import partial
from typing import Any

import pytest

from bench_person import Person
from bench_shed import Shed, works_at
from session.log.sitting import Sitting
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.stages import Stage
from sought import sought
from whole_walk import whole_walk

#: Both sizes that the rules name.
SIZES = ((80, 24), (120, 36))

#: How the whole of it reads: the place before, the place in hand, the next, done of total; of leveling passes a look
#: may ask more.
PLACES = re.compile(
    r"^ (?P<before>.+?) │ NOW (?P<now>.+?) │ next (?P<next>.+?) │ (?:.* │ )?(?P<done>\d+) of (?P<total>\d+)"
    r"(?: or more)? done"
)

#: What is said where the saw was held otherwise for a whole stage.
STOOD = {"level": "clamped for", "set": "clamped for", "dress": "laid flat for"}


def named(mark: dict[str, Any]) -> str:
    """The place of a mark as the bench names it within its stage."""
    if "step" in mark:
        return str(mark["step"])
    return f"pass {mark['number']}" if "number" in mark else str(mark["tooth"])


def leg(mark: dict[str, Any]) -> tuple[str, int, int, bool, bool]:
    return mark["stage"], mark.get("side", 0), mark.get("round", 1), "tooth" in mark, "number" in mark


async def test_rule_04_before_now_next_side_pass_and_share_agree_with_the_log_in_all_stages(
    shed: Shed, size: tuple[int, int]
) -> None:
    walk = await whole_walk(shed, size)
    passing = ("as advised", "skip it", "skip")
    seen = [glance for glance in walk.glances if glance.at_work() or glance.boxes()[0][1] in passing]
    points, marks = walk.points, walk.marks
    worked = [mark for mark in marks if mark["did"] == "done"]
    # The ones after the teeth and after the stone are the measuring over the set.
    assert len(seen) == len(worked) == 17 + 2 + 2 * points + 1 + 3 + 3 + 4
    for number, (glance, mark) in enumerate(zip(seen, worked, strict=True)):
        count, head, places, text = glance.marks, glance.rows()[0], glance.places(), glance.text()
        # Settling the plan tells what was decided, advised and chosen, then that it is done.
        assert mark is next(one for one in marks[count:] if one["did"] not in ("measured", "decided"))
        told = PLACES.match(places)
        assert told, places
        assert told["now"] == named(mark)
        same = [other for other in worked[:number] if leg(other) == leg(mark)]
        assert int(told["done"]) == len(same)
        assert int(told["total"]) == sum(leg(other) == leg(mark) for other in worked)
        if number + 1 < len(worked) and leg(worked[number + 1]) == leg(mark):
            assert told["next"] == named(worked[number + 1])
        acts = [m for m in marks[:count] if m["did"] not in ("acknowledged", "confirmed")]
        if acts:
            # Passed over, a step is not called done.
            passed = acts[-1].get("reason") in ("not looked at", "not answered")
            # Clamped or laid flat for a whole stage, it was not shifted.
            stood = {"level": "clamped for", "set": "clamped for", "dress": "laid flat for"}.get(
                acts[-1].get("stage", "")
            )
            did = stood if acts[-1]["did"] == "shifted" and stood else acts[-1]["did"]
            assert told["before"].startswith("skipped" if passed else did)
            if acts[-1]["did"] == "done":
                assert named(acts[-1]) in told["before"]
        else:
            assert told["before"] == "nothing yet"
        assert mark["stage"].upper() in head
        if "side" in mark:
            assert f"side {mark['side']} of 2" in head
        if "number" in mark:
            # Of one pass it says nothing that there is one.
            of = f" of {told['total']}" if told["total"] != "1" else ""
            assert re.search(rf"\bpass{of}\b", text)
        if "tooth" in mark:
            assert re.search(rf"\b(tooth|gullet) of {points}\b", text)


async def test_rule_04_the_strip_shows_the_whole_line_with_the_place_in_hand(shed: Shed, size: tuple[int, int]) -> None:
    walk, hands = await whole_walk(shed, size), 0
    for glance in walk.glances:
        if glance.at_work() and re.search(r" SET  side| FILE ", glance.rows()[0]):
            line = glance.line()
            assert len(line) == walk.points
            assert [n for n, glyph in enumerate(line, 1) if glyph == "◆"] == [
                int(sought(PLACES, glance.places())["now"])
            ]
            hands += 1
    assert hands == 2 * walk.points


@pytest.mark.wide
@pytest.mark.parametrize("reason", ["low tooth, no flat", "a long story of the netloft floor and what fell on it " * 3])
async def test_rule_04_a_long_reason_does_not_push_the_place_off_the_row(shed: Shed, reason: str) -> None:
    async with shed.program(shed.at("file", side=1, done=7)) as person:
        await person.press("l")
        await person.type(reason.strip())
        await person.press("enter")
        for size in SIZES:
            await person.resize(*size)
            told = PLACES.match(person.places())
            assert told, person.places()
            assert (told["before"][:8], told["now"], told["next"]) == ("left out", "17", "19")
            assert (told["done"], told["total"]) == ("7", "12")
            assert person.places().rstrip().endswith("7 of 12 done, 1 out")


async def test_rule_04_four_digit_teeth_leave_all_of_it_on_one_row(shed: Shed) -> None:
    sitting = shed.at("file", side=1, points=1400, pitch=1, jaw=900, start="toe", without=(Stage.SET,))
    async with shed.program(sitting) as person:
        for count, size in enumerate(SIZES, 1):
            await person.resize(*size)
            now = int(sought(PLACES, person.places())["now"])
            assert now > 1300
            await person.press("9")
            told = PLACES.match(person.places())
            assert told, person.places()
            assert (told["before"], told["now"], told["next"]) == (
                f"done {now} (9 strokes)",
                str(now - 2),
                str(now - 4),
            )
            assert (told["done"], told["total"]) == (str(count), "700")
            for wanted in (now, now - 2):
                shown = person.large(str(wanted))
                assert shown == (wanted == now - 2)


def at_stage(sitting: Sitting, stage: str) -> bool:
    return sitting.state.place is not None and sitting.state.place.stage == stage


async def at_both_sizes(person: Person) -> list[list[str]]:
    """The line as it is drawn at each size."""
    lines = []
    for size in SIZES:
        await person.resize(*size)
        lines.append(person.line())
    return lines


def ink_rows(cells: list[str]) -> int:
    """The most rows one below the other with the ink of a numeral in them."""
    best = run = 0
    for row in cells:
        run = run + 1 if any(char in "█▀▄▌▐" for char in row) else 0
        best = max(best, run)
    return best


async def test_rule_05_tooth_and_side_are_at_least_five_rows_high(shed: Shed, size: tuple[int, int]) -> None:
    looked = set()
    for glance in (await whole_walk(shed, size)).glances:
        if glance.boxes()[0][1] == "done" and " FILE " in glance.rows()[0]:
            now = sought(PLACES, glance.places())["now"]
            assert glance.large(now), glance.text()
            side = sought(r"side (\d) of 2", glance.rows()[0])[1]
            rows = glance.rows()
            top = next(n for n, row in enumerate(rows) if f"SIDE {side}" in row)
            sign = [row[:13] if side == "2" else row[-13:] for row in rows[top + 1 : top + 9]]
            assert ink_rows(sign) >= 5
            looked.add((side, len(now)))
    assert looked == {("1", 1), ("1", 2), ("2", 1), ("2", 2)}


async def test_rule_06_the_side_is_told_by_word_place_and_shape(shed: Shed) -> None:
    signs = {}
    for side in (1, 2):
        async with shed.program(shed.at("file", side=side)) as person:
            for size in SIZES:
                await person.resize(*size)
                rows = person.rows()
                assert f"side {side} of 2" in rows[0]
                column = next(row.index(f"SIDE {side}") for row in rows if f"SIDE {side}" in row)
                assert column >= size[0] - 13 if side == 1 else column < 13
                assert ("handle ▶" in rows[0]) == (side == 1)
                assert ("◀ handle" in rows[0]) == (side == 2)
                line = person.line_row()
                assert line.endswith("▐█▌ heel") if side == 1 else line.startswith("heel ▐█▌")
                signs[side, size] = [row[-13:] if side == 1 else row[:13] for row in rows[2:9]]
    assert all(signs[1, size] != signs[2, size] for size in SIZES)


async def test_rule_06_no_side_is_named_before_the_turn_that_a_stage_begins_with(shed: Shed) -> None:
    sitting = shed.answered(shed.at("set", side=2), lambda s: at_stage(s, "file") and s.state.front.ask is Ask.CAUTION)
    assert sitting.state.side == 2
    async with shed.program(sitting) as person:
        for size in SIZES:
            await person.resize(*size)
            assert "FILE" in person.rows()[0]
            assert "◀ handle" in person.rows()[0]
            assert "side 2" not in person.text().lower()
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        assert "side 1 of 2" in person.rows()[0]


async def test_rule_06_turning_has_a_screen_of_its_own_item_by_item(shed: Shed, size: tuple[int, int]) -> None:
    sitting = shed.at("file", side=1, done=11)
    async with shed.program(sitting, size=size) as person:
        await person.press("space")
        await person.go_on(lambda p: p.boxes()[0][1] == "yes, done")
        items = [
            "Turn the saw end for end",
            "Turn the guide block's far face",
            "Turn the fleam guide",
            "in the vise, points at most 13 mm above its jaws",
        ]
        before, screens = len(person.marks_on_disk()), set()
        for number, item in enumerate([*items, "Find tooth 2, the second from the heel: it leans away from you."]):
            panel = person.panel()
            # Once it is round, the title is about what is left to do on the side that is up.
            assert ("Turn the saw to side 2" if number == 0 else "Side 2: before the first stroke") in panel
            assert item in person.words()
            screens.add(panel)
            await person.press("space", "pagedown")
            assert person.panel() == panel
            await person.press("y")
            assert len(person.marks_on_disk()) == before + number + 1
        assert len(screens) == 5
        made = person.marks_on_disk()[before:]
        assert [(m["did"], m.get("what"), m["side"]) for m in made] == [
            *(("acknowledged", what, 2) for what in ("saw", "guide", "fleam", "low")),
            ("turned", None, 2),
        ]
        assert "side 2 of 2" in person.rows()[0]
        # Beside the first gullet the back of tooth 1 is filed too.
        assert person.boxes()[0][1] == "both done"


async def test_rule_06_the_first_side_is_fitted_item_by_item(shed: Shed, size: tuple[int, int]) -> None:
    sitting = shed.answered(shed.sitting(without=(Stage.LEVEL, Stage.SET)), lambda s: s.state.front.ask is Ask.FIT)
    asked = {
        "lean": "Find tooth 1, at the heel: it leans away from you.",
        "guide": "Push the guide block on the file's tip, the edge that is marked as top up.",
        "rake": "Look at the block: rake 15°, its top edge level in the hands.",
        "fleam": "Set the fleam guide 20° off square, tip to the toe, on your left.",
    }
    async with shed.program(sitting, size=size) as person:
        for name, words in asked.items():
            assert words in person.words()
            assert f"◆ {name}" in person.panel()
            before = person.rows()
            await person.press("space", "pagedown")
            assert person.rows()[1:14] == before[1:14]
            await person.press("y")
            assert person.last()["what"] == ("first leans" if name == "lean" else name)
        assert person.boxes()[0][1] == "done"


async def test_rule_06_a_lean_that_differs_swaps_the_sides_and_says_so(shed: Shed) -> None:
    sitting = shed.answered(shed.sitting(without=(Stage.LEVEL,)), lambda s: s.state.front.ask is Ask.FIT)
    async with shed.program(sitting) as person:
        assert ("n", "differs") in person.boxes()
        await person.press("n", "1")
        for size in reversed(SIZES):
            await person.resize(*size)
            assert "Tooth 1 leans toward: sides swap, 2, 4 … lean away on side 1. Mend the recipe." in person.words()
            assert person.large("2")
            assert "next 4" in person.places()


async def test_rule_08_four_states_four_glyphs_and_all_of_it_from_the_log(shed: Shed) -> None:
    sitting = shed.at("file", side=1)
    async with shed.program(sitting) as person:
        await person.press("space", "2", "l", "2", "space")
        lines = await at_both_sizes(person)
        for line in lines:
            assert [line[tooth - 1] for tooth in (1, 3, 5, 7, 9, 11)] == ["■", "■", "×", "■", "◆", "·"]
            assert {line[tooth - 1] for tooth in range(2, 25, 2)} == {"─"}, "the teeth of the other side"
    async with shed.program(shed.reopened(sitting)) as person:
        assert await at_both_sizes(person) == lines
    kept = sorted(path.name for path in shed.till.path.rglob("*") if path.is_file())
    assert kept == [sitting.journal.path.name, "saw.toml"]


async def test_the_check_that_ends_a_side_still_belongs_to_that_side(shed: Shed) -> None:
    ended = shed.answered(shed.at("file", side=2), lambda s: at_stage(s, "dress") and s.state.front.ask is Ask.CHECK)
    async with shed.program(ended) as person:
        for size in SIZES:
            await person.resize(*size)
            assert "FILE  side 2 of 2" in person.rows()[0]
            assert "next pass" in person.words()
            assert "was gullet 24 the last one worked?" in person.words()
            assert "12 of 12 done" in person.places()
            assert "IN EFFECT: safety glasses" in person.words()
        await person.press("y")
        assert "DRESS" in person.rows()[0]


@pytest.mark.wide
async def test_what_is_known_of_teeth_stands_over_the_line_in_every_stage(shed: Shed) -> None:
    sitting = shed.sitting()
    for step, numbers in (("low teeth", "4"), ("broken teeth", "9")):
        shed.answered(sitting, partial(at_step, step=step))
        sitting.make(acts.measure(sitting.state, shed.clock.now(), step, numbers, unit="from the heel"))
    async with shed.program(sitting) as person:
        for stage in ("level", "set", "file", "dress"):
            await shed.brought(person, works_at(stage))
            for size in SIZES:
                await person.resize(*size)
                rows = person.rows()
                over = rows[next(n for n, row in enumerate(rows) if person.line_row() in row) - 1]
                assert "L" in over, stage
                assert "▂" in over, stage


def at_step(sitting: Sitting, step: str) -> bool:
    place = sitting.state.place
    return sitting.state.front.ask is Ask.WORK and place is not None and place.step == step
