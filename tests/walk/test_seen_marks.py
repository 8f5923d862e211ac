"""What the marks of the look over tell: read back as it was seen, and nothing of what cannot be."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.lengths import parse_length
from session.trade.observation import Crack, Seen
from session.trade.seen_words import Bright, Cutting, Handle, LineShape, Plate, Sizes, Toward
from session.walk.mark import Did, Mark
from session.walk.seen_marks import answers_of, crack_in, crack_words, seen_in
from session.walk.stages import Stage

AT = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)

TEETH = st.none() | st.lists(st.integers(1, 155), max_size=6).map(lambda many: tuple(sorted(set(many))))
SEEN = st.builds(
    Seen,
    points_in_line=st.none() | st.integers(2, 3000),
    plate=st.sampled_from([None, frozenset({Plate.BENT, Plate.RUSTY}), frozenset({Plate.CLEAN, Plate.SOUND})]),
    hard_teeth=st.none() | st.booleans(),
    handle=st.none() | st.sampled_from(Handle),
    line=st.none() | st.sampled_from(LineShape),
    line_gap=st.none() | st.just(parse_length("1/32 in")),
    sizes=st.none() | st.sampled_from(Sizes),
    high=TEETH,
    low=TEETH,
    broken=TEETH,
    bright=st.none() | st.sampled_from(Bright),
    over_points=st.lists(st.sampled_from(["0.047 in", "1.2 mm", "0.0475 in"]), max_size=5).map(
        lambda many: tuple(parse_length(one) for one in many)
    ),
    last_cut=st.none() | st.sampled_from(Cutting),
    wanders_to=st.none() | st.sampled_from(Toward),
    wood=st.none() | st.sampled_from(["dry hardwood", "pear"]),
)


@given(SEEN)
def test_what_was_seen_is_read_back(seen: Seen) -> None:
    assert seen_in({answer.what: answer for answer in answers_of(seen)}) == seen


@pytest.mark.parametrize(
    "crack", [Crack(), Crack(40), Crack(40, parse_length("1/8 in")), Crack(None, parse_length("3 mm"))]
)
def test_a_crack_is_read_back(crack: Crack) -> None:
    assert crack_in(crack_words(crack)) == crack
    assert crack_in(crack_words(None)) is None


@pytest.mark.parametrize(
    ("what", "value", "unit"),
    [
        ("over the points", 0.0, "mm"),
        ("over the points", 1.1, "cubit"),
        ("over the points", "wide", "mm"),
        ("line", "wavy", None),
        ("bright points", 3, None),
        ("last cut", "sings", None),
        ("points", "many", "in the line"),
        ("points", 8.5, "in the line"),
        ("points", 10**400, "in the line"),
        ("points", True, "in the line"),
        ("points", 8, "in a foot"),
        ("plate", "shiny", None),
        ("crack", "somewhere", None),
        ("hard teeth", "perhaps", None),
        ("heft", 3, "lb"),
    ],
)
def test_what_a_log_of_another_version_tells_otherwise_is_as_not_told(what: str, value: Any, unit: str | None) -> None:
    told = Mark(seq=1, at=AT, did=Did.MEASURED, stage=Stage.LOOK_OVER, what=what, value=value, unit=unit)
    assert seen_in({what: told}) == Seen()
