"""A line that cannot be the recipe's is told by what differs, by what that may be, and by what to do."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from session.advice.measured_looks import MeasuredLooks
from session.advice.scan_contradictions import Contradiction, contradictions, why_not_used
from session.advice.seen_by_scan import seen_by_scan
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.trade.observation import Seen
from session.trade.saw import Saw
from session.trade.scanned_line import ScannedLine, line_of_teeth
from session.trade.tooth import tooth_of
from told_line import told_line

SAW = replace(load_recipe(find_recipe("rip", [])).saw, points_counted=True)
ZONED = load_recipe(find_recipe("progressive-rip", [])).saw


def drawn(
    saw: Saw = SAW, *, count: int = 0, times: float = 1.0, front: float = 0.0, turned: bool = False
) -> ScannedLine:
    """A line of ``saw``, its count and spaces changed, its fronts leaning by ``front`` degrees more; turned end for
    end."""
    made = tooth_of(saw)
    line = told_line(count or saw.points, saw.pitch_mm * times)
    leans = (made.front_deg + front, made.back_deg)
    teeth = [
        replace(tooth, front_deg=leans[turned] + 0.5 * (tooth.tooth % 2), back_deg=leans[not turned])
        for tooth in line.teeth
    ]
    return line_of_teeth(teeth, 0.0, 0.02, 0.002)


def only(line: ScannedLine, **known: object) -> Contradiction:
    (found,) = contradictions(line, SAW, "my-rip", **known)  # type: ignore[arg-type]
    return found


def test_a_line_as_the_recipe_has_it_contradicts_nothing() -> None:
    assert contradictions(drawn(), SAW) == ()
    places = [ZONED.from_heel_mm(tooth) for tooth in range(1, ZONED.points + 1)]
    teeth = [
        replace(tooth, place_mm=at, front_deg=made.front_deg, back_deg=made.back_deg, a_mm=at, b_mm=at)
        for tooth, at in zip(told_line(ZONED.points, 4.0).teeth, places, strict=True)
        for made in [tooth_of(ZONED.at(tooth.tooth))]
    ]
    assert contradictions(line_of_teeth(teeth, 0.0, 0.02, 0.002), ZONED) == (), "nor does one of zones"


def test_a_part_of_the_line_another_saw_and_wrong_dots_are_told_apart() -> None:
    part = only(drawn(count=SAW.points * 2 // 3))
    assert part.held
    assert part.what == f"it shows {SAW.points * 2 // 3} teeth where the recipe has {SAW.points} points, at the " + (
        "recipe's spacing"
    )
    assert "scan all of it in overlapping pictures" in part.perhaps
    assert "toothline edit my-rip" in part.perhaps
    other = only(drawn(count=SAW.points + 9, times=0.7))
    assert (other.held, "another saw's picture" in other.perhaps) == (True, True)
    longer = only(drawn(count=SAW.points + 9))
    assert "another, longer saw's" in longer.perhaps
    for times, dpi, words, meant in ((2.0, 600, "twice", "1200"), (0.5, 1200, "half", "600")):
        found = only(drawn(times=times), dpi=dpi * 1.002)
        assert found.held
        assert f"is {words} the recipe's" in found.what
        assert found.perhaps.startswith(f"Is it {meant} dots per inch? Read it again with --dpi {meant};")
    assert only(drawn(times=2.0)).perhaps.startswith("Say its own --dpi;")
    few = SAW.points // 2
    assert only(drawn(count=few, times=2.0)).what.endswith(
        f"; it shows {few} teeth where the recipe has {SAW.points} points"
    )
    apart = only(drawn(times=1.1))
    assert "Measure ten spaces with calipers" in apart.perhaps


@pytest.mark.parametrize("off", [-2, -1, 1, 2])
def test_one_or_two_teeth_may_be_a_slip_and_hold_nothing_back(off: int) -> None:
    found = only(drawn(count=SAW.points + off))
    assert not found.held
    assert "Count them by hand once" in found.perhaps
    assert why_not_used(drawn(count=SAW.points + off), SAW) == ""
    assert why_not_used(drawn(count=SAW.points + 3 * off), SAW).startswith("it shows")


def test_a_person_who_counted_today_is_believed_before_the_recipe() -> None:
    count = SAW.points * 9 // 10
    line = drawn(count=count, times=(SAW.points - 1) / (count - 1))
    assert why_not_used(line, SAW).startswith("it shows")
    assert why_not_used(line, SAW, count) == ""
    assert why_not_used(line, SAW, SAW.points).startswith("it shows")


def test_a_count_that_nobody_counted_may_be_off_by_a_share_of_it() -> None:
    by_pitch = replace(SAW, points_counted=False)
    four = drawn(count=SAW.points - SAW.points * 3 // 100)
    assert [one.held for one in contradictions(four, by_pitch)] == [False]
    assert [one.held for one in contradictions(drawn(count=SAW.points - SAW.points // 10), by_pitch)] == [True]


def test_fronts_are_held_against_the_recipe_and_ends_changed_are_known() -> None:
    assert contradictions(drawn(front=2.0), SAW) == ()
    some = only(drawn(front=5.1))
    assert not some.held
    made = tooth_of(SAW).front_deg
    assert f"by the recipe {made:.1f}°" in some.what
    assert " ± 0.2" in some.what or " ± 0.3" in some.what
    assert "mend the rake: toothline edit my-rip" in some.perhaps
    much = only(drawn(front=16.0))
    assert (much.held, "another saw's picture" in much.perhaps) == (True, True)
    for heel, other in (("left", "right"), ("right", "left")):
        turned = only(drawn(turned=True), heel=heel)
        assert turned.held
        assert f"Read it again with --heel {other}." in turned.perhaps


def test_nothing_is_taken_of_a_line_held_back_and_a_slip_is_told_beside_what_is() -> None:
    at = datetime(2026, 11, 26, 9, 0, tzinfo=UTC)
    part, slip = drawn(count=SAW.points // 2), drawn(count=SAW.points - 1)
    found = seen_by_scan(Seen(), MeasuredLooks(at, part), SAW, at.date(), "r")
    assert (found.seen, dict(found.taken)) == (Seen(), {})
    assert found.told[0].startswith("The scan of 2026-11-26 09:00, today, is not used: it shows")
    assert found.told[-1] == "If it is not of this saw, lay it aside: toothline scan r --lay-aside."
    kept = seen_by_scan(Seen(), MeasuredLooks(at, slip), SAW, at.date(), "r")
    assert kept.seen.points_in_line == SAW.points - 1
    assert "contradicts the recipe: it shows" in kept.told[-1]
