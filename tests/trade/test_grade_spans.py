"""The widths that one grade stands for, against the eye that gives the nearest grade."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.trade.grades import OLD_SHARES, SHARES, nearest, span_of


@examples(60)
@given(st.floats(0.0, 1.0), st.sampled_from([SHARES, OLD_SHARES]))
def test_a_flat_lies_within_the_span_of_its_grade(along: float, scale: tuple[float, ...]) -> None:
    first, last = 0.5 * scale[1], 1.5 * scale[-1]
    share = first + along * (last - first)
    least, most = span_of(nearest(share, scale), scale)
    assert least - 1e-12 <= share <= most + 1e-12


@pytest.mark.parametrize("scale", [SHARES, OLD_SHARES])
def test_spans_lie_side_by_side_and_none_has_no_width(scale: tuple[float, ...]) -> None:
    assert span_of(0, scale) == (0.0, 0.0)
    spans = [span_of(grade, scale) for grade in range(1, len(scale))]
    assert all(before[1] == after[0] for before, after in pairwise(spans))
    assert all(least < share < most for (least, most), share in zip(spans, scale[1:], strict=True))
    assert spans[0][0] == scale[1] / 2
