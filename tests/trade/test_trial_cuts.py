from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.dulling import fit_dulling
from session.trade.trade_error import TradeError
from session.trade.trial_cut import TrialCut


def cut(days: float, share: float, wood: str = "pine") -> TrialCut:
    """A cut ``days`` after the sharpening that took ``share`` of 200 mm² a stroke."""
    return TrialCut(length_mm=100.0 * share, thickness_mm=20.0, strokes=10, days=days, wood=wood)


def test_numbers_of_a_cut() -> None:
    trial = TrialCut(length_mm=300.0, thickness_mm=20.0, strokes=12, wander_mm=-1.5)
    assert trial.advance_mm == 25.0
    assert trial.area_mm2 == 500.0
    assert trial.wander_per_100_mm == 0.5
    assert trial.wander_side == "left"
    assert TrialCut(length_mm=300.0, thickness_mm=20.0, strokes=12, wander_mm=1.5).wander_side == "right"
    assert TrialCut(length_mm=300.0, thickness_mm=20.0, strokes=12).wander_side == "straight"


@given(st.floats(1.0, 1000.0), st.floats(1.0, 100.0), st.integers(1, 200), st.floats(0.1, 10.0))
def test_a_cut_scales_with_its_lengths(length: float, thick: float, strokes: int, scale: float) -> None:
    small = TrialCut(length_mm=length, thickness_mm=thick, strokes=strokes, wander_mm=length / 50)
    large = TrialCut(
        length_mm=length * scale, thickness_mm=thick * scale, strokes=strokes, wander_mm=length * scale / 50
    )
    assert large.advance_mm == pytest.approx(scale * small.advance_mm)
    assert large.area_mm2 == pytest.approx(scale**2 * small.area_mm2)
    assert large.wander_per_100_mm == pytest.approx(small.wander_per_100_mm)


@pytest.mark.parametrize(
    "bad",
    [
        {"length_mm": 0.0},
        {"length_mm": math.nan},
        {"thickness_mm": -1.0},
        {"strokes": 0},
        {"wander_mm": 301.0},
        {"wander_mm": math.nan},
        {"days": -1.0},
    ],
)
def test_impossible_cuts_are_refused(bad: dict[str, float]) -> None:
    good = {"length_mm": 300.0, "thickness_mm": 20.0, "strokes": 12}
    with pytest.raises(TradeError, match="allowed"):
        TrialCut(**{**good, **bad})  # type: ignore[arg-type]


def test_an_unlikely_advance_is_mentioned() -> None:
    assert TrialCut(length_mm=300.0, thickness_mm=20.0, strokes=12).unlikely is None
    slip = TrialCut(length_mm=300.0, thickness_mm=20.0, strokes=1).unlikely
    assert slip is not None
    assert "300 mm a stroke" in slip


def test_a_saw_that_dulls_evenly_is_due_when_the_line_says_so() -> None:
    # one hundredth a day, over two sharpenings: 70 % after 30 days, and the latest cut is 20 days old work
    series = [[cut(0, 1.0), cut(10, 0.9), cut(30, 0.7)], [cut(2, 1.0), cut(12, 0.9), cut(22, 0.8)]]
    found = fit_dulling(series)
    assert found.enough
    assert (found.cuts, found.sharpenings) == (4, 2)
    assert found.loss_per_day == pytest.approx(0.01)
    assert found.share_now == pytest.approx(0.8)
    assert found.due_in_days == pytest.approx(10.0)
    # Four cuts may lie on a line by chance: a range of nothing would claim more than they tell.
    assert found.earliest_days is not None
    assert found.latest_days is not None
    assert 3.0 < found.earliest_days < 8.0
    assert 12.0 < found.latest_days < 20.0
    assert "4 cuts from 2 sharpenings" in found.why


@given(st.floats(0.001, 0.02), st.lists(st.integers(1, 45), min_size=4, max_size=12))
def test_any_even_loss_is_found_again(loss: float, gaps: list[int]) -> None:
    days = [0.0, *(float(day) for day in sorted(gaps))]
    found = fit_dulling([[cut(day, 1.0 - loss * day) for day in days]])
    assert found.loss_per_day == pytest.approx(loss)
    assert found.due_in_days == pytest.approx(max(0.0, 0.3 / loss - days[-1]), abs=1e-6)


def test_scattered_cuts_give_a_range_around_the_forecast() -> None:
    found = fit_dulling([[cut(0, 1.0), cut(10, 0.93), cut(20, 0.78), cut(30, 0.74), cut(40, 0.58)]])
    assert found.due_in_days is not None
    assert found.earliest_days is not None
    assert found.earliest_days <= found.due_in_days
    assert found.due_in_days == 0.0
    wide = fit_dulling([[cut(0, 1.0), cut(2, 0.93), cut(4, 0.98), cut(6, 0.95), cut(8, 0.92)]])
    assert wide.due_in_days is not None
    assert wide.earliest_days is not None
    assert wide.latest_days is not None
    assert wide.earliest_days < wide.due_in_days < wide.latest_days


@pytest.mark.parametrize(
    ("series", "cuts"),
    [
        ([], 0),
        ([[]], 0),
        ([[cut(0, 1.0)]], 0),
        ([[cut(0, 1.0), cut(9, 0.9), cut(18, 0.8), cut(27, 0.7)]], 3),
        ([[cut(0, 1.0), cut(0, 0.9), cut(0, 0.8), cut(0, 0.9), cut(0, 0.9)]], 0),  # all on the day of the first
        (
            [[cut(0, 1.0, "oak"), cut(9, 0.9), cut(18, 0.8), cut(27, 0.7), cut(30, 0.7)]],
            3,
        ),  # the first is in other wood
    ],
)
def test_too_few_cuts_foretell_nothing(series: list[list[TrialCut]], cuts: int) -> None:
    found = fit_dulling(series)
    assert not found.enough
    assert found.cuts == cuts
    assert found.due_in_days is None
    assert "Not enough cuts yet" in found.why


def test_a_saw_that_does_not_dull_has_no_day() -> None:
    found = fit_dulling([[cut(0, 1.0), cut(5, 1.0), cut(10, 1.05), cut(15, 1.0), cut(20, 1.1)]])
    assert found.enough
    assert found.due_in_days is None
    assert "No fall is seen" in found.why


def test_a_fresh_sharpening_without_cuts_starts_anew() -> None:
    found = fit_dulling([[cut(0, 1.0), cut(10, 0.9), cut(20, 0.8), cut(30, 0.7), cut(40, 0.6)], []])
    assert found.share_now is None
    assert found.due_in_days == pytest.approx(30.0)


def test_cuts_out_of_order_and_shares_that_cannot_be_are_refused() -> None:
    with pytest.raises(TradeError, match="out of order"):
        fit_dulling([[cut(5, 1.0), cut(3, 0.9)]])
    with pytest.raises(TradeError, match="share of 1"):
        fit_dulling([[cut(5, 1.0)]], due_share=1.0)


def wide(series: list[list[TrialCut]]) -> float:
    """How wide the range of the loss is, by the range of the day, against the loss itself."""
    told = fit_dulling(series)
    assert told.earliest_days is not None
    assert told.due_in_days is not None
    age = series[-1][-1].days - series[-1][0].days if series[-1] else 0.0
    return (told.due_in_days + age) / (told.earliest_days + age)


def test_the_range_of_a_forecast_widens_with_scatter_and_narrows_with_cuts() -> None:
    even = [cut(0, 1.0), cut(4, 0.96), cut(8, 0.92), cut(12, 0.88), cut(16, 0.84)]
    uneven = [cut(0, 1.0), cut(4, 0.90), cut(8, 0.98), cut(12, 0.82), cut(16, 0.86)]
    assert wide([uneven]) > wide([even]) > 1.0
    longer = [*even, cut(20, 0.80), cut(24, 0.76)]
    assert wide([longer]) < wide([even])
    # Another sharpening like it helps; one that went quite otherwise does not.
    assert wide([even, even]) < wide([even])
    other = [cut(0, 1.0), cut(4, 0.85), cut(8, 0.70), cut(12, 0.55)]
    assert wide([other, even, []]) > wide([even, even, []])


def test_a_saw_with_its_first_cut_alone_is_foretold_by_its_other_sharpenings_and_says_so() -> None:
    even = [cut(0, 1.0), cut(4, 0.96), cut(8, 0.92), cut(12, 0.88), cut(16, 0.84)]
    assert not fit_dulling([[cut(0, 1.0)]]).enough
    told = fit_dulling([even, [cut(1, 1.0)]])
    assert told.due_in_days == pytest.approx(30.0)
    assert told.counted_from == 1.0
    assert "none of them of the last one" in told.why
    assert "none of them" not in fit_dulling([even, [cut(1, 1.0), cut(9, 0.92)]]).why
    assert wide([even, [cut(1, 1.0)]]) > wide([even, even])


def test_falls_that_share_the_luck_of_one_first_cut_count_for_less_than_as_many_of_their_own() -> None:
    """One first cut with four later ones on a day, or four first cuts with one each: the same falls."""
    shared = [[cut(0, 1.0), cut(10, 0.90), cut(10, 0.90), cut(10, 0.90), cut(10, 0.90)], []]
    own = [[cut(0, 1.0), cut(10, 0.90)] for _ in range(4)]
    assert wide(shared) > wide([*own, []])
