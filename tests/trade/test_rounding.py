"""Rounding half up: a law against the decimals that a person writes, and no other rounding where numbers show."""

from __future__ import annotations

import ast
import math
import re
from decimal import ROUND_HALF_UP, Context, Decimal
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import session
from parsed_source import parsed
from session.advice.sourced_figure import Figure, amount
from session.texts.wording import fine
from session.trade.lengths import in_unit
from session.trade.rounding import BELIEVED, decimals, half_up, percent, significant, whole_number

ROOT = Path(session.__file__).parent

#: What a person writes: up to eleven figures, up to six of them behind the point.
WRITTEN = st.decimals(-99_999, 99_999, places=6, allow_nan=False)


@given(WRITTEN, st.integers(0, 5))
@example(Decimal("0.125"), 2)
@example(Decimal("2.675"), 2)
@example(Decimal("1.005"), 2)
@example(Decimal("0.5"), 0)
@example(Decimal("-0.5"), 0)
def test_a_number_as_written_is_rounded_as_with_a_pencil(number: Decimal, places: int) -> None:
    wanted = number.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    assert Decimal(decimals(float(number), places)) == wanted
    assert half_up(float(number), places) == float(wanted)
    if places == 0:
        assert whole_number(float(number)) == int(wanted)


@given(st.floats(allow_nan=False, allow_infinity=False), st.integers(0, 8), st.integers(1, BELIEVED))
@example(999_999_999_999.5, 0, 12)
@example(123_456_789_012.5, 0, 12)
@example(9.9996, 2, 3)
@example(5e-324, 3, 2)
def test_any_number_is_rounded_as_decimal_arithmetic_does(value: float, places: int, count: int) -> None:
    half_up_to = Context(prec=BELIEVED, rounding=ROUND_HALF_UP)
    exact = Decimal(repr(value))
    believed = half_up_to.plus(exact) if abs(exact) < 10**BELIEVED else exact
    wanted = believed.quantize(Decimal(1).scaleb(-places), context=Context(prec=400, rounding=ROUND_HALF_UP))
    assert decimals(value, places) == f"{abs(wanted) if wanted.is_zero() else wanted:f}"
    assert repr(half_up(value, places)) == repr(float(wanted))
    assert Decimal(significant(value, count)) == Context(prec=count, rounding=ROUND_HALF_UP).create_decimal(believed)


@given(st.integers(-10_000, 10_000), st.sampled_from([0.0254, 25.4, 0.001, 60.0]))
def test_a_tie_stays_a_tie_through_a_unit_and_back(halves: int, unit: float) -> None:
    wanted = (Decimal(halves) + Decimal("0.5")).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    assert whole_number((halves + 0.5) * unit / unit) == int(wanted)
    assert whole_number(math.fsum([halves * unit, unit / 2]) / unit) == int(wanted)


@given(st.decimals(Decimal("0.001"), 9_999, places=5), st.integers(1, 6))
def test_significant_figures_are_half_up_too_and_end_in_no_zero(number: Decimal, count: int) -> None:
    if not number:
        return
    wanted = number.quantize(Decimal(1).scaleb(number.adjusted() - count + 1), rounding=ROUND_HALF_UP)
    text = significant(float(number), count)
    assert Decimal(text) == wanted
    assert not ("." in text and text.endswith(("0", ".")))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_rounded(value: float) -> None:
    for round_it in (whole_number, percent, half_up):
        with pytest.raises(ValueError, match="allowed: a finite number"):
            round_it(value)
    assert decimals(value, 2) == significant(value, 3) == str(value)


def test_a_zero_has_no_sign_and_large_numbers_keep_their_figures() -> None:
    assert decimals(-0.001, 2) == "0.00"
    assert significant(-0.0, 3) == "0"
    assert whole_number(1e15 + 1) == 10**15 + 1
    assert percent(0.125) == "13%"


def test_ties_as_they_are_shown() -> None:
    assert in_unit(0.125, "mm") == "0.13 mm"
    assert in_unit(2.675, "mm") == "2.68 mm"
    assert in_unit(6.25 * 0.0254, "thou") == "6.3 thou"
    assert fine(0.0625, "mm") == "0.063 mm"
    assert fine(0.25 * 0.0254, "thou") == "0.3 thou"
    assert amount(1.125, "mm") == "1.13 mm"
    assert amount(0.00125 * 25.4, "in") == "0.0013 in"
    assert Figure("a", "a", 12.25, "deg", "", "").shown("mm") == "12.3°"


#: Where a float is rounded that nobody is shown as a number: places in a picture, the seconds between two marks,
#: the check points of a walk that logs of before rest on, the gauge that lies nearest, the simulated filer's own,
#: places on a page that is drawn, and the dots of a scan.
NOT_SHOWN = (
    *("pictures/", "rehearsal/", "walk/pace.py", "walk/check_points.py", "trade/gauge.py", "trade/rounding.py"),
    *("prints/svg_sheets.py", "scan/fine_contour.py", "scan/parted_edges.py", "scan/tooth_edge.py"),
)

FORMAT = re.compile(r"\.(\d|\{\w+\})?[efg%]|%")


def test_no_module_rounds_a_number_it_shows_in_another_way() -> None:
    found = []
    for path in sorted(ROOT.rglob("*.py")):
        told = str(path.relative_to(ROOT))
        if told.startswith(NOT_SHOWN) or told.endswith("_svg.py"):
            continue
        for node in ast.walk(parsed(path)):
            called = node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""
            spec = ast.unparse(node.format_spec) if isinstance(node, ast.FormattedValue) and node.format_spec else ""
            if called == "round" or (FORMAT.search(spec) and "%Y" not in spec and "%H" not in spec):
                found.append(f"{told}: {ast.unparse(node)}")
    assert not found
