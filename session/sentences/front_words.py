"""The words for what is asked now: a caution, a turn, a check, a place confirmed; at work those of `work_words`."""

from __future__ import annotations

from itertools import islice
from typing import Final

from session.sentences import whereabouts
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.work_words import Asked, flag_choices, left_out, work_words
from session.texts.cautions import caution
from session.texts.steps import step as step_of
from session.trade.saw import Leans, Saw
from session.trade.sides import side_on_which_leans_away
from session.walk.front_question import Ask, Front, turn_items
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State

_ITEMS: Final = {
    "saw": "Turn the saw end for end: the handle is on your {handle} now.",
    "guide": "Pull the guide block off, turn it end for end, same edge up, push it on.",
    "fleam": "Turn the fleam guide: the file crosses the other way now.",
    "low": "Clamp the saw low: teeth {first} to {last}, the gullets just above the jaws.",
}

#: A saw that is dressed lies flat, so it is turned over and not end for end.
_OVER: Final = "Turn the saw over: the handle is on your {handle} now."


def words(at: MomentNumbers) -> Asked:
    """The words for what is asked there."""
    state, saw, now = at.state, at.saw, at.front
    match now.ask:
        case Ask.CAUTION:
            return _caution(now)
        case Ask.TURN:
            return _turn(state, saw, now)
        case Ask.SHIFT:
            return _shift(state, saw, now)
        case Ask.CHECK:
            return _check(state, saw, now)
        case Ask.CONFIRM:
            return _confirm(state, saw)
        case Ask.PAUSED:
            return _paused(state, saw)
        case Ask.END:
            return Asked("Ready to finish", left_out(state), "Everything is put by. Finish the record.")
        case Ask.FINISHED:
            return Asked("Finished", (*left_out(state), *at.next_time), "The record is closed. All of it is saved.")
        case Ask.WORK if now.place is not None:
            return work_words(at, now.place)
    return Asked("", (), "")


def _caution(now: Front) -> Asked:
    told = caution(now.name)
    return Asked(
        title=f"{told.signal} before this stage",
        lines=(told.hazard, told.consequence, told.avoid),
        instruction="When this is understood, say so.",
        signal=str(told.signal),
        source=told.source,
    )


def _turn(state: State, saw: Saw, now: Front) -> Asked:
    """One item after the other: the instruction says the one in hand, a row of ticks which are done."""
    first = now.place
    items = turn_items(state.plan, first.stage) if first else ()
    ticks = [f"{'■' if item in state.turn_items else '◆' if item == now.name else '·'} {item}" for item in items]
    if first is not None and first.tooth:
        ticks.append("· first" if now.name else "◆ first")
    return Asked(f"Turn the saw to side {now.side}", (" ".join(ticks),), _turn_words(state, saw, now))


def _turn_words(state: State, saw: Saw, now: Front) -> str:
    """What to do for the item in hand of the turn that ``now`` asks for; without an item, where the new side begins."""
    handle = "right" if now.side == 1 else "left"
    if not now.name:
        return _first(state, saw, now.place, now.side, handle)
    if now.place is not None and now.place.stage is Stage.DRESS:
        return _OVER.format(handle=handle)
    first, last = now.reach or (1, state.plan.points)
    return _ITEMS[now.name].format(handle=handle, first=first, last=last)


def _first(state: State, saw: Saw, place: Place | None, side: int, handle: str) -> str:
    if place is None or not place.tooth:
        return f"Lay the saw flat, side {side} up: handle on your {handle}, points away from you."
    tooth = place.tooth
    where = {1: "at the heel", 2: "the second from the heel"}.get(tooth, f"{saw.from_heel(tooth)} from the heel")
    which = "away from" if side_on_which_leans_away(tooth, state.plan.leans) == side else "toward"
    return f"Find tooth {tooth}, {where}: it {'leans' if _set(state, place) else 'is to lean'} {which} you."


def _set(state: State, place: Place) -> bool:
    """Whether the teeth lean at all: those of a line that was never set stand straight until they are."""
    if state.plan.leans is not Leans.UNSET:
        return True
    return place.stage is not Stage.SET and any(done.stage is Stage.SET for done in state.outcomes)


def _shift(state: State, saw: Saw, now: Front) -> Asked:
    first, last = now.reach or (1, saw.points)
    handle = "right" if state.side == 1 else "left"
    verb = "Clamp the saw" if state.reach is None else "Shift the saw"
    return Asked(
        title=verb,
        lines=(
            *_fitted(state, saw, now),
            f"Handle on your {handle}.",
            f"Teeth {first} to {last} between the jaws,",
            f"{saw.from_heel(first)} to {saw.from_heel(last)} from the heel.",
            "Gullets just above the jaws: a high saw chatters.",
        ),
        instruction=f"{verb}: teeth {first} to {last} in the vise, handle {handle}, low.",
    )


def _fitted(state: State, saw: Saw, now: Front) -> tuple[str, ...]:
    """How block and fleam guide are fitted and which way the first tooth leans, before the first stroke of a stage.

    At a turn the same is asked item by item.
    """
    place = now.place
    if state.reach is not None or place is None or not place.tooth:
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
        lines.append(f"On a rule from the heel: {saw.from_heel(place.tooth)}.")
    lines.append("Count on the saw itself, not from memory.")
    choices = flag_choices(state)
    if choices:
        lines.append("Flagged on this side: look at them before you go on.")
    question = f"Count on the saw: was {name} the last one worked?"
    return Asked("Check the place", tuple(lines), question, choices=choices)


def named_short(place: Place | None) -> str:
    """A place by name, or "the end"."""
    return str(place) if place is not None else "the end"


def _confirm(state: State, saw: Saw) -> Asked:
    marks = [*islice(whereabouts.newest_first(state), 3)][::-1]
    lines = ["The last marks:"] + [f"  {whereabouts.told(mark)}" for mark in marks]
    if not marks:
        lines = ["Nothing was marked yet."]
    place = state.place
    here = whereabouts.named(place, saw) if place else "the end"
    lines.append(f"Next: {here}.")
    lines.append(f"Handle on your {'right' if state.side == 1 else 'left'}.")
    return Asked("Find the place on the saw", tuple(lines), _next_question(place))


def _next_question(place: Place | None) -> str:
    if place is not None and not place.tooth and not place.number:
        return f"Is this what comes next: {step_of(place.stage, place.step).title.lower()}?"
    return f"Look at the saw: is {named_short(place)} next?"


def _paused(state: State, saw: Saw) -> Asked:
    place = state.place
    here = whereabouts.named(place, saw) if place else "the end"
    return Asked("Paused", (f"In hand: {here}.", "All is saved."), "Nothing moves until you go on.")
