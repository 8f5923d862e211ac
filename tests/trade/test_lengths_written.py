from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.lengths import MM_PER, Length, in_unit, parse_length
from session.trade.trade_error import TradeError

UNITS = st.sampled_from(sorted(MM_PER))


@pytest.mark.parametrize(
    ("text", "mm", "unit"),
    [
        ("22 in", 558.8, "in"),
        ('22"', 558.8, "in"),
        ("22″", 558.8, "in"),
        ("0.035 in", 0.889, "in"),
        ("560mm", 560, "mm"),
        ("6 thou", 0.1524, "thou"),
        ("3 1/2 in", 88.9, "in"),
        ("1/8 in", 3.175, "in"),
        ("3,6 mm", 3.6, "mm"),
        (".5 in", 12.7, "in"),
        ("12 CM", 120, "cm"),
        ("0 mm", 0, "mm"),
    ],
)
def test_lengths_as_people_write_them(text: str, mm: float, unit: str) -> None:
    length = parse_length(text)
    assert length.mm == pytest.approx(mm)
    assert length.unit == unit
    assert str(length) == text


@pytest.mark.parametrize(
    "text",
    [
        "",
        "22",
        "in",
        "22 ft",
        "-3 mm",
        "-0 mm",
        "1/0 in",
        "3 1/0 in",
        "1e3 mm",
        "nan mm",
        "inf mm",
        "3 4 mm",
        "1.2.3 mm",
        "２２ in",  # digits of other scripts would be kept as written, and read by nobody at the bench
        "٢٢ in",
        "3 ١/2 in",
    ],
)
def test_what_is_not_a_length_is_refused(text: str) -> None:
    with pytest.raises(TradeError):
        parse_length(text)


@pytest.mark.parametrize("value", [22, 3.5, None, True])
def test_a_bare_value_is_refused_with_the_units(value: object) -> None:
    with pytest.raises(TradeError, match="allowed units: mm, cm, m, in or thou"):
        parse_length(value)  # type: ignore[arg-type]


def test_long_and_huge_texts_are_refused_and_shortened() -> None:
    with pytest.raises(TradeError) as refused:
        parse_length("9" * 5000 + " mm")
    assert len(str(refused.value)) < 200
    with pytest.raises(TradeError):
        parse_length(f"{'9' * 55} 1/{'0' * 3}1 furlongs")


@given(st.text(max_size=80))
def test_any_text_gives_a_length_or_a_length_error(text: str) -> None:
    try:
        length = parse_length(text)
    except TradeError as refused:
        assert str(refused)  # noqa: PT017
    else:
        assert math.isfinite(length.mm)
        assert length.mm >= 0
        assert length.unit in MM_PER


@given(st.integers(0, 40), st.integers(1, 63), UNITS)
def test_fractions_are_exact(whole: int, over: int, unit: str) -> None:
    length = parse_length(f"{whole} {over}/64 {unit}")
    assert length.mm == pytest.approx(float(whole + Fraction(over, 64)) * MM_PER[unit], rel=1e-14)


@given(st.floats(0, 5000), UNITS)
def test_a_written_length_is_read_back_within_its_last_place(mm: float, unit: str) -> None:
    step = {"mm": 0.01, "cm": 0.1, "m": 1.0, "in": 0.0254, "thou": 0.00254}[unit]
    assert parse_length(in_unit(mm, unit)).mm == pytest.approx(mm, abs=step * 0.51)
    assert Length.of(mm, unit).mm == mm


@given(st.floats(0, 100), UNITS, UNITS)
def test_lengths_compare_by_size_whatever_the_unit(mm: float, one: str, other: str) -> None:
    assert Length.of(mm, one) == Length.of(mm, other)
    assert Length.of(mm, one) < Length.of(mm + 1, other)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (88.9, "in", "3.5 in"),
        (0.889, "in", "0.035 in"),
        (254, "in", "10 in"),
        (3.6, "mm", "3.6 mm"),
        (0.1524, "thou", "6 thou"),
    ],
)
def test_computed_lengths_are_written_as_read_at_the_bench(mm: float, unit: str, text: str) -> None:
    assert in_unit(mm, unit) == text


@pytest.mark.parametrize("text", ["1,000 thou", "12,500 mm", "1,125 in"])
def test_a_comma_that_may_part_thousands_is_asked_about(text: str) -> None:
    number, unit = text.split()
    with pytest.raises(TradeError, match="can be read two ways") as refused:
        parse_length(text)
    assert f"allowed: {number.replace(',', '')} {unit}, or {number.replace(',', '.')} {unit}" in str(refused.value)


@pytest.mark.parametrize(("text", "mm"), [("0,035 in", 0.889), ("1,5 mm", 1.5), ("1000 thou", 25.4), ("3,62 mm", 3.62)])
def test_a_comma_that_can_only_be_a_decimal_sign_is_one(text: str, mm: float) -> None:
    assert parse_length(text).mm == pytest.approx(mm)
