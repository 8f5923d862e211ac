"""Advice from findings: due when it is due, silent about what nobody measured."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import panel_saw
from session.advice.findings import FindingError, Findings, findings_from
from session.advice.look_over import advice, findings
from session.advice.set_advice import least_set_mm, set_today, set_told, slope_of, stone_alone_evens
from session.advice.stage_advice import STANDS, Counsel, advise, remarks
from session.texts.sources import works
from session.trade.lengths import Length, parse_length
from session.trade.saw import Leans, Order, Saw
from session.trade.set_readings import SetReadings, set_readings
from session.trade.setting import SetLine
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

SAW = panel_saw(fleam=25.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
LOOKED = st.builds(
    Findings,
    counted_points=st.none() | st.integers(2, 3000),
    over_points_mm=st.none() | st.floats(0.1, 5.0),
    line=st.none() | st.sampled_from(["straight", "crowned", "hollow"]),
    broken=st.none() | st.lists(st.integers(1, 200), max_size=9).map(lambda many: tuple(sorted(set(many)))),
    bright=st.none() | st.sampled_from(["none", "some", "most"]),
    last_cut=st.none() | st.sampled_from(["good", "wanders", "binds", "rough", "slow", "none"]),
    sharpenings_since_set=st.none() | st.integers(0, 30),
    spacing_error_mm=st.none() | st.floats(0.0, 3.0),
)


def on(stage: Stage, findings: Findings, saw: Saw = SAW) -> Counsel:
    """The one counsel on ``stage``."""
    (found,) = [counsel for counsel in advise(saw, findings) if counsel.stage is stage]
    return found


def over(set_thou: float) -> float:
    """Width over the points for a set per side in thou on the plate of 35 thou, in mm."""
    return (35.0 + 2.0 * set_thou) * 0.0254


def test_with_nothing_measured_the_plan_stands_and_says_so() -> None:
    for planned in (None, frozenset(Stage), frozenset({Stage.FILE, Stage.PROVE})):
        standing = make_plan(SAW).taken_in if planned is None else planned
        found = {counsel.stage: counsel for counsel in advise(SAW, Findings(), planned)}
        for stage in (Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.DRESS):
            assert found[stage].take_in is (stage in standing)
        for stage in (Stage.LEVEL, Stage.SET, Stage.FILE):
            assert found[stage].why == STANDS


@pytest.mark.parametrize(("thou", "due"), [(2.0, True), (2.9, True), (2.96, False), (3.0, False), (6.0, False)])
def test_setting_is_due_when_today_leaves_less_than_the_least_by_more_than_a_caliper_can_be_wrong(
    thou: float, due: bool
) -> None:
    found = on(Stage.SET, Findings(over_points_mm=over(thou)))
    assert found.take_in is due
    assert f"{thou:.1f} thou" in found.why
    assert "3.0 thou" in found.why


@given(st.floats(0.0, 9.0), st.floats(0.0, 9.0))
def test_less_set_never_makes_it_less_due(one: float, other: float) -> None:
    low, high = sorted((one, other))
    less, more = (on(Stage.SET, Findings(over_points_mm=over(thou))).take_in for thou in (low, high))
    assert less >= more


def test_metric_owner_reads_millimeters() -> None:
    saw = replace(SAW, toothed_length=parse_length("560 mm"))
    why = on(Stage.SET, Findings(over_points_mm=0.889 + 0.1), saw).why
    assert "0.050 mm" in why
    assert "thou" not in why


def test_half_of_the_set_asked_for_is_least_where_none_is_named() -> None:
    saw = replace(SAW, least_per_side=None)
    assert least_set_mm(saw) == pytest.approx(0.0762)
    found = on(Stage.SET, Findings(over_points_mm=over(2.0)), saw)
    assert found.take_in
    assert "judgement" in found.source
    bare = replace(saw, set_per_side=None)
    assert least_set_mm(bare) is None
    assert "plan stands" in on(Stage.SET, Findings(over_points_mm=over(2.0)), bare).why


def test_a_width_under_the_plate_is_measured_again() -> None:
    found = on(Stage.SET, Findings(over_points_mm=0.8))
    assert "measure again" in found.why
    assert found.take_in is (Stage.SET in make_plan(SAW).taken_in)


def test_a_saw_that_bound_gets_a_touch_more_only_while_it_has_less_than_asked() -> None:
    assert on(Stage.SET, Findings(over_points_mm=over(4.0), last_cut="binds")).take_in
    assert not on(Stage.SET, Findings(over_points_mm=over(6.5), last_cut="binds")).take_in
    assert on(Stage.SET, Findings(last_cut="binds")).take_in


def test_set_of_none_asked_and_never_set() -> None:
    none = replace(SAW, set_per_side=Length(0.0, "0 in", "in"), least_per_side=None)
    assert not on(Stage.SET, Findings(), none).take_in
    assert on(Stage.SET, Findings(), replace(SAW, first_leans=Leans.UNSET)).take_in


def test_too_much_set_goes_to_the_stone_and_not_to_the_set() -> None:
    # 8.7 thou is over 1.3 times the 6 asked for; 8.0 is not by more than a caliper can be wrong.
    for thou, much in ((12.0, True), (8.7, True), (8.0, False)):
        found = Findings(over_points_mm=over(thou), bright="none", last_cut="rough")
        setting, dressing = on(Stage.SET, found), on(Stage.DRESS, found)
        assert not setting.take_in
        assert ("stone" in setting.why) is much
        assert ("more set than the work asks for" in dressing.why) is much
        assert dressing.take_in or not much
    good = Findings(over_points_mm=over(12.0), bright="none", last_cut="good")
    assert not on(Stage.DRESS, good).take_in


@pytest.mark.parametrize(
    ("thou", "says", "again"),
    [
        (6.0, "", False),
        (5.6, "", False),
        (4.9, "1.1 thou under the 6.0 thou asked for", False),
        (7.4, "1.4 thou over the 6.0 thou asked for", False),
        (2.0, "under the least of 3.0 thou: measure again, then set once more", False),
        (9.0, "well over the 6.0 thou asked for: measure again, then stone both sides down", False),
        (40.0, "over the 30.0 thou that FSMAN prints as the most: measure again", True),
        (-1.0, "33.0 thou is less than the plate, 35.0 thou: measure again, the plate beside the teeth too", True),
    ],
)
def test_a_width_told_after_setting_is_answered_at_once(thou: float, says: str, again: bool) -> None:
    told = set_told(SAW, over(thou))
    assert says in told.text
    assert (bool(told.text), told.again) == (bool(says), again)


def test_an_uneven_set_is_stoned_alone_only_where_the_leanest_place_has_enough() -> None:
    def readings(*thou: float) -> SetReadings:
        return set_readings([over(one) for one in thou], SAW.plate.mm)

    assert stone_alone_evens(SAW, readings(5.0, 7.0, 8.0))
    assert not stone_alone_evens(SAW, readings(2.0, 7.0, 8.0))
    assert not stone_alone_evens(replace(SAW, set_per_side=None, least_per_side=None), readings(5.0, 7.0))


def test_without_records_the_set_by_now_is_not_known() -> None:
    assert set_today(SAW, None) is None
    slope = slope_of(SAW, 0.1)
    assert slope is not None
    assert slope == slope_of(SAW)  # the recipe's 6 thou, more than what is left of it
    due = set_today(SAW, SetLine(0.0762, slope), down_mm=0.15)
    assert due is not None
    assert due.due
    idle = set_today(SAW, SetLine(0.0762, slope), down_mm=0.0, stone_passes=0)
    assert idle is not None
    assert not idle.due


def test_when_it_was_set_is_told() -> None:
    assert "3 sharpenings ago" in on(Stage.SET, Findings(over_points_mm=over(2.0), sharpenings_since_set=3)).why
    assert "1 sharpening ago" in on(Stage.SET, Findings(sharpenings_since_set=1)).why
    assert "at the last sharpening" in on(Stage.SET, Findings(sharpenings_since_set=0)).why


def test_a_hollow_line_is_leveled_and_reshaped() -> None:
    found = Findings(line="hollow", bright="none", last_cut="good")
    assert on(Stage.LEVEL, found).take_in
    assert "crowned" in on(Stage.LEVEL, found).why
    assert on(Stage.RESHAPE, found).take_in


def test_spacing_on_the_flats_decides_over_everything_else() -> None:
    assert not on(Stage.RESHAPE, Findings(line="hollow", spacing_error_mm=0.1)).take_in
    assert on(Stage.RESHAPE, Findings(line="straight", spacing_error_mm=0.9)).take_in


def test_a_saw_that_cuts_well_is_left_alone() -> None:
    found = Findings(bright="none", last_cut="good", line="straight")
    took = {counsel.stage for counsel in advise(SAW, found) if counsel.take_in}
    assert took == {Stage.PROVE}
    with_little_set = replace(found, over_points_mm=over(1.0))
    took = {counsel.stage for counsel in advise(SAW, with_little_set) if counsel.take_in}
    assert {Stage.SET, Stage.FILE} <= took


@pytest.mark.parametrize("bright", ["some", "most"])
def test_bright_points_are_filed(bright: str) -> None:
    found = on(Stage.FILE, Findings(bright=bright, last_cut="good"))
    assert found.take_in
    assert found.source == "FIT"


def test_dressing_follows_recipe_plan_and_fault() -> None:
    bare = replace(SAW, dressing_passes=0)
    assert on(Stage.DRESS, Findings()).take_in
    assert not on(Stage.DRESS, Findings(), bare).take_in
    assert on(Stage.DRESS, Findings(last_cut="wanders"), bare).take_in
    (out,) = [c for c in advise(SAW, Findings(), {Stage.FILE}) if c.stage is Stage.DRESS]
    assert not out.take_in


PLANS = st.none() | st.frozensets(st.sampled_from(Stage)).map(lambda some: some | {Stage.FILE})


@given(LOOKED, st.sampled_from(Order), st.sampled_from(Leans), st.sampled_from(["22 in", "560 mm"]), PLANS)
def test_all_six_in_working_order_each_with_a_reason_and_works(
    found: Findings, order: Order, leans: Leans, length: str, planned: frozenset[Stage] | None
) -> None:
    saw = replace(SAW, order=order, first_leans=leans, toothed_length=parse_length(length))
    counsels = advise(saw, found, planned)
    wanted = [stage for stage in make_plan(saw).order if stage not in (Stage.LOOK_OVER, Stage.CLOSE)]
    assert [counsel.stage for counsel in counsels] == wanted
    for counsel in counsels:
        assert counsel.why.endswith(".")
        assert len(counsel.why) <= 140
        assert works(counsel.source)
    # What is taken off a point is always filed again.
    took = {counsel.stage for counsel in counsels if counsel.take_in}
    assert Stage.FILE in took or not took & {Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.DRESS}
    for line in remarks(saw, found):
        assert line.endswith(".")


def test_remarks_on_counts_and_broken_teeth() -> None:
    assert remarks(SAW, Findings(counted_points=155, broken=())) == ()
    (count,) = remarks(SAW, Findings(counted_points=153))
    assert "153" in count
    assert "155" in count
    beyond, within = remarks(SAW, Findings(broken=(12, 200)))
    assert "no tooth 200" in beyond
    assert "tooth 12 alone" in within
    assert remarks(SAW, Findings(counted_share=(8.0, "in 1 in"))) == ()
    (share,) = remarks(SAW, Findings(counted_share=(9.0, "in 1 in")))
    assert "8 points per inch" in share


class TestFindings:
    def test_from_the_answers_of_the_steps(self) -> None:
        answers: dict[Measurable, Any] = {
            Measurable.POINTS: 155,
            Measurable.OVER_POINTS: 1.1,
            Measurable.LINE: "crowned",
            Measurable.BROKEN_TEETH: [47, 12, 47],
            Measurable.BRIGHT_POINTS: "some",
            Measurable.LAST_CUT: None,
        }
        assert findings_from(answers, sharpenings_since_set=2) == Findings(
            counted_points=155,
            over_points_mm=1.1,
            line="crowned",
            broken=(12, 47),
            bright="some",
            sharpenings_since_set=2,
        )
        assert findings_from({}) == Findings()
        assert findings_from({Measurable.POINTS: 8.5}, scope="in 1 in").counted_share == (8.5, "in 1 in")

    @pytest.mark.parametrize(
        ("wrong", "says"),
        [
            ({"counted_points": 1}, "1 points counted; allowed: 2 or more"),
            ({"over_points_mm": math.nan}, "allowed: above 0 mm"),
            ({"over_points_mm": 0.0}, "allowed: above 0 mm"),
            ({"over_points_mm": math.inf}, "allowed: above 0 mm"),
            ({"spacing_error_mm": -1.0}, "allowed: 0 or more mm"),
            ({"line": "wavy"}, "allowed: straight, crowned, hollow"),
            ({"bright": "few"}, "allowed: none, some, most"),
            ({"last_cut": "fine"}, "allowed: good, "),
            ({"broken": (0,)}, "allowed: 1"),
            ({"sharpenings_since_set": -1}, "allowed: 0 or more"),
            ({"counted_share": (1.0, "in 1 in")}, "allowed: more than 1"),
        ],
    )
    def test_what_cannot_be_is_refused(self, wrong: dict[str, Any], says: str) -> None:
        with pytest.raises(FindingError, match=says):
            Findings(**wrong)

    def test_answers_that_cannot_be(self) -> None:
        with pytest.raises(FindingError, match="whole number"):
            findings_from({Measurable.POINTS: 154.5})
        with pytest.raises(FindingError, match="whole number"):
            findings_from({Measurable.POINTS: math.inf})
        with pytest.raises(FindingError, match="allowed: in the line, in 1 in, in 25 mm"):
            findings_from({}, scope="in a foot")


AT = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("what", "value", "unit"),
    [
        ("over the points", 0.0, "mm"),
        ("over the points", 1.1, "cubit"),
        ("over the points", "wide", "mm"),
        ("line", "wavy", None),
        ("bright points", 3, None),
        ("last cut", "sings", None),
        ("points", "many", "in the line"),
        ("points", 8.5, "in the line"),
        ("points", True, "in the line"),
        ("points", 8, "in a foot"),
        ("broken teeth", "0", "from the heel"),
        ("heft", 3, "lb"),
    ],
)
def test_what_a_log_of_another_version_tells_otherwise_is_as_not_told(what: str, value: Any, unit: str | None) -> None:
    saw = panel_saw()
    told = Mark(seq=1, at=AT, did=Did.MEASURED, stage=Stage.LOOK_OVER, what=what, value=value, unit=unit)
    state = State.replay(make_plan(saw), [told])
    nothing = Findings(broken=()) if what == "broken teeth" else Findings()
    assert findings(state) == nothing
    assert [one.stage for one in advice(state, saw)] == [one.stage for one in advise(saw, nothing, state.taken_in)]
