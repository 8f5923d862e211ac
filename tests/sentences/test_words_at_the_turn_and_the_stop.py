"""What is said at the hold point of the turn, and by which flat a gullet filed from one side is stopped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from moments_met import states
from session.advice.printed_choices import choices
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.moment import Moment
from session.sentences.offers import Act, not_here
from session.sentences.saying import Saying
from session.sentences.work_words import no_stroke
from session.texts import faults, terms
from session.texts.guidance import Level
from session.texts.steps import step
from session.trade.lengths import parse_length
from session.trade.saw import End, FilePoints, Leans, Order, Saw
from session.trade.sides import side_on_which_leans_away
from session.walk import acts
from session.walk.front_question import Ask, Front
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.tally import NO_STROKE
from session.walk.work_plan import make_plan

AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)
CROSSCUT = replace(load_recipe(find_recipe("crosscut-panel", [])).saw, points=24, vise_jaw=parse_length("2 in"))
RIP = replace(load_recipe(find_recipe("rip", [])).saw, points=12)
GRADES = {tooth: 0 if tooth in (4, 11) else 2 for tooth in range(1, 13)}


def walk(saw: Saw, *, reshape: bool = False, grades: dict[int, int] | None = None) -> Iterator[tuple[Front, State]]:
    """Each moment of a sharpening in which all goes as asked."""
    for state in states(saw, reshape=reshape, grades=grades):
        yield state.front, state


def turned(saw: Saw) -> dict[tuple[Stage, int, str], str]:
    """The sentence of each item of each turn, by stage and side; the first place is item ""."""
    return {
        (now.place.stage, now.side, now.name): Moment(state, saw).said.instruction
        for now, state in walk(saw)
        if now.ask is Ask.TURN and now.place is not None
    }


def filed(saw: Saw, stage: Stage, *, reshape: bool = False) -> dict[int, Saying]:
    """What is said at each gullet of ``stage``."""
    return {
        state.place.tooth: Moment(state, saw).said
        for now, state in walk(saw, reshape=reshape, grades=GRADES)
        if now.ask is Ask.WORK and state.place is not None and state.place.stage is stage
    }


class TestTheTurn:
    @pytest.mark.parametrize("leans", [Leans.AWAY, Leans.TOWARD])
    @pytest.mark.parametrize("points", list(FilePoints))
    @pytest.mark.parametrize("start", list(End))
    @pytest.mark.parametrize("fleam", [0.0, 25.0])
    @pytest.mark.parametrize("sides", [1, 2])
    def test_the_lean_told_is_that_of_the_tooth(
        self, leans: Leans, points: FilePoints, start: End, fleam: float, sides: int
    ) -> None:
        sides = 2 if fleam else sides
        saw = replace(CROSSCUT, first_leans=leans, file_points=points, start=start, fleam=fleam, sides=sides)
        found = 0
        for now, state in walk(saw):
            if now.ask is Ask.TURN and not now.name and now.place is not None and now.place.tooth:
                told, tooth = Moment(state, saw).said.instruction, now.place.tooth
                away = side_on_which_leans_away(tooth, leans) == now.side
                assert told.startswith(f"Find tooth {tooth}, ")
                assert told.endswith(f": it leans {'away from' if away else 'toward'} you.")
                assert len(told) <= 76
                found += 1
        assert found == (2 if sides == 1 else 3)

    def test_a_line_never_set_leans_nowhere_yet(self) -> None:
        unset = replace(CROSSCUT, first_leans=Leans.UNSET)
        assert turned(unset)[Stage.SET, 2, ""].endswith("it is to lean away from you.")
        assert turned(unset)[Stage.FILE, 2, ""].endswith("it leans away from you.")
        filed_first = turned(replace(unset, order=Order.FILE_FIRST))
        assert filed_first[Stage.FILE, 2, ""].endswith("it is to lean away from you.")

    def test_no_shift_is_asked_after_the_turn_so_it_names_the_teeth_to_clamp(self) -> None:
        told = turned(CROSSCUT)
        last = make_plan(CROSSCUT).reaches[0][1]
        assert f"teeth 1 to {last} in the vise" in told[Stage.FILE, 2, "low"]

    def test_a_saw_that_is_dressed_is_turned_over_and_laid_flat(self) -> None:
        told = turned(CROSSCUT)
        assert told[Stage.DRESS, 1, "saw"] == "Turn the saw over, its handle to your right; stay where you stand."
        assert (
            told[Stage.DRESS, 1, ""] == "Lay the saw flat on the bench, side 1 up: handle right, teeth away from you."
        )

    def test_the_tooth_that_is_to_be_found_may_be_told_otherwise(self) -> None:
        found = set()
        for now, state in walk(CROSSCUT):
            if now.ask is Ask.TURN and now.place is not None and now.place.tooth:
                offered = [(one.act, one.word) for one in Moment(state, CROSSCUT).offers][:2]
                asked = [(Act.AGREE, "found"), (Act.DIFFER, "differs")]
                assert (offered == asked) is (not now.name)
                handle = {1: "right", 2: "left"}[now.side]
                told = not_here(Act.DIFFER, now)
                assert (f"handle is on your {handle}, then count again" in told) is (not now.name)
                assert len(told) <= 78
                found.add((now.side, not now.name))
        assert found == {(1, True), (1, False), (2, True), (2, False)}

    def test_the_second_tooth_is_not_taken_for_the_first(self) -> None:
        assert turned(CROSSCUT)[Stage.SET, 2, ""].startswith("Find tooth 2, the second from the heel:")

    def test_until_the_saw_is_round_all_of_it_says_which_side_is_now_and_which_comes(self) -> None:
        told = {True: 0, False: 0}
        for now, state in walk(CROSSCUT):
            if now.ask is not Ask.TURN or now.place is None or not now.place.tooth:
                continue
            said, first = Moment(state, CROSSCUT).said, str(now.place.tooth)
            waits = now.name == "saw"
            told[waits] += 1
            if waits:
                assert said.side == 3 - now.side
                assert said.side_words == f"now side {said.side} of 2, then side {now.side}"
                assert (said.now, said.next) == (f"turn to side {now.side}", first)
                assert said.of.startswith("next ")
            else:
                assert (said.side, said.comes, said.side_words) == (now.side, 0, f"side {now.side} of 2")
                assert said.now == first
                assert not said.of.startswith("next ")
        assert all(told.values())

    def test_after_a_pause_in_the_midst_of_a_turn_the_handle_is_where_the_saw_has_it(self) -> None:
        found = set()
        for now, state in walk(CROSSCUT):
            if now.ask is not Ask.TURN:
                continue
            paused = state.after(acts.pause(state, AT))
            said = Moment(paused.after(acts.resume(paused, AT, after="pause", seconds=60.0)), CROSSCUT).said
            assert said.ask is Ask.CONFIRM
            # Until it is round the saw stands as on the side before.
            stands = 3 - now.side if now.name == "saw" else now.side
            handle = {1: "right", 2: "left"}[stands]
            assert said.handle == handle
            assert said.lines[0].startswith(f"Handle on your {handle}. ")
            found.add((now.side, now.name == "saw"))
        assert found == {(1, True), (1, False), (2, True), (2, False)}

    def test_on_the_way_back_to_a_stage_worked_from_side_1_alone_both_sides_are_told_too(self) -> None:
        back = [
            Moment(state, RIP).said
            for now, state in walk(replace(RIP, sides=1))
            if now.ask is Ask.TURN and now.name == "saw" and now.place is not None and now.place.stage is Stage.FILE
        ]
        assert [said.side_words for said in back] == ["now side 2, then side 1"]

    def test_no_side_2_of_1(self) -> None:
        said = [Moment(state, RIP).said for now, state in walk(replace(RIP, sides=1)) if now.ask is Ask.TURN]
        assert said
        assert all(one.side <= one.sides or not one.sides for one in said)


class TestTheStop:
    @pytest.mark.parametrize("stage", [Stage.RESHAPE, Stage.FILE])
    def test_from_one_side_the_flat_that_goes_is_named(self, stage: Stage) -> None:
        told = filed(replace(RIP, sides=1), stage, reshape=stage is Stage.RESHAPE)
        assert "Stop when flat 6 just goes" in told[6].instruction
        assert "Stop when flat 12 just goes" in told[12].instruction
        from_toe = filed(replace(RIP, sides=1, start=End.TOE), stage, reshape=stage is Stage.RESHAPE)
        assert "Stop when flat 7 just goes" in from_toe[6].instruction

    def test_a_flat_that_is_not_there_is_not_waited_for(self) -> None:
        told = filed(replace(RIP, sides=1), Stage.FILE)
        assert told[4].lines[0] == "Tooth 4 is low: file only tooth 5."
        assert "half of flat 5" in told[4].instruction
        from_toe = filed(replace(RIP, sides=1, start=End.TOE), Stage.FILE)
        assert "half of flat 12" in from_toe[12].instruction, "beyond the toe stands no tooth"
        assert "half of flat 10" in from_toe[10].instruction, "tooth 11 is low"

    @pytest.mark.parametrize("leans", [Leans.AWAY, Leans.TOWARD])
    @pytest.mark.parametrize("sides", [1, 2])
    def test_the_back_of_tooth_1_is_filed_from_the_side_of_the_even_gullets(self, leans: Leans, sides: int) -> None:
        # Derived: it would be the back of gullet 0; from the side of its own front both flanks would slant one way.
        told = filed(replace(RIP, sides=sides, first_leans=leans), Stage.FILE)
        beside = [gullet for gullet, said in told.items() if any("the back of tooth 1" in line for line in said.lines)]
        assert beside == ([1] if sides == 1 else [2])
        front, back = told[1], told[beside[0]]
        if sides == 2:
            assert front.side != back.side
        # Its flat is halved on the side that comes first and goes on the other, as every flat does.
        first = sides == 1 or leans is Leans.AWAY
        both = f"Stop when flats {front.numeral} and {int(front.numeral) + 1} just go."
        assert ("half of " if first else both) in front.instruction

    def test_from_two_sides_the_first_takes_half(self) -> None:
        halves = {
            state.place.side: "half of flat" in Moment(state, RIP).said.instruction
            for now, state in walk(RIP)
            if now.ask is Ask.WORK and state.place is not None and state.place.stage is Stage.FILE
        }
        assert halves == {1: True, 2: False}


class TestNoStroke:
    """What is recorded of a gullet that is done as it is told, where nothing comes off in it."""

    @pytest.mark.parametrize(("first", "recorded"), [(0, NO_STROKE), (3, None)])
    def test_beside_the_back_of_tooth_1_it_goes_by_whether_that_has_steel(
        self, first: int, recorded: str | None
    ) -> None:
        # In gullet 2, beside which that back is filed, nothing comes off teeth 2 and 3.
        flats = dict.fromkeys(range(1, RIP.points + 1), 3) | {1: first, 2: 0, 3: 0}
        beside = next(
            Moment(state, RIP)
            for now, state in walk(RIP, grades=flats)
            if now.ask is Ask.WORK and state.place is not None and state.place.stage is Stage.FILE
            if state.place.tooth == 2
        )
        assert beside.place is not None
        assert no_stroke(beside, beside.place) == recorded
        asked = any("the back of tooth 1" in line for line in beside.said.lines)
        assert asked is (recorded is None), "recorded as it was told"


def test_a_learner_hears_the_other_practice_in_print_and_everyone_who_says_so() -> None:
    now, state = next(one for one in walk(CROSSCUT) if one[1].place is not None and one[1].place.step == "plan")
    assert now.ask is Ask.WORK
    lines = [line for one in choices(CROSSCUT) for line in one.told]
    assert Moment(state, CROSSCUT, Level.TAUGHT).said.lines[-len(lines) :] == tuple(lines)
    assert not set(Moment(state, CROSSCUT, Level.BRIEF).said.lines) & set(lines)
    assert Moment(state, CROSSCUT).said.source == step(Stage.LOOK_OVER, "plan").source


def test_a_learner_is_told_when_a_step_is_done() -> None:
    state = State.start(make_plan(CROSSCUT))
    while state.front.ask is Ask.CAUTION:
        state = state.after(acts.acknowledge(state, AT))
    told = step(Stage.LOOK_OVER, "bright points")
    taught = Moment(state, CROSSCUT, Level.TAUGHT).said.lines
    tool = "With eyes and a window; the saw by its handle, points up."
    # When to stop comes before the reasons, which may stand a page on.
    assert taught == (tool, told.stop, told.how, told.why)
    assert Moment(state, CROSSCUT, Level.BRIEF).said.lines == (tool, told.stop)


def test_every_fault_is_met_at_the_trial_cut_or_found_by_its_name() -> None:
    asks = step(Stage.PROVE, "trial cut").asks
    assert asks is not None
    assert len(asks.choices) <= 9, "one digit each"
    for name in set(faults.names()) - set(asks.choices):
        found = {one.name: one for one in terms.search(name)}
        if name in terms.names():
            continue
        for cause in faults.fault(name).causes:
            assert cause.remedy in found[name].meaning
    assert terms.search("screeches")[0].name == "file chatters"


def test_a_number_from_memory_says_so_in_the_remedy() -> None:
    stoned = [cause for name in faults.names() for cause in faults.fault(name).causes if "Stone" in cause.remedy]
    assert stoned
    for cause in stoned:
        assert "(from memory)" in cause.remedy
        assert "from memory" in cause.source


def test_the_turn_never_claims_what_a_recipe_does_not_say() -> None:
    """A sentence for every item, whatever the teeth and the vise, in one row."""
    long = replace(CROSSCUT, points=2400, pitch_mm=1.0, vise_jaw=parse_length("1300 mm"))
    for told in turned(long).values():
        assert len(told) <= 76
