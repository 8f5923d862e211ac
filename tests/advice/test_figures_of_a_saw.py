from __future__ import annotations

import dataclasses
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from every_figure import figures
from made_saws import panel_saw
from named_works import works
from session.advice.saw_figures import figure_groups
from session.advice.sourced_figure import ASKED, OWN_RECIPE, OWN_RECORDS, Figure, amount
from session.advice.stage_list import stages
from session.files.recipe import load_recipe
from session.files.supplied import supplied_recipes
from session.texts.guidance import words
from session.till.set_loss import SetWear
from session.trade.file_choice import WIDEST_FACE_MM
from session.trade.lengths import Length, parse_length
from session.trade.saw import FilePoints, Saw
from session.trade.setting import SetLine
from session.trade.tooth import Tooth, tooth_of
from session.trade.trade_error import TradeError
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

NO_WORK = {OWN_RECIPE, OWN_RECORDS, ASKED}

SAW = panel_saw(
    toothed_length=parse_length("560 mm"),
    plate=parse_length("0.9 mm"),
    points=141,
    pitch_mm=4.0,
    count_as="pitch 4 mm",
    fleam=25.0,
    set_per_side=parse_length("0.15 mm"),
    least_per_side=parse_length("0.075 mm"),
    face=parse_length("8.3 mm"),
)


def told(saw: Saw, **known: Any) -> dict[str, Figure]:
    return {figure.key: figure for figure in figures(saw, **known)}


@pytest.mark.parametrize("file", supplied_recipes(), ids=lambda file: file.stem)
def test_every_figure_of_every_supplied_saw_says_where_it_comes_from(file: Path) -> None:
    saw = load_recipe(file).saw
    every = figures(saw, rake_on_plate=10.0)
    assert len({figure.key for figure in every}) == len(every) > 25
    for figure in every:
        assert figure.words
        assert figure.formula
        for part in figure.source.split("; "):
            assert part in NO_WORK or works(part), figure.key
        assert figure.value is None or math.isfinite(figure.value)


@pytest.mark.parametrize("file", supplied_recipes(), ids=lambda file: file.stem)
def test_the_reason_of_every_stage_has_a_known_source(file: Path) -> None:
    saw = load_recipe(file).saw
    told = stages(saw, make_plan(saw))
    assert [one.stage for one in told] == list(make_plan(saw).order)
    for one in told:
        assert one.why
        assert works(one.source)
        assert (one.places > 0) == one.taken_in
        assert sum(count for _, count in one.sides) == one.places


def test_a_stage_left_out_says_why_and_one_taken_in_what_it_is_for() -> None:
    unset = dataclasses.replace(SAW, set_per_side=Length.of(0.0), dressing_passes=0)
    told = {one.stage: one for one in stages(unset, make_plan(unset))}
    reasons = {Stage.RESHAPE: "the flats tell", Stage.SET: "asks for no set", Stage.DRESS: "asks for no passes"}
    for stage, reason in reasons.items():
        assert not told[stage].taken_in
        # What a stage is for is no reason for leaving it out.
        assert reason in told[stage].why
        assert works(told[stage].source)
        assert words(stage).why not in told[stage].why
    level = told[Stage.LEVEL]
    assert level.taken_in
    assert level.why == f"{words(Stage.LEVEL).why} Not measured: the plan stands."
    assert level.source == f"{words(Stage.LEVEL).source}; common practice, no source"


def test_every_tooth_is_set_once_and_every_gullet_filed_once() -> None:
    by_stage = {one.stage: one for one in stages(SAW, make_plan(SAW))}
    assert by_stage[Stage.FILE].places == 141
    assert by_stage[Stage.FILE].sides == ((1, 71), (2, 70))
    # And then the set is measured.
    assert by_stage[Stage.SET].sides == ((1, 71), (2, 70), (0, 1))
    assert not by_stage[Stage.RESHAPE].taken_in
    assert "only the way it leans" in by_stage[Stage.SET].notes[0]


def worn(set_mm: float, **known: Any) -> SetWear:
    """A saw that the records know to have been set to SAW's own set, with ``set_mm`` of it left."""
    assert SAW.set_per_side is not None
    slope = SAW.set_per_side.mm / (0.4 * 4.0 * 0.71478)  # GEOMETRY.md, row rake 15, fleam 25
    return SetWear(line=SetLine(set_mm, slope), **known)


def test_the_set_outlives_what_wears_it_down_to_the_least() -> None:
    # Half the set is gone when the line has come down by half of the bent 0.4 of the depth.
    depth = 4.0 * 0.71478  # GEOMETRY.md, row rake 15, fleam 25
    each = 0.2 * depth / 7.5
    saw = dataclasses.replace(SAW, dressing_passes=0)
    assert saw.set_per_side is not None
    key = "sharpenings_until_set_is_due"
    figure = told(saw, worn=worn(saw.set_per_side.mm, each_mm=each, known=4, came_down_mm=each))[key]
    assert figure.value == 7
    assert OWN_RECORDS in figure.source
    assert "the median of 4 records" in figure.formula
    assert "came off since it was set" in figure.formula
    assert told(saw, worn=SetWear(each_mm=each, known=1))["sharpenings_fresh_set_outlives"].value == 7
    later = told(saw, worn=worn(saw.set_per_side.mm * (1 - 0.2 * 3 / 7.5 / 0.4), each_mm=each, known=1))
    assert later[key].value == 4
    assert "by the one record" in later[key].formula


def test_the_stone_shortens_the_life_of_a_set() -> None:
    dressed = dataclasses.replace(SAW, dressing_passes=1)
    fresh = [
        told(saw)["sharpenings_fresh_set_outlives"] for saw in (dataclasses.replace(SAW, dressing_passes=0), dressed)
    ]
    undressed, stoned = (one.value for one in fresh)
    assert undressed is not None
    assert stoned is not None
    assert undressed > stoned > 0
    assert "to the stone" in fresh[1].formula
    assert "judgment" in fresh[1].source
    assert "judgment" not in fresh[0].source


def test_a_set_that_nobody_measured_or_bent_in_the_records_is_not_known() -> None:
    figure = told(SAW)["sharpenings_until_set_is_due"]
    assert figure.value is None
    assert "not known" in figure.formula
    assert "from memory" in told(SAW)["sharpenings_fresh_set_outlives"].source


def test_a_measured_set_is_told_as_measured() -> None:
    assert SAW.least_per_side is not None
    light = told(SAW, worn=worn(0.14, told_mm=0.15, came_down_mm=0.1))["sharpenings_until_set_is_due"]
    assert light.source.startswith(f"derived; {OWN_RECORDS}; from memory")
    assert "came off since it was measured" in light.formula
    assert "0.150 mm when last measured" in light.formula
    assert told(SAW, worn=worn(SAW.least_per_side.mm / 2))["sharpenings_until_set_is_due"].value == 0


def test_without_set_or_face_nothing_is_made_up() -> None:
    bare = told(dataclasses.replace(SAW, set_per_side=None, least_per_side=None, face=None))
    for key in ("set_per_side_mm", "kerf_mm", "bend_angle_deg", "sharpenings_until_set_is_due", "file_face_ok"):
        assert bare[key].value is None
    assert bare["set_per_side_mm"].shown("mm") == "not given"
    assert bare["kerf_mm"].shown("mm") == "not known"


def test_a_least_that_is_not_named_is_half_by_judgment() -> None:
    figure = told(dataclasses.replace(SAW, least_per_side=None))["set_least_mm"]
    assert figure.value == pytest.approx(0.075)
    assert figure.source == "judgment"


def test_a_saw_without_set_has_a_kerf_and_no_wear() -> None:
    plain = told(dataclasses.replace(SAW, set_per_side=parse_length("0 mm"), least_per_side=None))
    assert plain["kerf_mm"].value == pytest.approx(0.9)
    assert plain["bend_angle_deg"].value == 0
    assert plain["sharpenings_until_set_is_due"].value is None


def test_the_block_rake_wanted_gives_the_rake_wanted() -> None:
    wanted = told(SAW, rake_on_plate=12.0)["rake_block_wanted_deg"].value
    assert wanted is not None
    assert told(dataclasses.replace(SAW, rake=wanted))["rake_plate_deg"].value == pytest.approx(12.0)
    assert "rake_block_wanted_deg" not in told(SAW)
    with pytest.raises(TradeError, match=r"allowed: -15 to 45"):
        figures(SAW, rake_on_plate=80.0)


def test_a_file_toward_the_handle_says_so_in_the_formula() -> None:
    turned = told(dataclasses.replace(SAW, slope=5.0, file_points=FilePoints.HANDLE))
    assert "tan(−f)" in turned["rake_plate_deg"].formula
    assert "tan(f)" in told(SAW)["rake_plate_deg"].formula


def worked_out(formula: str, made: Tooth) -> float:
    """The number that a formula on the screen gives, read as arithmetic."""
    names = {"cos r": made.rake, "sin r": made.rake, "cos(60 − r)": 60 - made.rake, "cos b": 60 - made.rake}
    names |= {"sin b": 60 - made.rake, "cos f": made.fleam, "sin f": made.fleam, "tan(f)": made.fleam}
    names |= {"tan(−f)": -made.fleam, "cos s": made.slope, "sin s": made.slope, "tan s": made.slope}
    names |= {"tan front": made.front_deg, "tan back": made.back_deg}
    for name, degrees in names.items():
        formula = formula.replace(name, repr(getattr(math, name[:3])(math.radians(degrees))))
    formula = formula.replace("depth", repr(made.depth_mm)).replace("·", "*").replace("−", "-")
    return float(eval(formula, {"__builtins__": {}}, {"atan": lambda x: math.degrees(math.atan(x))}))


@given(
    rake=st.floats(-15, 45), fleam=st.floats(0, 45), slope=st.floats(-10, 20), points=st.sampled_from(list(FilePoints))
)
@example(rake=20, fleam=20, slope=20, points=FilePoints.TOE)
@example(rake=40, fleam=0, slope=20, points=FilePoints.TOE)
@example(rake=15, fleam=25, slope=0, points=FilePoints.HANDLE)
def test_the_formulas_on_the_screen_give_the_values_beside_them(
    rake: float, fleam: float, slope: float, points: FilePoints
) -> None:
    # No set: what is bent of a tooth this shallow may be shorter than the set is wide, which is told elsewhere.
    angles: dict[str, Any] = {"rake": rake, "fleam": fleam, "slope": slope, "file_points": points}
    saw = dataclasses.replace(SAW, **angles, set_per_side=None, least_per_side=None)
    made, shown = tooth_of(saw), told(saw)
    for key, after in (("rake_plate_deg", " for block"), ("back_plate_deg", " for b")):
        formula = shown[key].formula.partition(after)[0]
        assert worked_out(formula, made) == pytest.approx(shown[key].value, abs=1e-9)
    flank = shown["file_face_hard_minimum_mm"].formula
    if " and depth" in flank:
        both = flank.removeprefix("the longer of ").split(" and ")
        value = max(worked_out(one, made) for one in both)
    else:
        upto, above = flank.removeprefix("the longer flank: ").split(" up to rake 30, above it ")
        value = worked_out(upto if rake <= 30 else above, made)
    assert value == pytest.approx(shown["file_face_hard_minimum_mm"].value)


SCALED = (
    *("pitch_mm", "depth_mm", "plate_mm", "point_rise_mm", "file_face_hard_minimum_mm", "file_face_outer_minimum_mm"),
    *("file_face_mm", "set_per_side_mm", "set_least_mm", "kerf_mm"),
)
KEPT = (
    *("rake_plate_deg", "back_plate_deg", "gullet_plate_deg", "edge_angle_deg", "bend_angle_deg"),
    *("file_face_ok", "points"),
)


@given(
    scale=st.floats(0.2, 5),
    rake=st.floats(-10, 40),
    fleam=st.floats(0, 40),
    slope=st.floats(0, 15),
    share=st.floats(0.3, 1),
)
def test_a_saw_twice_as_large_has_all_lengths_twice_as_large(
    scale: float, rake: float, fleam: float, slope: float, share: float
) -> None:
    saw = dataclasses.replace(SAW, rake=rake, fleam=fleam, slope=slope, bent_share=share)

    def scaled(length: Length | None) -> Length:
        assert length is not None
        return Length.of(length.mm * scale)

    large = dataclasses.replace(
        saw,
        pitch_mm=saw.pitch_mm * scale,
        toothed_length=scaled(saw.toothed_length),
        plate=scaled(saw.plate),
        set_per_side=scaled(saw.set_per_side),
        least_per_side=scaled(saw.least_per_side),
        face=scaled(saw.face),
    )
    before, after = told(saw), told(large)
    for key in SCALED:
        value = before[key].value
        assert value is not None
        assert after[key].value == pytest.approx(value * scale, abs=1e-9)
    doubled = 2 * float(after["file_face_hard_minimum_mm"].value or 0)
    assert after["file_face_advised_mm"].value == pytest.approx(min(doubled, WIDEST_FACE_MM))
    for key in KEPT:
        assert after[key].value == pytest.approx(before[key].value)


def test_amounts_in_the_owners_unit() -> None:
    assert amount(0.1524, "in") == "0.006 in"
    assert amount(0.1143, "in") == "0.0045 in"
    assert amount(3.62857, "in") == "0.143 in"
    assert amount(0.1524, "thou") == "0.006 in"
    assert amount(0.1524, "cm") == "0.152 mm"
    assert amount(3.62857, "mm") == "3.63 mm"


def test_the_groups_follow_one_another_from_the_line_to_the_work() -> None:
    assert [name for name, _ in figure_groups(SAW)] == ["Line", "Tooth", "File", "Set and kerf", "Work"]


def test_what_is_not_read_in_a_work_is_never_shown_without_saying_so() -> None:
    every = told(SAW)
    assert every["file_face_advised_mm"].doubt == "from memory"
    assert every["sharpenings_fresh_set_outlives"].doubt == "from memory, judgment"
    assert told(dataclasses.replace(SAW, least_per_side=None))["set_least_mm"].doubt == "judgment"
    assert every["kerf_mm"].doubt == ""
