"""The regret of plans, and twenty years of a saw, in small: plans do what they say, and regret is what it says."""

from __future__ import annotations

from random import Random

import pytest

from session.advice.work import What
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.rehearsal.proving.cut_figures import cut_figures
from session.rehearsal.proving.person import OLD_HAND, PEOPLE, PRACTICED
from session.rehearsal.proving.plan_work import PLANS, PlanWork, seen_of
from session.rehearsal.proving.regret import NEAR_BEST, Planned, RegretCase, advised_for, near_best, regret_text
from session.rehearsal.proving.saw_conditions import KINDS, Condition, plate_in, recipe_of
from session.rehearsal.proving.twenty_years import Policy, years_of, years_text
from session.trade.seen_words import Bright, Cutting, LineShape

SAW = recipe_of("dovetail").saw


def case(own: float, taken: float, best: float, followed: float) -> RegretCase:
    others = (Planned("full", best, 0.1), Planned("nothing", 0.0, 0.0))
    return RegretCase(
        1, "dovetail", "dull", True, "set", Planned("set", own, taken), Planned("set; file", followed, 0.1), others
    )


def test_regret_is_the_share_of_the_best_that_is_missed() -> None:
    found = case(own=0.35, taken=0.1, best=0.45, followed=0.44)
    # Steel of 0.1 mm costs 0.05 at the usual price.
    assert found.best().plan == "full"
    assert found.regret(first=True) == pytest.approx(0.25)
    assert found.regret() == pytest.approx(0.025)
    assert near_best([found], 0.5) == 1.0
    assert near_best([found], 0.5, first=True) == 0.0
    assert found.regret() <= NEAR_BEST
    # Dear steel makes nothing done the best.
    assert case(own=0.0, taken=0.0, best=0.45, followed=0.0).best(price=10.0).taken == 0.0
    text = regret_text([found, case(own=0.1, taken=0.0, best=0.5, followed=0.1)])
    assert "| dull | 2 | 0 % |" in text
    assert "- **missed**: advice followed: best or within 5 % in 90 % of saws: 50 %" in text


@pytest.mark.parametrize("kind", list(KINDS))
def test_a_perfect_line_asks_for_nothing(kind: str) -> None:
    saw = recipe_of(kind).saw
    assert saw.set_per_side is not None
    mm = saw.set_per_side.mm
    teeth = [ToothSteel(saw.pitch_mm * k, saw.pitch_mm * k, 0.0, mm, 0.0) for k in range(saw.points)]
    for person in PEOPLE:
        _, works, _ = advised_for(SimulatedPlate(saw, teeth), person, "1")
        assert works == ()


def test_what_is_seen_of_a_plate_is_true_of_it() -> None:
    dull = seen_of(plate_in(SAW, Condition.DULL, Random(1)), OLD_HAND, Random(1))
    assert (dull.bright, dull.last_cut) == (Bright.MOST, Cutting.SLOW)
    assert dull.points_in_line == SAW.points
    hollow = seen_of(plate_in(SAW, Condition.HOLLOW, Random(1)), OLD_HAND, Random(1))
    assert hollow.line is LineShape.HOLLOW
    assert hollow.line_gap is not None
    broken = plate_in(SAW, Condition.BROKEN, Random(1))
    assert seen_of(broken, OLD_HAND, Random(1)).broken == broken.broken()
    words, works, _ = advised_for(plate_in(SAW, Condition.DULL, Random(1)), OLD_HAND, "1")
    assert What.FILE in works
    assert "file" in words


def test_plans_do_to_the_plate_what_they_say_and_leave_the_one_they_came_from() -> None:
    plate = plate_in(SAW, Condition.DULL, Random(2))
    before = [steel.top for steel in plate.teeth]
    done: dict[str, SimulatedPlate] = {
        name: PlanWork(plate, PRACTICED, Random(3)).do(works) for name, works in PLANS.items()
    }
    assert [steel.top for steel in plate.teeth] == before
    assert cut_figures(done["nothing"]) == cut_figures(plate)
    assert cut_figures(done["full"]).speed > cut_figures(done["touch up"]).speed > cut_figures(plate).speed
    assert done["set"].over_points_mm() > plate.over_points_mm()
    assert done["stone"].over_points_mm() < plate.over_points_mm()
    assert [steel.front for steel in done["stone"].teeth] == [steel.front for steel in plate.teeth]


def test_a_saw_kept_some_years_loses_steel_and_never_gains_it() -> None:
    short, long = (years_of(Policy.UNTIL_FLAT, "dovetail", 1, times=times) for times in (1, 3))
    assert 0.0 < short.taken < long.taken
    assert long.filed == 3
    advised = years_of(Policy.ADVISED, "dovetail", 1, times=2)
    assert advised.cut > advised.worn
    assert "as advised, and again after the cut" in years_text([advised])
