"""How many passes of the stone bring a set down: few before the first measuring, then by what they took here."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from made_saws import panel_saw
from session.advice.set_advice import over_set
from session.advice.stone_passes import (
    MOST_PASSES,
    NOT_STONED,
    Stoned,
    enough_mm,
    over_now_mm,
    passes_down,
    passes_words,
)
from session.trade.kerf import kerf_mm
from session.trade.lengths import MM_PER, parse_length

SAW = panel_saw(set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
THOU = MM_PER["thou"]


def stoned_to_the_end(set_mm: float, takes_mm: float) -> tuple[float, int, int]:
    """What is left, how often it was measured and how many passes it took, by a stone that takes so much a pass."""
    passes, made, measured, first = 1, 0, 0, set_mm
    while True:
        set_mm -= passes * takes_mm
        made, measured = made + passes, measured + 1
        if not over_set(SAW, set_mm):
            return set_mm, measured, made
        passes = passes_down(over_now_mm(SAW, kerf_mm(SAW.plate.mm, set_mm)), Stoned(first - set_mm, made))


@examples(60)
@given(st.floats(0.0025, 0.015), st.floats(8.7, 12.0))
def test_a_stone_of_any_kind_stops_at_the_fullest_useful_set(takes_mm: float, thou: float) -> None:
    left, measured, made = stoned_to_the_end(thou * THOU, takes_mm)
    # The fullest useful is 7.8 thou; no further under it than the one pass that brought it there.
    assert left > 7.8 * THOU - takes_mm
    assert not over_set(SAW, left)
    assert measured <= 6 or made > 3 * MOST_PASSES


def test_the_first_passes_go_a_third_of_the_way_by_what_is_usual() -> None:
    # 4.2 thou over is 0.107 mm: 21 passes of 0.005 mm.
    assert passes_down(4.2 * THOU) == 7
    # What a caliper cannot tell teaches nothing.
    assert passes_down(4.2 * THOU, Stoned(0.005, 1)) == 7
    assert passes_down(4.2 * THOU, Stoned(0.07, 7)) == 10
    assert passes_down(0.001) == 1
    assert passes_down(9.0) == MOST_PASSES


def test_the_stop_is_a_width_and_the_count_says_what_it_rests_on() -> None:
    assert enough_mm(SAW) == pytest.approx((35 + 2 * 7.8) * THOU)
    guessed = passes_words(SAW, 4.2 * THOU, NOT_STONED)
    assert "Enough at 0.0506 in over the points" in guessed
    assert "about 7 passes a side, then measure (a third of what is usual" in guessed
    assert "7 passes took 2.8 thou a side here" in passes_words(SAW, 2.0 * THOU, Stoned(2.8 * THOU, 7))
    unknown = panel_saw(set_per_side=None)
    assert passes_words(unknown, 0.1, NOT_STONED) == ""
    assert over_now_mm(unknown, 2.0) == 0.0
