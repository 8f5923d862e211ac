"""Strokes to expect in a gullet, from memory, from the records and from the walk itself, and what is said of that."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

import made_saws
from drawn_teeth import FINE_GRADES, PANEL
from every_figure import figures
from random_walks import onward
from session.advice.gullet_advice import TOO_MANY, Expected, over_shown
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.moment import Moment
from session.texts.guidance import Level
from session.till.set_loss import SetWear
from session.trade.grades import GRADE
from session.trade.lengths import Length
from session.trade.strokes import Bite
from session.walk.front_question import Ask
from session.walk.known_bites import KnownBites
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

SAW = load_recipe(find_recipe("crosscut-panel", [])).saw
PLAN = make_plan(SAW, leave_out=frozenset({Stage.SET}))
AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)
SMALL_MM3 = PANEL.steel(FINE_GRADES[3])
RECORDS = KnownBites(
    Bite(SMALL_MM3 / 3, SMALL_MM3 / 4, SMALL_MM3 / 2, 78),
    {"needle": Bite(SMALL_MM3 / 4, 0.05, 0.5, 9)},
)


def at_the_file(strokes: Sequence[int | None], file: str | None = None, grade: int = 3) -> State:
    """A line of small flats, all alike, with so many gullets of side 1 filed."""
    fields: list[dict[str, Any]] = []
    if file is not None:
        fields.append({"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "what": "file", "value": file})
    places = [place for place in State.start(PLAN).route.places if place.stage in (Stage.LOOK_OVER, Stage.LEVEL)]
    fields += [{"did": Did.DONE, **place.fields()} for place in places]
    fields += [
        {"did": Did.DONE, "stage": Stage.LEVEL, "tooth": n, "value": grade, "unit": GRADE}
        for n in range(1, SAW.points + 1)
    ]
    fields += [
        {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": 2 * n + 1, "strokes": count, "by": "key"}
        for n, count in enumerate(strokes)
    ]
    marks = [Mark(seq=n, at=AT + timedelta(seconds=9 * n), **one) for n, one in enumerate(fields, 1)]
    state = State.replay(PLAN, marks)
    assert state.place is not None
    assert state.place.stage is Stage.FILE
    return state


def likely_mm3(bite_mm3: float) -> int:
    return max(1, int(SMALL_MM3 / bite_mm3 + 0.5))


def test_before_anything_is_known_the_strokes_are_from_memory() -> None:
    told = Moment(at_the_file([]), SAW).expected
    # In print a gullet gets 1 to 3 strokes (NOYES, SICK); a light sharpening is 0.04 mm off the line, from memory.
    light_mm3 = SAW.pitch_mm * SAW.plate.mm * 0.04
    assert told.strokes == likely_mm3(light_mm3 / 2) == 5
    assert told.estimate == f"Expect {likely_mm3(light_mm3)}–{likely_mm3(light_mm3 / 3)} strokes, as usual (no source)."


@pytest.mark.parametrize("points", [3.5, 5, 8, 11, 14])
def test_a_light_sharpening_gets_one_to_three_strokes_on_the_coarsest_saw_and_on_the_finest(points: float) -> None:
    saw = made_saws.panel_saw(pitch_mm=25.4 / (points - 1), plate=Length.of(0.3 + 1.5 / points, "mm"))
    figure = next(one for one in figures(saw) if one.key == "strokes_per_gullet")
    assert 1 <= (figure.value or 0) <= 3
    assert figure.doubt == "from memory"


def test_over_five_strokes_no_count_is_given_but_grade_and_file_are_doubted() -> None:
    state = at_the_file([], grade=5)
    told = Moment(state, SAW).expected
    assert (told.strokes, told.estimate) == (None, TOO_MANY)
    assert not any("strokes" in note for note in told.notes)


def test_done_counts_no_strokes_and_teaches_none() -> None:
    told = Moment(at_the_file([None] * 30), SAW, known=RECORDS).expected
    assert told.estimate.endswith("records of 78 gullets.")


def test_the_records_are_where_a_walk_begins() -> None:
    told = Moment(at_the_file([]), SAW, known=RECORDS).expected
    assert (told.strokes, told.estimate) == (3, "Expect 2–4 strokes, by the records of 78 gullets.")


def test_the_file_in_hand_has_its_own_records() -> None:
    assert Moment(at_the_file([], file="Needle"), SAW, known=RECORDS).expected.strokes == 4
    assert Moment(at_the_file([], file="another"), SAW, known=RECORDS).expected.strokes == 3


@pytest.mark.parametrize(
    ("filed", "strokes", "words"),
    [
        (4, 3, "Expect 2–4 strokes, by the records of 78 gullets."),
        (5, 5, "Expect 5 strokes, by what 5+ gullets took here."),
        (9, 5, "Expect 5 strokes, by what 5+ gullets took here."),
        (10, 5, "Expect 5 strokes, by what 10+ gullets took here."),
        (39, 5, "Expect 5 strokes, by what 30+ gullets took here."),
        (60, 5, "Expect 5 strokes, by what 40 gullets took here."),
    ],
)
def test_five_gullets_of_this_walk_outweigh_the_records(filed: int, strokes: int, words: str) -> None:
    told = Moment(at_the_file([5] * filed), SAW, known=RECORDS).expected
    assert (told.strokes, told.estimate) == (strokes, words)


def test_what_it_rests_on_is_told_to_a_learner_only() -> None:
    state = at_the_file([])
    while state.front.ask is not Ask.WORK:
        for mark in onward(state, AT):
            state = state.after(mark)
    said = {level: Moment(state, SAW, level, RECORDS).said for level in Level}
    told = {level: [line for line in one.lines if line.startswith("Expect ")] for level, one in said.items()}
    assert told[Level.TAUGHT] == ["Expect 2–4 strokes, by the records of 78 gullets."]
    assert told[Level.BRIEF] == told[Level.BARE] == []
    assert {one.instruction for one in said.values()} == {said[Level.TAUGHT].instruction}
    assert said[Level.BARE].instruction.startswith("About 3 strokes")


def test_nothing_is_said_where_nothing_is_to_be_taken() -> None:
    assert Expected().estimate == ""
    state = State.start(PLAN)
    assert Moment(state, SAW, known=RECORDS).expected.estimate == ""


def test_the_plan_tells_strokes_in_all_by_bite_and_take() -> None:
    taught = Bite(SMALL_MM3 / 3, SMALL_MM3 / 4, SMALL_MM3 / 2, 78)
    off_mm = PANEL.came_down(FINE_GRADES[3])
    found = {
        one.key: one
        for one in figures(SAW, worn=SetWear(each_mm=off_mm, known=1), bite=taught, minutes=61.4, minutes_of=2)
    }
    assert found["strokes_per_gullet"].value == 3
    assert found["strokes_total"].value == pytest.approx(3 * SAW.points, abs=1)
    assert found["strokes_total"].source == "derived; your records"
    assert "learned from 78 gullets" in found["strokes_total"].formula
    assert (found["minutes_expected"].value, found["minutes_expected"].source) == (61, "your records")
    assert "the median of 2 records" in found["minutes_expected"].formula


def test_the_plan_says_what_is_from_memory() -> None:
    found = {one.key: one for one in figures(SAW)}
    assert found["strokes_total"].doubt == "from memory"
    assert found["minutes_expected"].value is None
    assert found["minutes_expected"].shown("in") == "not known"
    only_bite = {one.key: one for one in figures(SAW, bite=Bite(0.2, 0.1, 0.3, 20))}
    # The take of a light leveling is remembered still.
    assert only_bite["strokes_total"].source == "derived; your records; from memory"


@pytest.mark.parametrize("mm3", [0.05, 0.2, 5.0])
def test_a_bigger_bite_never_asks_for_more_strokes_and_no_gullet_for_none(mm3: float) -> None:
    smaller = {one.key: one.value for one in figures(SAW, bite=Bite(mm3 / 2, mm3 / 3, mm3, 20))}
    bigger = {one.key: one.value for one in figures(SAW, bite=Bite(mm3, mm3 / 2, mm3 * 2, 20))}
    assert SAW.points <= (bigger["strokes_total"] or 0) <= (smaller["strokes_total"] or 0)


def test_more_strokes_than_told_draw_a_word_about_grade_and_file() -> None:
    told = Moment(at_the_file([]), SAW, known=RECORDS).expected
    assert (told.estimate, told.most) == ("Expect 2–4 strokes, by the records of 78 gullets.", 4)
    assert [over_shown(told, strokes) for strokes in (1, 4, 5)] == ["", "", ""]
    assert [over_shown(told, strokes) for strokes in (6, 9)] == [": over 4, look at its grade and the file"] * 2


def test_where_no_count_is_told_none_is_over_it() -> None:
    over_any = Moment(at_the_file([], grade=5), SAW).expected
    assert over_any.estimate == TOO_MANY
    for told in (over_any, Expected()):
        assert (told.most, over_shown(told, 9)) == (None, "")
