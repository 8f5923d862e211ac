"""The plan: what is in it, and its way into a log's header and back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from session.trade.lengths import Length
from session.trade.saw import End, FilePoints, Leans, Order, Saw
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.route import route
from session.walk.stages import FACTS, LOOKS, Stage
from session.walk.state import State
from session.walk.work_plan import CHECK_SPACING, LEVEL_PASSES, MOST_PASSES, Plan, Stumps, make_plan

OPTIONAL = frozenset(stage for stage, facts in FACTS.items() if facts.optional)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_plan_comes_back_from_its_header(saw_of: Callable[..., Saw], data: st.DataObject) -> None:
    saw = saw_of(
        data.draw(st.integers(2, 300)),
        sides=data.draw(st.sampled_from([1, 2])),
        start=data.draw(st.sampled_from(End)),
        first_leans=data.draw(st.sampled_from(Leans)),
        file_points=data.draw(st.sampled_from(FilePoints)),
        fleam=data.draw(st.sampled_from([0.0, 25.0])),
        order=data.draw(st.sampled_from(Order)),
        dressing_passes=data.draw(st.integers(0, 3)),
        vise_jaw=Length.of(data.draw(st.floats(3.0, 500.0))),
    )
    plan = make_plan(
        saw,
        leave_out=data.draw(st.frozensets(st.sampled_from(sorted(OPTIONAL)))),
        level_passes=data.draw(st.integers(0, 5)),
        check_spacing=data.draw(st.integers(1, 40)),
    )
    values = plan.to_dict()
    assert Plan.from_dict(values) == plan
    assert all(type(value) in (int, str, list) for value in values.values()), "plain values only: they go to TOML"


def test_the_default_plan(plan_of: Callable[..., Plan]) -> None:
    plan = plan_of(40, vise_jaw=Length.of(60.0))
    assert plan.reaches == ((1, 20), (21, 40))
    assert plan.taken_in == frozenset(Stage) - {Stage.RESHAPE}
    assert (plan.level_passes, plan.dress_passes, plan.check_spacing) == (LEVEL_PASSES, 1, CHECK_SPACING)
    assert plan.turn_items == ("saw", "guide", "fleam", "low")
    assert 20 <= plan.check_spacing <= 25  # bench rule 15 (judgment)
    assert 1 <= plan.level_passes <= 3  # KING, MTS: 1-2 light strokes; HASL: 2-3 passes


def test_a_saw_that_asks_for_no_set_is_not_set(plan_of: Callable[..., Plan]) -> None:
    assert Stage.SET not in plan_of(8, set_per_side=Length.of(0.0)).taken_in
    assert Stage.SET in plan_of(8, set_per_side=Length.of(0.1)).taken_in
    assert Stage.SET in plan_of(8, set_per_side=None).taken_in


def test_without_fleam_nothing_is_said_of_it(plan_of: Callable[..., Plan]) -> None:
    plan = plan_of(8, fleam=0.0, file_points=FilePoints.HANDLE)
    assert plan.turn_items == ("saw", "guide", "low")
    assert plan.file_points is FilePoints.TOE


def test_no_dressing_asked_is_no_dressing_planned(plan_of: Callable[..., Plan]) -> None:
    plan = plan_of(8, dressing_passes=0)
    assert Stage.DRESS not in plan.taken_in
    assert plan.dress_passes == 1, "if it is taken in at the bench after all, a pass of it is one pass"


@pytest.mark.parametrize("stage", sorted(set(Stage) - OPTIONAL))
def test_a_stage_that_always_belongs_cannot_be_left_out(saw_of: Callable[..., Saw], stage: Stage) -> None:
    with pytest.raises(ValueError, match=f"the stage {stage} cannot be left out"):
        make_plan(saw_of(), leave_out=frozenset({stage}))


@pytest.mark.parametrize(
    ("wanted", "key"),
    [({"check_spacing": 0}, "check_spacing"), ({"level_passes": -1}, "level_passes"), ({"level_passes": 100}, "level")],
)
def test_settings_out_of_range_are_refused(saw_of: Callable[..., Saw], wanted: dict[str, Any], key: str) -> None:
    with pytest.raises(ValueError, match=rf"{key}.* of the plan is -?\d+; allowed: \d+ to \d+"):
        make_plan(saw_of(), **wanted)


def test_tooth_and_reach(plan_of: Callable[..., Plan]) -> None:
    plan = plan_of(10, vise_jaw=Length.of(12.0))
    assert plan.reaches == ((1, 4), (5, 7), (8, 10))
    assert [plan.reach_of(tooth) for tooth in (1, 4, 5, 10)] == [(1, 4), (1, 4), (5, 7), (8, 10)]


HEADER: dict[str, Any] = {
    "points": 8,
    "sides": 2,
    "start": "heel",
    "first_leans": "away",
    "file_points": "toe",
    "reaches": [[1, 4], [5, 8]],
    "held": 4,
    "order": ["look over", "level", "reshape", "set", "file", "dress", "prove", "close"],
    "taken_in": ["look over", "level", "set", "file", "dress", "prove", "close"],
    "level_passes": 2,
    "dress_passes": 1,
    "check_spacing": 22,
    "turn_items": ["saw", "guide", "low"],
    "stumps": "left alone",
}


#: The looks of logs whose plan does not name them.
FIRST = ["points", "over the set", "line", "broken teeth", "bright points", "last cut", "file", "plan"]


def test_the_header_these_tests_spoil_is_good() -> None:
    before = {"looks": FIRST, "fit_items": [], "final_set": "never", "proofs": ["sight", "needle", "trial cut"]}
    assert Plan.from_dict(HEADER).to_dict() == {**HEADER, **before}
    assert Plan.from_dict({**HEADER, "looks": list(LOOKS)}).looks == LOOKS


def test_without_fleam_there_is_no_trough_for_a_needle(saw_of: Callable[..., Saw]) -> None:
    for fleam, steps in ((0.0, ["sight", "trial cut"]), (25.0, ["sight", "needle", "trial cut"])):
        plan = make_plan(saw_of(fleam=fleam))
        proved = [place.step for place in State.start(plan).route.places if place.stage is Stage.PROVE]
        assert proved == steps == Plan.from_dict(plan.to_dict()).to_dict()["proofs"]


@pytest.mark.parametrize("looks", [None, "plan", [], ["plan", "plan"], ["plan", 7], 7])
def test_looks_that_are_none_are_named(looks: Any) -> None:
    with pytest.raises(ValueError, match=r"^looks of the plan"):
        Plan.from_dict({**HEADER, "looks": looks})


def test_a_look_of_another_version_is_kept_and_not_taken() -> None:
    plan = Plan.from_dict({**HEADER, "looks": ["points", "polish", "plan"]})
    assert plan.to_dict()["looks"] == ["points", "polish", "plan"]
    assert State.start(plan).looks == ("points", "plan")


def test_a_log_of_before_has_all_its_looks_whatever_they_find() -> None:
    at = datetime(2026, 1, 1, tzinfo=UTC)
    state = State.start(Plan.from_dict(HEADER))
    while state.front.ask is Ask.CAUTION:
        state = state.after(acts.acknowledge(state, at))
    for what, value in (("bright points", "none"), ("last cut", "good"), ("line", "hollow")):
        state = state.after(acts.measure(state, at, what, value))
    assert [place.step for place in state.route.places if place.stage is Stage.LOOK_OVER] == FIRST


USUAL = ("check_spacing", "turn_items")


@pytest.mark.parametrize("key", [key for key in HEADER if key not in (*USUAL, "stumps")])
def test_a_missing_key_is_named(key: str) -> None:
    with pytest.raises(ValueError, match=f"^the plan has no {key}$"):
        Plan.from_dict({k: v for k, v in HEADER.items() if k != key})


@pytest.mark.parametrize("value", [None, 1.5, {}, True, -1])
@pytest.mark.parametrize("key", list(HEADER))
def test_a_value_of_the_wrong_kind_is_named_with_its_key(key: str, value: Any) -> None:
    with pytest.raises(ValueError, match=rf"^{key} of the plan"):
        Plan.from_dict({**HEADER, key: value})


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("points", 1),
        ("points", 9),  # the reaches end at 8
        ("points", 3001),
        ("sides", 0),
        ("sides", 3),
        ("start", "middle"),
        ("first_leans", "left"),
        ("file_points", "up"),
        ("reaches", []),
        ("reaches", [[1, 4], [6, 8]]),
        ("reaches", [[1, 5], [5, 8]]),
        ("reaches", [[1, 0], [1, 8]]),
        ("reaches", [[5, 8], [1, 4]]),
        ("reaches", [[1, 4, 5], [6, 8]]),
        ("reaches", [[1.0, 8.0]]),
        ("reaches", ["18"]),
        ("reaches", "18"),
        ("order", [*HEADER["order"], "file"]),
        ("order", [*HEADER["order"], "two\nlines"]),
        ("order", [*HEADER["order"], ""]),
        ("taken_in", []),
        ("taken_in", ["polish"]),
        ("level_passes", MOST_PASSES + 1),
        ("dress_passes", 0),
        ("check_spacing", 0),
        ("turn_items", "saw"),
    ],
)
def test_a_header_that_no_walk_can_be_made_of_names_the_key(key: str, value: Any) -> None:
    named = "reaches" if (key, value) == ("points", 9) else key
    with pytest.raises(ValueError, match=rf"^{named} of the plan"):
        Plan.from_dict({**HEADER, key: value})


def test_later_keys_are_passed_over() -> None:
    assert Plan.from_dict({**HEADER, "later": 1}) == Plan.from_dict(HEADER)


@pytest.mark.parametrize("key", USUAL)
def test_a_key_that_an_earlier_version_did_not_write_is_as_usual(key: str) -> None:
    assert Plan.from_dict({k: v for k, v in HEADER.items() if k != key}) == Plan.from_dict(HEADER)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("order", ["look over", "file", "close"]),
        ("order", [*HEADER["order"][:-2], "close", "prove"]),
        ("order", [*HEADER["order"][:-1], "polish"]),
        ("taken_in", ["look over", "file"]),
    ],
)
def test_the_order_of_a_log_is_its_own(key: str, value: list[str]) -> None:
    plan = Plan.from_dict({**HEADER, key: value})
    assert plan.to_dict()[key] == value
    walked = [leg.stage for leg in route(plan, plan.taken_in, ()).legs]
    assert list(dict.fromkeys(walked)) == [s for s in plan.order if s in plan.taken_in and s in FACTS]


def test_a_log_of_before_asks_for_each_place_of_a_broken_tooth() -> None:
    old = Plan.from_dict({key: value for key, value in HEADER.items() if key != "stumps"})
    assert (old.stumps, Plan.from_dict(HEADER).stumps) == (Stumps.ASKED_FOR, Stumps.LEFT_ALONE)
