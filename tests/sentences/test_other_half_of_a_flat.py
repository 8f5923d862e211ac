"""Where a gullet takes half of its flats it is said who takes the rest, why it is pressed, and what half a hair is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from moments_met import CROSSCUT, RIP, states
from session.rehearsal.eyes import Eyes
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.sentences.glance import glance
from session.sentences.instruction import ROOM, GulletWork, gullet_words
from session.sentences.moment import Moment
from session.texts.guidance import Level
from session.trade.saw import End, Saw
from session.walk.front_question import Ask
from session.walk.stages import Kind, Stage

SAW = replace(CROSSCUT, points=12)
PLATE = SimulatedPlate(SAW, [ToothSteel(3.2 * k, 3.2 * k, 0.0, 0.1, 0.0) for k in range(SAW.points)])
HAIR = "Of a flat a hair wide nobody sees half: a stroke or two, light (judgment)."


def gullets(saw: Saw, grades: Mapping[int, int], level: Level = Level.TAUGHT) -> Iterator[Moment]:
    """The moments at which a gullet is filed."""
    for state in states(saw, grades=grades):
        place = state.place
        if state.front.ask is Ask.WORK and place is not None and (place.stage, place.kind) == (Stage.FILE, Kind.GULLET):
            yield Moment(state, saw, level)


def told(saw: Saw, grades: Mapping[int, int], gullet: int, level: Level = Level.TAUGHT) -> tuple[str, ...]:
    return next(at.said.lines for at in gullets(saw, grades, level) if at.said.numeral == str(gullet))


@pytest.mark.parametrize(("grade", "hair"), [(1, True), (3, False)])
def test_the_other_half_is_named_on_the_first_side_alone(grade: int, hair: bool) -> None:
    halves: dict[int, list[bool]] = {1: [], 2: []}
    hairs: dict[int, list[bool]] = {1: [], 2: []}
    for at in gullets(SAW, dict.fromkeys(range(1, 13), grade)):
        halves[at.said.side].append("Side 2 takes the other half." in at.said.lines)
        hairs[at.said.side].append(HAIR in at.said.lines)
    assert halves == {1: [True] * 6, 2: [False] * 6}
    assert hairs == {1: [hair] * 6, 2: [False] * 6}


#: By twos, wide before narrow, and one low tooth.
UNEVEN = {tooth: 4 if tooth % 4 in (1, 2) else 2 for tooth in range(1, 13)} | {6: 0}


def test_of_two_flats_the_wider_is_named_where_the_file_is_pressed_to_it() -> None:
    assert "9 is wider; side 2 takes the rest." not in told(SAW, UNEVEN, 9), "both are wide"
    first = told(SAW, UNEVEN | {9: 5}, 9)
    assert "9 is wider; side 2 takes the rest." in first
    assert "Flat 2 is the wider: press to it." in told(SAW, UNEVEN, 2)
    assert "Side 2 takes the other half." in told(SAW, UNEVEN, 5), "the low tooth beside it has none"


@pytest.mark.parametrize(
    ("start", "gullet", "said"),
    [
        (End.HEEL, 8, "9 is wider; gullet 9 takes the rest."),
        (End.HEEL, 2, "Half of flat 3 stays for gullet 3."),
        (End.TOE, 8, "Half of flat 8 stays for gullet 7."),
        (End.TOE, 2, "2 is wider; gullet 1 takes the rest."),
        (End.HEEL, 6, "The next gullet takes the rest."),
    ],
)
def test_from_one_side_it_is_said_which_gullet_takes_the_rest_of_the_other_flat(
    start: End, gullet: int, said: str
) -> None:
    assert said in told(replace(RIP, sides=1, start=start), UNEVEN, gullet)


@pytest.mark.parametrize(("start", "gullet", "first", "then"), [(End.HEEL, 8, 9, 8), (End.TOE, 2, 2, 3)])
@pytest.mark.parametrize("level", Level)
def test_instruction_and_far_view_press_to_the_wider_first_and_then_to_the_one_that_goes(
    start: End, gullet: int, first: int, then: int, level: Level
) -> None:
    saw = replace(RIP, sides=1, start=start)
    at = next(at for at in gullets(saw, UNEVEN, level) if at.said.numeral == str(gullet))
    eyes, seen = Eyes(PLATE), glance(at)
    assert f"press to {first} down to half its flat, then to {then} until flat {then}" in at.said.instruction
    assert len(at.said.instruction) <= ROOM
    assert seen is not None
    assert seen.stop[0] == f"at half of flat {first} press to {then}, stop when flat {then} just goes"
    assert seen.lean == f"press to the {'toe' if first > then else 'heel'}"
    assert eyes.lean_in(at.said.instruction) == ("toe" if first > then else "heel")
    assert not eyes.half_in(at.said.instruction), "one goes whole"


@given(strokes=st.none() | st.integers(1, 99), tooth=st.integers(1, 997))
def test_both_ways_of_pressing_fit_a_row(strokes: int | None, tooth: int) -> None:
    work = GulletWork(strokes=strokes, flat_of=tooth, halved=tooth + 1, flats=(tooth, tooth + 1))
    said = gullet_words(Stage.FILE, work, SAW)
    assert len(said) <= ROOM
    assert said.endswith(
        (f"then to {tooth} until flat {tooth} goes.", f"then to {tooth} until flat {tooth} just goes.")
    )


ONE_DONE = "One flat done: press to the other."


@pytest.mark.parametrize("level", [Level.TAUGHT, Level.BRIEF])
def test_beside_the_picture_it_is_said_what_to_do_when_one_of_two_flats_is_done_first(level: Level) -> None:
    for at in gullets(SAW, UNEVEN, level):
        two = not {5, 6, 12} & {int(at.said.numeral)}
        assert (ONE_DONE in at.said.lines[: at.said.first]) is two, "a low tooth, and the toe, have no second flat"
        assert " ".join(at.said.lines).count(ONE_DONE) == two, "once"


def test_where_one_flat_says_when_to_stop_the_other_is_not_filed_away_first() -> None:
    for at in gullets(replace(RIP, sides=1), UNEVEN):
        if "flat " in at.said.instruction:
            assert ONE_DONE not in at.said.lines[: at.said.first], at.said.instruction


def test_whoever_asked_for_few_words_knows_it() -> None:
    brief = told(SAW, UNEVEN | {9: 5}, 9, Level.BRIEF)
    assert not [line for line in brief if "takes the" in line]
