"""Two keys a tooth at the desk: the width of a flat, then its place on the strip, in digits and plain words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.log_reader import read_log
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.trade.strip_readings import QUARTER
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

CLOCK = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A crosscut carcass saw, its flats to be graded on a strip: tooth 1 in hand."""
    found = load_recipe(find_recipe("carcass", []))
    sitting = Sitting.start(tmp_path, found, make_plan(found.saw, leave_out=frozenset({Stage.SET})), CLOCK)
    at = Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9)
    go_on(at, Stage.LEVEL, step="flats")
    assert at.moment.said.choices[3] == "grade them on a strip"
    assert not at.act(Act.STROKES, 4).refused
    yield at
    sitting.close()


def go_on(desk: Desk, stage: Stage, *, step: str = "") -> None:
    """Answer whatever is asked, grading 2 and telling places in turn, until ``stage`` and ``step`` are in hand."""
    told = 0
    for _ in range(3000):
        CLOCK.pass_s(1.0)
        now, place = desk.moment.front, desk.moment.place
        if now.ask is Ask.WORK and place is not None and place.stage is stage and place.step == step:
            return
        if now.ask.holds:
            reply = desk.act(Act.AGREE)
        elif place is not None and place.on_strip and now.ask is Ask.WORK:
            told += 1
            reply = desk.act(Act.STROKES, 1 + told % 9)
        elif place is not None and place.stage is Stage.LEVEL and place.step and now.ask is Ask.WORK:
            reply = desk.act(Act.STROKES, 1)
        elif place is not None and place.stage is Stage.LEVEL and place.tooth and now.ask is Ask.WORK:
            reply = desk.act(Act.STROKES, 3)
        else:
            reply = desk.act(Act.DONE)
        assert not reply.refused, reply
    raise AssertionError("never came there")


@pytest.mark.parametrize(
    ("digit", "quarters", "words"),
    [
        (1, 4, "a whole width or more toward the toe"),
        (4, 1, "a quarter toward the toe"),
        (5, 0, "on its mark"),
        (7, -2, "half toward the heel"),
        (9, -4, "a whole width or more toward the heel"),
    ],
)
def test_the_second_digit_tells_the_place_and_says_it(desk: Desk, digit: int, quarters: int, words: str) -> None:
    assert desk.moment.said.title == "Grade the flats"
    assert desk.act(Act.STROKES, 2).note == "Graded tooth 1: 2."
    assert desk.moment.said.title == "Place on the strip"
    assert desk.act(Act.STROKES, digit).note == f"Told tooth 1: {words}."
    assert (desk.moment.said.title, desk.moment.said.numeral) == ("Grade the flats", "2")
    mark = read_log(desk.sitting.journal.path).marks[-1]
    assert (mark.stage, mark.tooth, mark.step, mark.value, mark.unit) == (Stage.LEVEL, 1, "strip", quarters, QUARTER)


def test_the_advance_key_tells_nothing_and_says_so(desk: Desk) -> None:
    desk.act(Act.STROKES, 2)
    assert desk.moment.offers[0].word == "not told"
    assert desk.act(Act.DONE).note == "Skipped: where flat 1 lies."
    assert desk.moment.state.marks[-1].value is None
    assert desk.moment.said.numeral == "2"


def test_zero_lays_the_strip_aside_and_take_back_takes_it_up(desk: Desk) -> None:
    desk.act(Act.STROKES, 2)
    assert "laid aside" in desk.act(Act.STROKES, 0).note
    assert desk.moment.said.previous == "strip laid aside at 1"
    for _ in range(3):
        assert desk.moment.said.title == "Grade the flats"
        desk.act(Act.STROKES, 2)
    for _ in range(4):
        desk.act(Act.TAKE_BACK)
    assert desk.moment.said.title == "Place on the strip"


def test_a_flat_that_is_none_is_not_asked_for(desk: Desk) -> None:
    desk.act(Act.STROKES, 0)
    assert (desk.moment.said.title, desk.moment.said.numeral) == ("Grade the flats", "2")


def test_other_numbers_are_refused_in_words(desk: Desk) -> None:
    desk.act(Act.STROKES, 2)
    reply = desk.act(Act.STROKES, 12)
    assert reply.refused
    assert reply.note == "12: allowed: 1 to 9, or 0 to lay the strip aside."
    assert desk.act(Act.ANSWER).refused
    assert desk.act(Act.TIMER).refused


def test_grade_as_before_is_still_the_grade(desk: Desk) -> None:
    desk.act(Act.STROKES, 3)
    desk.act(Act.STROKES, 9)
    assert desk.act(Act.DONE).note == "Graded tooth 2: 3, as before."


def test_told_at_every_tooth_the_gullets_name_their_shares(desk: Desk) -> None:
    go_on(desk, Stage.FILE)
    said = set()
    while desk.moment.place is not None and desk.moment.place.stage is Stage.FILE:
        CLOCK.pass_s(1.0)
        if desk.moment.front.ask is Ask.WORK:
            said.add(desk.moment.said.instruction)
        desk.act(Act.AGREE if desk.moment.front.ask.holds else Act.DONE)
    assert sum(" of flat " in one for one in said) > len(said) // 3
    assert all("flat" in one for one in said)


def test_the_place_set_by_hand_goes_back_to_the_grade_of_its_tooth(desk: Desk) -> None:
    for _ in range(3):
        desk.act(Act.STROKES, 2)
        desk.act(Act.STROKES, 6)
    places = {str(place): place for place in desk.moment.state.route.places}
    assert not desk.set_place(places["tooth 2"]).refused
    assert (desk.moment.said.title, desk.moment.said.numeral) == ("Grade the flats", "2")
    assert dict(desk.moment.state.tally.readings_of(1)) == {1: -1}


def test_once_all_is_told_the_gain_is_said_at_the_flats(desk: Desk) -> None:
    go_on(desk, Stage.LEVEL, step="flats")
    (said,) = [line for line in desk.moment.said.lines if line.startswith("Worst spacing error by the strip")]
    halved, shared = (int(thou) for thou in re.findall(r"(\d+) thou", said))
    assert shared < halved


def test_where_the_zone_has_the_instruction_the_shares_stand_beside_it(tmp_path: Path) -> None:
    text = find_recipe("progressive-rip", []).read_text(encoding="utf-8")
    file = tmp_path / "two-rakes.toml"
    file.write_text(text.replace("points_per_inch = 5.5", "points_per_inch = 5.5\nrake = 4"), encoding="utf-8")
    found = load_recipe(file)
    left_out = frozenset({Stage.SET, Stage.RESHAPE, Stage.DRESS})
    sitting = Sitting.start(tmp_path / "zones", found, make_plan(found.saw, leave_out=left_out), CLOCK)
    at = Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9)
    go_on(at, Stage.LEVEL, step="flats")
    at.act(Act.STROKES, 4)
    go_on(at, Stage.FILE)
    changes = []
    while at.moment.place is not None and at.moment.place.stage is Stage.FILE:
        CLOCK.pass_s(1.0)
        said = at.moment.said
        if at.moment.front.ask is Ask.WORK and said.instruction.startswith("Guide block"):
            assert "Triangular file, handle and block level; stand at gullet, push away." in said.lines
            changes.append(said.lines[0])
        at.act(Act.AGREE if at.moment.front.ask.holds else Act.DONE)
    sitting.close()
    assert changes
    assert any(line.startswith("Here: ") and " of flat " in line for line in changes)
