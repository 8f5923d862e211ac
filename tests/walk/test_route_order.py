"""The route: every place of a sharpening, in the order it is worked."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.trade.lengths import Length
from session.trade.saw import End, FilePoints, Leans, Order
from session.walk.added_stages import Added
from session.walk.place import Place
from session.walk.route import Leg, Route, route
from session.walk.stages import FACTS, Kind, Stage
from session.walk.work_plan import Plan

LAWS = examples(30, suppress_health_check=[HealthCheck.function_scoped_fixture])


def of_plan(plan: Plan, *added: Added, take_in: Stage | None = None, leave_out: Stage | None = None) -> Route:
    taken_in = plan.taken_in | ({take_in} if take_in else set())
    return route(plan, frozenset(taken_in - ({leave_out} if leave_out else set())), added)


def legs(route_: Route) -> list[tuple[Stage, int, int]]:
    return [(leg.stage, leg.side, leg.round) for leg in route_.legs]


def leg(route_: Route, stage: Stage, side: int, round_: int = 1) -> Leg:
    (found,) = [leg for leg in route_.legs if (leg.stage, leg.side, leg.round) == (stage, side, round_)]
    return found


def teeth(route_: Route, stage: Stage, side: int, round_: int = 1) -> list[int]:
    return [place.tooth for place in leg(route_, stage, side, round_).places]


def test_set_first(plan_of: Callable[..., Plan]) -> None:
    # NOYES, KING, ROSS, MTS: joint, set, file
    assert legs(of_plan(plan_of(8))) == [
        (Stage.LOOK_OVER, 0, 1),
        (Stage.LEVEL, 0, 1),
        (Stage.LEVEL, 0, 1),
        (Stage.SET, 1, 1),
        (Stage.SET, 2, 1),
        (Stage.SET, 0, 1),  # measured
        (Stage.FILE, 1, 1),
        (Stage.FILE, 2, 1),
        (Stage.DRESS, 2, 1),
        (Stage.DRESS, 1, 1),
        (Stage.PROVE, 0, 1),
        (Stage.CLOSE, 0, 1),
    ]


def test_file_first(plan_of: Callable[..., Plan]) -> None:
    # SICK, FIT: joint, file, set
    assert legs(of_plan(plan_of(8, order=Order.FILE_FIRST)))[3:10] == [
        (Stage.FILE, 1, 1),
        (Stage.FILE, 2, 1),
        (Stage.SET, 1, 1),
        (Stage.SET, 2, 1),
        (Stage.SET, 0, 1),
        (Stage.DRESS, 2, 1),
        (Stage.DRESS, 1, 1),
    ]


def test_published_order_from_two_sides(plan_of: Callable[..., Plan]) -> None:
    # HOLTZ, NOYES: 8 tips, those with odd numbers leaning away when the handle is at the right.
    found = of_plan(plan_of(8, first_leans=Leans.AWAY))
    assert teeth(found, Stage.FILE, 1) == [1, 3, 5, 7]
    assert teeth(found, Stage.FILE, 2) == [2, 4, 6, 8]


def test_published_order_from_one_side(plan_of: Callable[..., Plan]) -> None:
    # HOLTZ, KING: a square-filed rip, every gullet in turn from one side.
    found = of_plan(plan_of(8, sides=1, fleam=0.0))
    assert teeth(found, Stage.FILE, 1) == [1, 2, 3, 4, 5, 6, 7, 8]
    assert (Stage.FILE, 2, 1) not in legs(found)


def test_setting_takes_all_of_one_side_and_then_the_rest(plan_of: Callable[..., Plan]) -> None:
    # GRIF, PSM89, GOR: set all of one side, turn, set the rest; PSM89: each tooth the way it leans.
    found = of_plan(plan_of(8, first_leans=Leans.TOWARD))
    assert teeth(found, Stage.SET, 1) == [2, 4, 6, 8]
    assert teeth(found, Stage.SET, 2) == [1, 3, 5, 7]


@pytest.mark.parametrize(
    ("leans", "points", "first_side"),
    [
        (Leans.AWAY, FilePoints.TOE, [1, 3, 5, 7]),
        (Leans.UNSET, FilePoints.TOE, [1, 3, 5, 7]),
        (Leans.TOWARD, FilePoints.TOE, [2, 4, 6]),
        (Leans.AWAY, FilePoints.HANDLE, [2, 4, 6]),
        (Leans.TOWARD, FilePoints.HANDLE, [1, 3, 5, 7]),
    ],
)
def test_which_gullets_come_first(
    plan_of: Callable[..., Plan], leans: Leans, points: FilePoints, first_side: list[int]
) -> None:
    found = of_plan(plan_of(7, first_leans=leans, file_points=points))
    assert teeth(found, Stage.FILE, 1) == first_side
    assert sorted(teeth(found, Stage.FILE, 1) + teeth(found, Stage.FILE, 2)) == list(range(1, 8))


def test_from_the_toe(plan_of: Callable[..., Plan]) -> None:
    # SLOJD: toe to heel
    found = of_plan(plan_of(7, start=End.TOE))
    assert teeth(found, Stage.FILE, 1) == [7, 5, 3, 1]
    assert teeth(found, Stage.SET, 2) == [6, 4, 2]


@st.composite
def options(draw: st.DrawFn) -> dict[str, Any]:
    return {
        "points": draw(st.integers(2, 90)),
        "sides": draw(st.sampled_from([1, 2])),
        "start": draw(st.sampled_from(End)),
        "first_leans": draw(st.sampled_from(Leans)),
        "file_points": draw(st.sampled_from(FilePoints)),
        "order": draw(st.sampled_from(Order)),
        "vise_jaw": Length.of(draw(st.floats(3.0, 300.0))),
        "check_spacing": draw(st.integers(1, 30)),
    }


@LAWS
@given(options=options(), extra=st.integers(0, 3))
def test_the_set_is_measured_once_after_both_sides_of_each_round(
    plan_of: Callable[..., Plan], options: dict[str, Any], extra: int
) -> None:
    found = of_plan(plan_of(**options), *[Added(Stage.SET)] * extra)
    measured = [place for place in found.places if place.stage is Stage.SET and place.step]
    assert measured == [Place(Stage.SET, step="measure", round=number) for number in range(1, extra + 2)]
    for place in measured:
        before = [found.index[p] for p in found.places if p.stage is Stage.SET and p.round == place.round and p.tooth]
        assert before == list(range(found.index[place] - len(before), found.index[place]))
        assert len(before) == options["points"]


def test_reshaping_takes_every_gullet_from_one_side_and_levels_again(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(5), take_in=Stage.RESHAPE)
    looks = len(found.legs[0].places)
    after = found.places[looks : looks + 9]
    assert [(place.stage, place.number, place.step, place.round) for place in after[:8]] == [
        (Stage.LEVEL, 1, "", 1),
        (Stage.LEVEL, 0, "flats", 1),
        *[(Stage.RESHAPE, 0, "", 1)] * 5,
        (Stage.LEVEL, 1, "", 2),
    ]
    assert teeth(found, Stage.RESHAPE, 1) == [1, 2, 3, 4, 5]
    assert after[8] == Place(Stage.LEVEL, step="flats", round=2)


def test_reshaping_without_leveling_does_not_level_again(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(5), take_in=Stage.RESHAPE, leave_out=Stage.LEVEL)
    assert not [leg for leg in found.legs if leg.stage is Stage.LEVEL]


def test_passes_of_leveling_and_dressing(plan_of: Callable[..., Plan]) -> None:
    more = (Added(Stage.LEVEL), Added(Stage.LEVEL, passes=2), Added(Stage.LEVEL, round=2))
    found = of_plan(plan_of(5, dressing_passes=3, level_passes=1), *more, take_in=Stage.RESHAPE)
    level = [place for place in found.places if place.stage is Stage.LEVEL]
    assert [(place.round, place.number) for place in level if place.number] == [(1, n) for n in (1, 2, 3, 4)] + [
        (2, 1),
        (2, 2),
    ]
    assert [(place.round, place.step) for place in level if place.step] == [(1, "flats"), (2, "flats")]
    assert [place.number for place in leg(found, Stage.DRESS, 2).places] == [1, 2, 3]
    assert [place.number for place in leg(found, Stage.DRESS, 1).places] == [1, 2, 3]


def test_dressing_begins_with_the_side_that_is_up(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(5, sides=1, fleam=0.0))
    assert legs(found)[-5:-2] == [(Stage.FILE, 1, 1), (Stage.DRESS, 1, 1), (Stage.DRESS, 2, 1)]


def test_an_extra_stage_comes_before_the_close_and_is_proved(plan_of: Callable[..., Plan]) -> None:
    extra = (Added(Stage.DRESS, 2, 1), Added(Stage.SET), Added(Stage.DRESS, 0, 2))
    found = of_plan(plan_of(5), *extra)
    assert legs(found)[-11:] == [
        (Stage.PROVE, 0, 1),
        (Stage.DRESS, 2, 2),
        (Stage.PROVE, 0, 2),
        (Stage.SET, 1, 2),
        (Stage.SET, 2, 2),
        (Stage.SET, 0, 2),
        (Stage.PROVE, 0, 3),
        (Stage.DRESS, 2, 3),  # the side that is up after setting comes first
        (Stage.DRESS, 1, 3),
        (Stage.PROVE, 0, 4),
        (Stage.CLOSE, 0, 1),
    ]
    assert [place.step for place in leg(found, Stage.PROVE, 0, 3).places] == ["trial cut"]
    assert len(leg(found, Stage.DRESS, 1, 3).places) == 2


def test_an_extra_stage_is_not_proved_when_proving_was_left_out(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(5), Added(Stage.FILE), leave_out=Stage.PROVE)
    assert legs(found)[-3:] == [(Stage.FILE, 1, 2), (Stage.FILE, 2, 2), (Stage.CLOSE, 0, 1)]


def test_a_leg_without_places_is_no_leg(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(5, level_passes=0))
    assert [leg.places for leg in found.legs if leg.stage is Stage.LEVEL] == [(Place(Stage.LEVEL, step="flats"),)]


@pytest.mark.parametrize("start", End)
def test_flats_are_graded_along_the_line_when_asked_for(plan_of: Callable[..., Plan], start: End) -> None:
    found = of_plan(plan_of(50, start=start), Added(Stage.LEVEL, passes=0))
    passes, graded, look = (leg for leg in found.legs if leg.stage is Stage.LEVEL)
    assert [place.number for place in passes.places] == [1]
    assert [place.tooth for place in graded.places] == sorted(range(1, 51), reverse=start is End.TOE)
    assert sorted(graded.checks) == [16, 32, 49], "a long walk along the line keeps its place by check points"
    assert [place.step for place in look.places] == ["flats"]


def test_legs_and_indexes_agree(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(9))
    counted = 0
    for one in found.legs:
        for place in one.places:
            assert found.leg_at(counted) == (one, found.index[one.places[0]])
            assert found.index[place] == counted
            counted += 1
    assert counted == len(found.places)


@LAWS
@given(options=options())
def test_no_place_comes_twice_and_no_tooth_is_forgotten(plan_of: Callable[..., Plan], options: dict[str, Any]) -> None:
    found = of_plan(plan_of(**options), Added(Stage.SET), Added(Stage.FILE), take_in=Stage.RESHAPE)
    assert len(set(found.places)) == len(found.places)
    every = list(range(1, options["points"] + 1))
    for stage, round_ in ((Stage.RESHAPE, 1), (Stage.SET, 1), (Stage.SET, 2), (Stage.FILE, 1), (Stage.FILE, 2)):
        worked = [p.tooth for p in found.places if (p.stage, p.round) == (stage, round_) and not p.step]
        assert sorted(worked) == every


@LAWS
@given(options=options())
def test_filing_and_setting_run_one_way(plan_of: Callable[..., Plan], options: dict[str, Any]) -> None:
    step = {End.HEEL: 1, End.TOE: -1}[options["start"]]
    for one in of_plan(plan_of(**options), take_in=Stage.RESHAPE).legs:
        if FACTS[one.stage].kind in (Kind.TOOTH, Kind.GULLET):
            apart = {(b.tooth - a.tooth) * step for a, b in pairwise(one.places)}
            two = one.stage is Stage.SET or (one.stage is Stage.FILE and options["sides"] == 2)
            assert apart <= {2 if two else 1}


@LAWS
@given(options=options())
def test_check_points(plan_of: Callable[..., Plan], options: dict[str, Any]) -> None:
    # Bench rule 15: at most so many places apart, at each shift in the vise, and at the end of the line.
    plan = plan_of(**options)
    for one in of_plan(plan, take_in=Stage.RESHAPE).legs:
        if one.stage is Stage.LEVEL or not FACTS[one.stage].checked or not one.side:
            assert one.checks == frozenset()
            continue
        where = sorted(one.checks)
        assert where[-1] == len(one.places) - 1, "the end of the line"
        assert all(b - a <= plan.check_spacing for a, b in pairwise([-1, *where]))
        if FACTS[one.stage].in_vise:
            shifts = [
                i for i, (a, b) in enumerate(pairwise(one.places)) if plan.reach_of(a.tooth) != plan.reach_of(b.tooth)
            ]
            assert set(shifts) <= one.checks
            # Few: more are ignored. Never more than the shifts, the spacing and the end ask for.
            for after, upto in pairwise([-1, *shifts, len(one.places) - 1]):
                inside = [index for index in where if after < index <= upto]
                assert (len(inside) - 1) * plan.check_spacing < upto - after, "one fewer would leave too wide a gap"


def test_the_spacing_of_a_long_line(plan_of: Callable[..., Plan]) -> None:
    # 183 points: a 26 in saw at 8 points (arithmetic); 92 gullets from side 1 in 5 equal spans of at most 22.
    checks = sorted(leg(of_plan(plan_of(183)), Stage.FILE, 1).checks)
    assert [b - a for a, b in pairwise([-1, *checks])] == [18, 19, 18, 19, 18]


def test_the_check_before(plan_of: Callable[..., Plan]) -> None:
    found = of_plan(plan_of(8, check_spacing=3))
    measure = found.index[Place(Stage.SET, step="measure")]
    first = found.index[Place(Stage.FILE, 1, 1)]
    assert found.check_before(0) is None
    assert found.check_before(measure) == Place(Stage.SET, 2, 8), "the end of the leg before"
    assert found.check_before(first) is None, "the measuring between asks for no count"
    assert found.check_before(first + 1) is None
    assert found.check_before(first + 2) == Place(Stage.FILE, 1, 3)
    assert found.check_before(first + 3) == Place(Stage.FILE, 1, 3)
    assert found.check_before(first + 4) == Place(Stage.FILE, 1, 7)
    assert found.check_before(len(found.places)) is None, "closing has no check points"
