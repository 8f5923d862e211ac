"""What is said of the tools: their size, how a guide is made, how a saw is held, and one figure for one thing."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import panel_saw
from moments_met import CROSSCUT, RIP, moments
from session.advice.own_files import own_files
from session.desk.answers import a_cut, example, read
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.flat_words import seen_width
from session.sentences.guide_words import fitted_words, guide_made
from session.sentences.moment import Moment
from session.sentences.step_words import action
from session.sentences.tool_words import tool_words
from session.texts.faults import fault
from session.texts.guidance import Level
from session.texts.steps import step
from session.texts.word_files import entry
from session.trade.file_choice import FileOwned
from session.trade.grades import SHARES, width_mm
from session.trade.lengths import Length, parse_length
from session.trade.saw import FilePoints, Saw
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.measurables import Measurable
from session.walk.stages import Kind, Stage

DOVETAIL = load_recipe(find_recipe("dovetail", [])).saw


def worked(saw: Saw, stage: Stage, kind: Kind = Kind.GULLET) -> list[Moment]:
    """The moments at which a place of ``stage`` is worked."""
    return [
        at
        for at in moments(saw, reshape=True)
        if at.front.ask is Ask.WORK and at.place is not None and (at.place.stage, at.place.kind) == (stage, kind)
    ]


def first_page(at: Moment) -> str:
    return " ".join(at.said.lines[: at.said.first])


class TestTheGuideBlock:
    @pytest.mark.parametrize(
        ("rake", "slant"),
        [
            # HOLTZ fig. 645 and FIT: one side of the file plumb, its upper face 30 degrees off level.
            (0, "30° off its top edge, higher toward the heel"),
            # FIT, crosscut: 12 degrees of rake; derived.
            (12, "18° off its top edge, higher toward the heel"),
            # HOLTZ fig. 643 and FIT: the peg tooth is filed with the top face level.
            (30, "its upper face even with its top edge"),
            (35, "5° off its top edge, higher toward the toe"),
        ],
    )
    def test_its_slant_is_that_of_the_file_in_print(self, rake: float, slant: str) -> None:
        made, without = guide_made(panel_saw(rake=rake), "guide", Level.TAUGHT)
        assert slant in made
        assert without.startswith("Without one:")

    def test_who_has_one_is_not_told_how_to_make_it(self) -> None:
        assert guide_made(panel_saw(), "guide", Level.BRIEF) == ()
        assert guide_made(panel_saw(), "rake", Level.TAUGHT) == ()

    def test_it_is_said_where_it_is_put_on(self) -> None:
        asked = [at for at in moments(CROSSCUT) if at.front.name == "guide" and "guide" in at.state.to_fit]
        assert asked
        assert all(any(line.startswith("To make one:") for line in at.said.lines) for at in asked)

    @pytest.mark.parametrize(
        ("points", "side", "hand"), [("toe", 1, "left"), ("toe", 2, "right"), ("handle", 1, "right")]
    )
    def test_the_fleam_guide_is_told_with_the_hand_it_points_to(self, points: str, side: int, hand: str) -> None:
        saw = panel_saw(fleam=25.0, file_points=FilePoints(points))
        assert fitted_words(saw, "fleam", side).endswith(f"on your {hand}.")
        # Which of the two angles of that line is set, and what each is counted from.
        assert "25° off square" in fitted_words(saw, "fleam", side)
        made = guide_made(saw, "fleam", Level.TAUGHT)[0]
        assert made == "25° is set, counted from square across the plate; counted from the plate that line is 65°."


class TestSizes:
    def test_a_file_without_a_name_is_told_by_its_face(self) -> None:
        assert "Its face: about 0.289 in serves best." in worked(CROSSCUT, Stage.FILE)[0].said.lines

    def test_a_file_of_the_drawer_by_its_own_face(self) -> None:
        at = worked(CROSSCUT, Stage.FILE)[0]
        assert at.place is not None
        named = at.state.after(acts.measure(at.state, at.state.marks[-1].at, Measurable.FILE, "6 in slim"))
        drawer = own_files([FileOwned("6 in slim", parse_length("0.33 in"))], CROSSCUT, 600)
        told = tool_words(named, CROSSCUT, at.place, Level.TAUGHT, drawer)
        assert told.first == (
            "File 6 in slim, handle and block level; stand at gullet, push away along the fleam guide.",
        )
        assert told.more[0] == "Its face: 0.33 in wide."
        unmeasured = tool_words(named, CROSSCUT, at.place, Level.TAUGHT)
        assert (unmeasured.first, unmeasured.more[0]) == (told.first, "Its face: about 0.289 in serves best.")

    def test_the_file_is_asked_for_with_the_size_it_is_to_have(self) -> None:
        asked = next(at for at in moments(CROSSCUT) if at.place is not None and at.place.step == "file")
        assert asked.said.lines[2:5] == (
            "Dot its corners 1, 2, 3 with paint on the bare steel before the handle, once.",
            "Its face over 0.161 in, best 0.289 in (from memory): calipers on a flat side, mid-length.",
            "In print for such a saw: 6 in slim taper.",
        )

    def test_a_file_told_without_its_corner_is_asked_for_it(self) -> None:
        at = next(at for at in moments(CROSSCUT) if at.place is not None and at.place.step == "file")
        when = at.state.marks[-1].at
        named = at.state.after(acts.measure(at.state, when, Measurable.FILE, "6 in slim"))
        asked = Moment(named, CROSSCUT).said.lines[0]
        assert asked == "Answered: 6 in slim, no corner told: answer again with its corner, 1 to 3."
        both = named.after(acts.measure(named, when, Measurable.FILE_CORNER, 2))
        assert Moment(both, CROSSCUT).said.lines[0] == "Answered: 6 in slim, 2."

    @given(pitch=st.floats(0.5, 10.0), unit=st.sampled_from(["thou", "mm"]))
    def test_no_two_grades_have_one_figure(self, pitch: float, unit: str) -> None:
        shown = [seen_width(width_mm(grade, pitch), unit) for grade in range(1, len(SHARES))]
        assert len(set(shown)) == len(shown), shown

    def test_of_a_fine_saw_halves_of_a_thousandth_are_told(self) -> None:
        # 16 points per inch: pitch 1/15 in, 1 and 2 % of it are 0.67 and 1.33 thousandths.
        pitch = 25.4 / 15
        assert [seen_width(width_mm(grade, pitch), "thou") for grade in (1, 2, 3)] == [
            "0.7 thou",
            "1.5 thou",
            "2.5 thou",
        ]


class TestHold:
    def test_dressing_is_out_of_the_vise_on_both_sides(self) -> None:
        told = worked(CROSSCUT, Stage.DRESS, Kind.PASS)
        assert {at.state.side for at in told} == {1, 2}
        assert all("Plate flat on the bench, handle off the end" in first_page(at) for at in told)

    def test_of_two_faces_it_is_said_which_is_dressed_first(self) -> None:
        told = worked(CROSSCUT, Stage.DRESS, Kind.PASS)
        assert [(at.state.side, at.said.title) for at in told] == [
            (2, "Dress the sides: 2 first, then 1"),
            (1, "Dress the sides: 2 first, then 1"),
        ]

    def test_the_file_is_level_at_every_gullet_but_where_the_recipe_slopes_it(self) -> None:
        level, sloped = (worked(saw, Stage.FILE) for saw in (CROSSCUT, replace(CROSSCUT, slope=10.0)))
        assert all("handle and block level;" in first_page(at) for at in level)
        assert all("block level, handle 10° lower;" in first_page(at) for at in sloped)
        assert all("push away along the fleam guide." in first_page(at) for at in level)
        assert not any("fleam guide" in first_page(at) for at in worked(RIP, Stage.FILE))

    def test_the_saw_set_is_turned_to_its_depth_and_width_before_the_first_bend(self) -> None:
        first = worked(CROSSCUT, Stage.SET, Kind.TOOTH)[0]
        assert "plunger on your side" in first_page(first)
        assert "Anvil beyond, 0.041 in below the point: set it there once." in first_page(first)
        assert "Caliper, both sides bent: 0.047 in." in first_page(first)

    def test_how_much_is_bent_is_told_as_in_the_plan(self) -> None:
        told = worked(CROSSCUT, Stage.SET, Kind.TOOTH)[0].said.lines
        assert "Limit: 7.8 thou a side; what is over 6.0 thou the stone evens." in told

    def test_a_plate_under_a_back_is_not_bent_to_find_a_crack(self) -> None:
        for saw, bent in ((CROSSCUT, True), (replace(CROSSCUT, kind="tenon"), False)):
            told = next(at for at in moments(saw) if at.place is not None and at.place.step == "crack").said.lines
            assert any(line.startswith("Bend the plate") for line in told) is bent
            assert any("heel and toe where the plate leaves the back" in line for line in told) is not bent

    def test_once_the_saw_is_round_the_title_is_about_the_side_that_is_up(self) -> None:
        turns = [at for at in moments(CROSSCUT) if at.front.ask is Ask.TURN]
        assert {at.said.title for at in turns if at.front.name == "saw"} == {
            "Turn the saw to side 1",
            "Turn the saw to side 2",
        }
        later = {at.said.title for at in turns if at.front.name != "saw"}
        assert later >= {"Side 2: before the first bend", "Side 2: before the first stroke"}
        assert all(title.startswith("Side ") for title in later)


class TestOneThingOnce:
    def test_of_a_single_pass_no_number_is_told(self) -> None:
        told = worked(CROSSCUT, Stage.LEVEL, Kind.PASS) + worked(CROSSCUT, Stage.DRESS, Kind.PASS)
        assert told
        assert not [at for at in told if "1 of 1" in at.said.instruction or at.said.of != "pass"]

    def test_a_second_leveling_has_its_reason(self) -> None:
        first, again = worked(RIP, Stage.LEVEL, Kind.PASS)
        assert (first.said.title, again.said.title) == ("Level the points", "Level again, as it was reshaped")
        why = "Again, as reshaping left points of unlike height; its small flats are filed to."
        assert [why in at.said.lines for at in (first, again)] == [False, True]

    @pytest.mark.parametrize("saw", [CROSSCUT, replace(CROSSCUT, toothed_length=Length.of(83.5))], ids=["in", "mm"])
    def test_the_trial_cut_is_as_long_where_it_is_made_as_where_it_is_typed(self, saw: Saw) -> None:
        asks = step(Stage.PROVE, "trial cut").asks
        assert asks is not None
        made = action(step(Stage.PROVE, "trial cut"), saw)
        long, thick = re.findall(r"(?:\d+/)?\d+ (?:in|mm)", made)
        assert example(asks, saw).startswith(f'such as "{long}, {thick}, ')
        assert [answer.what for answer in read(asks, a_cut(saw), saw)][:2] == [
            Measurable.CUT_LENGTH,
            Measurable.CUT_THICKNESS,
        ]

    def test_the_points_are_chalked_alike_in_the_form_on_the_page_and_at_the_step(self) -> None:
        assert "every twentieth" in step(Stage.LOOK_OVER, "points").how
        assert "every twentieth" in entry("tools", "chalk")["what"]
        assert "every twentieth" in " ".join(entry("saw_form", "points")["how"])

    def test_a_cut_that_wanders_is_asked_to_which_side_before_a_row_is_stoned(self) -> None:
        assert "to which? Only that row is stoned." in fault("wanders").sees
