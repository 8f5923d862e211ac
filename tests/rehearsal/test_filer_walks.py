"""The filer goes through whole sharpenings by the program's words, and the plate shows what came of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from plate_truth import burrs, sides_filed, worst_flat_mm
from session.rehearsal.plate import SEEN_MM
from session.sentences.offers import Act
from session.trade.lengths import MM_PER
from session.trade.saw import FilePoints, Leans, Saw
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.place import Standing
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

SOAK = pytest.mark.soak("a sharpening by a simulated filer")

Walk = Callable[..., Any]

#: One seed whose saw is set and needs little else, and one whose saw is reshaped, with flats and a tooth broken off.
SEEDS = (1, 3)

#: Kinds that are unlike each other, for what takes walks of its own; the others are between them.
UNLIKE = ("panel", "one-sided rip", "never set")
BETWEEN = (
    *("one-sided rip from the toe", "dovetail", "from the toe", "file to the handle"),
    *("leaning toward", "filed first", "sloped"),
)
#: As many walks as there are kinds and no more, the others' in the wider tests.
unlike_first = pytest.mark.parametrize(
    "saw", [*UNLIKE, *(pytest.param(name, marks=pytest.mark.wide) for name in BETWEEN)], indirect=True
)
unlike = pytest.mark.parametrize("saw", [*UNLIKE, *(pytest.param(name, marks=SOAK) for name in BETWEEN)], indirect=True)


@pytest.fixture(
    params=[1, pytest.param(3, marks=pytest.mark.wide), *(pytest.param(seed, marks=SOAK) for seed in (0, 2, 5, 8))]
)
def walked(request: pytest.FixtureRequest, saw: Saw, walk_through: Walk) -> Any:
    return walk_through(saw, request.param)


def test_every_walk_is_finished_with_every_place_done_or_left_out(walked: Any) -> None:
    state = walked.state
    assert state.finished
    standings = {state.standing(place) for place in state.route.places}
    assert standings <= {Standing.DONE, Standing.LEFT_OUT}


def test_no_flat_is_left_that_an_eye_would_see(walked: Any) -> None:
    assert worst_flat_mm(walked.filer.plate) <= SEEN_MM


def test_every_gullet_is_filed_exactly_once_on_the_steel_or_left_out_in_the_log(walked: Any) -> None:
    reshaped = Stage.RESHAPE in walked.state.taken_in
    left = {stage: Counter[int]() for stage in Stage}
    for place, _ in walked.state.left_out():
        left[place.stage][place.tooth] += 1
    stages = (Stage.RESHAPE, Stage.FILE) if reshaped else (Stage.FILE,)
    wanted = Counter(dict.fromkeys(range(1, walked.filer.plate.points + 1), len(stages)))
    filed = Counter(one.gullet for one in walked.filer.plate.filed)
    assert filed + sum((left[stage] for stage in stages), Counter()) == wanted


def test_the_log_tells_the_strokes_that_were_given(walked: Any) -> None:
    told = [
        (place.tooth, mark.strokes)
        for place, mark in walked.state.outcomes.items()
        if place.stage in (Stage.FILE, Stage.RESHAPE) and mark.did is Did.DONE
    ]
    given = [(one.gullet, one.strokes) for one in walked.filer.plate.filed]
    assert Counter(told) == Counter(given)


def test_gullets_are_filed_from_the_side_their_tooth_asks_for(walked: Any) -> None:
    saw, plate = walked.saw, walked.filer.plate
    filing = [one for one in plate.filed if one.side] if Stage.RESHAPE not in walked.state.taken_in else []
    for one in filing:
        if saw.sides == 1:
            assert one.side == 1
        else:
            from_behind = saw.fleam > 0 and saw.file_points is FilePoints.HANDLE
            assert plate.leans_away(one.gullet, one.side) != from_behind


def test_the_filer_never_counts_otherwise_than_the_program(walked: Any) -> None:
    assert walked.filer.differed == []
    assert Act.DIFFER not in {move.act for move in walked.moves}
    assert walked.did(Did.CHECKED)


def test_after_dressing_no_burr_is_left(walked: Any) -> None:
    dressed = {place.side for place in walked.state.outcomes if place.stage is Stage.DRESS and place.number}
    assert (burrs(walked.filer.plate) == 0) == (dressed == {1, 2})


def test_where_teeth_were_set_the_width_over_the_points_is_as_the_recipe_asks(walked: Any) -> None:
    saw = walked.saw
    if Stage.SET in walked.state.taken_in:
        wanted = saw.plate.mm + 2 * saw.set_per_side.mm
        assert walked.filer.plate.over_points_mm() == pytest.approx(wanted, rel=0.1)


def test_what_it_tells_of_its_file_and_of_the_new_set_is_in_the_log(walked: Any) -> None:
    told = {what: mark.value for what, mark in walked.state.measured.items()}
    assert told["file"] == "loft taper"
    assert told["file corner"] in (1, 2, 3)
    if Stage.SET in walked.state.taken_in:
        after = walked.state.measured["over the points after"]
        mm = after.value * MM_PER[after.unit]
        # A caliper's reading, before the stone took its share.
        wanted = walked.saw.plate.mm + 2 * walked.saw.set_per_side.mm
        assert mm == pytest.approx(wanted, rel=0.1)
    else:
        assert "over the points after" not in told


def test_stumps_are_left_alone_at_setting_and_nothing_else_is(walked: Any) -> None:
    left = {place.tooth for place, _ in walked.state.left_out() if place.stage is Stage.SET}
    left |= {place.tooth for place, _ in walked.state.left_by_itself() if place.stage is Stage.SET}
    broken = set(walked.filer.plate.broken()) if Stage.SET in walked.state.taken_in else set()
    assert left == broken


def test_it_pauses_once_and_finds_its_place_again(walked: Any) -> None:
    assert len(walked.did(Did.PAUSED)) == len(walked.did(Did.RESUMED)) == len(walked.did(Did.CONFIRMED)) == 1
    heard = [saying.ask for saying in walked.heard]
    paused = heard.index(Ask.PAUSED)
    assert heard[paused + 1] is Ask.CONFIRM
    # The cautions of the stage were understood in this sitting: they are shown again, and the work is next.
    assert heard[paused + 2] is Ask.WORK
    before, after = walked.heard[paused - 1], walked.heard[paused + 2]
    assert (after.stage, after.side, after.numeral) == (before.stage, before.side, before.numeral)


def test_every_act_was_offered_or_asked(walked: Any) -> None:
    for saying, move in zip(walked.heard, walked.moves, strict=True):
        offered = {offer.act for offer in saying.offers}
        # A choice is picked by its digit wherever choices stand.
        assert move.act in offered or (move.act is Act.STROKES and move.digit <= len(saying.choices))


def test_times_are_those_of_hands(walked: Any) -> None:
    gullets = [
        move.takes_s
        for saying, move in zip(walked.heard, walked.moves, strict=True)
        if saying.stage is Stage.FILE and move.act is Act.STROKES
    ]
    assert min(gullets) >= 2.0
    assert max(gullets) <= 2 + 1.3 * 9
    assert all(move.takes_s > 0.3 for move in walked.moves)


@unlike
def test_a_seed_gives_one_walk(saw: Saw, walk_through: Walk) -> None:
    first, other = walk_through(saw, 1), walk_through(saw, 2)
    again = type(first)(saw, make_plan(saw), 1).run()
    assert again.moves == first.moves
    assert again.state.marks == first.state.marks
    assert again.filer.plate == first.filer.plate
    assert other.moves != first.moves


@unlike
def test_the_walks_use_all_that_a_person_would(saw: Saw, walk_through: Walk) -> None:
    # A saw that needs little is leveled seldom, so that it takes some walks until one asks for another pass.
    wanted = {Act.FLAG, Act.TAKE_BACK, Act.LEAVE_OUT, Act.MORE, Act.PAUSE, Act.ANSWER}
    wanted_of_states = {"flats", "no flats", "reshaped"}
    for seed in (*SEEDS, *(seed for seed in range(16) if seed not in SEEDS)):
        walk = walk_through(saw, seed)
        wanted -= {move.act for move in walk.moves}
        wanted_of_states.discard("flats" if walk.state.flats else "no flats")
        if Stage.RESHAPE in walk.state.taken_in:
            wanted_of_states.discard("reshaped")
        if not wanted | wanted_of_states:
            break
    assert wanted == set()
    assert wanted_of_states == set()


@unlike_first
def test_low_teeth_side_by_side_keep_all_their_steel_between_them(saw: Saw, walk_through: Walk) -> None:
    kept = 0
    for seed in (*SEEDS, 0, 4, 6, 7):
        if kept and seed not in SEEDS:
            break
        walk = walk_through(saw, seed)
        fresh = type(walk)(saw, make_plan(saw), seed).filer.plate
        filed = {one.gullet for one in walk.filer.plate.filed}
        for place, mark in walk.state.left_out():
            if place.stage is Stage.FILE and mark.reason == "no flat on either tooth" and place.tooth not in filed:
                kept += 1
                assert walk.filer.plate.tooth(place.tooth).front == fresh.tooth(place.tooth).front
    assert kept


@unlike
@pytest.mark.parametrize(
    ("more", "seed"),
    [(-1, 1), (1, 3), pytest.param(1, 1, marks=SOAK), pytest.param(-1, 3, marks=SOAK)],
)
def test_a_line_counted_otherwise_than_the_recipe_has_it_is_walked_to_its_own_end(
    saw: Saw, walk_through: Walk, more: int, seed: int
) -> None:
    """With one point more, the last gullet once had no place in the evening plan."""
    walk = walk_through(saw, seed, points=saw.points + more)
    assert walk.state.finished
    assert walk.state.plan.points == saw.points + more
    assert worst_flat_mm(walk.filer.plate) <= SEEN_MM


@unlike_first
def test_a_line_that_leans_the_other_way_is_filed_from_the_other_sides(walk_through: Walk, saw: Saw) -> None:
    if saw.sides == 1 or saw.first_leans is not Leans.AWAY:
        return
    away = sides_filed(walk_through(saw, 1).filer.plate)
    toward = sides_filed(walk_through(replace(saw, first_leans=Leans.TOWARD), 1).filer.plate)
    shared = away.keys() & toward.keys()
    assert len(shared) > saw.points // 2
    assert all({away[k][-1], toward[k][-1]} == {1, 2} for k in shared)
