"""What is said along a progressive line: the rake of the guide block where it changes, and the pitch."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from session.advice.zone_figures import zone_figures, zoned
from session.files.recipe import recipe_from_values
from session.sentences.moment import Moment
from session.trade.saw import End, Saw
from session.trade.tooth import tooth_of
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

VALUES: dict[str, Any] = {
    "format": 1,
    "saw": {
        "name": "Boat-shed long rip",
        "kind": "rip",
        "cut": "rip",
        "toothed_length": "24 mm",
        "plate_thickness": "1 mm",
    },
    "teeth": {
        "pitch": "2 mm",
        "rake": 4,
        "zone": [{"begins": "12 mm", "pitch": "1.5 mm"}, {"begins": "18 mm", "rake": -2}],
    },
    "work": {"vise_jaw": "300 mm"},
}
SAW = recipe_from_values(VALUES).saw  # gullets 1 … 6 at 2 mm, 7 … 10 at 1.5 mm, 11 … 15 at rake −2
AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)


def states(saw: Saw, *, grade: int | None = None) -> dict[tuple[int, int], State]:
    """The state at each gullet of the filing, by side and gullet, with the places before it done."""
    state = State.start(make_plan(saw))
    found = {}
    fields: list[dict[str, Any]] = []
    for place in state.route.places:
        if place.stage is Stage.FILE and grade is not None and not any("value" in one for one in fields):
            fields += [
                {"did": Did.DONE, "stage": Stage.LEVEL, "tooth": n, "value": grade} for n in range(1, saw.points + 1)
            ]
        if place.stage is Stage.FILE:
            marks = [Mark(seq=n, at=AT + timedelta(seconds=n), **one) for n, one in enumerate(fields, 1)]
            found[place.side, place.tooth] = State.replay(state.plan, marks)
        if place.stage is Stage.PROVE:
            break
        fields.append({"did": Did.DONE, **place.fields()})
    return found


def said(saw: Saw) -> dict[tuple[int, int], str]:
    """The instruction that a zone gives, by side and gullet, where it gives one."""
    found = {}
    for where, state in states(saw).items():
        assert state.place is not None
        words = zoned(state, saw, state.place).instruction
        if words:
            found[where] = words
    return found


def test_the_zones_are_as_the_recipe_has_them() -> None:
    assert [(zone.first, zone.last, zone.rake, zone.tooth.pitch_mm) for zone in zone_figures(SAW)] == [
        (1, 6, 4.0, 2.0),
        (7, 10, 4.0, 1.5),
        (11, 15, -2.0, 1.5),
    ]
    assert [zone.tooth for zone in zone_figures(SAW)] == [tooth_of(SAW.at(tooth)) for tooth in (1, 7, 11)]


@pytest.mark.parametrize(
    ("start", "where"),
    [
        (End.HEEL, {(1, 1): "4", (1, 11): "-2", (2, 2): "4", (2, 12): "-2"}),
        (End.TOE, {(1, 15): "-2", (1, 9): "4", (2, 14): "-2", (2, 10): "4"}),
    ],
)
def test_the_block_is_named_where_its_rake_changes_and_where_a_side_begins(
    start: End, where: dict[tuple[int, int], str]
) -> None:
    assert said(replace(SAW, start=start)) == {
        key: f"Guide block at rake {rake}° from here on; then file this gullet." for key, rake in where.items()
    }


def test_the_rake_and_the_pitch_stand_beside_every_gullet() -> None:
    by_gullet = {
        tooth: zoned(state, SAW, state.place).lines for (_, tooth), state in states(SAW).items() if state.place
    }
    assert by_gullet[6] == ("Rake here: 4° on the guide block.", "Pitch here: 2 mm.")
    assert by_gullet[7] == ("Rake here: 4° on the guide block.", "Pitch here: 1.5 mm.")
    assert by_gullet[11] == ("Rake here: -2° on the guide block.", "Pitch here: 1.5 mm.")


def test_of_a_line_that_keeps_its_rake_only_the_pitch_is_told() -> None:
    values = {**VALUES, "teeth": {**VALUES["teeth"], "zone": [{"begins": "12 mm", "pitch": "1.5 mm"}]}}
    saw = recipe_from_values(values).saw
    assert said(saw) == {}
    for state in states(saw).values():
        assert state.place is not None
        (line,) = zoned(state, saw, state.place).lines
        assert line.startswith("Pitch here: ")


def test_a_plain_saw_says_nothing_of_zones() -> None:
    plain = replace(SAW, zones=())
    assert said(plain) == {}
    assert all(not zoned(state, plain, state.place).lines for state in states(plain).values() if state.place)


def test_flats_graded_alike_ask_alike_of_the_gullets_of_a_zone_and_less_where_teeth_are_finer() -> None:
    asked = {tooth: Moment(state, SAW).expected.strokes for (_, tooth), state in states(SAW, grade=1).items()}
    for zone in ((2, 3, 4, 5), (8, 9), (12, 13, 14)):
        assert len({asked[tooth] for tooth in zone}) == 1
    coarse, fine = asked[3], asked[8]
    assert coarse is not None
    assert fine is not None
    assert coarse > fine
