"""At the check that ends a side a yes leads to the open flags first; leaving them open is an answer of its own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bench_shed import Shed
from session.desk.desk import Desk
from session.log.sitting import Sitting
from session.sentences.offers import Act
from session.walk.flagged_places import MOST_ASKED, flags_asked, open_flags
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import Stage


def _ends(sitting: Sitting) -> bool:
    place = sitting.state.front.place
    if sitting.state.front.ask is not Ask.CHECK or place is None or place.stage is not Stage.FILE:
        return False
    return place == sitting.state.route.leg_at(sitting.state.route.index[place])[0].places[-1]


def _ended(shed: Shed, flags: int) -> Desk:
    """A desk at the check that ends side 1, its first so many gullets flagged."""
    desk = Desk(shed.at("file", side=1), guard_s=0.0, idle_s=9e9)
    for _ in range(flags):
        assert not desk.act(Act.FLAG).refused
        shed.clock.pass_s(5.0)
        assert not desk.act(Act.DONE).refused
        shed.answered(desk.sitting, lambda sitting: sitting.state.front.ask is Ask.WORK)
    shed.answered(desk.sitting, _ends)
    return desk


@pytest.fixture
def shed(tmp_path: Path) -> Shed:
    return Shed(tmp_path)


@pytest.fixture
def ended(shed: Shed) -> Iterator[Desk]:
    desk = _ended(shed, 2)
    yield desk
    desk.sitting.close()


def test_it_says_how_many_are_open_and_offers_both(ended: Desk) -> None:
    said = ended.moment.said
    assert "2 flags of this side are open: look there before you go on." in said.lines
    assert said.choices == (
        "look again: file, side 1: gullet 1",
        "look again: file, side 1: gullet 3",
        "the place agrees: go on, 2 flags left open",
    )
    assert (said.offers[0].act, said.offers[0].word) == (Act.AGREE, "look again")
    assert said.instruction == "Look again at gullet 1 first?", "the question is the one that a yes answers"


def test_a_yes_leads_to_one_flag_after_the_other_and_then_agrees(shed: Shed, ended: Desk) -> None:
    for tooth in (1, 3):
        assert not ended.act(Act.AGREE).refused
        assert ended.moment.place is not None
        assert ended.moment.place.tooth == tooth
        # It may lie in another reach of the vise.
        shed.answered(ended.sitting, _ends)
        assert ended.moment.front.ask is Ask.CHECK
    assert ended.moment.said.offers[0].word == "agrees"
    assert ended.moment.said.instruction.endswith("the last one worked?")
    assert ended.moment.said.choices == ()
    ended.act(Act.AGREE)
    assert ended.sitting.state.marks[-1].did is Did.CHECKED
    assert open_flags(ended.sitting.state) == ()


def test_they_are_left_open_by_a_digit_of_its_own(ended: Desk) -> None:
    assert ended.act(Act.STROKES, 4).note == "4: allowed: 1 to 3."
    flags = flags_asked(ended.sitting.state)
    ended.act(Act.STROKES, 3)
    assert ended.sitting.state.marks[-1].did is Did.CHECKED
    assert open_flags(ended.sitting.state) == flags


def test_with_many_flags_there_is_a_digit_left_to_go_on(tmp_path: Path) -> None:
    desk = _ended(Shed(tmp_path), MOST_ASKED + 1)
    assert len(open_flags(desk.sitting.state)) == MOST_ASKED + 1
    assert len(desk.moment.said.choices) == MOST_ASKED + 1
    desk.act(Act.STROKES, MOST_ASKED + 1)
    assert desk.sitting.state.marks[-1].did is Did.CHECKED
    desk.sitting.close()
