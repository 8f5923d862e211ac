"""What is said of the share that each gullet takes of its flats, where it was told where they lie."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import panel_saw
from moments_met import CROSSCUT, states
from session.pictures.chooser import crossing, picture
from session.pictures.materials import FILE
from session.rehearsal.eyes import SHARES_MEANT
from session.sentences.flat_shares import share_word, shares_to_stop_at
from session.sentences.instruction import ROOM, GulletWork, gullet_words
from session.sentences.moment import Moment
from session.trade.evening import EveningPlan, Lean
from session.trade.graded_line import GradedLine
from session.trade.grades import SHARES
from session.trade.strip_plan import plan_by_strip
from session.walk.front_question import Ask
from session.walk.stages import Stage

flats = st.lists(st.tuples(st.integers(0, 5), st.integers(-4, 4)), min_size=3, max_size=12)


def plan_of(told: list[tuple[int, int]]) -> EveningPlan:
    shares = [SHARES[grade] for grade, _ in told]
    readings = {tooth: quarters for tooth, (_, quarters) in enumerate(told, 1)}
    return plan_by_strip(GradedLine([share * 3.6 for share in shares], 3.6, 2.6, 0.9, grades=shares), readings)


@given(flats, st.data())
def test_the_words_are_those_of_the_share_and_half_only_where_it_is_half(
    told: list[tuple[int, int]], data: st.DataObject
) -> None:
    plan = plan_of(told)
    gullet = data.draw(st.integers(1, len(told)))
    said = shares_to_stop_at(plan, gullet, set())
    taken = {
        tooth: share
        for tooth, share in ((gullet, plan.share_front[gullet - 1]), (gullet + 1, _behind(plan, gullet)))
        if share is not None
    }
    if not said:
        assert all(share_word(share) == "half" for share in taken.values())
    for words in said:
        found = re.findall(r"([a-z0-9/ ]+?) of (?:flat )?(\d+)", words)
        assert {int(tooth) for _, tooth in found} == set(taken)
        for word, tooth in found:
            # Each word stands for shares no further from it than a sixth of the flat.
            assert SHARES_MEANT[word.strip()] == pytest.approx(taken[int(tooth)], abs=1 / 6)


def _behind(plan: EveningPlan, gullet: int) -> float | None:
    ahead = plan.share_front[gullet] if gullet < len(plan.share_front) else None
    return None if ahead is None else 1.0 - ahead


@given(flats, st.data())
def test_of_flats_that_were_begun_the_rest_goes_or_none(told: list[tuple[int, int]], data: st.DataObject) -> None:
    plan = plan_of(told)
    gullet = data.draw(st.integers(1, len(told)))
    beside = ((gullet, plan.share_front[gullet - 1]), (gullet + 1, _behind(plan, gullet)))
    words = [
        f"{'none' if share_word(share) == 'none' else 'the rest'} of flat {tooth}"
        for tooth, share in beside
        if share is not None
    ]
    said = shares_to_stop_at(plan, gullet, {gullet, gullet + 1})
    # Where some is left of each the usual words say so: until the flat just goes.
    assert said[:1] == ((", ".join(words),) if any(word.startswith("none") for word in words) else ())


def test_a_flat_a_width_out_of_place_gives_all_of_one_end() -> None:
    plan = plan_of([(3, 0), (3, 0), (3, 4), (3, 0), (3, 0)])
    assert "all of flat 3" in shares_to_stop_at(plan, 3, set())[0]
    assert "none of flat 3" in shares_to_stop_at(plan, 2, {2, 3})[0]


@pytest.mark.parametrize("gullet", [1, 12, 123, 1234])
@pytest.mark.parametrize("lean", list(Lean))
@pytest.mark.parametrize("strokes", [None, 1, 5])
@pytest.mark.parametrize("off", [None, 1235])
def test_the_shares_always_stand_whole_in_one_row(
    gullet: int, lean: Lean, strokes: int | None, off: int | None
) -> None:
    words = ("three quarters", "all but a hair")
    long = f"{words[0]} of flat {gullet}, {words[1]} of flat {gullet + 1}"
    shares = (long, long.replace(words[0], "3/4"), f"3/4 of flat {gullet}, {words[1]} of {gullet + 1}")
    work = GulletWork(strokes=strokes, lean=lean, shares=shares, half=True, off=off)
    said = gullet_words(Stage.FILE, work, panel_saw())
    assert len(said) <= ROOM
    assert any(said.endswith(f"{one}.") for one in shares)
    assert ("press to" in said or "Press to" in said) == (lean is not Lean.STRAIGHT and off is None)
    assert ("eep off tooth" in said) == (off is not None)


def test_a_gullet_that_takes_nothing_sends_its_flats_to_the_gullets_beside_it() -> None:
    work = GulletWork(strokes=0, shares=("none of flat 3, none of flat 4",))
    said = gullet_words(Stage.FILE, work, panel_saw())
    assert said == "No stroke here: both flats go with the gullets beside this one. Go on."


def test_where_nothing_is_filed_nothing_else_is_said_and_no_file_is_drawn() -> None:
    grades = {tooth: 0 if tooth in (5, 6) else 2 for tooth in range(1, 25)}
    met = [Moment(state, CROSSCUT) for state in states(CROSSCUT, grades=grades)]
    filed = {at.place.tooth: at for at in met if at.place and at.place.stage is Stage.FILE and at.front.ask is Ask.WORK}
    low, whole = filed[5], filed[9]
    assert low.said.instruction == "No flat here: do not file this gullet. Go on."
    assert low.said.title == "File the teeth"
    assert low.said.lines == (
        "Tooth 5 is low: nothing comes off it.",
        "Tooth 6 is low: nothing comes off it.",
        "Going on marks it: no stroke was given.",
    )
    for width, height in ((38, 14), (70, 30), (76, 14)):
        none, some = (
            "".join(run.text for row in picture(at, width, height, ascii=False).draw() for run in row)
            for at in (low, whole)
        )
        assert "press" not in none
        assert "5 is low" in none
        assert "press" in some or height < 9
        assert FILE.full not in none
        assert FILE.full in some
        assert not crossing(low, width, height, ascii=False)
