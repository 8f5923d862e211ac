"""Lengths typed at a step without their unit: all take the one that was told, else the saw's; the record has each."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from session.desk.answers import UNIT_WORDS, AnswerError, example, read
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.texts.steps import Asks, step
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk.measurables import Measurable
from session.walk.stages import Stage

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


def test_none_is_one_digit_where_the_others_are_digits_and_no_part_of_a_number() -> None:
    for what in (Measurable.CRACK, Measurable.HIGH_TEETH, Measurable.LOW_TEETH, Measurable.BROKEN_TEETH):
        assert told(what, "0") == told(what, "none") == ["none"]
    assert told(Measurable.HIGH_TEETH, "10") == ["10"]
    assert told(Measurable.CRACK, "10") == ["cracked at gullet 10"]
    assert told(Measurable.TRIAL_CUT, "6, 3/4, 20 strokes, 1/32 right") == [
        "6 in",
        "3/4 in",
        "20 strokes",
        "1/32 in",
        "1/32 in right",
    ]


@pytest.mark.parametrize("last", ["0", "0 in", "0.0 mm", "0 right", "on the line", "On line", "straight"])
def test_a_cut_that_stayed_on_its_line_is_told_so(last: str) -> None:
    told_of = read(Asks(Measurable.TRIAL_CUT), f"6, 3/4, 20 strokes, {last}", PANEL)[3:]
    assert [(one.what, one.value, one.unit, one.entered) for one in told_of] == [
        (Measurable.CUT_WANDER, 0, "in", "on the line")
    ]


@pytest.mark.parametrize("last", ["0.5", "1/32 up", "near the line"])
def test_how_far_without_which_way_is_refused_with_both_ways_to_say_it(last: str) -> None:
    with pytest.raises(AnswerError, match='such as "1/32 in right", or "on the line"'):
        read(Asks(Measurable.TRIAL_CUT), f"6, 3/4, 20 strokes, {last}", PANEL)


@pytest.mark.parametrize("typed", ["0.041 in, 1.05 mm, 0.042", "0.041 in, some", "0.041, -0.04", "0"])
def test_what_may_mean_two_things_or_nothing_is_refused_in_words(typed: str) -> None:
    with pytest.raises(AnswerError, match=r"allowed|is not a length|negative"):
        read(Asks(Measurable.OVER_POINTS), typed, PANEL)


@pytest.mark.parametrize("saw", [PANEL, METRIC])
@pytest.mark.parametrize("what", [Measurable.OVER_POINTS, Measurable.OVER_POINTS_AFTER])
def test_what_is_asked_says_which_unit_a_bare_number_has(saw: Saw, what: Measurable) -> None:
    assert f"a bare number is in {UNIT_WORDS[saw.unit]}" in example(Asks(what), saw)


@pytest.mark.parametrize("what", [Measurable.OVER_POINTS, Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END])
def test_wherever_a_caliper_is_closed_several_widths_are_taken(what: Measurable) -> None:
    first, *others = read(Asks(what), "0.046, 0.048, 0.047 in", PANEL)
    assert (first.what, first.value, first.unit) == (what, 0.047, "in")
    assert first.entered == "0.046 in, 0.048 in, 0.047 in"
    assert [one.what for one in others] == [Measurable.WIDTHS] * (what is Measurable.OVER_POINTS)


@pytest.mark.parametrize("what", [Measurable.OVER_POINTS, Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END])
@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ("0.029 0,030 0.031 in", '"0.029 0" is not a width; allowed: such as "0.047, 0.0475, 0.046", commas between'),
        ("29, 30, 31", '29 in is no width; if you mean thou: "29, 30, 31 thou", or "0.029, 0.030, 0.031"'),
    ],
)
def test_a_refused_width_says_how_widths_of_that_saw_are_written(what: Measurable, typed: str, wrong: str) -> None:
    with pytest.raises(AnswerError) as refused:
        read(Asks(what), typed, PANEL)
    assert str(refused.value).startswith(wrong)
    allowed = re.findall(r'"([0-9., ]+(?: thou)?)"', str(refused.value))[-1]
    assert len(read(Asks(what), allowed, PANEL)[0].entered.split(", ")) == 3


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ("good, 6 in, 3/4 in, 30 strokes", '"good" is asked for next'),
        ("6 in, 3/4 in, many, 30 strokes", '"many" is not a number of strokes'),
        ("6 in, 3/4 in, 30 strokes, off", '"off" does not say how far and which way'),
    ],
)
def test_a_refused_cut_blames_the_part_that_is_wrong(typed: str, wrong: str) -> None:
    with pytest.raises(AnswerError, match=f"^{re.escape(wrong)}"):
        read(Asks(Measurable.TRIAL_CUT), typed, PANEL)


def test_what_may_be_written_of_a_plate_stands_beside_the_question() -> None:
    told = step(Stage.LOOK_OVER, "plate")
    assert told.asks is not None
    assert re.findall(r"\w+", told.how.partition(":")[2]) == list(told.asks.choices)
    assert told.how not in example(told.asks, PANEL)
