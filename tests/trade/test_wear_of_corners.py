from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.file_choice import FileOwned
from session.trade.file_life import after_filing, corner_for, corner_in_use, is_done, share_out, teeth_left
from session.trade.file_names import CORNERS
from session.trade.lengths import parse_length
from session.trade.trade_error import TradeError

COUNTS = st.tuples(*[st.integers(0, 800)] * 3)
LIMITS = st.integers(1, 700)
TEETH = st.integers(0, 1500)


def worn(*corners: int) -> FileOwned:
    one, two, three = corners
    return FileOwned("boat-shed file", parse_length("8 mm"), None, (one, two, three))


@given(COUNTS, TEETH, LIMITS)
def test_sharing_out_loses_no_tooth_and_passes_no_limit(counts: tuple[int, int, int], teeth: int, limit: int) -> None:
    file = worn(*counts)
    share = share_out(file, teeth, limit)
    assert sum(n for _, n in share.corners) + share.teeth_over == teeth
    for corner, n in share.corners:
        assert 0 < n <= teeth_left(file, corner, limit)
        file = after_filing(file, corner, n)
    if share.teeth_over:
        assert is_done(file, limit)


@given(COUNTS, LIMITS)
def test_the_corner_in_use_is_the_most_worn_that_still_files(counts: tuple[int, int, int], limit: int) -> None:
    file = worn(*counts)
    corner = corner_in_use(file, limit)
    still = [n for n in counts if n < limit]
    assert (corner is None) == (not still) == is_done(file, limit)
    if corner is not None:
        assert file.corners[corner - 1] == max(still)


@given(COUNTS, TEETH, LIMITS)
def test_a_corner_for_the_whole_job_is_given_only_when_it_lasts(
    counts: tuple[int, int, int], teeth: int, limit: int
) -> None:
    file = worn(*counts)
    corner = corner_for(file, teeth, limit)
    able = [c for c in CORNERS if teeth_left(file, c, limit) >= max(teeth, 1)]
    assert (corner in able) if able else corner is None


def test_a_corner_is_used_up_before_the_next_and_skipped_when_it_would_give_out_half_way() -> None:
    file = worn(0, 550, 600)
    assert corner_in_use(file, 600) == 2
    assert corner_for(file, 50, 600) == 2
    assert corner_for(file, 183, 600) == 1
    assert share_out(file, 183, 600).corners == ((2, 50), (1, 133))
    assert corner_for(worn(500, 550, 600), 183, 600) is None


def test_a_new_file_begins_with_corner_one() -> None:
    assert corner_in_use(worn(0, 0, 0)) == 1


def test_filing_is_added_to_its_own_corner_only() -> None:
    assert after_filing(worn(1, 2, 3), 2, 40).corners == (1, 42, 3)


@pytest.mark.parametrize("corner", [0, 4, True, 1.5])
def test_other_corners_are_refused(corner: object) -> None:
    with pytest.raises(TradeError, match=r"boat-shed file: corner .*; allowed: 1, 2 or 3"):
        after_filing(worn(0, 0, 0), corner, 5)  # type: ignore[arg-type]


@pytest.mark.parametrize("bad", [-1, 1.5, True])
def test_impossible_teeth_and_limits_are_refused(bad: object) -> None:
    with pytest.raises(TradeError, match="teeth; allowed: a whole number of 0 or more"):
        share_out(worn(0, 0, 0), bad)  # type: ignore[arg-type]
    with pytest.raises(TradeError, match="limit of"):
        corner_in_use(worn(0, 0, 0), 0 if bad == -1 else bad)  # type: ignore[arg-type]
