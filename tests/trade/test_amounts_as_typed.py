"""What a person types for a figure: the natural spellings, and refusals that say what is allowed."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.lengths import Length, parse_length
from session.trade.told_amounts import (
    FORM_UNITS,
    told_choice,
    told_count,
    told_degrees,
    told_length,
    told_plate,
    told_whole,
)
from session.trade.trade_error import TradeError


@pytest.mark.parametrize(
    ("text", "unit", "mm", "written"),
    [
        ("26", "in", 660.4, "26 in"),
        ("26", "mm", 26.0, "26 mm"),
        ('26"', "mm", 660.4, "26 in"),
        ("26''", "mm", 660.4, "26 in"),
        ("26 inches", "mm", 660.4, "26 in"),
        ("1 inch", "mm", 25.4, "1 in"),
        ("26 in.", "mm", 660.4, "26 in"),
        ("7/8", "in", 22.225, "7/8 in"),
        ("1 1/16", "in", 26.9875, "1 1/16 in"),
        ("1-1/16 in", "in", 26.9875, "1-1/16 in"),
        ("3½", "in", 88.9, "3½ in"),
        ("0,9 mm", "in", 0.9, "0,9 mm"),
        ("0,9", "mm", 0.9, "0,9 mm"),
        ("9/10mm", "in", 0.9, "9/10 mm"),
        ("660 millimetres", "in", 660.0, "660 mm"),
        ("35 thousandths", "mm", 0.889, "35 thou"),
        ("20 thousands of an inch", "mm", 0.508, "20 thou"),
        ("20 thousandths of an inch", "in", 0.508, "20 thou"),
        ("20 thou", "in", 0.508, "20 thou"),
        ("0.020in", "mm", 0.508, "0.020 in"),
        ("0.020 of an inch", "mm", 0.508, "0.020 in"),
        (".020", "in", 0.508, ".020 in"),
        ("Twenty-six inches", "mm", 660.4, "26 in"),
        ("about 26", "in", 660.4, "26 in"),
        ("26 inches long", "in", 660.4, "26 in"),
        ("2 ft 2 in", "mm", 660.4, "26 in"),
        ("2'2\"", "mm", 660.4, "26 in"),
        ("2 feet 2 1/2 inches", "in", 673.1, "26 1/2 in"),
        ("26 and a half", "in", 673.1, "26 1/2 in"),
        ("26 inches and a half", "mm", 673.1, "26 1/2 in"),
        ("an inch and a half", "mm", 38.1, "1 1/2 in"),
        ("half an inch", "mm", 12.7, "1/2 in"),
        ("a quarter inch", "in", 6.35, "1/4 in"),
        ("three eighths of an inch", "mm", 9.525, "3/8 in"),
        ("a thirty-second", "in", 0.79375, "1/32 in"),
        ("1/64th of an inch", "mm", 0.396875, "1/64 in"),
        ("9 tenths of a mm", "in", 0.9, "9/10 mm"),
        ("0·9 mm", "in", 0.9, "0.9 mm"),
        ("6 thou each side", "in", 0.1524, "6 thou"),
    ],
)
def test_lengths_with_and_without_their_unit(text: str, unit: str, mm: float, written: str) -> None:
    told = told_length(text, unit)
    assert told.mm == pytest.approx(mm)
    assert told.text == written
    # What the form writes into a recipe is what a recipe reads.
    assert parse_length(written) == told


def test_a_recipe_still_wants_the_unit_and_reads_its_words() -> None:
    with pytest.raises(TradeError, match="has no unit; allowed units"):
        parse_length("26")
    with pytest.raises(TradeError, match="has no unit"):
        parse_length("7/8")
    assert parse_length("26 inches").mm == pytest.approx(660.4)
    assert parse_length("26 inches").text == "26 inches"
    assert parse_length("26 inches").unit == "in"


@pytest.mark.parametrize(
    ("text", "unit", "key", "value"),
    [
        ("7", "in", "points_per_inch", 7.0),
        ("7", "mm", "points_per_25mm", 7.0),
        ("7 ppi", "mm", "points_per_inch", 7.0),
        ("7PPI", "in", "points_per_inch", 7.0),
        ("7 points per inch", "in", "points_per_inch", 7.0),
        ("7 tpi", "in", "teeth_per_inch", 7.0),
        ("7 teeth to the inch", "mm", "teeth_per_inch", 7.0),
        ("5 1/2 ppi", "in", "points_per_inch", 5.5),
        ("5,5", "in", "points_per_inch", 5.5),
        ("8 per 25 mm", "in", "points_per_25mm", 8.0),
        ("8 pp25", "in", "points_per_25mm", 8.0),
        ("8 points per 25mm", "in", "points_per_25mm", 8.0),
        ("8-point", "in", "points_per_inch", 8.0),
        ("8 point saw", "in", "points_per_inch", 8.0),
        ("eight points to the inch", "mm", "points_per_inch", 8.0),
        ("8 p.p.i.", "mm", "points_per_inch", 8.0),
        ("8 pts/in", "mm", "points_per_inch", 8.0),
        ("8 in an inch", "mm", "points_per_inch", 8.0),
        ("8 points in one inch", "mm", "points_per_inch", 8.0),
        ("five and a half", "in", "points_per_inch", 5.5),
        ("5½", "in", "points_per_inch", 5.5),
        ("7 t.p.i", "mm", "teeth_per_inch", 7.0),
        ("7 teeth/inch", "mm", "teeth_per_inch", 7.0),
    ],
)
def test_counts_of_points_and_of_teeth(text: str, unit: str, key: str, value: float) -> None:
    told = told_count(text, unit)
    assert (told.key, told.value) == (key, value)


@pytest.mark.parametrize(
    ("text", "unit", "pitch_mm"),
    [
        # Both end points are counted, so that 31 points hold 30 spaces.
        ("31 in 4 inches", "in", 4 * 25.4 / 30),
        ("31 points in 4", "in", 4 * 25.4 / 30),
        ("31 along 100", "mm", 100 / 30),
        ("thirty-one in four inches", "mm", 4 * 25.4 / 30),
        ('31 over 4"', "mm", 4 * 25.4 / 30),
        ("31 points to 4 inches", "mm", 4 * 25.4 / 30),
        ("1/7 of an inch", "mm", 25.4 / 7),
        ("pitch of 3.6 mm", "in", 3.6),
        ("3.6 mm apart", "in", 3.6),
        ("3.6 mm", "in", 3.6),
        ("3,6 mm pitch", "in", 3.6),
    ],
)
def test_points_counted_along_a_length_and_a_pitch(text: str, unit: str, pitch_mm: float) -> None:
    told = told_count(text, unit)
    assert told.key == "pitch"
    assert isinstance(told.value, Length)
    assert told.value.mm == pytest.approx(pitch_mm)
    assert parse_length(told.value.text).mm == pytest.approx(pitch_mm, rel=5e-5)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        *[("15", 15), ("15°", 15), ("15 degrees", 15), ("15 deg.", 15), ("12,5", 12.5), ("7 1/2°", 7.5), ("-5", -5)],
        *[("fifteen degrees", 15), ("15½", 15.5), ("15d", 15), ("about 15", 15), ("15 degrees of rake", 15)],
        *[(".5", 0.5), ("minus 5", -5), ("−5", -5), ("5 degrees forward", -5), ("15 back from square", 15)],
        *[("square", 0), ("straight across", 0), ("none", 0), ("zero", 0)],
    ],
)
def test_angles(text: str, degrees: float) -> None:
    assert told_degrees(text) == degrees


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("20 gauge", 20),
        ("gauge 20", 20),
        ("No. 20", 20),
        ("20ga", 20),
        ("BWG 20", 20),
        ("#20", 20),
        ("20-gauge", 20),
        ("20 Birmingham", 20),
        ("20 gauge (Birmingham)", 20),
        ("20 gauge steel", 20),
        ("0.035", parse_length("0.035 in")),
        ("0,9 mm", parse_length("0.9 mm")),
        ("35 thou", parse_length("35 thou")),
    ],
)
def test_a_plate_by_calipers_or_by_gauge(text: str, told: Length | int) -> None:
    assert told_plate(text, "in") == told


@pytest.mark.parametrize(
    ("text", "meant"),
    [("cross-cut", "crosscut"), ("Cross Cut", "crosscut"), ("c", "crosscut"), ("2", "crosscut"), ("ripping", "rip")],
)
def test_choices_by_number_word_or_beginning(text: str, meant: str) -> None:
    assert told_choice(text, ("rip", "crosscut"), {"ripping": "rip"}) == meant


@pytest.mark.parametrize(
    ("read", "allowed"),
    [
        (lambda: told_length("banana", "in"), "such as .22 in.; allowed units: .*a bare number is in inches"),
        (lambda: told_length("3 yd", "mm"), "allowed units: .*a bare number is in millimeters"),
        (lambda: told_length("1,000", "in"), "allowed: 1000 in, or 1.000 in"),
        (lambda: told_length("-3", "in"), "a length is zero or more|is not a length"),
        (lambda: told_length("", "in"), "allowed units"),
        (lambda: told_degrees("steep"), "allowed: degrees, such as"),
        (lambda: told_count("many", "in"), "allowed: .8. or .8 ppi."),
        (lambda: told_count("1 in 4 in", "in"), "allowed: 2 to 3,000 points"),
        (lambda: told_plate("20", "in"), 'allowed: "20 gauge", "20 thou", or a thickness in in'),
        (lambda: told_plate("99 gauge", "in"), "allowed: a whole number from 1"),
        (lambda: told_choice("d", ("dovetail", "dry")), "may mean several; allowed: 1 dovetail, 2 dry"),
        (lambda: told_choice("axe", ("rip", "crosscut")), "is none of them; allowed: 1 rip, 2 crosscut"),
        (lambda: told_choice("3", ("rip", "crosscut")), "is none of them"),
        (
            lambda: told_choice("dovtail", ("sash", "dovetail")),
            "is none of them, nearest is 2 dovetail; allowed: 1 sash",
        ),
        (lambda: told_count("8 to 10", "in"), "does not say how fine"),
        (lambda: told_count("7 teeth", "in"), 'read two ways; allowed: "7 ppi", .* or "7 tpi"'),
        (lambda: told_count("7 per inch", "in"), 'read two ways; allowed: "7 ppi", .* or "7 tpi"'),
        (lambda: told_plate("20 SWG", "in"), "is no Birmingham gauge; allowed: "),
        (lambda: told_degrees("15 to 20"), "is not an angle"),
        (lambda: told_degrees("-5 forward"), "is not an angle"),
        (lambda: told_length("just over 1/4 inch", "in"), '"just over 1/4 inch" is not a length'),
        (lambda: told_length("20 mil", "in"), 'unknown unit "mil"'),
        (lambda: told_whole("a lot", 2, 3000, "points"), "allowed: a whole number from 2 to 3,000"),
        (lambda: told_whole("3001", 2, 3000, "points"), "allowed: a whole number from 2 to 3,000"),
        (lambda: told_degrees("9" * 200), "allowed: at most 80"),
    ],
)
def test_every_refusal_says_what_is_allowed(read: Callable[[], Any], allowed: str) -> None:
    with pytest.raises(TradeError, match=allowed):
        read()


@given(st.text(max_size=90), st.sampled_from(FORM_UNITS))
def test_any_text_is_read_or_refused(text: str, unit: str) -> None:
    readers: tuple[Callable[[], Any], ...] = (
        lambda: told_length(text, unit),
        lambda: told_plate(text, unit),
        lambda: told_count(text, unit),
        lambda: told_degrees(text),
        lambda: told_whole(text, 2, 3000, "points"),
        lambda: told_choice(text, ("rip", "crosscut")),
    )
    for read in readers:
        try:
            told = read()
        except TradeError as refused:
            assert "allowed" in str(refused) or "is not a fraction" in str(refused) or "or more" in str(refused)  # noqa: PT017
        else:
            amount = told.value if hasattr(told, "value") else told
            size = amount.mm if isinstance(amount, Length) else amount
            assert isinstance(size, str) or math.isfinite(size)
