"""What the person can do now, by our own names for it; which keys do it is the bench's matter."""

from __future__ import annotations

from collections.abc import Iterator, Set
from enum import StrEnum
from typing import Final

from session.sentences.silence_words import silence_words
from session.texts.wording import times
from session.value_class import dataclass
from session.walk.first_fitting import finds_tooth
from session.walk.front_question import Ask, Front
from session.walk.mark import Did
from session.walk.place import Place
from session.walk.stages import LEAN_ITEM, PLAN_STEP, Kind, Stage


class Act(StrEnum):
    """Everything a key, a button or a pedal can mean."""

    DONE = "done"
    STROKES = "strokes"  # a digit: so many strokes, or the choice with that number
    AS_ADVISED = "as advised"  # so many strokes as are advised here
    AGREE = "agree"
    DIFFER = "differ"
    TAKE_BACK = "take back"
    FLAG = "flag"
    LEAVE_OUT = "leave out"
    PAUSE = "pause"
    LOOK_BACK = "look back"
    ANSWER = "answer"
    MORE = "more"
    SET_PLACE = "set place"
    TIMER = "timer"
    GUIDANCE = "guidance"
    TERMS = "terms"
    FAR = "far view"
    READ_ON = "read on"
    HELP = "help"
    QUIT = "quit"


#: What a box of several digits says where it is touched and none of them may be taken for meant.
NO_DIGIT: Final = -1


@dataclass(frozen=True, slots=True)
class Offer:
    """One act with the word it has on screen now, and in how few it can be said where there is little room.

    short: None where it is not said shorter; empty where the key alone says it. most: of an act by digits the highest
    one that does something. digit: the one digit that is meant; 0 for any, `NO_DIGIT` for
    any where each tells another measure, so that a touch of the box says none of them.
    """

    act: Act
    word: str
    short: str | None = None
    most: int = 9
    digit: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Circumstances:
    """What decides at one moment what is offered.

    now: what is asked. may: what may be done (`session.walk.rules.allowed`). unproved: the last trial cut was not good,
    and nothing was done about it yet.
    Of the plan to be settled: against: it is not as advised. own_plan: somebody decided otherwise, so that it is gone
    on with as it stands, and taking the advice is offered besides; before that, going on takes the advice. waits: it is
    not gone on with until a yes, or a decision.
    Of the flats: graded: the grade of the one before; None where none was graded. rest: those from here on may be
    answered for at once. anew: one of those told may be told anew. by_flats: what going on does at the look at them by
    what was told; empty elsewhere.
    Of a gullet: strokes: those advised; None where no count is known, 0 where nothing is due. two_faces: a second face
    is filed beside it, which has no mark of its own. gone_back: it was worked and gone back to, so that going on says
    that no more was done.
    Of all else: stood: what is done to the saw where it has to be held otherwise. unanswered: going on passes a
    question over. silent: after a long silence it is asked whether the place in hand was worked meanwhile. flagged: at
    the check that ends a side its open flags are looked at first.
    """

    now: Front
    may: Set[Did]
    unproved: bool
    against: bool = False
    own_plan: bool = False
    waits: bool = False
    graded: int | None = None
    rest: bool = False
    anew: bool = False
    by_flats: str = ""
    strokes: int | None = None
    two_faces: bool = False
    gone_back: bool = False
    stood: str = ""
    unanswered: bool = False
    silent: bool = False
    flagged: bool = False

    @property
    def in_hand(self) -> Place | None:
        """The place to be worked; None where something else is asked."""
        return self.now.place if self.now.ask is Ask.WORK else None

    @property
    def flat(self) -> Place | None:
        """The tooth whose flat is to be graded, or told against the strip."""
        place = self.in_hand
        return place if place is not None and place.stage is Stage.LEVEL and place.tooth else None

    @property
    def leans(self) -> bool:
        """Whether it is asked if tooth 1 leans as is told."""
        return self.now.ask is Ask.FIT and self.now.name == LEAN_ITEM


def offers(at: Circumstances) -> tuple[Offer, ...]:
    """What is offered now, most wanted first."""
    return (*_onward(at), *_otherwise(at), *_of_work(at), *_besides(at), Offer(Act.HELP, "help"))


def _onward(at: Circumstances) -> Iterator[Offer]:
    """What goes on from here."""
    place = at.now.place
    if at.silent and place is not None:
        # One question, a key for each answer.
        yield from (Offer(Act.STROKES, word, digit=digit) for digit, word in silence_words(place).items())
        yield Offer(Act.SET_PLACE, "elsewhere")
    elif not at.waits and (main := _main(at)) is not None:
        yield main


def _main(at: Circumstances) -> Offer | None:
    """What the key does that goes on, or agrees; None where nothing is preset."""
    if at.unanswered:
        return Offer(Act.DONE, "skip it", "skip")
    if at.by_flats:
        return Offer(Act.DONE, at.by_flats)
    if at.in_hand is not None and at.in_hand.step == PLAN_STEP:
        return Offer(Act.DONE, AS_ADVISED if at.against and not at.own_plan else "as it stands")
    if finds_tooth(at.now):
        return Offer(Act.AGREE, "found")
    if at.gone_back:
        return Offer(Act.DONE, "no more")
    if at.two_faces and at.in_hand is not None:
        return Offer(Act.DONE, "both done", "both")
    if at.flagged and at.now.ask is Ask.CHECK:
        return Offer(Act.AGREE, "look again", "look")
    if at.leans:
        return Offer(Act.AGREE, "it does")
    if at.stood and at.now.ask is Ask.SHIFT:
        return Offer(Act.DONE, at.stood)
    return _MAIN.get(at.now.ask) if at.flat is None else _of_a_flat(at.flat, at.graded)


def _of_a_flat(flat: Place, graded: int | None) -> Offer | None:
    """What the advance key says of a flat: which grade it repeats, in figures; nothing of the first."""
    if flat.on_strip:
        return Offer(Act.DONE, "not told")
    return None if graded is None else Offer(Act.DONE, f"same: grade {graded}")


def _otherwise(at: Circumstances) -> Iterator[Offer]:
    """What says no to what is asked."""
    found = at.now.ask is Ask.CONFIRM and not at.silent
    if found or at.now.ask is Ask.CHECK or at.leans or finds_tooth(at.now):
        yield Offer(Act.DIFFER, "differs")


def _of_work(at: Circumstances) -> Iterator[Offer]:
    """What is told of the place in hand."""
    place = at.in_hand
    if place is None:
        return
    if place.kind is Kind.GULLET:
        if at.strokes:
            yield Offer(Act.AS_ADVISED, times(at.strokes, "stroke"))
        # Beside a count of strokes the digits say of themselves what they count.
        word, short = ("more strokes", "more") if at.gone_back else ("strokes", None)
        yield Offer(Act.STROKES, word, "" if at.strokes else short, digit=NO_DIGIT)
    if at.flat is not None:
        # The title says what the digits are.
        word, short = ("place", None) if at.flat.on_strip else ("grade", "")
        yield Offer(Act.STROKES, word, short, digit=NO_DIGIT)
        if at.rest:
            yield Offer(Act.ANSWER, "all the rest", "others")
    if place.step == PLAN_STEP:
        if at.against and (at.own_plan or at.waits):
            yield Offer(Act.AGREE, AS_ADVISED)
    elif place.kind is Kind.STEP and place.stage is not Stage.CLOSE:
        yield Offer(Act.ANSWER, "answer")
        if at.anew:
            yield Offer(Act.SET_PLACE, "one anew", "anew")


def _besides(at: Circumstances) -> Iterator[Offer]:
    """What may be done at any place, and whether it may here."""
    place, grading = at.now.place, at.flat is not None
    if at.may & {Did.TOOK_BACK, Did.PUT_BACK}:
        yield Offer(Act.TAKE_BACK, "undo")
    if Did.FLAGGED in at.may:
        yield Offer(Act.FLAG, "flag")
    if Did.LEFT_OUT in at.may:
        yield Offer(Act.LEAVE_OUT, "leave out", "out" if grading else None)
    if Did.PAUSED in at.may:
        yield Offer(Act.PAUSE, "pause")
    # While flats are graded the room is for what tells of them; a pass more is offered at the look that follows.
    if Did.ADDED in at.may and place is not None and not grading and (place.stage in _TAKE_MORE or at.unproved):
        yield Offer(Act.MORE, "more")
    if at.in_hand is not None and at.in_hand.kind is not Kind.STEP and not at.in_hand.on_strip:
        yield Offer(Act.FAR, "far view")


def not_here(act: Act, now: Front) -> str:
    """Why ``act`` does nothing now; of a tooth that does not lean as is told, what to look at in its place."""
    if act is Act.DIFFER and finds_tooth(now):
        handle = "right" if now.side == 1 else "left"
        return f"Not so? See that the handle is on your {handle}, then count again from the heel."
    return f"“{act}” is not possible here."


#: What takes the plan that is advised.
AS_ADVISED: Final = "as advised"

#: Stages at which more work is offered even though no cut has asked for it.
_TAKE_MORE: Final = (Stage.LEVEL, Stage.DRESS, Stage.PROVE)

_MAIN = {
    Ask.WORK: Offer(Act.DONE, "done"),
    Ask.SHIFT: Offer(Act.DONE, "shifted"),
    Ask.END: Offer(Act.DONE, "finish"),
    Ask.FINISHED: Offer(Act.AGREE, "to the till"),
    Ask.CHECK: Offer(Act.AGREE, "agrees"),
    Ask.CONFIRM: Offer(Act.AGREE, "yes, here"),
    Ask.CAUTION: Offer(Act.AGREE, "understood"),
    Ask.TURN: Offer(Act.AGREE, "yes, done"),
    Ask.FIT: Offer(Act.AGREE, "fitted"),
    Ask.PAUSED: Offer(Act.PAUSE, "go on"),
}
