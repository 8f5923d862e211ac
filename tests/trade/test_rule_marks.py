"""A place is told by the mark of the rule that stands nearest to it, and told so that it can be found there."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.rule_marks import on_rule
from session.trade.trade_error import TradeError

#: A millimeter's share of each unit, exactly (international yard and pound agreement, 1959: an inch is 25.4 mm).
OF_A_MM = {"in": Fraction(10, 254), "mm": Fraction(1), "cm": Fraction(1, 10), "m": Fraction(1, 1000)}


def read(text: str) -> tuple[Fraction, str]:
    """What a person reads off: the amount and its unit."""
    *amounts, unit = text.split(" ")
    assert 1 <= len(amounts) <= 2
    return sum((Fraction(amount) for amount in amounts), Fraction(0)), unit


@given(st.integers(0, 1_000_000), st.sampled_from(["in", "thou", "mm", "cm", "m"]))
def test_the_mark_told_is_the_nearest_on_the_rule(micrometers: int, unit: str) -> None:
    amount, told = read(on_rule(micrometers / 1000, unit))
    assert told == {"thou": "in"}.get(unit, unit)
    step = Fraction(254, 10) / 32 if told == "in" else Fraction(1, 2)
    mm = amount / OF_A_MM[told]
    assert (mm / step).denominator == 1
    assert abs(mm - Fraction(micrometers, 1000)) <= step / 2 + Fraction(1, 10**6)


@pytest.mark.parametrize(
    ("inches", "text"),
    [(0, "0 in"), (1 / 32, "1/32 in"), (0.5, "1/2 in"), (6 + 9 / 16, "6 9/16 in"), (22, "22 in"), (31.999, "32 in")],
)
def test_a_fraction_stands_in_its_lowest_terms(inches: float, text: str) -> None:
    assert on_rule(inches * 25.4, "in") == text


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [(166.75, "mm", "167 mm"), (166.74, "mm", "166.5 mm"), (100, "mm", "100 mm"), (166.5, "cm", "16.65 cm")],
)
def test_a_metric_rule_is_read_to_half_a_millimeter(mm: float, unit: str, text: str) -> None:
    assert on_rule(mm, unit) == text


@pytest.mark.parametrize(
    ("mm", "unit", "wrong"),
    [(-1, "mm", "0 and more"), (math.inf, "in", "0 and more"), (math.nan, "in", "0 and more"), (1, "ell", "units")],
)
def test_what_stands_on_no_rule_is_refused(mm: float, unit: str, wrong: str) -> None:
    with pytest.raises(TradeError, match=wrong):
        on_rule(mm, unit)
