"""What the person can do now, by our own names for it; which keys do it is the bench's matter."""

from __future__ import annotations

from collections.abc import Set
from enum import StrEnum
from typing import Final

from session.texts.wording import times
from session.value_class import dataclass
from session.walk.first_fitting import finds_tooth
from session.walk.front_question import Ask, Front
from session.walk.mark import Did
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


def offers(
    now: Front,
    may: Set[Did],
    *,
    unproved: bool,
    against: bool = False,
    waits: bool = False,
    stood: str = "",
    strokes: int | None = None,
    graded: int | None = None,
    unanswered: bool = False,
    own_plan: bool = False,
    silent: bool = False,
    flagged: bool = False,
    rest: bool = False,
    anew: bool = False,
    both: bool = False,
    again: bool = False,
    flats: str = "",
) -> tuple[Offer, ...]:
    """What is offered now, most wanted first, of what may be done (`session.walk.rules.allowed`).

    unproved: the last trial cut was not good, and nothing was done about it yet. against: the plan to be settled is not
    as advised. own_plan: somebody decided otherwise: then the plan is gone on with as it stands, and taking the advice
    is offered besides; before that, going on takes the advice. waits: that plan is not gone on with until a yes, or a
    decision. stood: what is done to the saw where it has to be held otherwise. strokes: those advised in the gullet in
    hand; None where no count is known, 0 where nothing is due. graded: the grade of the flat before this one; None
    where none was graded. unanswered: going on passes a question over. silent: after a long silence it is asked whether
    the place in hand was worked meanwhile. both: at a gullet beside which a second face is filed, which has no mark of
    its own. rest: the flats from here on may be answered for at once. flagged: at the check that ends a side its open
    flags are looked at first. anew: one flat of those told may be told anew. again: the place in
    hand was worked and gone back to, so that going on says that no more was done. flats: what going
    on does at the look at the flats by what was told of them; empty elsewhere.
    """
    found: list[Offer] = []
    grading = now.ask is Ask.WORK and now.place is not None and now.place.stage is Stage.LEVEL and now.place.tooth
    on_strip = grading and now.place is not None and now.place.on_strip
    main = _of_a_flat(bool(on_strip), graded) if grading else _MAIN.get(now.ask)
    if now.ask is Ask.SHIFT and stood:
        main = Offer(Act.DONE, stood)
    lean, found_first = now.ask is Ask.FIT and now.name == LEAN_ITEM, finds_tooth(now)
    if lean:
        main = Offer(Act.AGREE, "it does")
    if flagged and now.ask is Ask.CHECK:
        main = Offer(Act.AGREE, "look again", "look")
    if both and now.ask is Ask.WORK:
        main = Offer(Act.DONE, "both done")
    if again:
        main = Offer(Act.DONE, "no more")
    if found_first:
        main = Offer(Act.AGREE, "found")
    if now.ask is Ask.WORK and now.place is not None and now.place.step == PLAN_STEP:
        main = Offer(Act.DONE, AS_ADVISED if against and not own_plan else "as it stands")
    if flats:
        main = Offer(Act.DONE, flats)
    if unanswered:
        main = Offer(Act.DONE, "skip it", "skip")
    if silent and now.place is not None:
        # One question, two answers, a key each.
        word = WORKED.get(now.place.stage, "done")
        found += [Offer(Act.STROKES, word, digit=1), Offer(Act.STROKES, "not yet", digit=2)]
        found.append(Offer(Act.SET_PLACE, "elsewhere"))
    elif main is not None and not waits:
        found.append(main)
    if now.ask is Ask.CHECK or (now.ask is Ask.CONFIRM and not silent) or lean or found_first:
        found.append(Offer(Act.DIFFER, "differs"))
    if now.ask is Ask.WORK and now.place is not None:
        kind = now.place.kind
        if kind is Kind.GULLET and strokes:
            found.append(Offer(Act.AS_ADVISED, times(strokes, "stroke")))
        if kind is Kind.GULLET:
            # Beside a count of strokes the digits say of themselves what they count.
            word = "more strokes" if again else "strokes"
            found.append(Offer(Act.STROKES, word, "" if strokes else "more" if again else None))
        if kind is Kind.TOOTH and now.place.stage is Stage.LEVEL:
            # The title says what the digits are.
            word, short = ("place", None) if on_strip else ("grade", "")
            found.append(Offer(Act.STROKES, word, short, digit=NO_DIGIT))
            found += [Offer(Act.ANSWER, "all the rest", "others")] if rest else []
        if now.place.step == PLAN_STEP:
            found += [Offer(Act.AGREE, AS_ADVISED)] if against and (own_plan or waits) else []
        elif kind is Kind.STEP and now.place.stage is not Stage.CLOSE:
            found.append(Offer(Act.ANSWER, "answer"))
            found += [Offer(Act.SET_PLACE, "one anew", "anew")] if anew else []
    if Did.TOOK_BACK in may:
        found.append(Offer(Act.TAKE_BACK, "take back", "undo"))
    if Did.FLAGGED in may:
        found.append(Offer(Act.FLAG, "flag"))
    if Did.LEFT_OUT in may:
        found.append(Offer(Act.LEAVE_OUT, "leave out", "out" if grading else None))
    if Did.PAUSED in may:
        found.append(Offer(Act.PAUSE, "pause"))
    # While flats are graded the room is for what tells of them; a pass more is offered at the look that follows.
    if Did.ADDED in may and now.place is not None and not grading and (now.place.stage in _TAKE_MORE or unproved):
        found.append(Offer(Act.MORE, "more"))
    if now.ask is Ask.WORK and now.place is not None and now.place.kind is not Kind.STEP and not now.place.on_strip:
        found.append(Offer(Act.FAR, "far view"))
    found.append(Offer(Act.HELP, "help"))
    return tuple(found)


def not_here(act: Act, now: Front) -> str:
    """Why ``act`` does nothing now; of a tooth that does not lean as is told, what to look at in its place."""
    if act is Act.DIFFER and finds_tooth(now):
        handle = "right" if now.side == 1 else "left"
        return f"Not so? See that the handle is on your {handle}, then count again from the heel."
    return f"“{act}” is not possible here."


def _of_a_flat(on_strip: bool, graded: int | None) -> Offer | None:
    """What the advance key says of a flat: which grade it repeats, in figures; nothing of the first."""
    if on_strip:
        return Offer(Act.DONE, "not told")
    return None if graded is None else Offer(Act.DONE, f"same: grade {graded}")


#: What takes the plan that is advised.
AS_ADVISED: Final = "as advised"

#: What was done to a place, in one word.
WORKED: Final = {Stage.FILE: "filed", Stage.RESHAPE: "filed", Stage.SET: "bent"}

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
    Ask.TURN: Offer(Act.AGREE, "done so"),
    Ask.FIT: Offer(Act.AGREE, "fitted"),
    Ask.PAUSED: Offer(Act.PAUSE, "go on"),
}
