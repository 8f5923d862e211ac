"""What is said aloud at one moment, for somebody with closed eyes: of what the screen shows, what decides the work."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from session.sentences.aloud import sentences
from session.sentences.glance import Glance, glance
from session.sentences.moment import Moment
from session.sentences.offers import Act
from session.sentences.saying import Saying
from session.sentences.set_trial import trial_words
from session.texts.wording import times
from session.walk.front_question import Ask

#: Rows of ticks, which are looked at: what is in hand of them is the instruction.
_TICKED: Final = re.compile("[■◆]")

#: "Marked gullet 12." is heard from the next number; a count of strokes is heard.
_MARKED: Final = re.compile(r"Marked (?P<what>[^(]+?)(?: \((?P<count>[^)]+)\))?\.")

#: Acts whose key is named aloud where a moment asks for an answer.
_ANSWERS: Final = (Act.AGREE, Act.DIFFER, Act.DONE)


def heading(saying: Saying) -> str:
    """The stage, and the side with the handle where it has sides; said when it is another than before."""
    if saying.stage is None:
        return ""
    if not saying.side:
        return f"Stage: {saying.stage}."
    side = f"side {saying.side} of {saying.sides}" if saying.sides else f"side {saying.side}"
    return f"Stage: {saying.stage}, {side}, handle on your {saying.handle}."


def moment_words(at: Moment, key: Callable[[Act], str]) -> str:
    """What is said of this moment. key: what the key of an act is called."""
    told = glance(at)
    return _work(at, told) if told is not None else _asked(at.said, key)


def place_words(at: Moment) -> str:
    """The place in hand alone, said behind a press that did nothing."""
    told = glance(at)
    return "" if told is None else sentences(f"Still {_where(told)}")


def note_words(note: str) -> str:
    """What came of a press. The next place tells that one was marked, but not how many strokes were counted."""
    marked = _MARKED.fullmatch(note)
    if marked is None:
        return sentences(note)
    return "" if marked["count"] is None else sentences(f"{marked['what']}: {marked['count']}")


def question_words(title: str, lines: tuple[str, ...], choices: tuple[str, ...], how: str) -> str:
    """A question over the bench: its title, its lines, its choices by number, and how it is answered."""
    return sentences(title, *lines, *_numbered(choices), how)


def _where(told: Glance) -> str:
    side = f", side {told.side}" if told.side else ""
    # A gullet is known by the teeth beside it: there is one gullet less than there are points.
    among = f", {told.between}" if told.between else f" of {told.of}"
    return f"{told.kind} {told.number}{among}{side}"


def _work(at: Moment, told: Glance) -> str:
    """Place, strokes, direction, stop, and what is told of this place alone."""
    strokes = times(told.strokes, "stroke") if told.strokes else "light strokes" if told.light else ""
    way = (
        "" if told.strokes == 0 and told.kind == "gullet" else told.lean or (told.pushes if told.kind == "pass" else "")
    )
    parts = [_where(told).capitalize(), strokes, way]
    first = ", ".join(part for part in parts if part)
    place = at.place
    trial = trial_words(at.state, at.saw, place) if place is not None else ()
    stop = told.stop[0]
    return sentences(f"{first}, {stop}", told.zone, *at.expected.spared, *at.expected.notes, *trial)


def _asked(saying: Saying, key: Callable[[Act], str]) -> str:
    lines = [line for line in saying.lines if not _TICKED.search(line)]
    step = saying.ask is Ask.WORK
    if step:
        return sentences(saying.title, saying.instruction, *_numbered(saying.choices), *lines)
    first, *others = saying.offers
    answers = [first, *(offer for offer in others[:1] if offer.act in _ANSWERS)]
    # An answer by its digit was told among the choices.
    keys = [f"press {key(offer.act)}: {offer.word}" for offer in answers if offer.digit <= 0]
    return sentences(saying.title, *lines, saying.instruction, *_numbered(saying.choices), *keys)


def _numbered(choices: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{number}: {choice}" for number, choice in enumerate(choices, 1))
