"""Retoothing against outlines drawn point by point: new teeth are all steel, less would not do, the steel adds up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from law_budget import examples
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.trade.lengths import Length
from session.trade.retoothing import Retoothing, retoothing
from session.trade.saw import Saw
from session.trade.tooth import tooth_of
from session.trade.trade_error import TradeError
from session.trade.zones import Zone

PLAIN = replace(
    load_recipe(supplied_folder("recipes") / "rip.toml").saw,
    points=41,
    toothed_length=Length.of(40 * 4.0),
    pitch_mm=4.0,
)


def with_teeth(pitch: float, rake: float, fleam: float = 0.0) -> Saw:
    """A line of 160 mm with such teeth."""
    return replace(PLAIN, pitch_mm=pitch, rake=rake, fleam=fleam, points=int(160 / pitch + 1e-9) + 1)


def outline(places: NDArray[Any], front: NDArray[Any], back: NDArray[Any], xs: NDArray[Any]) -> NDArray[Any]:
    """The height of a line of sharp teeth at ``xs``, their points at 0: the highest of all wedges there."""
    away = xs[None, :] - places[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        ahead = np.where(away > 1e-9, -away / front[:, None], 0.0)
        behind = np.where(away < -1e-9, away / back[:, None], 0.0)
    found: NDArray[Any] = np.nan_to_num(np.minimum(ahead, behind), neginf=-1e9).max(axis=0)
    return found


def tangents(saw: Saw, count: int) -> tuple[NDArray[Any], NDArray[Any]]:
    made = [tooth_of(saw.at(min(tooth, saw.points))) for tooth in range(1, count + 1)]
    return (
        np.tan(np.radians([max(one.front_deg, 0.0) for one in made])),
        np.tan(np.radians([one.back_deg for one in made])),
    )


XS = np.linspace(0.0, 160.0, 8_001)


def drawn(old: Saw, new: Saw, made: Retoothing) -> tuple[NDArray[Any], NDArray[Any]]:
    """Both lines, the new one as far down as it was told."""
    before = outline(np.array(old.line.positions_mm), *tangents(old, old.points), XS)
    after = outline(np.array(made.places_mm), *tangents(new, made.points), XS) - made.lower_mm
    return before, after


def within(places: Sequence[float]) -> NDArray[Any]:
    """Where the teeth of a line are: nothing is asked beyond its end points."""
    found: NDArray[Any] = (places[0] <= XS) & (places[-1] >= XS)
    return found


pitches = st.floats(2.0, 9.0)
rakes = st.floats(4.0, 30.0)


@given(pitches, rakes, pitches, rakes)
@examples(12)
def test_every_new_tooth_is_steel_and_a_line_less_low_would_have_one_that_is_not(
    pitch: float, rake: float, wished: float, other: float
) -> None:
    old, new = with_teeth(pitch, rake), with_teeth(wished, other)
    made = retoothing(old, new)
    before, after = drawn(old, new, made)
    inside = within(made.places_mm)
    # Drawn every 20 µm, so that a steep flank of either line may be seen that much aside.
    steepest = min(tan for saw in (old, new) for tan in (*tangents(saw, 1)[0], *tangents(saw, 1)[1]))
    aside = 0.02 + 0.02 / steepest
    assert float((after - before)[inside].max()) <= aside
    assert made.lower_mm <= tooth_of(old).depth_mm + 1e-6
    if made.lower_mm > 2 * aside:
        assert float((after - before)[inside].max()) >= -2 * aside


@given(pitches, st.floats(1.0, 30.0), pitches, st.floats(1.0, 30.0))
@examples(12)
def test_leveled_and_filed_steel_are_all_that_lies_between_the_two_lines(
    pitch: float, rake: float, wished: float, other: float
) -> None:
    old, new = with_teeth(pitch, rake), with_teeth(wished, other)
    made = retoothing(old, new)
    before, after = drawn(old, new, made)
    step = XS[1] - XS[0]
    leveled = np.maximum(before + made.lower_mm, 0.0)[within(old.line.positions_mm)].sum() * step
    assert made.leveled_mm3 == pytest.approx(leveled * old.plate.mm, rel=0.02, abs=0.5)
    filed = np.maximum(np.minimum(before, -made.lower_mm) - after, 0.0)[within(made.places_mm)].sum() * step
    # The part tooth at either end is shared out evenly over the line.
    assert made.filed_mm3 == pytest.approx(filed * old.plate.mm, rel=0.03, abs=(pitch + wished) ** 2 * old.plate.mm / 2)


@pytest.mark.parametrize("rake", [0.0, 12.0, 25.0])
def test_every_second_point_of_a_line_stays_and_costs_no_height(rake: float) -> None:
    made = retoothing(with_teeth(2.5, rake), with_teeth(5.0, rake))
    assert made.lower_mm == pytest.approx(0.0, abs=1e-6)
    assert made.first_mm == 0.0
    assert made.kept == made.points == 33
    # A gullet twice as wide is four times as large; two of the small ones were there.
    large = 5.0 * tooth_of(with_teeth(5.0, rake)).depth_mm / 2
    assert made.filed_mm3 == pytest.approx(32 * (large - large / 2) * PLAIN.plate.mm, rel=1e-6)


def test_the_teeth_that_a_saw_has_cost_nothing() -> None:
    for saw in (with_teeth(3.6, 15.0, 25.0), load_recipe(supplied_folder("recipes") / "progressive-rip.toml").saw):
        made = retoothing(saw, saw)
        assert made.lower_mm == pytest.approx(0.0, abs=1e-6)
        assert made.filed_mm3 == pytest.approx(0.0, abs=1e-3)
        assert made.kept == made.points == saw.points


def test_twice_as_fine_stands_half_way_down_the_old_flanks() -> None:
    # Peg teeth are alike on both sides: a quarter pitch aside every new point stands on the middle of a flank.
    made = retoothing(with_teeth(4.0, 30.0), with_teeth(2.0, 30.0))
    assert made.first_mm == pytest.approx(1.0, abs=0.01)
    assert made.lower_mm == pytest.approx(4.0 * 0.866025 / 2, rel=0.01)
    assert (made.kept, made.whole_teeth) == (0, False)


def test_from_an_upright_front_to_one_that_leans() -> None:
    # Worked by hand for a pitch of 1: the new point goes back d from the old one, d / tan 15 − 0.5774 = −d / 1.7321.
    made = retoothing(with_teeth(4.0, 0.0), with_teeth(4.0, 15.0))
    d = 0.57735 / (1 / 0.26795 + 1 / 1.73205)
    assert made.lower_mm == pytest.approx(4.0 * d / 1.73205, rel=0.02)
    assert made.first_mm == pytest.approx(4.0 * (1 - d), rel=0.01)


def test_zones_are_cut_into_a_plain_line() -> None:
    zones = (Zone(80.0, 5.0, 0.0), Zone(160.0, 3.0, 5.0))
    made = retoothing(with_teeth(4.0, 0.0), replace(PLAIN, zones=zones, pitch_mm=5.0, rake=0.0, points=16 + 27))
    spaces = np.diff(made.places_mm)
    assert set(np.round(spaces, 6)) == {5.0, 3.0}
    assert made.places_mm[-1] <= 160.0


def test_a_pitch_that_the_line_does_not_hold_is_refused() -> None:
    with pytest.raises(TradeError, match="leaves no two points"):
        retoothing(with_teeth(4.0, 0.0), replace(PLAIN, pitch_mm=300.0, points=2))
