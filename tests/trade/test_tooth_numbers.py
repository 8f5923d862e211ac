"""Teeth as they are written: numbers, ranges, none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.tooth_numbers import numbers_in_words, read_numbers
from session.trade.trade_error import TradeError


@pytest.mark.parametrize(
    ("text", "teeth"),
    [
        ("none", ()),
        ("None", ()),
        ("12", (12,)),
        ("40-44", (40, 41, 42, 43, 44)),
        ("40 - 42", (40, 41, 42)),
        ("40–42, 12 7", (7, 12, 40, 41, 42)),
        ("3;3, 3", (3,)),
        ("95, 97 and 120", (95, 97, 120)),
        ("95, 97, and 120.", (95, 97, 120)),
        ("teeth 95 & 97", (95, 97)),
        ("95+97 plus the 120th", (95, 97, 120)),
        ("40 to 42 and 50", (40, 41, 42, 50)),
        ("from 40 up to 42, no. 7", (7, 40, 41, 42)),
        ("#12, tooth 14 through 15", (12, 14, 15)),
        ("no teeth", ()),
    ],
)
def test_numbers_and_ranges_are_read(text: str, teeth: tuple[int, ...]) -> None:
    assert read_numbers(text, 155) == teeth


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("44-40", "runs backward"),
        ("0", "no tooth 0"),
        ("150-160", "no tooth 160"),
        ("heel", '"heel" names no tooth'),
        ("", "names no tooth"),
        ("4-", "names no tooth"),
        ("1-2-3", "names no tooth"),
        ("9999999", "names no tooth"),
        ("to 44", '"to 44" names no tooth by its number'),
        ("95 or 96", '"95 or 96" names no tooth by its number'),
        ("a few near the middle", '"a few near the middle" names no tooth by its number'),
        ("12, a few near the middle", '"a few near the middle" names no tooth'),
    ],
)
def test_what_names_no_teeth_is_refused_with_what_is_allowed(text: str, said: str) -> None:
    with pytest.raises(TradeError, match=said) as wrong:
        read_numbers(text, 155)
    assert "allowed" in str(wrong.value)


@given(st.lists(st.integers(1, 300)))
def test_what_is_written_is_read_back(numbers: list[int]) -> None:
    assert read_numbers(numbers_in_words(numbers)) == tuple(sorted(set(numbers)))


def test_runs_are_written_as_ranges() -> None:
    assert numbers_in_words([1, 2, 40, 41, 42, 43]) == "1, 2, 40-43"
