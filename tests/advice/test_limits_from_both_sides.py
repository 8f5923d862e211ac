"""Limits between one advice and the next, each looked at from just inside and just outside, in figures written out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from made_saws import panel_saw
from session.advice.plausibility import doubts
from session.advice.set_advice import over_set, set_told, stone_alone_evens
from session.advice.stops import stopped
from session.advice.work import What
from session.trade.lengths import parse_length
from session.trade.observation import Look, Seen
from session.trade.set_readings import set_readings

SAW = panel_saw(fleam=25.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))


def whats(seen: Seen) -> tuple[What, ...]:
    """What keeps every file off the saw, if anything does."""
    found = stopped(SAW, seen)
    return () if found is None else found.whats


@pytest.mark.parametrize(("thou", "plenty"), [(6.0, False), (7.8, False), (8.25, False), (8.35, True), (12.0, True)])
def test_plenty_of_set_is_over_1_3_times_the_recipes_by_more_than_a_caliper_can_be_wrong(
    thou: float, plenty: bool
) -> None:
    # Judgment: 1.3 times 6 thou, and half a thou for the caliper.
    assert over_set(SAW, thou * 0.0254) is plenty
    assert ("well over" in set_told(SAW, (35.0 + 2 * thou) * 0.0254).text) is plenty


def test_a_saw_that_asks_for_no_set_or_says_nothing_of_it_has_never_plenty() -> None:
    for saw in (replace(SAW, set_per_side=None, least_per_side=None), panel_saw(set_per_side=parse_length("0 in"))):
        assert not over_set(saw, 0.5)


@pytest.mark.parametrize(
    ("counted", "another"),
    # A quarter more or less than the 154 spaces of the recipe's line: 192.5 and 115.5 (judgment).
    [(155, False), (193, False), (194, True), (117, False), (116, True)],
)
def test_a_count_a_quarter_away_is_another_saws(counted: int, another: bool) -> None:
    assert whats(Seen(points_in_line=counted)) == ((What.MEND_RECIPE,) if another else ())


@pytest.mark.parametrize(
    ("broken", "retooth"),
    [
        ((40, 41), False),
        ((40, 41, 42), True),
        ((40, 42, 43, 45), False),
        # A tenth of 155 points is 15.5 (judgment).
        (tuple(range(2, 2 + 2 * 15, 2)), False),
        (tuple(range(2, 2 + 2 * 16, 2)), True),
    ],
)
def test_broken_teeth_are_no_matter_for_a_file_from_three_in_a_row_or_a_tenth_of_the_line(
    broken: tuple[int, ...], retooth: bool
) -> None:
    assert whats(Seen(broken=broken)) == ((What.RETOOTH,) if retooth else ())


@pytest.mark.parametrize(("day", "doubted"), [(6, False), (7, False), (8, True)])
def test_a_saw_can_have_been_sharpened_today_and_not_tomorrow(day: int, doubted: bool) -> None:
    found = doubts(SAW, Seen(last_sharpened=date(2026, 3, day)), today=date(2026, 3, 7))
    assert [one.look for one in found] == ([Look.LAST_SHARPENED] if doubted else [])


@pytest.mark.parametrize(("leanest", "enough"), [(3.5, True), (3.25, True), (3.15, False), (2.6, False), (1.0, False)])
def test_an_uneven_set_is_stoned_alone_only_to_what_is_not_told_too_little_afterward(
    leanest: float, enough: bool
) -> None:
    # All of the line comes down to its leanest place, less what one pass of the stone takes there, 0.005 mm (judgment),
    # and the look after the stone gives nothing to the caliper.
    readings = set_readings([(35.0 + 2 * one) * 0.0254 for one in (leanest, 5.0)], 35.0 * 0.0254)
    assert stone_alone_evens(SAW, readings, down_mm=0.0) is enough
    assert (set_told(SAW, (35.0 + 2 * leanest) * 0.0254 - 2 * 0.005).wrong is None) is enough
