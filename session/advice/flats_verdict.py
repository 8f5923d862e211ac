"""What the flats ask for after a leveling pass: one more pass, enough, or every tooth filed to one size first."""

from __future__ import annotations

from enum import StrEnum
from itertools import takewhile
from typing import Final

from session.advice.work import LIGHT_PASSES, What, filing_mm, passes_mm, piece, steel_mm
from session.texts.wording import fine, teeth, times
from session.trade.grades import widths_mm
from session.trade.lengths import MM_PER
from session.trade.leveling import by_turns, untouched, untouched_words
from session.trade.rounding import decimals, whole_number
from session.trade.saw import Saw
from session.trade.seen_words import Bright
from session.trade.strokes import Bite
from session.value_class import dataclass
from session.walk.front_question import Ask
from session.walk.graded_flats import broken_teeth
from session.walk.mark import Did
from session.walk.measurable_facts import whole_in
from session.walk.measurables import ANOTHER_PASS, BIG_AND_SMALL, GOOD, GRADE_ON_STRIP, GRADE_THEM, WIDE, Measurable
from session.walk.place import looks_at_flats
from session.walk.seen_marks import seen_in
from session.walk.stages import Stage
from session.walk.state import State

#: From so many passes on it is said where print ends (HASL p. 74: two or three).
PRINTED_PASSES: Final = 3

#: So many of a line's teeth may stay untouched after these: judgment.
LOW_SHARE: Final = 0.05


class FlatsAsk(StrEnum):
    """What the flats ask for, in the words that answer a look at them."""

    MORE = "One more pass."
    ENOUGH = "Enough."
    RESHAPE = "Reshaping comes in."


#: The choices once reshaping has come in by the flats, beside one more pass.
GO_ON: Final = "reshape"
LEAVE_OUT: Final = "leave reshaping out"


@dataclass(frozen=True, slots=True)
class FlatsVerdict:
    """What the flats ask for, why, and who says so. since: the seq of the first mark that it rests on."""

    asks: FlatsAsk
    why: str
    source: str
    since: int


def flats_verdict(state: State, saw: Saw, round_: int) -> FlatsVerdict | None:
    """What the flats of leveling ``round_`` ask for by what was told of them since its last pass; None before that.

    Teeth that no pass touched come first, then sizes: flats are compared once the line has been gone over.
    """
    told = _told(state, saw, round_)
    if told is None or told.asks is not FlatsAsk.MORE:
        return told
    high = _high_alone(state)
    if high:
        why = f"Enough when {teeth(high)} agree with their neighbors; sharp teeth without a flat stay as they are."
        return FlatsVerdict(FlatsAsk.ENOUGH, why, "RECIPE; KING 64", told.since)
    level, low = state.tally.rounds.get(round_), untouched_told(state, saw, round_)
    if level is None or low is None or level.passes < PRINTED_PASSES:
        return told
    source = f"{told.source}; GOR p. 150"
    if enough_after(level.passes, low, state.plan.points):
        why = f"{low} low after {times(level.passes, 'pass')}: left until the next sharpenings come down to them."
        return FlatsVerdict(FlatsAsk.ENOUGH, why, source, told.since)
    rest = f" After {times(level.passes, 'pass')}: or leave the rest to the next sharpenings."
    return FlatsVerdict(told.asks, told.why + rest, source, told.since)


def enough_after(passes: int, low: int, points: int) -> bool:
    """Whether a line of ``points`` with ``low`` teeth that no pass has touched is good enough after ``passes``.

    Where print ends (HASL p. 74: two or three passes), few low teeth wait for the next sharpenings: a pass for them
    takes steel off all the others. Few are one in twenty (judgment); of simulated saws that left one in ten, most were
    worth the next pass.
    """
    return untouched_words(low)[0] or (passes >= PRINTED_PASSES and low <= points * LOW_SHARE)


def untouched_told(state: State, saw: Saw, round_: int) -> int | None:
    """How many teeth no pass of leveling ``round_`` has touched, by its graded flats, else as told; None if neither."""
    if flats := state.tally.flats_of(round_):
        return len(untouched(widths_mm(flats, state.plan.points, saw.pitch_mm), broken_teeth(state)))
    counted = state.measured.get(Measurable.UNTOUCHED)
    return None if counted is None else whole_in(Measurable.UNTOUCHED, counted.value)


def _told(state: State, saw: Saw, round_: int) -> FlatsVerdict | None:
    said, counted = state.measured.get(Measurable.FLATS), state.measured.get(Measurable.UNTOUCHED)
    if said is not None and said.value in _SIZES:
        return FlatsVerdict(FlatsAsk.RESHAPE, *_SIZES[str(said.value)], said.seq)
    flats = state.tally.flats_of(round_)
    if flats:
        widths = widths_mm(flats, state.plan.points, saw.pitch_mm)
        good, why = untouched_words(len(untouched(widths, broken_teeth(state))))
        since = state.tally.rounds[round_].graded_at
        if good and by_turns(flats, broken_teeth(state)):
            return FlatsVerdict(FlatsAsk.RESHAPE, *_SIZES[BIG_AND_SMALL], since)
        asks = FlatsAsk.ENOUGH if good else FlatsAsk.MORE
        return FlatsVerdict(asks, why, "HASL p. 74; common practice, no source", since)
    count = None if counted is None else whole_in(Measurable.UNTOUCHED, counted.value)
    if count is None or counted is None:
        return None
    good, why = untouched_words(count)
    return FlatsVerdict(
        FlatsAsk.ENOUGH if good else FlatsAsk.MORE, why, "HASL p. 74; common practice, no source", counted.seq
    )


#: Why teeth are filed to one size first, by what was seen of their flats, and who says so.
_SIZES: Final = {
    BIG_AND_SMALL: ("Big and small by turns: file to one size, level again.", "GOR p. 150; FIT"),
    WIDE: ("Over a third of the pitch: file to one size, level again.", "GOR p. 149; GOR p. 150; judgment"),
}


def _high_alone(state: State) -> tuple[int, ...]:
    """The teeth that stand high on a line whose points are sharp: then only these are leveled."""
    seen = seen_in(state.measured)
    return (seen.high or ()) if seen.bright is Bright.NONE else ()


def in_hand(state: State, saw: Saw) -> FlatsVerdict | None:
    """The verdict on the flats that are looked at now; None elsewhere, and before anything was told of them."""
    place = state.place
    return flats_verdict(state, saw, place.round) if place is not None and looks_at_flats(place) else None


def comes_in(state: State, saw: Saw) -> FlatsVerdict | None:
    """The verdict by which reshaping comes into the plan now; None when it does not.

    It comes in once for the same flats: what the person then decides or takes back holds.
    """
    told = in_hand(state, saw)
    if told is None or told.asks is not FlatsAsk.RESHAPE or state.front.ask is not Ask.WORK:
        return None
    if Stage.RESHAPE in state.taken_in or not may_reshape(state):
        return None
    later = takewhile(lambda mark: mark.seq > told.since, reversed(state.marks))
    return None if any(mark.did is Did.DECIDED and mark.stage is Stage.RESHAPE for mark in later) else told


def may_reshape(state: State) -> bool:
    """Whether reshaping may still come in for the flats that are looked at now: those of the leveling before it."""
    first = state.place is not None and state.place.round == 1
    return first and Stage.RESHAPE in state.plan.order and not state.tally.begun(Stage.RESHAPE)


#: What follows from an answer that does not say it, as it is offered; the record has the answer's own words.
_OFFERED: Final = {BIG_AND_SMALL: "big and small: reshape", WIDE: "over 1/3 of the pitch: reshape"}
_MEANT: Final = {offered: answer for answer, offered in _OFFERED.items()}


def flats_choices(state: State) -> tuple[str, ...]:
    """What may be answered by digit to the look at the flats; to grade them, where that was not done since a pass."""
    grades = () if _graded(state) else (GRADE_THEM, GRADE_ON_STRIP)
    if not may_reshape(state):
        return (GOOD, ANOTHER_PASS, *grades)
    if Stage.RESHAPE not in state.taken_in:
        return (GOOD, ANOTHER_PASS, *grades, BIG_AND_SMALL, WIDE)
    return (GO_ON, ANOTHER_PASS, *grades, LEAVE_OUT)


def offered_choices(state: State) -> tuple[str, ...]:
    """The same in the words in which they are offered."""
    return tuple(map(offered_as, flats_choices(state)))


def offered_as(choice: str) -> str:
    """How an answer to the look at the flats is offered."""
    return _OFFERED.get(choice, choice)


def meant_by(offered: str) -> str:
    """The answer that is offered so."""
    return _MEANT.get(offered, offered)


def _graded(state: State) -> bool:
    """Whether the flats of the leveling in hand were graded, or measured, since its last pass."""
    return state.place is not None and bool(state.tally.flats_of(state.place.round))


def reshape_cost(saw: Saw, leveled_mm: float, bite: Bite | None = None) -> str:
    """What reshaping after a leveling of ``leveled_mm`` costs beyond it: steel off the line, gullets and minutes."""
    again = passes_mm(LIGHT_PASSES)
    work = (
        piece(What.RESHAPE, "", "", steel_mm=filing_mm(saw, leveled_mm, bite), places=saw.points),
        piece(What.LEVEL_AGAIN, "", "", steel_mm=again, places=LIGHT_PASSES),
    )
    minutes = whole_number(sum(one.minutes or 0.0 for one in work))
    steel = steel_mm(work)
    # Beside a saw told in inches it is one of their decimals, as the widths of flats are.
    off = f"{decimals(steel / MM_PER['in'], 4)} in" if saw.unit == "in" else fine(steel, saw.unit)
    return f"{off} off the line, {times(saw.points, 'gullet')}, about {minutes} min"
