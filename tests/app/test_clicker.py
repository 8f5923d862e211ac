"""A sharpening by a presenter's clicker: Page Down stops at every caution and hold point, and nowhere else."""

from __future__ import annotations

from typing import Any

import pytest

from bench_person import Person
from bench_shed import Shed, works_at
from own_plan import keep_plan
from session.files.settings import Settings
from session.walk.front_question import Ask
from session.walk.place import place_of
from session.walk.stages import FACTS, Kind, Stage
from session.walk.state import State
from session.walk.work_plan import Plan

SOAK = pytest.mark.soak("a whole sharpening by one key")

#: The one key that each kind of stop asks for, as it stands on the first box.
ASKED = {
    "understood": "caution",
    "yes, done": "turn",
    "found": "turn",
    "it does": "lean",
    "fitted": "fit",
    "agrees": "check",
    "yes, here": "confirm",
}


async def by_page_down(person: Person) -> list[str]:
    """Press Page Down until nothing changes, then the one key that is asked, to the end; what stopped it."""
    stops: list[str] = []
    for _ in range(600):
        word = person.boxes()[0][1]
        if word == "to the till":
            return stops
        before = (len(person.marks_on_disk()), word, person.places(), person.panel())
        await person.press("pagedown")
        if (len(person.marks_on_disk()), person.boxes()[0][1], person.places(), person.panel()) != before:
            continue
        if "Not answered yet" in person.text():
            # What asks for a measure asks once more before it is skipped.
            await person.press("pagedown")
            continue
        # Pressed again and again it still does not pass.
        await person.press("pagedown", "pagedown")
        assert len(person.marks_on_disk()) == before[0]
        stops.append(ASKED[word])
        key = person.boxes()[0][0]
        assert key == "y"
        await person.press(key)
        # Once a saw that lies flat is turned over, nothing is left to agree to of the turn.
        flat = word == "yes, done" and before[2].lstrip().startswith("done pass")
        assert len(person.marks_on_disk()) == before[0] + 1 + flat
    raise AssertionError("it never ends")


def expected(plan: Plan) -> list[str]:
    """The stops of an undisturbed walk, from its stages, legs, turns, fittings and check points alone."""
    stops: list[str] = []
    known: set[str] = set()
    fitted: set[str] = set()
    state, side = State.start(plan), 1
    for leg in state.route.legs:
        facts = FACTS[leg.stage]
        fresh = [caution for caution in facts.cautions if caution not in known]
        known.update(facts.cautions)
        stops += ["caution"] * len(fresh)
        if leg.side and leg.side != side:
            # What is put on for the first time is put on in the turn, its rake looked at besides.
            rake = "rake" in facts.fit and leg.stage not in fitted
            found = leg.stage is not Stage.DRESS
            stops += ["turn"] * (len([item for item in facts.turn if item in plan.turn_items]) + rake + found)
            side = leg.side
            fitted.add(leg.stage)
        if leg.side and facts.fit:
            if not fitted & {"lean"}:
                stops.append("lean")
            if leg.stage not in fitted:
                stops += ["fit"] * len([item for item in facts.fit if item in plan.fit_items and item != "lean"])
            fitted |= {"lean", leg.stage}
        stops += ["check"] * len(leg.checks)
    return stops


@pytest.mark.wide
@pytest.mark.parametrize(
    "saw",
    [
        pytest.param({"points": 8, "jaw": 12}, marks=SOAK),
        {"points": 9, "jaw": 12, "start": "toe"},
        pytest.param({"points": 24, "jaw": 40}, marks=SOAK),
        pytest.param({"points": 25, "jaw": 30, "start": "toe"}, marks=SOAK),
    ],
    ids=lambda saw: f"{saw['points']} teeth",
)
async def test_page_down_alone_stops_at_each_caution_turn_and_check_and_nowhere_else(
    shed: Shed, saw: dict[str, Any]
) -> None:
    sitting = keep_plan(shed.sitting(**saw))
    wanted = expected(sitting.plan)
    assert wanted.count("check") >= 2
    async with shed.program(sitting) as person:
        assert await by_page_down(person) == wanted
        marks = person.marks_on_disk()
        assert marks[-1]["did"] == "finished"
        # Each place was marked once, in order, and all of them by a key.
        places = [place_of(mark) for mark in sitting.state.marks if mark.did == "done"]
        assert places == list(sitting.state.route.places)
        assert {mark["by"] for mark in marks if mark["did"] == "done"} == {"key"}


async def test_a_line_being_graded_is_passed_as_before_by_page_down_up_to_its_checks(shed: Shed) -> None:
    async with shed.program(shed.at("level")) as person:
        await person.go_on(lambda p: "NOW flats" in p.places())
        await person.press("3", "4")
        stops: list[int] = []
        while "NOW flats" not in person.places():
            await person.press("pagedown")
            if person.boxes()[0][1] == "agrees":
                stops.append(person.last()["tooth"])
                await person.press("y")
        grades = [mark["value"] for mark in person.marks_on_disk() if mark.get("unit") == "fine grade"]
        assert grades == [4] * 24
        assert stops[-1] == 24


@pytest.mark.wide
async def test_the_clickers_other_buttons_are_harmless_in_every_stage(shed: Shed) -> None:
    async with shed.program(shed.sitting()) as person:
        for stage in Stage:
            if stage is not Stage.RESHAPE:
                await shed.brought(person, works_at(stage))
                await harmless(person)


async def test_with_a_button_for_yes_a_clicker_closes_the_record_and_leads_to_the_till(shed: Shed) -> None:
    settings = Settings(keys={"agree": ("y", "b")})
    sitting = shed.answered(shed.at("prove"), works_at("close"))
    async with shed.program(sitting, settings=settings) as person:
        for _ in range(40):
            word, marks = person.boxes()[0][1], len(person.marks_on_disk())
            if word == "to the till":
                break
            await person.press("pagedown")
            if len(person.marks_on_disk()) == marks:
                await person.press("b")
        assert person.last()["did"] == "finished"
        await person.press("pagedown")
        assert person.boxes()[0][1] == "to the till"
        await person.press("b")
        assert any("till" in row.lower() for row in person.rows()[:1])
        assert "FINISHED" not in person.rows()[0]


async def harmless(person: Person) -> None:
    """Press every other button of a clicker at the place in hand."""
    word, places, numeral = person.boxes()[0][1], person.places(), person.rows()[1:14]
    count = len(person.marks_on_disk())
    for button in ("pageup", "pageup"):  # opens the look back, and scrolls in it
        await person.press(button)
    assert "Looking back" in person.text()
    await person.press("f5")
    assert (len(person.marks_on_disk()), person.places(), person.rows()[1:14]) == (count, places, numeral)
    await person.press("full_stop")
    assert person.last()["did"] == "flagged"
    # The other key of the same asks for a word on it, which nobody has to give.
    for button in ("b", "escape"):
        await person.press(button)
        assert person.last()["did"] == "flagged"
    assert person.boxes()[0][1] == word
    # One button that sends two keys in turn: paused, going on, and the place is found again before work goes on.
    for button in ("f5", "escape"):
        await person.press(button)
    dids = [mark["did"] for mark in person.marks_on_disk()[count:]]
    assert dids == ["flagged", "paused", "resumed"]
    assert person.boxes()[0][1] == "yes, here"
    await person.press("pagedown", "pageup", "escape")
    assert len(person.marks_on_disk()) == count + 3
    await person.go_on(lambda p: p.boxes()[0][1] == word and p.boxes()[0][0] != "y")
    now = places.partition("NOW ")[2].partition(" │")[0]
    assert f"NOW {now} " in person.places()
    assert not [mark for mark in person.marks_on_disk()[count:] if mark["did"] in ("done", "left out", "took back")]


def test_what_holds_is_what_the_walk_says_holds() -> None:
    assert {ask for ask in Ask if ask.holds} == {Ask.CAUTION, Ask.TURN, Ask.FIT, Ask.CHECK, Ask.CONFIRM}
    assert {facts.kind for facts in FACTS.values()} == set(Kind)
