"""The account of one sharpening: what its record holds, worded, and what nobody measured said to be so."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.advice.closing_account import MOST_NAMED, account_of
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


def filed(tooth: int, **fields: Any) -> dict[str, Any]:
    return {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": tooth, "by": "key", **fields}


def told(stage: Stage, step: str, what: str, value: Any, unit: str | None = None) -> dict[str, Any]:
    return {"did": Did.MEASURED, "stage": stage, "step": step, "what": what, "value": value, "unit": unit}


def passed(number: int) -> dict[str, Any]:
    return {"did": Did.DONE, "stage": Stage.LEVEL, "number": number, "by": "key"}


def graded(tooth: int, grade: int) -> dict[str, Any]:
    return {"did": Did.DONE, "stage": Stage.LEVEL, "tooth": tooth, "value": grade, "unit": "fine grade", "by": "key"}


@pytest.fixture
def account(tmp_path: Path) -> Any:
    """The account of a crosscut panel saw's record with these marks, ten seconds apart; its plate is 0.035 in."""

    def of(*marks: dict[str, Any]) -> tuple[str, ...]:
        recipe = load_recipe(supplied_folder("demo") / "netloft-panel-saw.toml")
        header = {"session": {"started": DAY0, "saw": recipe.saw.name}, "recipe": recipe.values}
        header["plan"] = make_plan(recipe.saw).to_dict()
        made = [Mark(seq=n, at=DAY0 + timedelta(seconds=10 * n), **one) for n, one in enumerate(marks, 1)]
        path = tmp_path / "2026-03-07T09-00-00-000000.toml"
        path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in made))
        return account_of(path)

    return of


def test_what_nobody_measured_says_so(account: Any) -> None:
    lines = account(filed(1), filed(3))
    assert lines[0] == "Flags still open: none."
    assert lines[1].startswith("Work: 2026-03-07 09:00, ")
    assert lines[1].endswith(" min: filed 2 gullets.")
    assert lines[2:] == (
        "Strokes: not counted in 2 gullets.",
        "Line before: line not looked at; sizes not looked at.",
        "Flats: not graded.",
        "Line after: trough not looked at; needle not looked at.",
        "Set before: not measured.",
        "Set after: not measured.",
        "Steel: not known, strokes were not counted.",
        "File: a file not named: 2 gullets.",
        "Trial cut: none was told.",
    )


def test_what_was_measured_stands_with_its_unit(account: Any) -> None:
    lines = account(
        told(Stage.LOOK_OVER, "line", "line", "crowned"),
        told(Stage.LOOK_OVER, "sizes", "sizes", "even"),
        told(Stage.LOOK_OVER, "over the set", "over the points", 0.045, "in"),
        told(Stage.LOOK_OVER, "file", "file", "loft taper"),
        told(Stage.LOOK_OVER, "file", "file corner", 2, "corner"),
        passed(1),
        *(graded(tooth, grade) for tooth, grade in enumerate((0, 2, 2, 3), 1)),
        *(filed(tooth, strokes=strokes) for tooth, strokes in ((1, 2), (3, 2), (5, 4))),
        filed(7),
        told(Stage.DRESS, "measure", "over the points in the end", 0.043, "in"),
        told(Stage.PROVE, "sight", "trough", "even"),
        told(Stage.PROVE, "trial cut", "cut length", 6.0, "in"),
        told(Stage.PROVE, "trial cut", "cut thickness", 1.0, "in"),
        told(Stage.PROVE, "trial cut", "cut strokes", 20, "strokes"),
        told(Stage.PROVE, "trial cut", "trial cut", "good"),
    )
    text = "\n".join(lines)
    assert "leveled with 1 pass, filed 4 gullets" in text
    # Two counts of 2 and one of 4; the fourth gullet was done without a count.
    assert "Strokes: 8 counted in 3 of 4 gullets, the middle 2 a gullet." in lines
    assert "Line before: line crowned; sizes even." in lines
    assert "Flats: 1 none, 2 narrow, 1 clear." in lines
    assert "Line after: trough even; needle not looked at; still low: tooth 1." in lines
    # (0.045 - 0.035) / 2 and (0.043 - 0.035) / 2 in.
    assert "Set before: 5.0 thou a side, measured." in lines
    assert "Set after: 4.0 thou a side, measured at the end." in lines
    assert any(
        line.startswith("Steel: about ") and line.endswith(" off the line, by the graded flats.") for line in lines
    )
    assert "File: loft taper, corner 2: 4 gullets." in lines
    # 6 in by 1 in over 20 strokes, in the unit of the saw.
    assert "Trial cut: good, 0.300 in² a stroke." in lines


def cut(told_of_it: str, number: int) -> dict[str, Any]:
    return told(Stage.PROVE, "trial cut", "trial cut", told_of_it) | {"round": number}


def test_the_fault_of_a_cut_that_was_made_again_is_kept(account: Any) -> None:
    once = account(filed(1), cut("binds", 1), cut("good", 2))
    assert "Trial cut: good; length, board and strokes were not told; the cut before it: binds." in once
    thrice = account(filed(1), cut("binds", 1), cut("wanders", 2), cut("good", 3))
    assert any(line.endswith("; the cuts before it: binds, wanders.") for line in thrice)
    unmended = account(filed(1), cut("binds", 1), cut("binds", 2))
    assert "Trial cut: binds; length, board and strokes were not told; the cut before it: binds." in unmended
    # Answered anew of the same cut, or good each time, there was no fault before.
    for marks in ((cut("binds", 1), cut("good", 1)), (cut("good", 1), cut("good", 2))):
        assert "Trial cut: good; length, board and strokes were not told." in account(filed(1), *marks)


def test_what_was_passed_over_and_what_is_still_flagged_is_named(account: Any) -> None:
    lines = account(
        {"did": Did.DONE, "stage": Stage.LOOK_OVER, "step": "wood", "reason": "not looked at"},
        {"did": Did.DONE, "stage": Stage.SET, "step": "measure", "reason": "not answered"},
        filed(3),
        filed(3, did=Did.FLAGGED, reason="bright."),
    )
    assert lines[:2] == ("Flags still open: 1", "  file, side 1: gullet 3 – bright")
    assert lines[-1] == "Skipped: look over: wood; set: measure."


def test_many_flags_are_counted_and_the_first_named(account: Any) -> None:
    lines = account(*(filed(tooth, did=Did.FLAGGED, reason="slip") for tooth in range(1, 60, 2)))
    first = lines.index("Flags still open: 30")
    assert len([line for line in lines[first:] if line.endswith("slip")]) == MOST_NAMED
    assert f"  and {30 - MOST_NAMED} more, in the record" in lines


def test_a_record_that_cannot_be_read_has_no_account(tmp_path: Path) -> None:
    assert account_of(tmp_path / "none.toml") == ()


def test_places_marked_together_are_told_apart_from_those_counted_one_by_one(account: Any) -> None:
    lines = account(filed(1, strokes=2), *(filed(tooth, many="3-7") for tooth in (3, 5, 7)), filed(9))
    assert "Marked together, not one by one: file 3." in lines
    assert not [line for line in account(filed(1), filed(3)) if line.startswith("Marked together")]


def test_a_leveling_whose_flats_nobody_graded_leaves_the_steel_unknown(account: Any) -> None:
    first = [passed(1), *(graded(tooth, 2) for tooth in range(1, 9)), *(filed(tooth, strokes=2) for tooth in (1, 3, 5))]
    assert any(line.startswith("Steel: about ") for line in account(*first))
    again = account(*first, passed(1) | {"round": 3})
    assert "Steel: not known, flats were graded after one leveling and not after another." in again
    assert any(line.endswith("leveled with 2 passes, filed 3 gullets.") for line in again)


def test_a_gullet_gone_past_without_a_stroke_is_none_of_those_filed(account: Any) -> None:
    lines = account(filed(1, strokes=2), filed(3, reason="no stroke"), filed(5, strokes=3))
    assert any(line.endswith(" min: filed 2 gullets.") for line in lines)
    assert "Strokes: 5 counted in 2 of 2 gullets, the middle 2.5 a gullet." in lines
    assert "File: a file not named: 2 gullets." in lines


def test_one_stroke_in_every_gullet_is_told_as_it_was(account: Any) -> None:
    """An older log may have claimed them, so that no steel is told by them; where some have none, they were counted."""
    lines = account(*(filed(tooth, strokes=1) for tooth in (1, 3, 5)))
    assert "Strokes: 1 told in each of 3 of 3 gullets." in lines
    assert "Steel: not known, strokes were told as 1 everywhere." in lines
    assert "Strokes: 1 counted in 1 of 2 gullets, the middle 1 a gullet." in account(filed(1, strokes=1), filed(3))


def test_one_count_among_many_gullets_tells_no_middle_and_no_steel(account: Any) -> None:
    lines = account(filed(1, strokes=2), *(filed(tooth) for tooth in range(3, 143, 2)))
    assert "Strokes: 2 counted in 1 of 71 gullets." in lines
    assert "Steel: not known, strokes were counted in fewer than half of the gullets." in lines


@pytest.mark.parametrize(
    ("marks", "flats", "steel"),
    [
        # Only after reshaping: what the first leveling took is not known, and both lines say so.
        (
            [passed(1), passed(1) | {"round": 2}, graded(1, 2) | {"round": 2}, graded(2, 3) | {"round": 2}],
            ["Flats: not graded after the first leveling.", "Flats after reshaping: 1 narrow, 1 clear."],
            "flats were not graded after the first leveling",
        ),
        # One leveling alone, whose flats went with the reshaping.
        (
            [passed(1), graded(1, 2), filed(1, stage=Stage.RESHAPE)],
            ["Flats: 1 narrow."],
            "gullets were reshaped, and no flats graded after that",
        ),
        (
            [passed(1), graded(1, 2), passed(1) | {"round": 3}, graded(1, 3) | {"round": 3}],
            ["Flats: 1 narrow.", "Flats, leveled later: 1 clear."],
            "",
        ),
    ],
)
def test_flats_say_of_which_leveling_they_are_and_steel_says_which_are_missing(
    account: Any, marks: list[dict[str, Any]], flats: list[str], steel: str
) -> None:
    lines = account(*marks, filed(1, strokes=2))
    assert [line for line in lines if line.startswith("Flats")] == flats
    told_of_it = next(line for line in lines if line.startswith("Steel: "))
    assert told_of_it == f"Steel: not known, {steel}." if steel else told_of_it.startswith("Steel: about ")


def test_a_set_measured_before_the_stone_stands_as_it_was_measured(account: Any) -> None:
    # (0.040 - 0.035) / 2 in is 2.5 thou a side; two passes of the stone take a little more off it.
    lines = account(
        told(Stage.SET, "measure", "over the points after", 0.040, "in"),
        *({"did": Did.DONE, "stage": Stage.DRESS, "side": side, "number": 1} for side in (1, 2)),
    )
    after = next(line for line in lines if line.startswith("Set after: "))
    assert after.startswith("Set after: 2.5 thou a side, measured after setting, by the usual about 2.")
    assert after.endswith(" thou once stoned.")
