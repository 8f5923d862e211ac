"""Leveling stops at a number that can be counted, the same in its words and in the answer to a look at the flats."""

from __future__ import annotations

from moments_met import CROSSCUT, moments
from session.advice.saw_records import NO_HISTORY
from session.advice.sharpness import sharpness
from session.sentences.moment import Moment
from session.texts.guidance import Level
from session.texts.steps import step
from session.texts.wording import LEVELED
from session.trade.leveling import LOW_TOLERATED, untouched_words
from session.trade.observation import Seen
from session.trade.seen_words import Bright
from session.walk.front_question import Ask
from session.walk.stages import Stage


def leveling(level: Level) -> Moment:
    """The first pass of a leveling."""
    return next(
        at for at in moments(CROSSCUT, level) if at.front.ask is Ask.WORK and at.place and at.place.stage is Stage.LEVEL
    )


def test_as_many_as_the_words_allow_are_enough_and_one_more_is_not() -> None:
    assert str(LOW_TOLERATED) in LEVELED
    assert [untouched_words(LOW_TOLERATED + more)[0] for more in (0, 1)] == [True, False]


def test_the_pass_the_look_and_the_plan_say_the_same() -> None:
    assert f"when {LEVELED}, stop" in " ".join(leveling(Level.TAUGHT).said.lines)
    assert f"when {LEVELED}, stop" in " ".join(leveling(Level.BRIEF).said.lines)
    assert step(Stage.LEVEL, "flats").stop.startswith(f"Stop when {LEVELED};")
    planned = sharpness(CROSSCUT, Seen(bright=Bright.MOST), NO_HISTORY, by_default=True)
    assert f"until {LEVELED}" in planned.reason


def test_how_many_passes_there_are_is_left_to_the_look_that_follows() -> None:
    at = leveling(Level.TAUGHT)
    assert at.said.share == "0 of 1 or more done"
    assert f"when {LEVELED}, stop; else one more pass." in " ".join(at.said.lines)
