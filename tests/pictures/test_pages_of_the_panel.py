"""The panel's pages: nothing that is said is lost in a small room, and the first page answers what a hand asks."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from moments_met import AT, CROSSCUT, RIP, moments
from session.pictures.chooser import picture
from session.pictures.panel_layout import Panel, panel
from session.pictures.picture_rows import Role
from session.sentences.moment import Moment
from session.texts.guidance import Level
from session.texts.wording import LEVELED
from session.trade.lengths import Length
from session.trade.saw import Saw
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.stages import Kind, Stage

#: The rooms that the panel has at 80 by 24: beside the numerals of a tooth, and alone at a step.
BESIDE, ALONE = (36, 13), (64, 13)

#: What the first page and the row under it say of the tool, how it is held and where it goes, by what is worked.
TOLD = {
    (Stage.LEVEL, Kind.PASS): ("flat mill file", "square block", "stand", "push", "heel to toe", LEVELED),
    (Stage.SET, Kind.TOOTH): (
        "with the saw set",
        "held upright here",
        "saw in vise",
        "on your side",
        "away from you",
        "on the anvil",
    ),
    (Stage.RESHAPE, Kind.GULLET): (
        "triangular file",
        "handle and block level",
        "stand",
        "push away",
        "square across",
        "stop",
    ),
    (Stage.FILE, Kind.GULLET): ("triangular file", "handle and block level", "stand", "push away", "stop"),
    (Stage.DRESS, Kind.PASS): (
        "oilstone",
        "flat on the bench",
        "handle off the end",
        "stand",
        "lightly",
        "heel to toe",
        "once",
    ),
}


#: Columns of the words where the picture of a step stands beside them in the room `ALONE`.
NARROW = 34


def words(paged: Panel, *numbers: int) -> str:
    """What stands on the pages of these numbers, read from the left to the right, and without what is beside it."""
    pages = [paged.page(number) for number in numbers] if numbers else list(paged.pages)
    rows = ["".join(run.text for run in row) for page in pages for row in page]
    return " ".join((*rows, *(row[:NARROW] for row in rows)))


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def room_of(at: Moment) -> tuple[int, int]:
    return BESIDE if at.said.counted else ALONE


@pytest.mark.parametrize("ascii_only", [False, pytest.param(True, marks=pytest.mark.wide)])
@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_rule_31_every_sentence_stands_on_a_page_and_each_page_says_which_it_is(saw: Saw, ascii_only: bool) -> None:
    several = 0
    for at in moments(saw, reshape=True, graded=True):
        width, height = room_of(at)
        paged = panel(at, width, height, ascii=ascii_only, turns=("Down reads on", "Down from the top"))
        read = flat(words(paged))
        for sentence in (*at.said.choices, *(at.said.lines if not ascii_only else ())):
            assert flat(sentence).strip() in read, (at.said.title, sentence)
        for number, page in enumerate(paged.pages, 1):
            assert len(page) == height
            assert {sum(len(run.text) for run in row) <= width for row in page} == {True}
            if len(paged.pages) > 1:
                several += 1
                foot = "".join(run.text for run in page[-1]).rstrip()
                turns = "from the top" if number == len(paged.pages) else "reads on"
                assert foot == f"{number} of {len(paged.pages)}   Down {turns}"
        assert paged.page(len(paged.pages)) == paged.page(0), "after the last comes the first again"
    assert several > 10


@pytest.mark.parametrize("level", [Level.TAUGHT, Level.BRIEF])
@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_rule_31_the_first_page_tells_tool_hold_place_direction_and_stop(saw: Saw, level: Level) -> None:
    met = set()
    for at in moments(saw, level, reshape=True):
        place, said = at.place, at.said
        if at.front.ask is not Ask.WORK or place is None:
            continue
        first = flat(words(panel(at, *room_of(at)), 0) + " " + said.instruction).lower()
        if place.kind is Kind.STEP:
            if place.step != "plan":
                assert re.search(r"\bwith (?:a|an|eyes|both|the|your|chalk)\b|no tool:", first), first
            continue
        wanted = TOLD[place.stage, place.kind]
        assert not [word for word in wanted if word not in first and not said.instruction.startswith("No")], first
        assert said.numeral.isdecimal()
        assert said.counted
        met.add((place.stage, place.kind))
    assert met == set(TOLD)


@pytest.mark.parametrize("level", [Level.TAUGHT, Level.BRIEF])
@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_rule_31_page_one_of_a_step_tells_when_to_stop(saw: Saw, level: Level) -> None:
    met = set()
    for at in (*moments(saw, level), *moments(saw, level, reshape=True, graded=True)):
        place = at.place
        if at.front.ask is Ask.WORK and place is not None and place.kind is Kind.STEP and place.step != "plan":
            met.add(place.stage)
            assert re.search(r"\bStop (?:when|at)\b", flat(words(panel(at, *ALONE), 0))), place
    assert {Stage.LOOK_OVER, Stage.LEVEL, Stage.PROVE, Stage.CLOSE} <= met


@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_rule_31_what_is_found_put_on_or_turned_has_its_picture_on_the_first_page(saw: Saw) -> None:
    met = set()
    for at in moments(saw, reshape=True):
        now = at.front
        if now.ask in (Ask.CHECK, Ask.FIT, Ask.TURN) and now.place is not None and now.place.tooth:
            met.add((now.ask, now.name))
            roles = {run.role for row in panel(at, *BESIDE).page(0) for run in row}
            assert roles & {Role.STEEL, Role.FILE, Role.BLOCK, Role.VISE}, (now, at.said.title)
        if now.ask is Ask.CHECK and now.place is not None and now.place.tooth:
            drawn = flat(words(panel(at, *BESIDE), 0))
            assert "last worked" in drawn
            assert saw.from_heel(now.place.tooth) in drawn
    assert {ask for ask, _ in met} == {Ask.CHECK, Ask.FIT, Ask.TURN}


def test_rule_31_the_place_to_be_found_again_has_its_picture_in_the_smallest_room() -> None:
    met = 0
    for at in moments(CROSSCUT):
        if at.front.ask is Ask.WORK and at.place is not None and at.place.kind is Kind.GULLET:
            found = Moment(at.state.after(acts.resume(at.state, AT, after="pause", seconds=9.0)), CROSSCUT, at.level)
            page = panel(found, *BESIDE).page(0)
            assert Role.STEEL in {run.role for row in page for run in row}, at.place
            assert f" {at.place.tooth} " in "".join(run.text for run in page[-2]), at.place
            met += 1
    assert met == CROSSCUT.points


def test_rule_31_a_second_face_that_the_words_name_is_drawn_too() -> None:
    met = set()
    for at in moments(RIP, reshape=True):
        if at.front.ask is Ask.WORK and at.place is not None and at.place.kind is Kind.GULLET:
            shown = picture(at, 60, 13, ascii=False)
            marked = any("then" in "".join(run.text for run in row) for row in shown.draw())
            assert marked == any("the back of tooth 1" in line for line in at.said.lines), at.place
            met.add((at.place.stage, marked))
    assert met == {(stage, marked) for stage in (Stage.RESHAPE, Stage.FILE) for marked in (False, True)}


@pytest.mark.parametrize("saw", [CROSSCUT, replace(CROSSCUT, toothed_length=Length.of(83.5))], ids=["in", "mm"])
def test_no_row_ends_between_a_number_and_its_unit(saw: Saw) -> None:
    parted, units = [], 0
    for at in moments(saw, reshape=True, graded=True):
        width, height = room_of(at)
        for page in panel(at, width, height).pages:
            rows = [
                "".join(run.text for run in row)[: NARROW if width > NARROW + 20 else width].rstrip() for row in page
            ]
            units += sum(bool(re.search(r"\d (?:in|mm|min)\b", row)) for row in rows)
            parted += [
                pair for pair in pairwise(rows) if re.search(r"\d$", pair[0]) and re.match(r"(in|mm|min)\b", pair[1])
            ]
    assert not parted
    assert units > 50


@pytest.mark.parametrize("height", [0, 1, 2, 5, 13, 40])
def test_any_room_is_filled_exactly(height: int) -> None:
    for at in moments(CROSSCUT, graded=True):
        for page in panel(at, 38, height).pages:
            assert len(page) == height
