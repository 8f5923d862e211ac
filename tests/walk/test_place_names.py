"""A place names itself in a mark and is found again from it."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.walk.mark import Did, Mark
from session.walk.place import Place, place_of
from session.walk.stages import FACTS, Kind, Stage

AT = datetime(2024, 3, 4, 8, 0, tzinfo=UTC)


@st.composite
def places(draw: st.DrawFn) -> Place:
    stage = draw(st.sampled_from(Stage))
    facts = FACTS[stage]
    round_ = draw(st.integers(1, 4))
    if facts.kind is Kind.STEP:
        return Place(stage, step=draw(st.sampled_from(facts.steps)), round=round_)
    number = draw(st.integers(1, 3000))
    side = draw(st.integers(0, 2))
    if facts.kind is Kind.PASS:
        return Place(stage, side, number=number, round=round_)
    return Place(stage, side, number, round=round_)


@given(places())
def test_a_mark_with_the_fields_of_a_place_names_that_place(place: Place) -> None:
    mark = Mark(seq=1, at=AT, did=Did.DONE, **place.fields())
    assert place_of(mark) == place
    assert place_of(Mark.from_dict(mark.to_dict())) == place


def test_a_mark_without_a_stage_names_no_place() -> None:
    assert place_of(Mark(seq=1, at=AT, did=Did.PAUSED, tooth=3)) is None


def test_absent_fields_are_left_out_of_the_log() -> None:
    assert dict(Place(Stage.LEVEL, number=2).fields()) == {"stage": Stage.LEVEL, "number": 2}
    assert dict(Place(Stage.FILE, 2, 7, round=2).fields()) == {"stage": Stage.FILE, "side": 2, "tooth": 7, "round": 2}


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (Place(Stage.LOOK_OVER, step="points"), "points"),
        (Place(Stage.DRESS, 1, number=2), "pass 2"),
        (Place(Stage.SET, 1, 5), "tooth 5"),
        (Place(Stage.FILE, 2, 6), "gullet 6"),
        (Place(Stage.RESHAPE, 1, 6), "gullet 6"),
    ],
)
def test_a_place_says_what_it_is(place: Place, words: str) -> None:
    assert str(place) == words
