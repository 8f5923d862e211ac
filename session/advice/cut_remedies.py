"""From a fault of the trial cut to its causes on this saw, each beside its remedy and what that costs.

What costs the least steel stands first. A cause that this saw cannot have is not named: a rip saw hears nothing of
fleam, an even set nothing of uneven set.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from session.advice.causes import MUCH_HOOK, POSSIBLE, SEEN, SuspectedCause, causes, over_words
from session.advice.measured_set import MeasuredSet, measured_set
from session.advice.saw_records import NO_HISTORY
from session.advice.work import FREE, Piece, What, filing_mm, piece, touch_up_mm
from session.texts.faults import RemedyStage, side_facing
from session.texts.wording import fine
from session.trade.lengths import MM_PER, Length
from session.trade.leveling import PASS_MM
from session.trade.observation import Look, Seen
from session.trade.rounding import whole_number
from session.trade.saw import Cut, Saw
from session.trade.seen_words import Cutting, Toward
from session.trade.strokes import Bite
from session.trade.trial_cut import leaves_line_mm
from session.value_class import dataclass, replace
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable, length_mm
from session.walk.stages import Stage
from session.walk.state import State

#: Kinds of work after a trial cut by the steel they cost, least first; what is in none of them costs none.
_BY_STEEL: Final = (
    frozenset({What.STONE_LEFT, What.STONE_RIGHT, What.STONE_BOTH}),
    frozenset({What.SET}),
    frozenset({What.TOUCH_UP}),
    frozenset({What.LEVEL}),
)

#: The short extra stage that each kind of work is. Leveling brings the filing of its flats.
_EXTRA: Final = {
    What.STONE_LEFT: RemedyStage(Stage.DRESS, (side_facing("left"),), 1),
    What.STONE_RIGHT: RemedyStage(Stage.DRESS, (side_facing("right"),), 1),
    What.STONE_BOTH: RemedyStage(Stage.DRESS, (1, 2), 1),
    What.SET: RemedyStage(Stage.SET),
    What.TOUCH_UP: RemedyStage(Stage.FILE),
    What.LEVEL: RemedyStage(Stage.LEVEL, passes=1),
}

#: Work with a file in the gullets.
_LEAVES_A_BURR: Final = frozenset({What.FILE, What.TOUCH_UP})

#: What is done where no steel is taken: only the cut is made again.
_CUT_AGAIN: Final = (RemedyStage(Stage.PROVE),)


#: The remedy in words, for a cause that only says what nobody looked at.
_REMEDY: Final = {
    (What.TOUCH_UP,): "One light stroke where a point shines.",
    (What.LEVEL,): "Level once, then file the flats away.",
    (What.SET,): "Set a touch more.",
    (What.STONE_BOTH,): "Stone both sides once, lightly.",
    (What.SET, What.STONE_BOTH): "Even the set, then stone both sides once.",
}

#: How a remedy begins that was tried today without help; it stands after all others.
TRIED: Final = "Tried, and the cut was as before: "

#: A cut is clearly straighter that leaves its line by no more than this share of the one before: judgment.
_BETTER: Final = 0.7

#: Said where every remedy that takes steel was tried: common practice, no source.
ALL_TRIED: Final = (
    "What was tried took steel and did not help: ask someone who files saws to look at it, or level and reshape at the "
    "next sharpening (common practice, no source)."
)


@dataclass(frozen=True, slots=True)
class CutRemedy:
    """One cause with its remedy.

    words: the cause, what to do, and what that costs. extras: the work to add, in order. steel: 0 for none, and more
    the more steel it takes. source: who says so. tried: whether it was done today and the next cut showed the same.
    """

    words: str
    extras: tuple[RemedyStage, ...]
    steel: int
    source: str
    tried: bool = False


def cut_remedies(state: State, saw: Saw, fault: str, bite: Bite | None = None) -> tuple[CutRemedy, ...]:
    """The remedies for ``fault``, one of the words of a trial cut, on ``saw`` as the marks of ``state`` leave it.

    bite: of one stroke, as this walk or the records taught it; None for what is usual.
    """
    found: dict[str, CutRemedy] = {}
    before = helped_not(state, fault)
    for cause in _causes(state, saw, fault):
        works = cause.works or ((What.TOUCH_UP,) if _only_dull(cause) else (What.LEVEL,))
        steel = max((rank for one in works for rank, kinds in enumerate(_BY_STEEL, 1) if one in kinds), default=0)
        extras = tuple(_EXTRA[one] for one in works if one in _EXTRA) or _CUT_AGAIN
        cost = _cost(works, saw, bite, dressed=Stage.DRESS in state.taken_in)
        words = _with_remedy(cause, works)
        tried = any(reason.startswith(words) for reason in before)
        told = CutRemedy(f"{TRIED if tried else ''}{words} {cost}", extras, steel, cause.source, tried)
        found.setdefault(cause.reason, told)
    return tuple(sorted(found.values(), key=lambda one: (one.tried, one.steel)))


def helped_not(state: State, fault: str) -> tuple[str, ...]:
    """The remedies chosen today, in their words, after which the next cut was told to have the same ``fault`` as the
    one before it, and was no better by its figures."""
    cuts = [mark for mark in state.marks if mark.what == Measurable.TRIAL_CUT and mark.seq not in state.taken]
    added = [mark for mark in state.marks if mark.did is Did.ADDED and mark.seq not in state.taken]
    return tuple(
        mark.reason.removeprefix(TRIED)
        for before, after in pairwise(cuts)
        if before.value == after.value == fault and not _straighter(state, before, after)
        for mark in added
        if before.seq < mark.seq < after.seq and mark.reason
    )


def _straighter(state: State, before: Mark, after: Mark) -> bool:
    """Whether the cut ``after`` left its line by clearly less than the one ``before``, where both were measured."""
    if after.value != Cutting.WANDERS:
        return False
    first, then = _off(state, before), _off(state, after)
    return first is not None and then is not None and then <= _BETTER * first


def _off(state: State, cut: Mark) -> float | None:
    """How far the cut whose verdict is ``cut`` left its line, in mm over 100 mm; None where that was not measured."""
    own = [mark for mark in state.marks if mark.seq not in state.taken and mark.seq <= cut.seq]
    own = [mark for mark in own if mark.stage is cut.stage and (mark.round or 1) == (cut.round or 1)]
    long, off = (
        next((length_mm(mark.value, mark.unit) for mark in reversed(own) if mark.what == what), None)
        for what in (Measurable.CUT_LENGTH, Measurable.CUT_WANDER)
    )
    return leaves_line_mm(long, off) if long and off is not None else None


def _with_remedy(cause: SuspectedCause, works: tuple[What, ...]) -> str:
    """The cause with its remedy; most reasons name it after a colon."""
    return cause.reason if ":" in cause.reason else f"{cause.reason} {_REMEDY.get(works, '')}".strip()


def _only_dull(cause: SuspectedCause) -> bool:
    return cause.look is Look.BRIGHT


def _causes(state: State, saw: Saw, fault: str) -> Iterator[SuspectedCause]:
    seen = _seen(state)
    has = measured_set(saw, seen, NO_HISTORY)
    even = _said(state, Measurable.TROUGH) == "even" and not has.uneven
    for cause in _told(saw, seen, has, fault):
        # Where both rows were sighted as even, uneven set is no cause.
        if not (even and cause.works == (What.SET, What.STONE_BOTH)):
            yield cause


def _told(saw: Saw, seen: Seen, has: MeasuredSet, fault: str) -> Iterator[SuspectedCause]:
    if fault == "drags":
        yield from _drags(saw, has)
    elif fault == "hangs up":
        yield from _hangs_up(saw, has)
    elif fault == Cutting.WANDERS:
        yield from _wanders(saw, seen, has)
    else:
        yield from causes(saw, replace(seen, last_cut=Cutting(fault)), has)


def _wanders(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    why = (
        "Technique, plate and rows first: the saw finds its own way, the eye over its back; sight along the plate "
        "and both rows of points."
    )
    yield SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, "FSMAN; judgment")
    for toward in (seen.wanders_to,) if seen.wanders_to is not None else Toward:
        yield from causes(saw, replace(seen, last_cut=Cutting.WANDERS, wanders_to=toward), has)
    why = "Higher teeth on one side, from a leveling file not held square: level once more, square, then file."
    yield SuspectedCause(POSSIBLE, (What.LEVEL,), Look.SIZES, why, "FSMAN")


def _drags(saw: Saw, has: MeasuredSet) -> Iterator[SuspectedCause]:
    if has.over:
        yield SuspectedCause(SEEN, (What.STONE_BOTH,), None, over_words(saw, has), "FSMAN; KING 64; judgment")
    elif has.now_mm is None:
        why = "More set than the wood needs; nobody measured it: stone both sides once, lightly."
        yield SuspectedCause(POSSIBLE, (What.STONE_BOTH,), Look.OVER_POINTS, why, "FSMAN; KING 64; from memory")
    why = "Gum or rust on the plate, or damp wood that closes on it: wipe the plate, wax it."
    yield SuspectedCause(POSSIBLE, (What.WAX,), Look.PLATE, why, "TM9243 46-7; common practice, no source")


def _hangs_up(saw: Saw, has: MeasuredSet) -> Iterator[SuspectedCause]:
    if saw.rake < MUCH_HOOK[saw.cut]:
        printed = " 10° to 30° is in print." if saw.cut is Cut.CROSSCUT else ""
        why = f"{saw.rake:g}° of rake is much hook: give the faces more rake at the next sharpenings.{printed}"
        yield SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, "ROSS p. 6; FIT; GOR p. 155")
    else:
        why = "Less pressure: let its own weight carry the saw, in long strokes."
        yield SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, "common practice, no source")
    if has.over:
        yield SuspectedCause(SEEN, (What.STONE_BOTH,), None, over_words(saw, has), "ROSS p. 6; judgment")
    elif has.now_mm is None:
        why = "Too much set for the strength of the blade; nobody measured it: stone both sides once, lightly."
        yield SuspectedCause(POSSIBLE, (What.STONE_BOTH,), Look.OVER_POINTS, why, "ROSS p. 6; from memory")


def _seen(state: State) -> Seen:
    """What is known of the saw at the trial cut: the set as it is by now, and to which side it wandered."""
    end, after = state.measured.get(Measurable.OVER_POINTS_END), state.measured.get(Measurable.OVER_POINTS_AFTER)
    after, before = end or after, state.measured.get(Measurable.OVER_POINTS)
    worked = any(state.tally.begun(stage) for stage in (Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.FILE, Stage.DRESS))
    width = after if after is not None else None if worked else before
    wide = None if width is None else length_mm(width.value, width.unit)
    toward = _said(state, Measurable.CUT_WANDER_TO)
    return Seen(
        over_points=() if not wide else (Length.of(wide / MM_PER["mm"]),),
        wanders_to=Toward(toward) if toward in tuple(Toward) else None,
    )


def _said(state: State, what: Measurable) -> str:
    mark = state.measured.get(what)
    return "" if mark is None else str(mark.value)


def _cost(works: tuple[What, ...], saw: Saw, bite: Bite | None, *, dressed: bool) -> str:
    """What so much work costs, in brackets: steel off the line where it is known, and minutes.

    dressed: the burr of filing is stoned off, which costs its minutes as well.
    """
    if FREE.issuperset(works):
        return "(no steel)"
    pieces = [one for what in works if what not in FREE for one in _pieces(what, saw, bite)]
    if dressed and any(one.what in _LEAVES_A_BURR for one in pieces):
        pieces.append(piece(What.STONE_BOTH, "", "", places=1))
    off = sum(one.steel_mm or 0.0 for one in pieces)
    steel = f"about {fine(off, saw.unit)} off the line" if off else "nothing off the line"
    minutes = sum(one.minutes or 0.0 for one in pieces)
    return f"({steel}, about {max(1, whole_number(minutes))} min)"


def _pieces(what: What, saw: Saw, bite: Bite | None) -> Iterator[Piece]:
    match what:
        case What.LEVEL:
            yield piece(what, "", "", steel_mm=PASS_MM, places=1)
            yield piece(What.FILE, "", "", steel_mm=filing_mm(saw, PASS_MM, bite), places=saw.points)
        case What.TOUCH_UP:
            yield piece(what, "", "", steel_mm=touch_up_mm(saw, bite), places=saw.points)
        case What.SET:
            yield piece(what, "", "", places=saw.points)
        case _:
            yield piece(what, "", "", places=1)
