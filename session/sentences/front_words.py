"""The words for what is asked now: a caution, a turn, a check, a place confirmed; at work those of `work_words`."""

from __future__ import annotations

from collections.abc import Set
from itertools import islice
from typing import Final

from session.sentences import whereabouts
from session.sentences.asked_words import Asked
from session.sentences.guide_words import fitted_words, guide_made, guide_named, item_word, tip_side
from session.sentences.hold_words import hold_words, moved_toward
from session.sentences.listed_places import flag_choices, flags_listed, left_out, looks_skipped, steps_passed, told_past
from session.sentences.mark_words import told
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.silence_words import silence_choices, silence_question
from session.sentences.tool_words import NOT_LOWER, jaw_height
from session.sentences.work_words import work_words
from session.texts.cautions import caution
from session.texts.steps import step as step_of
from session.texts.wording import capital, times
from session.trade.saw import Leans, Saw
from session.trade.sides import side_on_which_leans_away
from session.walk.first_fitting import CLAMPED, FOUND_ITEM, fit_items, lean_of
from session.walk.flagged_places import flags_asked, strokes_before
from session.walk.front_question import Ask, Front
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.silence import after_silence
from session.walk.stages import LEAN_ITEM, Kind, Stage
from session.walk.state import State

_ITEMS: Final = {
    "saw": "Turn the saw end for end, handle to your {handle}; keep your side of the vise.",
    "guide": "Turn the guide block's far face to you: off the tip, then on again, top up.",
    "fleam": "Turn the fleam guide on the jaws to {fleam:g}°: tip to the {tip}, on your {tip_side}.",
    "low": "Grip teeth {first} to {last} in the vise, points at most {high} above its jaws.",
}

#: A saw that is dressed lies flat, so it is turned over and not end for end.
_OVER: Final = "Turn the saw over, its handle to your {handle}; stay where you stand."


_LIES: Final = "It lies flat again: side {side} up, teeth away from you."


def words(at: MomentNumbers) -> Asked:
    """The words for what is asked there."""
    state, saw, now = at.state, at.saw, at.front
    match now.ask:
        case Ask.CAUTION:
            return _caution(state, now)
        case Ask.TURN:
            return _turn(at)
        case Ask.FIT:
            return _fit(at)
        case Ask.SHIFT if now.reach is None and now.place is not None:
            return hold_words(state, saw, now.place)
        case Ask.SHIFT:
            return _shift(state, saw, now)
        case Ask.CHECK:
            return _check(state, saw, now)
        case Ask.CONFIRM:
            return _confirm(at)
        case Ask.PAUSED:
            return _paused(state, saw)
        case Ask.END:
            # Where it is decided that this is the end, what is open stands first.
            skipped = (*told_past(state), *steps_passed(state), *looks_skipped(state))
            lines = (*flags_listed(state), *left_out(state), *skipped)
            return Asked("Ready to finish", lines, "Everything is put away. Finish the record.")
        case Ask.FINISHED:
            # What is to be done comes first; what was done is read at leisure.
            lines = (*left_out(state), *at.next_time, *at.account)
            return Asked("Finished", lines, "The record is closed. All of it is saved.")
        case Ask.WORK if now.place is not None:
            return work_words(at, now.place)
    return Asked("", (), "")


def _caution(state: State, now: Front) -> Asked:
    told = caution(now.name)
    # Opened again in the midst of a stage, the cautions are asked once more.
    begun = state.place is not None and state.tally.begun(state.place.stage)
    return Asked(
        title=f"{told.signal} before {'you go on' if begun else 'this stage'}",
        lines=(told.hazard, told.consequence, told.avoid),
        instruction="When this is understood, answer “understood”.",
        signal=str(told.signal),
        source=told.source,
    )


def _turn(at: MomentNumbers) -> Asked:
    """One item after the other: the instruction says the one in hand, a row of ticks which are done."""
    state, saw, now = at.state, at.saw, at.front
    first = now.place
    items = state.stand.turning(state.plan, first, state.to_fit) if first else ()
    ticks = _ticks(items, state.stand.turned_to(now.side), now.name)
    if first is not None and first.tooth:
        ticks.append("· first" if now.name else "◆ first")
    fits = first is not None and now.name in state.to_fit
    named = guide_named(now.name, at.level) if fits else ()
    made = guide_made(_at(saw, first), now.name, at.level) if first is not None and fits else ()
    # Once the saw is round, what is left is about the side that is up now.
    title = f"Turn the saw to side {now.side}"
    if first is not None and "saw" in state.stand.turned_to(now.side):
        title = f"Side {now.side}: before the first {_WORK_OF.get(first.stage, 'stroke')}"
    lies = (_LIES.format(side=now.side),) if first is not None and first.stage is Stage.DRESS and now.name else ()
    lines = (" ".join(ticks), *named, *made, *((NOT_LOWER,) if now.name == "low" else ()), *lies)
    return Asked(title, lines, _turn_words(state, saw, now), first=(1 + len(named)) * bool(made))


#: What is done at the first place of a side.
_WORK_OF: Final = {Stage.SET: "bend", Stage.DRESS: "pass"}


def _at(saw: Saw, place: Place) -> Saw:
    return saw.at(place.tooth) if place.tooth else saw


def _turn_words(state: State, saw: Saw, now: Front) -> str:
    """What to do for the item in hand of the turn that ``now`` asks for; without an item, where the new side begins."""
    handle = "right" if now.side == 1 else "left"
    if not now.name:
        return _first(state, saw, now.place, now.side, handle)
    if now.place is not None and now.place.stage is Stage.DRESS:
        return _OVER.format(handle=handle)
    if now.name in state.to_fit and now.place is not None:
        return fitted_words(_at(saw, now.place), now.name, now.side)
    first, last = now.reach or (1, state.plan.points)
    here = _at(saw, now.place) if now.place is not None else saw
    return _ITEMS[now.name].format(
        handle=handle,
        first=first,
        last=last,
        high=jaw_height(saw),
        fleam=here.fleam,
        tip=saw.file_points,
        tip_side=tip_side(saw, now.side),
    )


def _ticks(items: tuple[str, ...], done: Set[str], here: str) -> list[str]:
    return [f"{'■' if item in done else '◆' if item == here else '·'} {item_word(item)}" for item in items]


def _fit(at: MomentNumbers) -> Asked:
    """One item after the other, as at a turn; the first of a sharpening asks which way tooth 1 leans."""
    state, saw, now = at.state, at.saw, at.front
    place = now.place
    if place is None:
        return Asked("", (), "")
    once_more = tuple(item for item in state.once_more.items if item != CLAMPED)
    items = once_more or fit_items(state.plan, place.stage)
    told = state.measured.get(Measurable.FIRST_LEANS)
    if LEAN_ITEM not in state.to_fit and (told is None or told.stage is not place.stage or place.round > 1):
        # It was looked for before another stage.
        items = tuple(item for item in items if item != LEAN_ITEM)
    ticks = " ".join(_ticks(items, set(items) - set(state.to_fit), now.name))
    if now.name == FOUND_ITEM:
        handle = "right" if state.side == 1 else "left"
        return Asked("Find the tooth again", (ticks,), _first(state, saw, place, place.side, handle))
    if now.name != LEAN_ITEM:
        here = _at(saw, place)
        named, made = guide_named(now.name, at.level), guide_made(here, now.name, at.level)
        doing = fitted_words(here, now.name, state.side)
        return Asked("Put the guides on the file", (ticks, *named, *made), doing, first=(1 + len(named)) * bool(made))
    handle = "right" if state.side == 1 else "left"
    leans = lean_of(state.plan, state.measured)
    as_told = "by the recipe" if told is None else "as you told"
    known = "no tooth leans yet" if leans is Leans.UNSET else f"tooth 1 leans {leans}"
    lines = (
        ticks,
        f"Look down on the points, the handle on your {handle}.",
        f"{capital(known)}, {as_told}.",
        "If it does not, say no: every side follows from it.",
    )
    first = next(tooth for tooth in (1, 2) if side_on_which_leans_away(tooth, state.plan.leans) == state.side)
    return Asked("Which way tooth 1 leans", lines, _leaning(state, saw, first, state.side, place))


def _first(state: State, saw: Saw, place: Place | None, side: int, handle: str) -> str:
    if place is None or not place.tooth:
        return f"Lay the saw flat on the bench, side {side} up: handle {handle}, teeth away from you."
    return _leaning(state, saw, place.tooth, side, place)


def _leaning(state: State, saw: Saw, tooth: int, side: int, place: Place) -> str:
    """Tooth ``tooth`` to be found, and which way it leans seen from ``side``."""
    where = {1: "at the heel", 2: "the second from the heel"}.get(tooth, f"{saw.from_heel(tooth)} from the heel")
    which = "away from" if side_on_which_leans_away(tooth, state.plan.leans) == side else "toward"
    return f"Find tooth {tooth}, {where}: it {'leans' if _set(state, place) else 'is to lean'} {which} you."


def _set(state: State, place: Place) -> bool:
    """Whether the teeth lean at all: those of a line that was never set stand straight until they are."""
    if lean_of(state.plan, state.measured) is not Leans.UNSET:
        return True
    return place.stage is not Stage.SET and any(done.stage is Stage.SET for done in state.outcomes)


def _shift(state: State, saw: Saw, now: Front) -> Asked:
    first, last = now.reach or (1, saw.points)
    moves, high = moved_toward(state.clamped, (first, last)), jaw_height(saw)
    verb = "Shift the saw" if moves else "Clamp the saw"
    asked = f"{verb}: teeth {first} to {last} in the vise, points at most {high} above it."
    if moves:
        asked = f"Shift it toward the {moves}: teeth {first} to {last}, at most {high} above the vise."
    return Asked(
        title=verb,
        lines=(
            *_fitted(state, saw, now),
            f"Between the jaws: {saw.from_heel(first)} to {saw.from_heel(last)} from the heel.",
            "A saw that stands higher chatters.",
            NOT_LOWER,
        ),
        instruction=asked,
    )


def _fitted(state: State, saw: Saw, now: Front) -> tuple[str, ...]:
    """How block and fleam guide are fitted and which way the first tooth leans, before the first stroke of a stage.

    So it is told in a log of before; else it is held item by item, as it is at a turn.
    """
    place = now.place
    if state.plan.fit_items or state.reach is not None or place is None or not place.tooth:
        return ()
    here = saw.at(place.tooth)
    fleam = f", the fleam guide {here.fleam:g}°" if here.fleam and place.stage is Stage.FILE else ""
    handle = "right" if state.side == 1 else "left"
    return (
        f"Guide block on the file, top edge up: rake {here.rake:g}°{fleam}.",
        _first(state, saw, place, state.side, handle),
    )


def _check(state: State, saw: Saw, now: Front) -> Asked:
    # The check point itself may have left itself out: then nobody can find it as the last one worked.
    place = now.place and (state.last_marked(now.place) or now.place)
    name = named_short(place)
    lines = [f"Last worked here: {name}."]
    if place is not None and place.tooth:
        # The rule is laid on points: a gullet lies beside the one that it is named by.
        what = f"Heel to tooth {place.tooth}" if place.kind is Kind.GULLET else "On a rule from the heel"
        lines.append(f"{what}: {saw.from_heel(place.tooth)}.")
    lines.append("Count on the saw itself, from the heel or from a chalk mark.")
    choices = flag_choices(state)
    if choices:
        flags = len(choices) - 1
        told = "1 flag of this side is" if flags == 1 else f"{flags} flags of this side are"
        lines.append(f"{told} open: look there before you go on.")
        # A yes leads to the first of them, so that is what is asked.
        question = f"Look again at {flags_asked(state)[0]} first?"
    else:
        question = f"Count on the saw: was {name} the last one worked?"
    return Asked("Check the place", tuple(lines), question, choices=choices)


def named_short(place: Place | None) -> str:
    """A place by name, or "the end"."""
    return str(place) if place is not None else "the end"


def _confirm(at: MomentNumbers) -> Asked:
    state, saw = at.state, at.saw
    marks = [*islice(whereabouts.newest_first(state), 3)][::-1]
    # In the midst of a turn the saw may be round while its items are not all done: what is seen is told.
    handle = f"Handle on your {'right' if state.stand.seen_side == 1 else 'left'}."
    lines = [f"{handle} {'Last marks:' if marks else 'Nothing was marked yet.'}"]
    lines += [f"  {told(mark, short=True)}" for mark in marks]
    place = state.place
    here = whereabouts.named(place, saw) if place else "the end"
    lines.append(f"Next: {here}.")
    if place is None or not after_silence(state):
        return Asked("Find the place on the saw", tuple(lines), _next_question(place, _to_be_seen(state)))
    # A second face beside the gullet has no mark of its own.
    faces = ", both faces" if at.expected.back else ""
    # What the press counted is told before it is recorded.
    more = "more " if at.pressed and strokes_before(state) else ""
    counted = f", {times(at.pressed, f'{more}stroke')}" if at.pressed else ""
    choices = silence_choices(place, f"{faces}{counted}")
    return Asked("Find the place on the saw", tuple(lines), silence_question(place), choices=choices)


def _to_be_seen(state: State) -> str:
    """By what it is seen which gullet is the next one; empty where nothing but the count tells it."""
    place = state.place
    if place is None or place.kind is not Kind.GULLET or place.round > 1:
        return ""
    # Once all were reshaped all of them shine.
    reshaped = place.stage is Stage.FILE and Stage.RESHAPE in state.taken_in
    return "" if reshaped else ", bright where filed"


def _next_question(place: Place | None, seen: str) -> str:
    if place is not None and not place.tooth and not place.number:
        return f"Is this what comes next: {step_of(place.stage, place.step).title.lower()}?"
    return f"Look at the saw{seen}: is {named_short(place)} next?"


def _paused(state: State, saw: Saw) -> Asked:
    place = state.place
    here = whereabouts.named(place, saw) if place else "the end"
    return Asked("Paused", (f"In hand: {here}.", "All is saved."), "Nothing moves until you go on.")
