"""Strokes given at a look again are added to those counted there; a look that asks for none keeps them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from bench_shed import Shed, works_at
from independent_log import read_independently
from session.cli import main
from session.desk.act_reply import QuestionKind
from session.desk.counted_questions import strokes
from session.desk.desk import Desk
from session.log.log_reader import read_log
from session.log.summary import summarize
from session.sentences.offers import Act
from session.walk.flagged_places import flags_asked
from session.walk.mark import Did
from session.walk.stages import LEFT_OUT_STEP, Stage
from session.walk.state import State

#: The strokes counted in the first gullets of side 1.
GIVEN = (1, 2, 3, 2)


@pytest.fixture
def shed(tmp_path: Path) -> Shed:
    return Shed(tmp_path)


@pytest.fixture
def desk(shed: Shed) -> Iterator[Desk]:
    """A desk at the list before the close, gullets counted on side 1, the second and fourth of them flagged."""
    desk = Desk(shed.at("file", side=1), guard_s=0.0, idle_s=60.0)
    for n, count in enumerate(GIVEN):
        if n in (1, 3):
            assert not desk.act(Act.FLAG).refused
        shed.clock.pass_s(5.0)
        assert not desk.act(Act.STROKES, count).refused
        shed.answered(desk.sitting, works_at("file"))
        desk.touched()
    shed.answered(desk.sitting, works_at("close", step=LEFT_OUT_STEP))
    assert counted(desk.sitting.state) == [1, 2, 3, 2]
    yield desk
    desk.sitting.close()


def counted(state: State) -> list[int]:
    """The strokes counted by gullet, in the order of the route."""
    return [mark.strokes for place in state.route.places if (mark := state.outcomes.get(place)) and mark.strokes]


def back(desk: Desk, shed: Shed, flag: int) -> str:
    """Go back to a flagged gullet, and hold the saw for it; what was said of going back."""
    desk.touched()
    note = desk.act(Act.STROKES, flag).note
    shed.answered(desk.sitting, works_at("file"))
    desk.touched()
    return note


def test_strokes_given_again_are_added_and_a_look_keeps_what_was_counted(
    desk: Desk, shed: Shed, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = flags_asked(desk.sitting.state)
    assert back(desk, shed, 1) == f"Back to {first}, flagged: look, what was counted stays."
    assert "It had 2 strokes; a digit adds more." in desk.moment.said.lines
    words = {offer.act: offer.word for offer in desk.moment.offers}
    assert (words[Act.DONE], words[Act.STROKES]) == ("no more", "more strokes")
    assert desk.act(Act.AS_ADVISED).refused, "what was advised for all of it is not advised once more"
    assert desk.act(Act.STROKES, 1).note == f"Marked {first} (2 and 1 more: 3 strokes)."
    assert counted(desk.sitting.state) == [1, 3, 3, 2]
    back(desk, shed, 1)
    assert desk.moment.place == second
    assert desk.act(Act.DONE).note == f"Looked again at {second}, nothing more; it keeps its 2 strokes."
    # The record says so, to the program and to another reader; each gullet counts once.
    sitting = desk.sitting
    assert counted(State.replay(sitting.plan, read_log(sitting.journal.path).marks)) == [1, 3, 3, 2]
    standing = read_independently(sitting.journal.path).standing()
    assert sum(mark.get("strokes", 0) for mark in standing) == 9
    told = summarize(sitting.state)
    assert told.strokes == {Stage.FILE: 9}
    assert sum(work.counted for work in told.files) == len(GIVEN)
    assert main(["show", str(sitting.journal.path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["summary"]["strokes"] == {"file": 9}


def test_left_out_at_the_look_again_a_gullet_keeps_what_was_counted(desk: Desk, shed: Shed) -> None:
    first = flags_asked(desk.sitting.state)[0]
    corners = [(work.gullets, work.counted, work.strokes) for work in summarize(desk.sitting.state).files]
    back(desk, shed, 1)
    assert desk.leave_out("a burr").note == f"Left out {first}, its 2 strokes kept: a burr"
    state = State.replay(desk.sitting.plan, read_log(desk.sitting.journal.path).marks)
    assert state.outcomes[first].did is Did.LEFT_OUT
    assert counted(state) == [1, 2, 3, 2]
    told = summarize(state)
    assert told.strokes == {Stage.FILE: 8}
    assert told.left_out == 1
    assert [(work.gullets, work.counted, work.strokes) for work in told.files] == corners, "the corner was worn by them"
    # Flagged again and gone back to, they are there still.
    while desk.moment.place != first:
        desk.act(Act.TAKE_BACK)
    assert counted(desk.sitting.state) == [1, 3, 2]
    desk.act(Act.FLAG)
    desk.leave_out("a burr")
    back(desk, shed, 1)
    assert desk.moment.place == first
    assert "It had 2 strokes; a digit adds more." in desk.moment.said.lines
    assert desk.act(Act.STROKES, 1).note == f"Marked {first} (2 and 1 more: 3 strokes)."
    assert counted(desk.sitting.state) == [1, 3, 3, 2]


def test_taken_back_it_counts_as_before_and_a_second_look_adds_to_both(desk: Desk, shed: Shed) -> None:
    first = flags_asked(desk.sitting.state)[0]
    back(desk, shed, 1)
    desk.act(Act.STROKES, 2)
    assert counted(desk.sitting.state) == [1, 4, 3, 2]
    desk.act(Act.TAKE_BACK)
    assert desk.moment.place == first
    desk.act(Act.FLAG)
    desk.act(Act.STROKES, 1)
    assert counted(desk.sitting.state) == [1, 3, 3, 2]
    back(desk, shed, 1)
    assert desk.moment.place == first
    desk.act(Act.STROKES, 4)
    assert counted(desk.sitting.state) == [1, 7, 3, 2]


def test_a_silence_and_a_place_set_by_hand_keep_the_count_too(desk: Desk, shed: Shed) -> None:
    first, second = flags_asked(desk.sitting.state)
    back(desk, shed, 1)
    shed.clock.pass_s(4000.0)
    assert "without a key" in desk.act(Act.DONE).note
    desk.act(Act.STROKES, 1)
    assert desk.sitting.state.outcomes[first].strokes == 2
    back(desk, shed, 1)
    places = desk.sitting.state.route.places
    desk.set_place(places[places.index(second) + 1])
    assert desk.sitting.state.outcomes[second].strokes == 2


def test_more_strokes_than_a_gullet_may_have_are_not_asked_for(desk: Desk, shed: Shed) -> None:
    back(desk, shed, 1)
    assert desk.act(Act.STROKES, 0).opens is QuestionKind.STROKES
    asked = strokes(desk)
    assert asked.title == f"How many more strokes in {desk.moment.place}?"
    assert asked.hint == "1 to 97"
    assert asked.check is not None
    assert (asked.check("97"), asked.check("98")) == (None, '"98" strokes; allowed: 1 to 97')
