"""What one sharpening says to the next."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from named_works import works
from session.advice.next_time import MOST_LINES, Finished, next_time
from session.texts import faults
from session.texts.wording import fine, teeth, times

AMOUNT = st.none() | st.floats(0.0, 1e4)
RECORDS = st.builds(
    Finished,
    unit=st.sampled_from(["in", "mm", "cm", "thou"]),
    left_out=st.dictionaries(st.integers(1, 200), st.just("file skates, hard tooth"), max_size=12),
    low=st.lists(st.integers(1, 200), max_size=9, unique=True).map(tuple),
    broken=st.lists(st.integers(1, 200), max_size=3, unique=True).map(tuple),
    passes=st.none() | st.integers(0, 20),
    taken_off_mm=AMOUNT,
    taken_least_mm=AMOUNT,
    strokes=AMOUNT,
    set_mm=AMOUNT,
    told_set_mm=AMOUNT,
    least_set_mm=AMOUNT,
    outlives=st.none() | st.integers(0, 50),
    rests_on=st.none() | st.integers(0, 50),
    area_mm2=AMOUNT,
    due=st.sampled_from(["", ": about 2026-12-20 (2026-12-10 to 2027-01-05, 7 times in 10)"]),
    cuts_missing=st.none() | st.integers(0, 4),
    cut_fault=st.none() | st.sampled_from(["good", *faults.names()]),
)


def said(**values: object) -> str:
    """All lines for a record of these values, an owner who thinks in inches."""
    return "\n".join(line.text for line in next_time(Finished(unit="in", **values)))  # type: ignore[arg-type]


@given(RECORDS)
def test_few_lines_each_with_a_source_and_when_comes_first(record: Finished) -> None:
    lines = next_time(record)
    assert 2 <= len(lines) <= MOST_LINES
    assert lines[0].text.startswith("Due")
    for line in lines:
        assert line.text.endswith(".")
        assert len(line.text) <= 170
        assert works(line.source)


def test_an_empty_record_claims_nothing() -> None:
    when, setting = next_time(Finished(unit="in"))
    assert "points shine" in when.text
    assert "not measured" in setting.text


def test_when() -> None:
    told = ": about 2026-12-20 (2026-12-10 to 2027-01-05, 7 times in 10)"
    assert "Due: about 2026-12-20 (2026-12-10 to 2027-01-05, 7 times in 10)." in said(due=told, area_mm2=100.0)
    # 100 mm² is 0.155 in², and 70 % of it 0.109.
    assert "under 0.109 in² a stroke, 70% of this trial cut's." in said(area_mm2=100.0)
    metric = next_time(Finished(unit="mm", area_mm2=100.0))
    assert "under 70 mm² a stroke, 70% of this trial cut's." in metric[0].text
    # From a first cut alone no date is told, but what is missing for one.
    assert "trial cut's; 4 later cuts would tell the date." in said(area_mm2=100.0, cuts_missing=4)
    assert "trial cut's; 1 later cut would tell the date." in said(area_mm2=100.0, cuts_missing=1)
    assert "A trial cut soon and 4 later ones tell it sooner." in said(cuts_missing=4)


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"set_mm": 0.0508, "least_set_mm": 0.0762}, "Set it next time: 2.0 thou a side is under 3.0 thou"),
        (
            # What was measured stands first, 2.5 thou; that 2.3 are left is reckoned.
            {"set_mm": 0.05842, "told_set_mm": 0.0635, "least_set_mm": 0.0762},
            "Set it next time: 2.5 thou a side as measured (by now about 2.3 thou) is under 3.0 thou.",
        ),
        ({"set_mm": 0.0635, "told_set_mm": 0.0635}, "The set is 2.5 thou a side; measure it again"),
        ({"set_mm": 0.1016, "least_set_mm": 0.0762, "outlives": 0}, "Set it next time: 4.0 thou"),
        ({"set_mm": 0.1016, "outlives": 1}, "outlives 1 more sharpening like"),
        ({"set_mm": 0.1016, "outlives": 4}, "outlives 4 more sharpenings like"),
        ({"set_mm": 0.1016, "outlives": 4, "rests_on": 3}, "4 more sharpenings, going by the median of 3 records."),
        (
            {"set_mm": 0.1016, "outlives": 4, "rests_on": 1},
            "4 more sharpenings, going by the one record that tells it.",
        ),
        ({"set_mm": 0.1016, "outlives": 4, "rests_on": 0}, "outlives 4 more sharpenings, if light ones."),
        ({"set_mm": 0.1016}, "4.0 thou a side; measure it again"),
    ],
)
def test_set(values: dict[str, object], says: str) -> None:
    assert says in said(**values)


def test_a_count_that_rests_on_no_record_says_from_memory() -> None:
    def source(rests_on: int) -> str:
        lines = next_time(Finished(unit="in", set_mm=0.1, outlives=2, rests_on=rests_on))
        return next(line.source for line in lines if "outlives" in line.text)

    assert source(0) == "derived; from memory"
    assert source(2) == "derived"


def test_teeth_are_named_once_each() -> None:
    left_out = {12: "low tooth, no flat", 30: "broken tooth", 47: "hard tooth", 50: "sharp already, no flat"}
    text = said(low=(12,), broken=(30,), left_out=left_out)
    assert "Low: tooth 12. Leave alone until it comes into line." in text
    assert "Broken: tooth 30." in text
    assert "tooth 47 (hard tooth)" in text
    assert text.count("12") == 1
    assert "50" not in text, "what was sharp needs no second look"
    assert "they come" in said(low=(12, 13))


def test_work_done_and_a_fault_left() -> None:
    text = said(strokes=2.5, passes=1, taken_off_mm=0.127, cut_fault="wanders")
    # As many gullets took 2 as took 3: half a stroke is nobody's.
    assert "Start from 2 or 3 strokes a gullet" in text
    assert "took 5.0 thou in 1 pass;" in text
    ranged = said(strokes=2.5, passes=1, taken_off_mm=0.0838, taken_least_mm=0.0279)
    assert "Leveling took about 1 to 3 thou in 1 pass;" in ranged, "grades are coarse"
    assert "First try: Stone that side once" in text
    assert "First try" not in said(cut_fault="good")


@pytest.mark.parametrize("name", [f.name for f in fields(Finished) if "float" in str(f.type) or f.type == "int | None"])
def test_negative_amounts_are_refused(name: str) -> None:
    negative: dict[str, Any] = {name: -1}
    with pytest.raises(ValueError, match=f"{name} is -1; allowed: 0 or more"):
        next_time(Finished(unit="in", **negative))


def test_small_words() -> None:
    assert fine(0.0254, "in") == "1.0 thou"
    assert fine(0.0254, "mm") == "0.025 mm"
    assert teeth((5,)) == "tooth 5"
    assert teeth(range(1, 10)) == "teeth 1, 2, 3, 4, 5, 6 and 3 more"
    assert times(1, "pass") == "1 pass"
    assert times(2, "pass") == "2 passes"
    assert times(0, "day") == "0 days"
