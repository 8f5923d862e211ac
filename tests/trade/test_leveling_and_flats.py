from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.leveling import flat_from_off_mm, line_loss, off_from_flat_mm, untouched, untouched_words
from session.trade.trade_error import TradeError


@given(st.floats(1.0, 12.0), st.floats(0.3, 1.0), st.floats(0.0, 0.99))
def test_a_flat_tells_the_height_that_made_it(pitch: float, rise: float, part: float) -> None:
    depth = pitch * rise
    off = part * depth
    flat = flat_from_off_mm(off, pitch, depth)
    assert 0.0 <= flat < pitch
    assert off_from_flat_mm(flat, pitch, depth) == pytest.approx(off, abs=1e-12)


def test_a_rip_tooth_with_an_upright_front() -> None:
    # rake 0: the front is upright, the back leans 60 degrees, so a flat is tan 60 times the height
    assert flat_from_off_mm(0.1, 4.0, 4.0 / math.tan(math.radians(60))) == pytest.approx(0.1 * 3**0.5)


@pytest.mark.parametrize("flat", [-0.1, 4.0, math.nan, math.inf])
def test_impossible_flats_are_refused(flat: float) -> None:
    with pytest.raises(TradeError, match="less than the pitch, 4 mm"):
        off_from_flat_mm(flat, 4.0, 3.0)


@pytest.mark.parametrize("off", [-0.1, 3.0, math.nan])
def test_more_than_the_tooth_cannot_be_taken_off(off: float) -> None:
    with pytest.raises(TradeError, match="less than its depth, 3 mm"):
        flat_from_off_mm(off, 4.0, 3.0)


def test_teeth_without_a_flat_are_low_and_a_few_may_stay() -> None:
    assert untouched([0.2, 0.0, 0.4, 0.1]) == (2,)
    good, why = untouched_words(1)
    assert good
    assert "HASL" in why


def test_a_stump_does_not_call_for_another_pass() -> None:  # DREW-22
    widths = [0.0, 0.0, 0.0, 0.0, 0.3, 0.3]
    assert not untouched_words(len(untouched(widths)))[0]
    assert untouched(widths, broken=(1,)) == (2, 3, 4)
    assert untouched_words(3)[0]


def test_loss_adds_up_over_the_records() -> None:
    loss = line_loss([0.05, 0.20, 0.05, 0.04], 1.0)
    assert loss.total_mm == pytest.approx(0.34)
    assert loss.each_mm == pytest.approx(0.05)
    assert loss.left_mm == pytest.approx(0.66)
    assert loss.sharpenings_left == 13


def test_loss_without_records_foretells_nothing() -> None:
    loss = line_loss([], 2.0)
    assert (loss.total_mm, loss.each_mm, loss.left_mm, loss.sharpenings_left) == (0.0, None, 2.0, None)


def test_nothing_is_left_past_the_limit() -> None:
    loss = line_loss([1.0, 1.5], 2.0)
    assert loss.left_mm == 0.0
    assert loss.sharpenings_left == 0


@pytest.mark.parametrize(("off", "limit"), [([0.1, -0.1], 1.0), ([math.nan], 1.0), ([0.1], -1.0), ([0.1], math.inf)])
def test_impossible_losses_are_refused(off: list[float], limit: float) -> None:
    with pytest.raises(TradeError, match="allowed"):
        line_loss(off, limit)
