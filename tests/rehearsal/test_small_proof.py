"""A small part of the proof: each person once, killed on the way; nothing is lost, and the same seed gives the same."""

from __future__ import annotations

import json
from copy import deepcopy
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from random import Random
from statistics import fmean
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proof import main
from session.rehearsal.proving.alone import Rule, sharpen_alone
from session.rehearsal.proving.intervals import of_mean, wilson
from session.rehearsal.proving.outcome import least_worst_spacing, steel
from session.rehearsal.proving.person import FIRST_TIMER, OLD_HAND, PEOPLE, PRACTICED, Person
from session.rehearsal.proving.person_eyes import PersonEyes
from session.rehearsal.proving.person_filer import PRESS_TO_THE_OTHER
from session.rehearsal.proving.person_hands import PersonHands
from session.rehearsal.proving.plate_scan import FLAT_MM, scanned_plate
from session.rehearsal.proving.proof_cases import case_of
from session.rehearsal.proving.proof_run import rows_in
from session.rehearsal.proving.saw_conditions import KINDS, Condition, plate_in, recipe_of, use
from session.rehearsal.proving.sharpening_trial import Case, fresh_plate, with_program
from session.rehearsal.proving.spacing_limits import RUNGS, limits_text
from session.texts.guidance import Level, beside
from session.trade.scanned_line import ToothState
from session.walk.stages import Stage

#: A person who errs in nothing, and sees what an eye can.
FAULTLESS = replace(
    OLD_HAND,
    name="nobody",
    bite=0.0,
    lightest=0.1,
    lean=0.0,
    roll_deg=0.0,
    held_deg=0.0,
    squeeze=0.0,
    one_side=0.0,
    tilt_mm=0.0,
    sees_mm=0.004,
    halves=0.0,
    adapts=1.0,
    slips=0.0,
    overfiles=0.0,
    impatient=0.0,
)


@pytest.mark.parametrize(
    ("person", "condition", "measuring"),
    [
        pytest.param("first-timer", "broken", "grades", marks=pytest.mark.wide),
        ("practiced", "dull", "strip"),
        pytest.param("old hand", "hard use", "nothing", marks=pytest.mark.wide),
    ],
)
def test_no_place_and_no_mark_is_lost_over_kills(person: str, condition: str, measuring: str, tmp_path: Path) -> None:
    found = with_program(Case(4, "dovetail", condition, person, "brief", measuring, 3), tmp_path)
    assert found.fault == ""
    assert (found.places_lost, found.marks_lost) == (0, 0)
    assert found.strokes > 0
    assert found.steel.worth_after > found.steel.worth_before


def test_the_same_case_gives_the_same_sharpening(tmp_path: Path) -> None:
    case = Case(5, "dovetail", "dull", "old hand", "taught", "nothing", 1)
    first = with_program(case, tmp_path)
    assert with_program(case, tmp_path) == first


def test_the_command_writes_goes_on_and_says_which_targets_are_met(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "saws-4.jsonl"
    case = Case(4, "dovetail", "over-set", "old hand", "taught", "nothing", 0)
    done: dict[str, Any] = {"way": "program", "places_lost": 0, "marks_lost": 0, "fault": "", "stages": ["file"]}
    done |= {"missed": 0, "twice": 0, "strokes": 3, "minutes": 4.0, "person": "practiced", "measuring": "nothing"}
    done |= {"condition": "dull", "guidance": "brief"}
    teeth = fresh_plate(case).points
    values = dict.fromkeys(("uneven", "set_spread", "taken", "worth_before", "worth_after"), 0.1)
    steel_of = {**values, "teeth": teeth, "flats_left": 3, "overfiled": 0, "worst_spacing": None, "best_spacing": None}
    done |= {"kills": 2, "steel": steel_of}
    other = {**done, "way": "alone", "steel": {**steel_of, "taken": 0.05, "worth_after": 0.05}}
    rows = [{"seed": 1, **one} for one in (done, other)]
    # The last line was cut off; the first stands.
    kept.write_text(json.dumps({"seed": 4, "saw": 0, "rows": rows}) + '\n{"seed": 4, "sa', encoding="utf-8")
    assert main(["--saws", "1", "--seed", "4", "--to", str(tmp_path)]) == 0
    out, progress = capsys.readouterr()
    assert "1 of 1 saws" in progress
    assert "- met: 0 places lost by the program: 0 of 1 saws, 2 kills" in out
    assert "- **missed**: practiced: flats left on under 1 % of the teeth, where filed: 4.92 %" in out
    assert "- **missed**: practiced: less steel than by “alone”" in out
    assert "Why: dull 0.100 mm for a cut of 10, against 0.050 for 5" in out
    assert "- met: practiced: a better cut than by “alone”" in out
    assert "By `python -m session.rehearsal.proof --saws 1 --seed 4 --into .`:" in out
    summary = json.loads((tmp_path / "proof-4.json").read_text(encoding="utf-8"))
    assert summary["figures"]["practiced"]["program"]["strokes"]["value"] == 3
    assert summary["figures"]["old hand"]["program"]["strokes"] is None
    assert [number for number, _ in rows_in(kept, 4)] == [0]
    assert list(rows_in(kept, 5)) == []


def test_every_condition_person_and_kind_has_its_turn() -> None:
    cases = [case_of(1, number) for number in range(8 * 3 * 5)]
    assert len({(one.condition, one.person, one.kind) for one in cases}) == len(cases)
    assert {one.kills for one in cases} == {0, 1, 2, 3}
    assert case_of(1, 7) == case_of(1, 7) != case_of(2, 7)


def sharpened(person: Person, seed: int, condition: Condition, rule: Rule) -> tuple[SimulatedPlate, SimulatedPlate]:
    plate = plate_in(recipe_of("dovetail").saw, condition, Random(seed))
    before = deepcopy(plate)
    sharpen_alone(plate, person, Random(seed), rule)
    return before, plate


@examples(12)
@given(st.sampled_from(PEOPLE), st.integers(0, 999), st.sampled_from(list(Condition)), st.sampled_from(list(Rule)))
def test_steel_never_grows(person: Person, seed: int, condition: Condition, rule: Rule) -> None:
    before, after = sharpened(person, seed, condition, rule)
    for k in range(1, before.points + 1):
        assert after.apex_mm(k) <= before.apex_mm(k) + 1e-9
        assert after.tooth(k).top <= before.tooth(k).top + 1e-9
    use(after, Random(seed))
    assert all(after.tooth(k).top <= before.tooth(k).top + 1e-9 for k in range(1, before.points + 1))


@pytest.mark.wide
def test_more_skill_never_ends_worse_on_average() -> None:
    """Every saw by every person: an old hand's saws cut better than a practiced one's, those than a first-timer's."""
    means = [
        fmean(
            steel(before, None, after, {}).worth_after
            for seed in range(4)
            for condition in (Condition.DULL, Condition.HARD_USE)
            for before, after in [sharpened(person, seed, condition, Rule.BY_THE_FLAT)]
        )
        for person in (*PEOPLE, FAULTLESS)
    ]
    assert means == sorted(means)


def test_kinds_are_those_of_the_recipes_and_short() -> None:
    for kind in KINDS:
        saw = recipe_of(kind).saw
        assert 50 <= saw.points <= 80
        assert saw.set_per_side is not None


def test_the_least_worst_spacing_is_that_of_points_within_their_flats() -> None:
    # Two flats too near together by 0.1 and wide enough for 0.06 of it: 0.04 is left, and the next pays for none.
    flats = [(0.0, 0.03), (3.37, 3.40), (6.8, 7.2)]
    assert least_worst_spacing(flats, 3.5) == pytest.approx(0.1, abs=1e-4)
    assert least_worst_spacing([(0.0, 0.2), None, (6.9, 7.1)], 3.5) == 0.0
    assert least_worst_spacing([(0.0, 0.0), None, (6.8, 6.8)], 3.5) == pytest.approx(0.1, abs=1e-4)


def test_intervals_hold_what_they_should() -> None:
    from scipy.stats import binomtest  # slow to import, and nothing else here needs it

    for found, of in ((0, 1000), (10, 100), (7, 7)):
        checked = binomtest(found, of).proportion_ci(method="wilson")
        assert wilson(found, of) == pytest.approx((checked.low, checked.high), abs=1e-6)
    with pytest.raises(ValueError, match="11 found of 10; allowed: 0 to 10"):
        wilson(11, 10)
    low, high = of_mean([float(one) for one in range(100)])
    assert low < 49.5 < high
    assert high - low == pytest.approx(2 * 1.96 * 28.87 / 10, rel=0.2)
    assert of_mean([3.0]) == (3.0, 3.0)


def test_people_get_better_in_everything() -> None:
    better_when_less = set(Person.__slots__) - {"name", "notices", "adapts"}
    for worse, better in pairwise(PEOPLE):
        assert all(getattr(better, name) <= getattr(worse, name) for name in better_when_less)
        assert better.notices >= worse.notices
        assert better.adapts >= worse.adapts
    assert PEOPLE[1:] == (PRACTICED, OLD_HAND)


def test_a_plate_is_scanned_as_nearly_as_rendered_scans_are() -> None:
    plate = plate_in(recipe_of("dovetail").saw, Condition.BROKEN, Random(1))
    line, rng = scanned_plate(plate, Random(2)), Random(3)
    assert line.those(ToothState.BROKEN) == plate.broken()
    lines = [line, *(scanned_plate(plate, rng) for _ in range(9))]
    off = [
        (tooth.b_mm - tooth.a_mm) - plate.flat_mm(tooth.tooth)
        for one in lines
        for tooth in one.teeth
        if tooth.a_mm is not None and tooth.b_mm is not None and plate.flat_mm(tooth.tooth) > 3 * FLAT_MM
    ]
    assert fmean(error**2 for error in off) ** 0.5 == pytest.approx(FLAT_MM, rel=0.2)


def test_words_at_hand_turn_the_file_to_the_flat_that_is_left() -> None:
    """The words that the model's hands heed are those of the page, and bare guidance has none of them."""
    assert [any(PRESS_TO_THE_OTHER in line for line in beside(Stage.FILE, level)) for level in Level] == [
        True,
        True,
        False,
    ]
    lowered = []
    for told in (False, True):
        plate = plate_in(recipe_of("dovetail").saw, Condition.DULL, Random(1))
        hands = PersonHands(plate, rng := Random(5), FIRST_TIMER, PersonEyes(plate, FIRST_TIMER, rng))
        for _ in range(3):
            hands.level()
        for gullet in range(1, plate.points):
            hands.file(gullet, 1, behind=1.0, ahead=1.0, lean="", told=told)
        lowered.append(sum(hands.lowered.values()))
    assert lowered[1] < 0.9 * lowered[0]


def test_what_limits_the_spacing_stands_in_a_table() -> None:
    found = [
        {"rung": one.name, "measuring": way, "worst": 0.1, "best": 0.01 * number}
        for number, one in enumerate(RUNGS)
        for way in ("nothing", "scan")
    ]
    text = limits_text(found)
    assert "| practiced | 0.100 | – | – | 0.100 | 0.000 |" in text
    assert "| and every flat seen | 0.100 | – | – | 0.100 | 0.030 |" in text
