"""A saw hung up by the form: its answers as typed, what they come to, and the recipe that is written."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from session.files.recipe import load_recipe
from session.files.supplied import supplied_recipes
from session.form.field_terms import field_terms
from session.form.form_fields import FormField
from session.form.own_saw_form import OwnSawForm
from session.form.saw_draft import SawDraft
from session.machine.refusal import HELD, Refusal
from session.till.begun_forms import BegunForm, begun_forms
from session.till.till_folder import Till
from session.trade.saw import Cut, Leans

NewForm = Callable[[], OwnSawForm]

#: What is known of an own saw at the wall: the five things that nobody can take for usual.
CROSSCUT = {
    FormField.NAME: "Boat-shed crosscut",
    FormField.KIND: "hand",
    FormField.CUT: "cross-cut",
    FormField.LENGTH: "26",
    FormField.COUNT: "7 ppi",
}


def filled(form: OwnSawForm, answers: dict[FormField, str]) -> OwnSawForm:
    for name, text in answers.items():
        form.answer(name, text)
    return form


def test_what_is_told_and_what_is_usual_make_a_recipe_that_loads(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.PLATE: "0,9 mm", FormField.RAKE: "15 degrees"})
    path = form.hang_up()
    assert path.name == "boat-shed-crosscut.toml"
    saw = load_recipe(path).saw
    assert (saw.name, saw.kind, saw.cut) == ("Boat-shed crosscut", "hand", Cut.CROSSCUT)
    # 26 in at 7 points: 26 · 6 spaces and the first point (trade's count, NOYES p. 63).
    assert saw.points == 157
    assert saw.plate.text == "0,9 mm"
    assert saw.rake == 15
    # KING 64: about midway between 20 and 30 for general work.
    assert saw.fleam == 25
    assert "KING" in path.read_text(encoding="utf-8")
    assert not form.answers.to_dict()["answers"] or not (path.parent / "drafts" / "new.toml").exists()


def test_the_file_says_which_figures_were_not_measured(new_form: NewForm) -> None:
    told = {**CROSSCUT, FormField.RAKE: "15", FormField.COUNT: "31 in 5 in"}
    text = filled(new_form(), told).hang_up().read_text(encoding="utf-8")
    lines = {line.partition(" =")[0]: line for line in text.splitlines() if " = " in line}
    assert "usual" in lines["fleam"]
    assert "usual" not in lines["rake"]
    assert "usual" in lines["plate_gauge"]
    assert lines["pitch"].startswith('pitch = "0.16667 in"')
    assert "told as 31 in 5 in" in lines["pitch"]


def test_nothing_is_hung_up_before_what_nobody_can_know_is_told(new_form: NewForm) -> None:
    form = new_form()
    assert form.reading.missing == tuple(CROSSCUT)
    for name, text in CROSSCUT.items():
        assert not form.reading.ready
        with pytest.raises(Refusal, match="still to be told"):
            form.hang_up()
        form.answer(name, text)
    assert form.reading.ready


def test_like_another_saw_only_a_name_is_missing(new_form: NewForm) -> None:
    form = filled(new_form(), {FormField.LIKE: "dovetail", FormField.NAME: "Sail-room dovetail"})
    saw = load_recipe(form.hang_up()).saw
    like = next(load_recipe(file).saw for file in supplied_recipes() if file.stem == "dovetail")
    assert (saw.kind, saw.cut, saw.count_as) == (like.kind, like.cut, like.count_as)
    assert (saw.toothed_length, saw.plate, saw.rake, saw.set_per_side) == (
        *(like.toothed_length, like.plate, like.rake, like.set_per_side),
    )


def test_a_saw_to_start_from_is_told_from_the_others_by_its_teeth_and_length(new_form: NewForm) -> None:
    page = new_form().page(FormField.LIKE)
    beside = dict(zip(page.choices, page.beside, strict=True))
    assert (beside["crosscut-panel"], beside["fine-panel"]) == ("8 per inch, 22 in", "10 per 25 mm, 560 mm")
    assert all(beside.values())


@pytest.mark.parametrize("file", supplied_recipes(), ids=lambda file: file.stem)
def test_a_saw_like_each_supplied_one_is_the_same_saw(file: Path, new_form: NewForm) -> None:
    like = load_recipe(file).saw
    form = new_form()
    if like.zones:
        assert file.stem not in form.likes, "a progressive line is written by hand"
        return
    saw = load_recipe(filled(form, {FormField.LIKE: file.stem, FormField.NAME: like.name}).hang_up()).saw
    assert saw == like


@pytest.mark.parametrize(
    ("name", "text", "allowed"),
    [
        (FormField.KIND, "axe", "allowed: 1 rip, 2 half rip"),
        (FormField.LENGTH, "long", "a bare number is in inches"),
        (FormField.LENGTH, "26 miles", "allowed units"),
        (FormField.LENGTH, "900", "allowed: 10 mm to 3 m"),
        (FormField.COUNT, "fine", 'allowed: "8" or "8 ppi"'),
        (FormField.COUNT, "200", "allowed: a number from 1.5 to 80"),
        (FormField.POINTS, "lots", "allowed: a whole number from 2"),
        (FormField.POINTS, "9999", "9,999 points cannot be; allowed: a whole number from 2 to 3,000"),
        (FormField.PLATE, "20", 'allowed: "20 gauge"'),
        (FormField.PLATE, "1", "allowed: 0.05 mm to 10 mm"),
        (FormField.RAKE, "99", "allowed: degrees from -15 to 45"),
        (FormField.RAKE, "steep", "allowed: degrees"),
        (FormField.FLEAM, "-5", "allowed: degrees from 0 to 45"),
        (FormField.LEANS, "left", "allowed: 1 away, 2 toward, 3 unset"),
        (FormField.PER_SIDE, "1", "allowed: "),
        (FormField.FACE, "0", "allowed: 0.5 mm to 60 mm"),
        (FormField.FACE, "7 inch slim taper", "files of one name differ; allowed: the width of one face by calipers"),
        (FormField.JAW, "0.01", "allowed: 10 mm to 3 m"),
        (FormField.WOOD, "cheese", "allowed: 1 dry hardwood"),
        (FormField.NAME, "x" * 200, "allowed: a text of 1 to 80"),
    ],
)
def test_each_bad_answer_is_told_beside_its_field_and_kept_as_typed(
    name: FormField, text: str, allowed: str, new_form: NewForm
) -> None:
    form = filled(new_form(), CROSSCUT)
    page = form.answer(name, text)
    assert allowed in page.wrong
    assert page.typed == text[:81]
    assert set(form.reading.wrong) == {name}
    # What follows is still told, by the figures that stand.
    assert form.outlook.supposed
    assert len(form.outlook.lines) == 4
    with pytest.raises(Refusal):
        form.hang_up()


def test_calipers_over_the_points_less_the_plate_are_the_set(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.PLATE: "0.035", FormField.OVER_POINTS: "0.047"})
    page = form.page(FormField.OVER_POINTS)
    assert "a set of 0.006 in on each side now" in page.understood
    saw = load_recipe(form.hang_up()).saw
    assert saw.set_per_side is not None
    assert saw.set_per_side.mm == pytest.approx(0.006 * 25.4)


def test_calipers_that_cannot_be_right_are_told(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.PLATE: "0.035"})
    assert "less than the plate" in form.answer(FormField.OVER_POINTS, "0.030").wrong
    assert "more than three times" in form.answer(FormField.OVER_POINTS, "0.5").wrong


def test_an_answer_keeps_the_unit_that_it_was_typed_in(new_form: NewForm) -> None:
    form = filled(new_form(), CROSSCUT)
    form.answer(FormField.UNITS, "millimeters")
    assert form.unit == "mm"
    form.answer(FormField.PLATE, "0,9")
    saw = load_recipe(form.hang_up()).saw
    assert saw.toothed_length.text == "26 in"
    assert saw.plate.text == "0,9 mm"


def test_what_is_usual_is_told_beside_what_was_measured(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.WOOD: "dry pine"})
    # 19 in the Birmingham gauge is 0.042 in (BWG): with calipers in hand the number alone says nothing.
    assert form.page(FormField.PLATE).stands.startswith("Usual: 19 gauge, 0.042 in (")
    filled(form, {FormField.PLATE: "0.035", FormField.OVER_POINTS: "0.047"})
    stands = form.page(FormField.PER_SIDE).stands
    assert "0.006 in (what it has now, by your calipers; usual in dry softwood is " in stands


def test_a_usual_jaw_is_told_in_whole_millimeters(new_form: NewForm) -> None:
    form = new_form()
    form.answer(FormField.UNITS, "mm")
    # 14 in · 25.4 = 355.6 mm, to a whole one.
    assert filled(form, CROSSCUT).reading.usual[FormField.JAW].text == "356 mm"


def test_nothing_follows_before_kind_cut_and_teeth_are_told(new_form: NewForm) -> None:
    form = filled(new_form(), {FormField.KIND: "hand", FormField.CUT: "crosscut", FormField.LENGTH: "26"})
    assert form.outlook.lines[0][0] == "Nothing", "no figure of another saw stands for this one"
    assert "157 points" in dict(filled(form, {FormField.COUNT: "7"}).outlook.lines)["Tooth"]


@pytest.mark.parametrize(
    ("face", "verdict"),
    [("1/8", "is too narrow"), ("0.2", "is narrow and will do"), ("0.33", "serves"), ("7/16", "is larger than needed")],
)
def test_how_the_face_suits_is_told_at_once(face: str, verdict: str, new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.FACE: face})
    assert dict(form.outlook.lines)["File"].endswith(f"; yours {verdict}")
    assert not form.page(FormField.FACE).doubt
    assert "is the unit right?" in form.answer(FormField.FACE, "7/8").doubt


def test_a_warning_names_the_field_that_it_is_about(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.POINTS: "300"})
    (told,) = form.outlook.warnings
    assert told.startswith("points in all: 300 were counted, but 26 in at 7 points per inch has 157; 300 is used.")


def test_a_count_that_contradicts_the_length_says_both_and_how_long_such_a_line_is(new_form: NewForm) -> None:
    answers = {FormField.LENGTH: "3", FormField.COUNT: "8", FormField.POINTS: "24"}
    form = filled(new_form(), {**CROSSCUT, **answers})
    (told,) = (one for one in form.outlook.warnings if one.startswith("points"))
    # 23 spaces of a seventh of an inch.
    assert told.endswith("24 is used. Count again, or measure: 24 of these are 3.286 in long.")
    form.answer(FormField.LENGTH, "3.286")
    assert not any(one.startswith("points") for one in form.outlook.warnings)


def test_each_field_explains_the_words_that_it_uses(new_form: NewForm) -> None:
    form = filled(new_form(), CROSSCUT)
    told = {name: [line.partition(":")[0] for line in field_terms(form.page(name))] for name in form.fields}
    for name, term in (
        (FormField.LENGTH, "heel"),
        (FormField.PLATE, "gullet"),
        (FormField.RAKE, "rake"),
        (FormField.FLEAM, "fleam"),
        (FormField.PER_SIDE, "kerf"),
        (FormField.JAW, "batten"),
    ):
        assert term in told[name], told[name]
    assert told[FormField.UNITS] == []


def test_a_rake_read_on_the_plate_is_turned_into_the_guide_block_s(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.FLEAM: "25", FormField.RAKE: "27.2 on the plate"})
    # GEOMETRY.md: tan(block) = tan(plate) · cos(fleam) without slope; atan(tan 27.2° · cos 25°) = 24.98°.
    assert form.page(FormField.RAKE).understood == "25°"
    assert "rake 25°, seen 27.2°" in dict(form.outlook.lines)["Tooth"]
    text = form.hang_up().read_text(encoding="utf-8")
    assert "told as 27.2 on the plate" in next(line for line in text.splitlines() if line.startswith("rake = "))


def test_a_rake_on_the_plate_follows_the_fleam_and_has_its_limits(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.RAKE: "15° on plate", FormField.FLEAM: "0"})
    assert form.page(FormField.RAKE).understood == "15°", "without fleam both are one"
    assert "allowed: -15 to 45" in form.answer(FormField.RAKE, "60 on the plate").wrong


def test_a_slip_of_the_unit_is_asked_about(new_form: NewForm) -> None:
    form = new_form()
    form.answer(FormField.UNITS, "mm")
    filled(form, {FormField.KIND: "hand", FormField.CUT: "crosscut"})
    page = form.answer(FormField.LENGTH, "26")
    assert not page.wrong
    assert "is the unit right?" in page.doubt
    assert not form.answer(FormField.LENGTH, "660").doubt


def test_what_follows_changes_while_typing_and_nothing_is_kept(new_form: NewForm) -> None:
    form = filled(new_form(), CROSSCUT)
    before, kept = form.outlook, form.answers
    assert "157 points" in dict(before.lines)["Tooth"]
    typing = form.with_answer(FormField.COUNT, "11")
    assert typing.recipe is not None
    assert typing.recipe.saw.points == 261
    assert (form.outlook, form.answers) == (before, kept)


def test_leaving_and_coming_back_loses_nothing(new_form: NewForm) -> None:
    form = filled(new_form(), {**CROSSCUT, FormField.PLATE: "twenty"})
    form.answer(FormField.FLEAM, "")
    again = new_form()
    assert again.answers == form.answers
    assert again.page(FormField.PLATE).typed == "twenty"
    assert again.first_open() is FormField.UNITS


def test_the_till_names_a_form_that_was_left(new_form: NewForm, tmp_path: Path) -> None:
    form = filled(new_form(), {FormField.KIND: "hand", FormField.FLEAM: ""})
    assert [one.words for one in begun_forms(Till(tmp_path))] == ["BEGUN  a new saw: 1 answer kept, not hung up yet"]
    form.answer(FormField.NAME, "Boat-shed crosscut")
    assert begun_forms(Till(tmp_path)) == [BegunForm("Boat-shed crosscut", None, 2)]
    form.begin_anew()
    assert begun_forms(Till(tmp_path)) == []


def test_each_answer_is_on_disk_before_it_shows(new_form: NewForm, tmp_path: Path) -> None:
    form = new_form()
    for name, text in CROSSCUT.items():
        form.answer(name, text)
        # As a second reader finds it, should the power go now.
        kept = tomllib.loads((tmp_path / "drafts" / "new.toml").read_text(encoding="utf-8"))
        assert kept["answers"][name] == {"typed": text, "unit": "in"}


def test_a_draft_is_held_by_one_program(new_form: NewForm, tmp_path: Path) -> None:
    new_form()
    with pytest.raises(Refusal, match="open elsewhere") as refused:
        SawDraft.open(tmp_path, "new")
    assert refused.value.code == HELD


@pytest.mark.parametrize(
    "spoiled", ["", "unit = [", 'unit = "furlong"\n[answers]\nkind = 3\nname = {typed = 4, unit = "in"}\n']
)
def test_a_spoiled_draft_is_begun_anew(spoiled: str, new_form: NewForm, tmp_path: Path) -> None:
    (tmp_path / "drafts").mkdir()
    (tmp_path / "drafts" / "new.toml").write_text(spoiled, encoding="utf-8")
    form = new_form()
    assert (form.unit, dict(form.answers.typed)) == ("in", {})


def test_no_file_is_ever_overwritten_and_no_name_taken_twice(new_form: NewForm, tmp_path: Path) -> None:
    (tmp_path / "boat-shed-crosscut.toml").write_text("mine", encoding="utf-8")
    path = filled(new_form(), CROSSCUT).hang_up()
    assert path.name == "boat-shed-crosscut-2.toml"
    assert (tmp_path / "boat-shed-crosscut.toml").read_text(encoding="utf-8") == "mine"
    again = filled(new_form(), CROSSCUT)
    assert "hangs in this till already" in again.reading.wrong[FormField.NAME]


def test_a_name_with_signs_makes_a_recipe_and_no_mischief(new_form: NewForm, tmp_path: Path) -> None:
    name = 'Léa\'s "best" #1 \\ ../saw'
    path = filled(new_form(), {**CROSSCUT, FormField.NAME: name}).hang_up()
    assert path.parent == tmp_path
    assert load_recipe(path).saw.name == name


def test_every_usual_figure_says_where_it_comes_from(new_form: NewForm) -> None:
    form = filled(new_form(), CROSSCUT)
    for name, one in form.reading.usual.items():
        assert one.source, name
        assert form.page(name).stands == f"Usual: {one.words} ({one.source})"
    assert form.reading.usual[FormField.LEANS].text == Leans.AWAY
