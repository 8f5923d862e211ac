"""Bench rules 15, 25, 26 and 28: check points, what the record says, units beside numbers, a record for anyone."""

from __future__ import annotations

import csv
import io
import json
import re
import tomllib
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench_person import Person
from bench_shed import Shed, works_at
from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.trade.reaches import reaches
from session.version import VERSION
from session.walk.route import Leg, route
from session.walk.stages import FACTS, Stage
from session.walk.work_plan import Plan, make_plan
from whole_walk import whole_walk

SAW = load_recipe(supplied_folder("demo") / "netloft-panel-saw.toml").saw


def checked_legs(points: int, held: bool, spacing: int, start: str) -> tuple[Plan, list[Leg]]:
    values = make_plan(SAW, check_spacing=spacing).to_dict()
    values |= {"points": points, "held": held, "reaches": reaches(points, 1.0, held), "start": start}
    plan = Plan.from_dict(values)
    walk = route(plan, plan.taken_in, ())
    return plan, [leg for leg in walk.legs if FACTS[leg.stage].checked and any(place.tooth for place in leg.places)]


@given(st.integers(2, 400), st.integers(4, 120), st.integers(5, 60), st.sampled_from(["heel", "toe"]))
def test_rule_15_check_points_at_most_so_many_places_apart_at_shifts_and_at_line_ends(
    points: int, held: bool, spacing: int, start: str
) -> None:
    plan, legs = checked_legs(points, held, spacing, start)
    assert {leg.stage for leg in legs} == {Stage.SET, Stage.FILE}
    assert all(place.tooth for leg in legs for place in leg.places)
    for leg in legs:
        teeth = [place.tooth for place in leg.places]
        stops = sorted(leg.checks)
        assert stops[-1] == len(teeth) - 1
        gaps = [stop - before for before, stop in pairwise([-1, *stops])]
        assert max(gaps) <= spacing
        shifts = set()
        if FACTS[leg.stage].in_vise:
            shifts = {n for n, (one, other) in enumerate(pairwise(teeth)) if plan.reach_of(one) != plan.reach_of(other)}
            assert shifts <= set(stops)
        # Few, as more are ignored: no more than the spacing and the shifts ask for.
        assert len(stops) <= len(shifts) + 1 + len(teeth) // spacing


async def go_to_check(person: Person) -> None:
    await person.go_on(lambda p: p.boxes()[0][1] == "agrees")


async def test_rule_15_a_check_point_names_what_to_count_and_only_an_answer_passes_it(
    shed: Shed, size: tuple[int, int]
) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        await go_to_check(person)
        before, last = len(person.marks_on_disk()), person.last()
        assert f"was gullet {last['tooth']} the last one worked?" in person.words()
        assert f"Heel to tooth {last['tooth']}: " in person.panel()
        await person.press("space", "enter", "pagedown", "right", "2", "l", "full_stop", after_s=2)
        await person.press("escape", "escape")
        await person.go_on(lambda p: p.boxes()[0][1] == "agrees")
        assert [m["did"] for m in person.marks_on_disk()[before:]][:2] == ["paused", "resumed"]
        await person.press("y")
        found = person.last()
        assert (found["did"], found["tooth"], found["value"], found["unit"]) == (
            "checked",
            last["tooth"],
            last["tooth"],
            "tooth",
        )


@pytest.mark.parametrize(("worked", "kept"), [(9, 9), (5, 5)])
async def test_rule_15_a_difference_offers_a_correction_and_is_recorded(shed: Shed, worked: int, kept: int) -> None:
    async with shed.program(shed.at("file", side=1, jaw=36)) as person:
        await go_to_check(person)
        before, last = len(person.marks_on_disk()), person.last()["tooth"]
        assert last == 11
        await person.press("n")
        assert "Which gullet is NEXT to be filed?" in person.words()
        await person.type(str(worked))
        await person.press("enter")
        assert len(person.marks_on_disk()) == before, "what goes with it is said first"
        assert "will be taken back" in person.words()
        await person.press("enter")
        made = person.marks_on_disk()[before:]
        assert (made[0]["did"], made[0]["value"], made[0]["unit"]) == ("checked", worked - 2, "tooth")
        taken = [mark for mark in made[1:] if mark["did"] == "took back"]
        done = {m["seq"]: m["tooth"] for m in person.marks_on_disk() if m["did"] == "done" and m["stage"] == "file"}
        assert sorted(done[mark["of"]] for mark in taken) == list(range(worked, last + 1, 2))
        assert f"NOW {kept} " in person.places()
        assert f"The place is now gullet {kept}." in person.words()


_FINISHED: list[bytes] = []


async def finished(shed: Shed, folder: Path) -> Path:
    """The log of one whole sharpening with a measured answer, a place left out, a flag and a timed mark, each by hand.

    It is worked once for all who read it, each of whom has it in a ``folder`` of its own.
    """
    if not _FINISHED:
        _FINISHED.append((await _by_hand(shed)).read_bytes())
    path = folder / "finished.toml"
    path.write_bytes(_FINISHED[0])
    return path


async def _by_hand(shed: Shed) -> Path:
    async with shed.bench() as person:
        await shed.brought(person, works_at("look over", step="over the set"))
        await person.press("a")
        await person.type("43 thou")
        await person.press("enter")
        await shed.brought(person, works_at("file"))
        await person.press("3", "full_stop", "l", "2", "h")
        await person.type("3")
        await person.press("enter")
        person.clock.pass_s(3)
        person.bench.tick()
        await person.settle()
        await person.press("z")
        await shed.brought(person, works_at("prove", step="trial cut"))
        await person.press("a")
        await person.type("300 mm, 20 mm, 30 strokes, 1 mm right")
        await person.press("enter", "1")
        await person.go_on(lambda p: p.boxes()[0][1] == "to the till")
        return person.log


async def test_rule_25_the_record_says_what_was_done_by_whom_and_when(shed: Shed, tmp_path: Path) -> None:
    path = await finished(shed, tmp_path)
    log = tomllib.loads(path.read_text(encoding="utf-8"))
    assert log["session"]["program"] == f"toothline {VERSION}"
    marks = log["mark"]
    for mark in marks:
        assert isinstance(mark["at"], datetime)
        assert mark["at"].utcoffset() == timedelta(0)
    filed = [mark for mark in marks if mark["did"] == "done" and mark["stage"] == "file"]
    assert all({"side", "tooth", "by"} <= set(mark) for mark in filed)
    # Strokes stand there where they were counted, and nowhere else.
    assert [mark["tooth"] for mark in filed if "strokes" in mark] == [filed[0]["tooth"]]
    assert [mark["tooth"] for mark in filed if mark["by"] == "timer"] == [5]
    assert filed[0]["strokes"] == 3
    assert {mark["side"] for mark in filed} == {1, 2}
    leveled = [mark for mark in marks if mark["did"] == "done" and mark["stage"] == "level"]
    assert [mark.get("number") for mark in leveled] == [1, None]
    assert all("by" in mark for mark in marks if mark["did"] in ("done", "left out"))
    assert all(
        "unit" in mark for mark in marks if isinstance(mark.get("value"), (int, float)) and mark["did"] != "decided"
    )


async def test_rule_25_the_plan_in_the_header_stays_and_a_deviation_is_a_mark(shed: Shed) -> None:
    sitting = shed.sitting()
    head = sitting.journal.path.read_bytes()
    plan = tomllib.loads(head.decode())["plan"]
    async with shed.program(shed.answered(sitting, works_at("look over", step="plan"))) as person:
        # Of a saw that nobody looked over a touch up is advised: its dressing is out.
        await person.press("1", "2", "space")
        await person.go_on(lambda p: " LEVEL " in p.rows()[0] and p.boxes()[0][1] == "done")
        await person.press("plus")
        assert person.log.read_bytes().startswith(head)
        assert tomllib.loads(person.log.read_text(encoding="utf-8"))["plan"] == plan
        decided = {m["stage"]: m["value"] for m in person.marks_on_disk() if m["did"] == "decided"}
        assert decided == {"level": True, "reshape": True, "set": False, "dress": False}
        assert "reshape" not in plan["taken_in"]
        assert "dress" in plan["taken_in"]
        added = person.last()
        assert (added["did"], added["stage"], added["value"], added["unit"]) == ("added", "level", 1, "passes")


#: What may stand after a measure: its unit, what it counts, or the end of a range that has one.
UNIT = r"\s?(?:(?:mm|cm|m|in|thou|ms|s|min|h|deg|points|teeth)\b|%|°)"
AFTER = re.compile(rf"{UNIT}| to \d+\.\d+{UNIT}")


def bare_numbers(text: str) -> list[str]:
    """Measures without a unit: numbers with a decimal point, which no count has."""
    found = re.finditer(r"(?<![\w.])\d+\.\d+(?![\w.])", text)
    return [number[0] for number in found if not AFTER.match(text, number.end())]


@pytest.mark.wide
async def test_rule_26_a_unit_stands_beside_every_measure_on_screen(shed: Shed) -> None:
    measures, bare = 0, []
    for size in ((80, 24), (120, 36)):
        for glance in (await whole_walk(shed, size)).glances:
            measures += len(re.findall(rf"\d{UNIT}", glance.text()))
            bare.extend(bare_numbers(glance.words()))
    assert bare == []
    assert measures > 200


def test_the_search_for_bare_numbers_itself() -> None:
    assert bare_numbers("0.1 in from the heel, 3.5 points per inch, 4.6 in to 9.0 in") == []
    assert bare_numbers("kerf 1.25, set 0.15") == ["1.25", "0.15"]


@pytest.mark.parametrize(
    ("typed", "value", "unit"), [("43 thou", 43, "thou"), ("0.043 in", 0.043, "in"), ("1,09 mm", 1.09, "mm")]
)
async def test_rule_26_an_entered_value_is_kept_as_entered_with_its_unit(
    shed: Shed, typed: str, value: float, unit: str
) -> None:
    sitting = shed.answered(shed.sitting(), works_at("look over", step="over the set"))
    async with shed.program(sitting) as person:
        await person.press("a")
        await person.type(typed)
        await person.press("enter")
        found = next(mark for mark in person.marks_on_disk() if mark["did"] == "measured")
        assert found["entered"] == typed
        assert (found["value"], found["unit"]) == (pytest.approx(value), unit)
        assert typed in person.words()


def test_rule_26_the_recipe_in_the_log_keeps_the_words_of_the_recipe(shed: Shed) -> None:
    sitting = shed.sitting()
    sitting.close()
    kept = tomllib.loads(sitting.journal.path.read_text(encoding="utf-8"))["recipe"]
    recipe = tomllib.loads((shed.till.path / "saw.toml").read_text(encoding="utf-8"))
    for table in ("teeth", "set", "file"):
        for key, entered in recipe[table].items():
            assert kept[table][key] == entered


async def test_rule_28_the_record_reads_as_plain_text_and_goes_out_with_units_in_its_columns(
    shed: Shed, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = await finished(shed, tmp_path)
    text = path.read_text(encoding="utf-8")
    assert all(char.isprintable() or char == "\n" for char in text)
    assert max(map(len, text.split("\n"))) < 1000
    # One block a mark, one key a line, in words: no program of ours is needed to read it.
    for wanted in ('did = "left out"', 'reason = "broken tooth"', 'stage = "file"', "strokes = 3", 'did = "finished"'):
        assert wanted in text
    before = path.read_bytes()
    assert main(["show", str(path), "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    marks = tomllib.loads(text)["mark"]
    assert len(rows) == len(marks)
    number = re.compile(r"-?\d+(\.\d+)?")
    numbers = {name for row in rows for name, value in row.items() if number.fullmatch(value or "")}
    assert {"strokes_count", "tooth_from_heel", "side", "seq", "value"} <= numbers
    # Names and counts say what they count; a measure has its unit beside it.
    assert numbers <= {
        "seq",
        "side",
        "tooth_from_heel",
        "pass_number",
        "round",
        "strokes_count",
        "takes_back_seq",
        "value",
    }
    assert all(row["value_unit"] for row in rows if number.fullmatch(row["value"] or ""))
    assert [row["at_iso8601"] for row in rows] == [mark["at"].isoformat() for mark in marks]
    assert main(["show", str(path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["state"] == "finished"
    assert path.read_bytes() == before
