"""One key counts the strokes that are advised in the gullet in hand; a count of two digits is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bench_shed import Shed
from golden_bench import PANEL_SAW, Worker, at, begun
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act, Offer
from session.walk.mark import Did, Mark
from session.walk.stages import Stage


@pytest.fixture
def filing(tmp_path: Path) -> Iterator[Callable[[bool], Desk]]:
    """A desk at the first gullet to be filed of the panel saw, its flats graded or not."""
    made: list[Sitting] = []

    def begin(graded: bool) -> Desk:
        shed = Shed(tmp_path / str(len(made)))
        sitting = Worker(begun(PANEL_SAW, shed), shed.clock, grading=graded).until(at(Stage.FILE, 1, side=1))
        made.append(sitting)
        return Desk(sitting, guard_s=0.0, idle_s=9e9)

    yield begin
    for one in made:
        one.close()


def last(desk: Desk) -> Mark:
    return desk.sitting.state.marks[-1]


def test_one_key_counts_what_is_advised_and_its_box_says_how_many(filing: Callable[[bool], Desk]) -> None:
    desk = filing(True)
    advised, here = desk.moment.expected.strokes, desk.moment.place
    assert advised
    words = "1 stroke" if advised == 1 else f"{advised} strokes"
    assert Offer(Act.AS_ADVISED, words) in desk.moment.offers
    reply = desk.act(Act.AS_ADVISED)
    assert reply.note == f"Marked {here} ({words})."
    assert (last(desk).did, last(desk).strokes) == (Did.DONE, advised)


def test_where_no_count_is_advised_the_key_is_not_offered_and_marks_nothing(filing: Callable[[bool], Desk]) -> None:
    desk = filing(False)
    assert desk.moment.expected.strokes is None
    assert Act.AS_ADVISED not in [offer.act for offer in desk.moment.offers]
    before = desk.sitting.state
    assert desk.act(Act.AS_ADVISED).refused
    assert desk.sitting.state is before


def test_after_a_silence_the_advised_count_waits_for_its_answer_like_a_digit(filing: Callable[[bool], Desk]) -> None:
    desk = filing(True)
    advised = desk.moment.expected.strokes
    impatient = Desk(desk.sitting, guard_s=0.0, idle_s=60.0)
    impatient.touched()
    clock = desk.sitting.clock
    assert isinstance(clock, SetClock)
    clock.pass_s(3600.0)
    impatient.act(Act.AS_ADVISED)
    assert last(desk).did is Did.RESUMED
    impatient.act(Act.STROKES, 1)
    assert (last(desk).did, last(desk).strokes) == (Did.DONE, advised)


def test_what_was_counted_into_a_silence_is_of_the_place_it_was_pressed_at(filing: Callable[[bool], Desk]) -> None:
    desk = filing(False)
    desk.act(Act.STROKES, 2)
    before, clock = desk.moment.place, desk.sitting.clock
    impatient = Desk(desk.sitting, guard_s=0.0, idle_s=60.0)
    impatient.touched()
    assert isinstance(clock, SetClock)
    clock.pass_s(3600.0)
    impatient.act(Act.STROKES, 4)
    assert impatient.moment.said.choices[0] == "filed, 4 strokes: mark it and go on"
    impatient.act(Act.TAKE_BACK)
    assert impatient.moment.place != before
    assert impatient.moment.said.choices[0] == "filed: mark it and go on"
    impatient.act(Act.STROKES, 1)
    assert (last(desk).did, last(desk).strokes) == (Did.DONE, None)


@pytest.mark.parametrize(("text", "wrong"), [("12", False), ("99", False), ("100", True), ("0", True), ("²", True)])
def test_a_count_of_two_digits_is_asked_for(filing: Callable[[bool], Desk], text: str, wrong: bool) -> None:
    desk = filing(True)
    assert desk.act(Act.STROKES, 0).opens is QuestionKind.STROKES
    question = questions(desk, QuestionKind.STROKES, {})
    assert (question.check(text) is not None) is wrong
    if not wrong:
        assert question.then is not None
        assert not question.then(text).refused
        assert last(desk).strokes == int(text)
