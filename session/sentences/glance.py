"""What has to be known of the work in hand at one glance or by ear: where, how much, which way, when to stop."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.advice.zone_figures import zoned
from session.sentences.instruction import GulletWork, Shines
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.tool_words import file_in_hand
from session.sentences.whereabouts import between
from session.sentences.work_words import angles, gullet_work
from session.texts.wording import LEVELED
from session.trade.evening import Lean
from session.trade.grades import WORDS
from session.trade.saw import End, FilePoints
from session.trade.sides import goes_left
from session.value_class import dataclass, replace
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import Kind, Stage


class Push(StrEnum):
    """The way that the hand pushes, seen from above by whoever stands at the saw."""

    AWAY = "up"
    TO_LEFT = "up left"
    TO_RIGHT = "up right"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """The work in hand in as few words as it can be said.

    kind: "gullet", "tooth" or "pass". number, of: which one, of how many; of a gullet, of how many points. between: the
    teeth beside a gullet, in words. side: 1, 2, or 0 where none matters.
    strokes: how many are advised; None where no count is known. light: that light ones are, without a count. counted:
    how many the gullet before this one on its side was given; None where nobody counted. lean: where the file is
    pressed, "press to the toe"; empty for straight. lean_way: to the left or to the right, as it is seen from the saw.
    push: the way of the hand, and ``pushes`` the same in words. stop: when to stop, or what to do where there is
    nothing to stop at, longest words first. zone: what has to be changed first where a zone of the line begins.
    also: what is to be minded or done here besides, in sentences. tool: which tool it is done with, how it is held and
    where one stands, in one sentence, longest words first.
    """

    kind: str
    number: int
    of: int
    side: int
    strokes: int | None
    counted: int | None
    light: bool
    lean: str
    lean_way: Push | None
    push: Push
    pushes: str
    stop: tuple[str, ...]
    zone: str = ""
    also: tuple[str, ...] = ()
    tool: tuple[str, ...] = ()
    between: str = ""


#: When to stop by half of the flats, and by all of them.
_HALF: Final = (
    "stop when half of each flat is gone",
    "stop at half of each flat",
    "stop: half each flat",
)
_BOTH: Final = ("stop when both flats just go", "stop as both flats go", "until both flats go")
_ALL: Final = ("stop when the flat just goes", "stop as the flat goes", "until the flat goes")

#: When to stop bending.
_BENT: Final = (
    "bend it away from you until it rests on the anvil",
    "stop when it is on the anvil",
    "stop at the anvil",
)

#: What is done at a place that was worked, flagged and gone back to.
_BENT_AGAIN: Final = ("look: bend it again only if it is short", "bend again only if short")
_FILED_AGAIN: Final = ("look: file it again only where a flat still shines", "only where a flat still shines")

#: When to stop with the leveling file, after each pass, and with the stone.
_LEVELED: Final = (
    f"push once, then look: stop when {LEVELED}",
    f"stop when {LEVELED}",
    f"until {LEVELED}",
)
_STONED: Final = ("once along the whole line, lightly", "the whole line once, lightly", "the whole line once", "once")

#: Tools, how they are held, and where one stands.
_MILL_FILE: Final = (
    "Flat mill file in its square block, both hands; stand to reach along the line.",
    "Flat mill file in its square block, both hands.",
    "Flat mill file in its block.",
)
_SAW_SET: Final = (
    "The saw set upright: plunger on your side, anvil beyond; stand at this tooth.",
    "With the saw set, plunger on your side.",
)
_GRADED: Final = ("grade its flat, 0 to 5", "grade 0 to 5")
_GRADES: Final = (f"{', '.join(f'{grade} {word}' for grade, word in enumerate(WORDS))}.",)
_EYES: Final = ("Eyes and a lamp or window; the saw stays in the vise, stand at this tooth.", "Eyes and a light.")
_OILSTONE: Final = (
    "Fine oilstone; plate flat, teeth past the bench's far edge; stand before it.",
    "Fine oilstone; plate flat on the bench.",
    "Fine oilstone, laid flat.",
)

#: What shows in a gullet that is only filed where something shines, and what is done then.
_ONLY: Final = {
    Shines.FLAT: ("only where a flat shines, until it goes", "only where a flat shines"),
    Shines.POINT: ("only where a point shines, one light stroke", "only where a point shines"),
    Shines.ALL_ALIKE: ("the same one or two strokes in every gullet", "same 1 or 2 in every gullet"),
}


def glance(at: MomentNumbers) -> Glance | None:
    """What a glance has to tell; None where nothing is worked tooth by tooth or pass by pass just now."""
    place = at.place
    if at.front.ask is not Ask.WORK or place is None or place.kind is Kind.STEP or place.on_strip:
        return None
    again = at.worked_before is not None
    match place.kind:
        case Kind.GULLET if again:
            return replace(_gullet(at, place), stop=_FILED_AGAIN, strokes=None, light=False, zone="")
        case Kind.TOOTH if again and place.stage is Stage.SET:
            return _made(at, place, pushes="bend it away from you", stop=_BENT_AGAIN, tool=_SAW_SET)
        case Kind.GULLET:
            return _gullet(at, place)
        case Kind.TOOTH if place.stage is Stage.SET:
            return _made(at, place, pushes="bend it away from you", stop=_BENT, tool=_SAW_SET)
        case Kind.TOOTH:
            return _made(at, place, pushes="", stop=_GRADED, tool=_EYES, also=_GRADES)
    return _pass(at, place)


def _gullet(at: MomentNumbers, place: Place) -> Glance:
    work = gullet_work(at, place)
    saw = at.saw
    push, pushes = Push.AWAY, "push straight across"
    if place.stage is Stage.FILE and saw.fleam:
        to_left = goes_left(saw.file_points is FilePoints.TOE, place.side)
        push, pushes = Push.TO_LEFT if to_left else Push.TO_RIGHT, f"push away, tip to the {saw.file_points}"
    nothing = work.low or work.strokes == 0
    lean = "" if work.lean is Lean.STRAIGHT or nothing else f"press to the {work.lean}"
    to_toe = work.lean is Lean.TOE
    if work.off is not None and not nothing:
        lean, to_toe = f"keep off tooth {work.off}", work.off == place.tooth
    lean_way = None if not lean else Push.LEFT if goes_left(to_toe, at.state.side) else Push.RIGHT
    counted = _counted_before(at, place)
    level = place.stage is not Stage.FILE or not saw.slope
    light = work.strokes is None and work.only is None and not work.low
    return _made(
        at,
        place,
        strokes=work.strokes,
        counted=counted,
        light=light,
        lean=lean,
        lean_way=lean_way,
        push=push,
        pushes=pushes,
        stop=_stop(work),
        tool=() if nothing else _held(file_in_hand(at.state), angles(saw, place), level=level),
        also=(*at.expected.spared, *at.expected.notes),
    )


def _held(file: str, angles: str, *, level: bool) -> tuple[str, ...]:
    """How ``file`` is held, at which angles, and where one stands; ``level``: the file too, not only its block."""
    whole = f"{file} and block level, {angles}" if level else f"{file}, {angles}, block level"
    stand = "stand at this gullet."
    return (
        f"{whole}; {stand}",
        f"{whole}; at this gullet.",
        f"{whole}.",
        f"{file}, {angles}, {'all' if level else 'block'} level.",
        f"{file}, {angles}.",
        stand.capitalize(),
    )


def _stop(work: GulletWork) -> tuple[str, ...]:
    """When to stop in a gullet, or why there is nothing to do, longest words first."""
    if work.only is not None:
        return _ONLY[work.only]
    if work.low:
        return "no flat here: leave it out", "no flat: leave it out", "leave it out"
    if work.strokes == 0:
        return "no stroke here: go on", "no stroke: go on"
    if work.shares:
        return tuple(work.shares)
    named = work.flat_of
    if work.halved is not None:
        return (
            f"at half of flat {work.halved} press to {named}, stop when flat {named} just goes",
            f"at half of flat {work.halved} to {named}, stop as flat {named} goes",
            f"at half of {work.halved} to {named}, until it goes",
        )
    if work.half and named is None:
        if len(work.flats) != 1:
            return _HALF
        half = f"half of flat {work.flats[0]}"
        return f"stop when {half} is gone", f"stop at {half}", half
    if named is None and len(work.flats) == 1:
        (named,) = work.flats
    if named is not None:
        return f"stop when flat {named} just goes", f"stop as flat {named} goes"
    return _BOTH if work.flats else _ALL


def _counted_before(at: MomentNumbers, place: Place) -> int | None:
    """Strokes that the gullet worked last on this side was given, if somebody counted them."""
    state = at.state
    leg, first = state.route.leg_at(state.here)
    for before in reversed(leg.places[: state.here - first]):
        mark = state.outcomes.get(before)
        if mark is not None and mark.strokes:
            return mark.strokes
        if mark is not None:
            return None
    return None


def _pass(at: MomentNumbers, place: Place) -> Glance:
    """A pass of the leveling file or the stone, along the whole line."""
    to_toe = at.saw.start is not End.TOE
    along = "heel to toe" if to_toe else "toe to heel"
    push = Push.LEFT if goes_left(to_toe, at.state.side) else Push.RIGHT
    leveling = place.stage is Stage.LEVEL
    if leveling:
        return _made(at, place, push=push, pushes=along, stop=_LEVELED, tool=_MILL_FILE)
    return _made(at, place, push=push, pushes=along, stop=_STONED, tool=_OILSTONE)


def _made(
    at: MomentNumbers,
    place: Place,
    *,
    strokes: int | None = None,
    counted: int | None = None,
    light: bool = False,
    lean: str = "",
    lean_way: Push | None = None,
    push: Push = Push.AWAY,
    pushes: str,
    stop: tuple[str, ...],
    also: tuple[str, ...] = (),
    tool: tuple[str, ...] = (),
) -> Glance:
    leg, _ = at.state.route.leg_at(at.state.here)
    zone = "" if stop in _ONLY.values() else zoned(at.state, at.saw, place).instruction
    tooth = place.kind in (Kind.TOOTH, Kind.GULLET)
    return Glance(
        kind=str(place.kind),
        number=place.tooth or place.number,
        of=at.state.plan.points if tooth else len(leg.places),
        side=at.state.side if place.side else 0,
        strokes=strokes,
        counted=counted,
        light=light,
        lean=lean,
        lean_way=lean_way,
        push=push,
        pushes=pushes,
        stop=stop,
        zone=zone,
        also=also,
        tool=tool,
        between=between(at.state.plan, place),
    )
