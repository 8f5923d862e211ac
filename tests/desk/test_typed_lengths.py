"""Lengths typed at a step without their unit: all take the one that was told, else the saw's; the record has each."""

from __future__ import annotations

from dataclasses import replace

import pytest

from session.desk.answers import UNIT_WORDS, AnswerError, example, read
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.texts.steps import Asks
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk.measurables import Measurable

PANEL = load_recipe(find_recipe("crosscut-panel", [])).saw
METRIC = replace(PANEL, plate=parse_length("0.9 mm"), toothed_length=parse_length("560 mm"))


def told(what: Measurable, text: str, saw: Saw = PANEL) -> list[str]:
    return [one.entered for one in read(Asks(what), text, saw)]


@pytest.mark.parametrize(
    ("typed", "understood"),
    [
        ("0.041, 0.042, 0.040", "0.041 in, 0.042 in, 0.040 in"),
        ("0.041,0.042", "0.041 in, 0.042 in"),
        ("0.041 in, 0.042, 0.040", "0.041 in, 0.042 in, 0.040 in"),
        ("0.041, 0.042 in, 0.040", "0.041 in, 0.042 in, 0.040 in"),
        ("41 thou, 42; 40", "41 thou, 42 thou, 40 thou"),
        ("1,05 mm, 1,06", "1,05 mm, 1,06 mm"),
        ("0.041", "0.041 in"),
    ],
)
def test_one_unit_holds_for_all_widths(typed: str, understood: str) -> None:
    assert told(Measurable.OVER_POINTS, typed)[0] == understood


def test_without_any_unit_the_saw_says_it() -> None:
    assert METRIC.unit == "mm"
    assert told(Measurable.OVER_POINTS, "1.05, 1.06", METRIC)[0] == "1.05 mm, 1.06 mm"
    assert told(Measurable.LINE_GAP, "1/32") == ["1/32 in"]
    (gap,) = read(Asks(Measurable.LINE_GAP), "0.5", METRIC)
    assert (gap.value, gap.unit, gap.entered) == (0.5, "mm", "0.5 mm")
    assert told(Measurable.CRACK, "7, 1/8") == ["cracked at gullet 7, 1/8 in"]
    assert told(Measurable.TRIAL_CUT, "6, 3/4, 20 strokes, 1/32 right") == [
        "6 in",
        "3/4 in",
        "20 strokes",
        "1/32 in",
        "1/32 in right",
    ]


@pytest.mark.parametrize("typed", ["0.041 in, 1.05 mm, 0.042", "0.041 in, some", "0.041, -0.04", "0"])
def test_what_may_mean_two_things_or_nothing_is_refused_in_words(typed: str) -> None:
    with pytest.raises(AnswerError, match=r"allowed|is not a length|negative"):
        read(Asks(Measurable.OVER_POINTS), typed, PANEL)


@pytest.mark.parametrize("saw", [PANEL, METRIC])
@pytest.mark.parametrize("what", [Measurable.OVER_POINTS, Measurable.OVER_POINTS_AFTER])
def test_what_is_asked_says_which_unit_a_bare_number_has(saw: Saw, what: Measurable) -> None:
    assert f"a bare number is in {UNIT_WORDS[saw.unit]}" in example(Asks(what), saw)
