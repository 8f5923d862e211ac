"""Our defaults against rules of thumb of the trade: common practice, no source.

These check that the defaults hang together with what is usually said at the bench. They prove no formula.
"""

from __future__ import annotations

from inspect import signature

import pytest

from session.trade.leveling import LOW_TOLERATED, flat_from_off_mm, untouched_words
from session.trade.saw import Saw
from session.trade.strokes import DEFAULT_BITE, LIGHT_MM, filing_volume_mm3, strokes_for
from session.trade.trial_cut import TrialCut


def test_bend_the_top_third_to_half() -> None:  # common practice, no source
    share = signature(Saw).parameters["bent_share"].default
    assert 1 / 3 <= share <= 1 / 2


@pytest.mark.parametrize(
    ("pitch", "depth_over_pitch", "plate"),
    [
        (25.4 / 7, 0.71478, 0.889),  # 8 points, crosscut, rake 15, fleam 25
        (25.4 / 4.5, 0.57735, 1.067),  # 5 1/2 points, rip, rake 0
        (25.4 / 9, 0.71478, 0.889),  # 10 points, crosscut
        (25.4 / 11, 0.64413, 0.635),  # 12 points, rip, rake 4
    ],
)
def test_one_or_two_strokes_a_gullet_on_a_kept_saw(pitch: float, depth_over_pitch: float, plate: float) -> None:
    # common practice, no source (print is close: SICK 1-2, NOYES 1-3)
    flat = flat_from_off_mm(LIGHT_MM, pitch, pitch * depth_over_pitch)
    assert 1 <= strokes_for(filing_volume_mm3(flat, pitch, depth_over_pitch, plate), DEFAULT_BITE.mm3) <= 2


@pytest.mark.parametrize("advance", [40.0, 50.0])
def test_a_fresh_coarse_rip_saw_advances_some_40_to_50_mm_a_stroke(advance: float) -> None:
    # common practice, no source
    assert TrialCut(length_mm=advance * 6, thickness_mm=20.0, strokes=6).unlikely is None


def test_one_to_three_low_teeth_are_tolerable() -> None:  # common practice, no source
    for low in range(1, LOW_TOLERATED + 1):
        assert untouched_words(low)[0]
    assert not untouched_words(4)[0]
