"""A trial cut that is said to be good, held against the figures told of it: asked about, or taken at its word."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from after_the_cut import AfterTheCut
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.cut_verdict import ALL_THE_SAME, IT_WANDERS
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import GOOD, Measurable
from session.walk.stages import Stage


@pytest.mark.parametrize(
    ("answer", "verdict", "opens"), [(IT_WANDERS, "wanders", QuestionKind.REMEDY), (ALL_THE_SAME, GOOD, None)]
)
def test_a_good_cut_far_off_its_line_is_asked_about_and_either_answer_holds(
    after: Callable[..., AfterTheCut], answer: str, verdict: str, opens: QuestionKind | None
) -> None:
    at = after("")
    at.measured("12 in, 3/4 in, 40 strokes, 3 mm right")
    place, marks = at.desk.moment.place, len(at.sitting.state.marks)
    reply = at.good()
    assert reply.opens is QuestionKind.CUT_DOUBT
    assert (at.desk.moment.place, len(at.sitting.state.marks)) == (place, marks), "nothing is marked before the answer"
    question = questions(at.desk, QuestionKind.CUT_DOUBT, {})
    # 3 mm over 12 in are a third of that over 4 in: 1 mm, as an inch saw is told of it.
    told = "Told: 3 mm in 12 in to the right, 0.04 in over 4 in; from 0.02 in over 4 in on it wanders."
    assert question.lines[0] == told
    assert question.choices == (IT_WANDERS, ALL_THE_SAME)
    assert question.then is not None
    assert question.then(answer).opens is opens
    assert at.verdict() == verdict
    assert at.desk.moment.place != place


CUT = "12 in, 3/4 in, 40 strokes"


@pytest.mark.parametrize("figures", [CUT, f"{CUT}, 1 mm right", f"{CUT}, 0", f"{CUT}, on the line", ""])
def test_a_good_cut_near_its_line_or_without_figures_is_taken_at_its_word(
    after: Callable[..., AfterTheCut], figures: str
) -> None:
    at = after("")
    if figures:
        at.measured(figures)
    reply = at.good()
    assert reply.opens is None
    assert reply.note.startswith("Proved")
    assert at.verdict() == GOOD


def test_figures_of_an_earlier_cut_contradict_no_later_one(after: Callable[..., AfterTheCut]) -> None:
    at = after("")
    at.measured("12 in, 3/4 in, 40 strokes, 3 mm left")
    at.digit(MEASURABLES[Measurable.TRIAL_CUT].choices.index("rough") + 1)
    question = at.remedies()
    assert question.then is not None
    question.then(question.choices[0])
    at.go_to(Stage.PROVE)
    assert at.good().opens is None
    assert at.verdict() == GOOD
