"""The words of the stages and the instruction line: they fit, and they say what the recipe says."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import panel_saw
from named_works import works
from session.advice.printed_choices import choices
from session.sentences.instruction import ROOM, GulletWork, anvil_words, bend_words, gullet_words, pass_words
from session.texts.guidance import Level, StageWords, beside, reasons, words
from session.texts.steps import step
from session.trade.evening import Lean
from session.trade.lengths import Length
from session.trade.saw import Cut, End, FilePoints, Order
from session.walk.stages import FACTS, Kind, Stage

SAW = panel_saw(
    fleam=25.0,
    set_per_side=Length(0.1524, "0.006 in", "in"),
    least_per_side=Length(0.0762, "0.003 in", "in"),
)
GULLETS = st.sampled_from([Stage.FILE, Stage.RESHAPE])


@pytest.mark.parametrize("stage", list(Stage))
class TestWords:
    def test_sentences_fit_a_column_and_have_works_behind_them(self, stage: Stage) -> None:
        said = words(stage)
        for field in fields(StageWords):
            text = getattr(said, field.name)
            if field.name == "of_flats":
                # It ends the sentence of how.
                text = f"{said.how} {text}".strip()
            assert text
            if field.name not in ("source", "title"):
                assert len(text) <= 75
                assert text.endswith(".")
        assert works(said.source)

    def test_less_is_said_at_each_level(self, stage: Stage) -> None:
        taught, brief, bare = (beside(stage, level) for level in Level)
        assert len(taught) == 3
        assert len(set(taught)) == 3
        assert brief == taught[:1]
        assert bare == ()

    def test_where_no_flat_was_left_nothing_is_said_of_one(self, stage: Stage) -> None:
        without = beside(stage, Level.BRIEF, to_flats=False)
        assert all("flat done" not in text for text in without)
        assert ("One flat done: press to the other." in beside(stage, Level.BRIEF)[0]) is (stage is Stage.FILE)

    def test_reasons_are_short_offers(self, stage: Stage) -> None:
        offered = reasons(stage)
        assert 3 <= len(offered) <= 9, "one digit key each"
        assert len(set(offered)) == len(offered)
        assert all(0 < len(reason) <= 32 for reason in offered)


class TestInstruction:
    def test_filing_the_first_and_the_second_side(self) -> None:
        first = gullet_words(Stage.FILE, GulletWork(strokes=2, lean=Lean.TOE, half=True, flats=(15, 16)), SAW)
        assert first == "About 2 strokes, press to the toe. Stop at half of flats 15 and 16."
        second = gullet_words(Stage.FILE, GulletWork(strokes=1, flats=(15, 16)), SAW)
        assert second == "About 1 stroke, file level, press evenly. Stop when flats 15 and 16 just go."
        one = gullet_words(Stage.FILE, GulletWork(strokes=1, flats=(16,)), SAW)
        assert one == "About 1 stroke, file level. Stop when flat 16 just goes."

    def test_nothing_known_nothing_claimed(self) -> None:
        assert gullet_words(Stage.FILE, GulletWork(), SAW).startswith("Light strokes, ")

    def test_a_low_tooth_and_a_spent_gullet_are_not_filed(self) -> None:
        assert "do not file" in gullet_words(Stage.FILE, GulletWork(strokes=3, low=True), SAW)
        assert gullet_words(Stage.RESHAPE, GulletWork(strokes=0), SAW).startswith("No stroke here")

    def test_the_recipe_is_followed(self) -> None:
        assert "handle 10° down" in gullet_words(Stage.FILE, GulletWork(strokes=2), replace(SAW, slope=10.0))
        assert "toe to heel" in pass_words(Stage.LEVEL, 1, 2, replace(SAW, start=End.TOE))
        assert "heel to toe" in pass_words(Stage.DRESS, 1, 1, SAW)
        assert bend_words() == "Squeeze once: bend the tooth away from you until it rests on the anvil."
        assert anvil_words(SAW) == "Anvil beyond, 0.041 in below the point: set it there once."
        assert "Pass 2 of 3" in pass_words(Stage.LEVEL, 2, 3, SAW)
        once = "Push the flat mill file once, lengthwise on the points, heel to toe."
        assert pass_words(Stage.LEVEL, 1, 1, SAW) == once

    def test_reshaping_is_square_whatever_the_fleam(self) -> None:
        assert "square across" in gullet_words(Stage.RESHAPE, GulletWork(strokes=4), replace(SAW, slope=10.0))

    @pytest.mark.parametrize("stage", [stage for stage in Stage if FACTS[stage].kind is Kind.STEP])
    def test_named_steps_say_their_one_action(self, stage: Stage) -> None:
        for name in FACTS[stage].steps:
            assert len(step(stage, name).do) <= ROOM
        with pytest.raises(ValueError, match="there is no"):
            step(stage, "dance")

    @given(
        stage=GULLETS,
        strokes=st.none() | st.integers(0, 99),
        lean=st.sampled_from(Lean),
        half=st.booleans(),
        low=st.booleans(),
        number=st.integers(1, 99),
        slope=st.sampled_from([0.0, 5.0, 12.5, -7.5]),
        share=st.floats(0.05, 1.0),
        flats=st.sampled_from([(), (7,), (15, 16), (198,), (198, 199)]),
    )
    def test_it_always_fits_one_row_and_ends(
        self,
        stage: Stage,
        strokes: int | None,
        lean: Lean,
        half: bool,
        low: bool,
        number: int,
        slope: float,
        share: float,
        flats: tuple[int, ...],
    ) -> None:
        saw = replace(SAW, slope=slope, bent_share=share)
        work = GulletWork(strokes=strokes, lean=lean, half=half, low=low, flats=flats)
        passes = [pass_words(one, number, 99, saw) for one in (Stage.LEVEL, Stage.DRESS)]
        for said in (gullet_words(stage, work, saw), bend_words(), *passes):
            assert len(said) <= ROOM
            assert said.endswith(".")

    @given(stage=GULLETS, strokes=st.integers(1, 99), half=st.booleans())
    def test_the_number_of_strokes_and_the_stop_are_always_said(self, stage: Stage, strokes: int, half: bool) -> None:
        said = gullet_words(stage, GulletWork(strokes=strokes, half=half), SAW)
        assert said.split()[:2] == ["About", str(strokes)]
        assert ("half of each flat" in said) is half
        assert ("Stop when" in said) is not half, "half of each flat is told with the shorter word"
        assert " Stop " in said


class TestChoices:
    def test_each_choice_of_the_recipe_turns_its_words_round(self) -> None:
        turned = replace(SAW, order=Order.FILE_FIRST, start=End.TOE, file_points=FilePoints.HANDLE)
        one, other = {c.topic: c for c in choices(SAW)}, {c.topic: c for c in choices(turned)}
        for topic in ("order of work", "end to start from", "way the file points"):
            assert one[topic].here.rstrip(".") in other[topic].otherwise
            assert other[topic].here.rstrip(".") in one[topic].otherwise

    def test_who_prints_what(self) -> None:
        """Against the table of disagreements (order 1, direction 2, fleam 5)."""
        found = {c.topic: c for c in choices(SAW)}
        assert set(works(found["order of work"].said_by)) == {"NOYES", "KING", "ROSS", "MTS", "PSM89", "GOR"}
        assert set(works(found["way the file points"].others)) == {"FIT", "SICK"}
        assert found["fleam"].said_by == "KING"
        steep = {c.topic: c for c in choices(replace(SAW, fleam=45.0))}
        assert set(works(steep["fleam"].said_by)) == {"MTS", "DREW", "FIT", "SHOP2"}
        neither = {c.topic: c for c in choices(replace(SAW, fleam=10.0))}
        assert neither["fleam"].said_by == "common practice, no source"

    def test_a_square_filed_saw_has_sides_to_choose_and_no_direction(self) -> None:
        rip = replace(SAW, cut=Cut.RIP, fleam=0.0, sides=1)
        found = {c.topic: c for c in choices(rip)}
        assert found["sides filed from"].said_by == "KING; HOLTZ"
        assert "way the file points" not in found
        assert "fleam" not in found

    @given(
        order=st.sampled_from(Order),
        start=st.sampled_from(End),
        points=st.sampled_from(FilePoints),
        fleam=st.sampled_from([0.0, 8.0, 25.0, 45.0]),
        sides=st.sampled_from([1, 2]),
        share=st.floats(0.05, 1.0),
        cut=st.sampled_from(Cut),
    )
    def test_nobody_is_called_wrong_and_everybody_can_be_looked_up(
        self, order: Order, start: End, points: FilePoints, fleam: float, sides: int, share: float, cut: Cut
    ) -> None:
        saw = replace(
            SAW, order=order, start=start, file_points=points, fleam=fleam, sides=sides, bent_share=share, cut=cut
        )
        for choice in choices(saw):
            text = f"{choice.here} {choice.otherwise}".casefold()
            assert not any(word in text for word in ("wrong", "mistake", "should", "bad", "never"))
            assert works(choice.said_by)
            assert works(choice.others)
            assert choice.here.rstrip(".") not in choice.otherwise
            for work in works(choice.others):
                assert work in choice.otherwise, "the other practice is told with who prints it"
            assert all(len(line) <= 160 for line in choice.told)
