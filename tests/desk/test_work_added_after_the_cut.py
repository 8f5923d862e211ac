"""After the trial cut: asking for more work marks nothing, whatever is chosen, and the cut is made again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from after_the_cut import FAULTS, AfterTheCut
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.sentences.offers import Act
from session.walk.added_work import CUT_IS_GOOD
from session.walk.mark import Did
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import TRIAL_CUT_STEP, Stage


@pytest.mark.parametrize("fault", FAULTS)
def test_every_remedy_only_adds_places(after: Callable[..., AfterTheCut], fault: str) -> None:
    at = after(fault)
    choices = at.remedies().choices
    assert len(choices) > 1
    for choice in choices:
        before, places = at.outcomes, len(at.sitting.state.route.places)
        question = at.remedies()
        assert question.then is not None
        assert not question.then(choice).refused
        assert at.outcomes == before, "what was asked for was marked as done"
        if len(at.sitting.state.route.places) > places:
            assert at.desk.moment.place is not None
            assert at.desk.moment.place not in before
            # Taken back one by one, so that the next remedy is asked for at the same place.
            while at.sitting.state.added:
                at.clock.pass_s(2.0)
                assert not at.desk.act(Act.TAKE_BACK).refused


def test_a_leveling_remedy_levels_then_files_only_what_shines_then_cuts_again(
    after: Callable[..., AfterTheCut],
) -> None:
    at = after("jumps")
    state = at.sitting.state
    (level,) = [choice for choice in at.remedies().choices if "Level once" in choice]
    question = at.remedies()
    assert question.then is not None
    question.then(level)
    legs = at.sitting.state.route.legs[len(state.route.legs) - 1 :]
    assert [leg.stage for leg in legs][:5] == [Stage.LEVEL, Stage.LEVEL, Stage.FILE, Stage.FILE, Stage.PROVE]
    at.go_to(Stage.FILE)
    assert at.desk.moment.said.instruction.startswith("Only where a flat shines")
    at.go_to(Stage.PROVE)
    place = at.desk.moment.place
    assert place is not None
    assert (place.step, place.round) == (TRIAL_CUT_STEP, 2)


def test_filing_a_little_more_speaks_of_no_flat(after: Callable[..., AfterTheCut]) -> None:
    at = after("slow")
    (bright,) = [choice for choice in at.remedies().choices if "point shines" in choice]
    question = at.remedies()
    assert question.then is not None
    question.then(bright)
    at.go_to(Stage.FILE)
    words = at.desk.moment.said.instruction
    assert "point shines" in words
    assert "flat" not in words


def test_what_takes_no_steel_is_followed_by_another_cut_alone(after: Callable[..., AfterTheCut]) -> None:
    at = after("wanders")
    question = at.remedies()
    assert question.then is not None
    question.then(question.choices[0])
    place = at.sitting.state.place
    assert place == Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=2)


def test_one_key_goes_back_to_a_flagged_place_before_the_close(after: Callable[..., AfterTheCut]) -> None:
    at = after("slow")
    (bright,) = [choice for choice in at.remedies().choices if "point shines" in choice]
    question = at.remedies()
    assert question.then is not None
    question.then(bright)
    at.go_to(Stage.FILE)
    flagged = at.sitting.state.place
    at.clock.pass_s(2.0)
    assert not at.desk.act(Act.FLAG).refused
    at.go_to(Stage.CLOSE)
    assert at.desk.moment.said.choices == (f"look again: file, side 1: {flagged}",)
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.STROKES, 2).refused
    at.digit(1)
    assert at.sitting.state.place == flagged
    at.go_to(Stage.CLOSE)
    assert list(at.desk.moment.said.choices) == []


def _dressed(folder: Path, fault: str) -> AfterTheCut:
    return AfterTheCut(folder, fault, left_out=frozenset({Stage.LEVEL, Stage.SET}))


def _choose(at: AfterTheCut, words: str) -> Reply:
    question = at.remedies()
    assert question.then is not None
    return question.then(next(choice for choice in question.choices if words in choice))


@pytest.mark.parametrize(("fault", "words"), [("slow", "point shines"), ("jumps", "Level once")])
def test_added_filing_is_dressed_before_the_cut_is_made_again(tmp_path: Path, fault: str, words: str) -> None:
    at = _dressed(tmp_path, fault)
    before = at.sitting.state.route.legs
    assert not _choose(at, words).refused
    stages = [leg.stage for leg in at.sitting.state.route.legs[len(before) - 1 :]]
    # Each side is dressed, and then the set is measured as it will be used.
    dressed = [Stage.DRESS] * 3
    assert stages[-7:] == [Stage.FILE, Stage.FILE, *dressed, Stage.PROVE, Stage.CLOSE]
    assert stages.count(Stage.PROVE) == 1
    at.go_to(Stage.DRESS)
    at.go_to(Stage.PROVE)
    assert at.sitting.state.place == Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=2)
    at.sitting.close()


def test_a_good_cut_leaves_out_what_was_added_and_not_begun(after: Callable[..., AfterTheCut]) -> None:
    at = after("jumps")
    _choose(at, "Uneven set")
    assert [one.stage for one in at.sitting.state.added] == [Stage.SET, Stage.DRESS]
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    at.digit(1)
    assert [one.stage for one in at.sitting.state.added] == [Stage.SET]
    assert (at.sitting.state.marks[-1].did, at.sitting.state.marks[-1].reason) == (Did.TOOK_BACK, CUT_IS_GOOD)
    place = at.sitting.state.place
    assert place is not None
    assert place.stage is Stage.CLOSE


def test_a_cut_that_is_still_not_good_goes_on_with_the_remedy(after: Callable[..., AfterTheCut]) -> None:
    at = after("jumps")
    _choose(at, "Uneven set")
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    at.digit(1 + MEASURABLES[Measurable.TRIAL_CUT].choices.index("jumps"))
    assert [one.stage for one in at.sitting.state.added] == [Stage.SET, Stage.DRESS]
    at.go_to(Stage.DRESS)


def test_one_take_back_undoes_what_one_press_added(tmp_path: Path) -> None:
    at = _dressed(tmp_path, "slow")
    question = questions(at.desk, QuestionKind.MORE, {})
    assert question.then is not None
    places = at.sitting.state.route.places
    assert not question.then("file lightly once more, both sides").refused
    assert [one.stage for one in at.sitting.state.added] == [Stage.FILE, Stage.DRESS]
    at.clock.pass_s(2.0)
    reply = at.desk.act(Act.TAKE_BACK)
    assert not reply.refused
    assert reply.note.endswith("and what it went with.")
    assert at.sitting.state.added == ()
    assert at.sitting.state.route.places == places
    at.sitting.close()
