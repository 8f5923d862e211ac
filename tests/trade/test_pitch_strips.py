from __future__ import annotations

from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.pitch_strip import spread_over, strip_rows
from session.trade.trade_error import TradeError

spaces = st.lists(st.floats(0.3, 12.0), min_size=1, max_size=300)


@given(spaces, st.floats(40.0, 300.0))
def test_pieces_laid_mark_on_mark_are_the_whole_strip(gaps: list[float], room: float) -> None:
    places = list(accumulate(gaps, initial=0.0))
    rows = strip_rows(places, room)
    found, at = [0.0], 0.0
    for row in rows:
        assert row.length_mm <= room + 1e-9
        found += [at + mark for mark in row.marks_mm[1:]]
        at += row.length_mm
    assert found == pytest.approx(places, abs=1e-6)
    assert [row.first for row in rows[1:]] == [row.last for row in rows[:-1]]
    assert (rows[0].first, rows[-1].last) == (1, len(places))


@given(spaces, st.floats(40.0, 300.0))
def test_no_strip_is_parted_into_more_pieces_than_it_must(gaps: list[float], room: float) -> None:
    places = list(accumulate(gaps, initial=0.0))
    rows = strip_rows(places, room)
    # Each piece but the last that were as full as can be leaves less than one space of the room.
    assert (len(rows) - 1) * (room - max(gaps)) <= places[-1] + 1e-6


def test_no_small_piece_is_left_over() -> None:
    rows = strip_rows([k * 3.6286 for k in range(155)], 261.0)
    assert len(rows) == 3
    assert max(row.length_mm for row in rows) - min(row.length_mm for row in rows) < 3 * 3.6286


@given(spaces, st.floats(0.91, 1.09))
def test_a_measured_line_spreads_its_marks_alike(gaps: list[float], stretch: float) -> None:
    places = list(accumulate(gaps, initial=0.0))
    spread = spread_over(places, places[-1] * stretch)
    assert spread[-1] == pytest.approx(places[-1] * stretch)
    for (a, b), (c, d) in zip(pairwise(places), pairwise(spread), strict=True):
        assert d - c == pytest.approx((b - a) * stretch, abs=1e-6)


@pytest.mark.parametrize("length", [0.0, 80.0, 120.0, float("nan"), float("inf")])
def test_another_line_is_refused(length: float) -> None:
    with pytest.raises(TradeError, match="within a tenth"):
        spread_over([0.0, 50.0, 100.0], length)


def test_a_strip_of_one_mark_and_a_row_without_room_are_refused() -> None:
    with pytest.raises(TradeError, match="two or more"):
        strip_rows([0.0], 100.0)
    with pytest.raises(TradeError, match="a longer row"):
        strip_rows([0.0, 5.0, 60.0], 50.0)
