"""The questions that set the place by hand: which gullet, tooth or pass is next, or which step is taken again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from session.desk.desk import Desk
from session.desk.flat_answers import of_a_flat
from session.desk.flat_questions import told_anew
from session.desk.question import Question
from session.sentences.whereabouts import named
from session.texts.steps import step as step_of
from session.texts.wording import times
from session.trade.saw import Saw
from session.walk.added_work import told_here
from session.walk.front_question import Ask, Front
from session.walk.kept_outcomes import kept_outcomes
from session.walk.mark import Did, Mark
from session.walk.place import Place, place_of
from session.walk.place_moves import gone_back_over
from session.walk.scanned_marks import flats_told
from session.walk.stages import Kind
from session.walk.state import State


def place_question(desk: Desk) -> Question:
    """Which place is the one in hand."""
    state, saw = desk.moment.state, desk.moment.saw
    if told := flats_told(state):
        return told_anew(desk, told)
    front = desk.moment.front
    graded = front.place is not None and of_a_flat(front.place)
    # A check that ends a side is about that side, though the next place is on another one or there is none.
    here = front.place if front.ask is Ask.CHECK else state.place
    if here is None:
        return Question("Every place is done or left out")
    if here.kind is Kind.STEP:
        return _step_again(desk, here)
    leg, _ = state.route.leg_at(state.route.index[here])
    # A flat on the strip goes with the grade of its tooth, which comes first.
    known = {str(p.tooth or p.number): p for p in leg.places if not p.on_strip}

    kept = kept_outcomes(state)

    def wrong(text: str) -> str | None:
        if text in known:
            skipped = [place for place in between(text) if place not in kept] if graded else []
            return f"{skipped[0]} to {skipped[-1]}: {_ONE_BY_ONE}" if skipped else None
        if here.tooth:
            return f'"{text[:12]}" is not worked on this side; allowed: {_span(tuple(known.values()))}'
        return f'"{text[:12]}" is not one of: {", ".join(known)}'

    def between(text: str) -> list[Place]:
        places = state.route.places[state.here : state.route.index[known[text]]]
        return [place for place in places if not state.passed(place)]

    def several(text: str) -> str:
        if gone := gone_back_over(state, known[text]):
            return _taken_back(gone)
        again = [place for place in between(text) if place in kept]
        skipped = [place for place in between(text) if place not in kept]
        stand = f"{_span_of(again)}, will stand again as marked before." if again else ""
        if not skipped:
            return stand
        done = f"{skipped[0]} to {skipped[-1]}, {len(skipped)} in all, will be marked as done together."
        return f"{stand} {done}".strip()

    what = "Which gullet is NEXT to be filed?" if here.kind is Kind.GULLET else f"Which {here.kind} is next?"
    lines = (
        _on_screen(state, front, saw),
        _LATER[bool(kept), graded],
        _EARLIER[here.kind is Kind.GULLET, graded],
    )
    return Question(
        what,
        lines,
        hint="the number alone",
        check=wrong,
        then=lambda text: desk.set_place(known[text]),
        several=several,
    )


#: Why no flat is passed over by setting a later place.
_ONE_BY_ONE: Final = "each flat is graded on its own, 0 to 5; allowed: an earlier one, or the one in hand."


#: What a later one does, said where something was marked before going back, and of graded flats.
_LATER: Final = {
    (False, False): "A later one: those between are marked done together; the log says so.",
    (False, True): "A later one: not here; each flat is graded on its own.",
    (True, False): "A later one: what was marked before going back stands again.",
    (True, True): "A later one: the grades from before going back stand again.",
}

#: What an earlier one does, said of gullets, of graded flats, and of any other place.
_EARLIER: Final = {
    (True, False): "An earlier one: it and those after it count as not filed; it asks first.",
    (False, True): "An earlier one: it and those after it count as not graded; it asks first.",
    (False, False): "An earlier one: it and those after it count as not done; it asks first.",
}


def _taken_back(gone: Sequence[Mark]) -> str:
    """What going back takes back: the first and last place, how many, and what was counted or left out there."""
    places = [place for mark in gone if (place := place_of(mark)) is not None]
    strokes, out = sum(mark.strokes or 0 for mark in gone), sum(mark.did is Did.LEFT_OUT for mark in gone)
    counted = f" with {times(strokes, 'stroke')}" if strokes else ""
    left = f", {out} of them left out" if out else ""
    return f"{_span_of(places)}{counted}{left}, will be taken back; “take back” right after it undoes that."


def _span_of(places: Sequence[Place]) -> str:
    """First and last of ``places`` and how many, the strip of a tooth being one with its grade."""
    told = [place for place in places if not place.on_strip] or list(places)
    return f"{told[0]} to {told[-1]}, {len(told)} in all" if len(told) > 1 else f"{told[0]}"


def _on_screen(state: State, front: Front, saw: Saw) -> str:
    """What the screen shows: the place in hand and, at a check, which one it has for the last worked."""
    if front.ask is not Ask.CHECK or front.place is None:
        return f"On screen: {named(state.place, saw)}." if state.place else "On screen: the end."
    last = state.last_marked(front.place) or front.place
    if state.place is None or state.place not in state.route.leg_at(state.route.index[front.place])[0].places:
        return f"On screen: {named(last, saw)}, as the last one of this side."
    return f"On screen: {named(state.place, saw)}; last worked {last}."


def _step_again(desk: Desk, here: Place) -> Question:
    """Which of the steps gone through is taken again, by its own name and what was answered; none is gone ahead to."""
    state = desk.moment.state
    leg, first = state.route.leg_at(state.route.index[here])
    before = [place for place in leg.places[: state.here - first] if place in state.outcomes][::-1]
    known = {_step_words(state, place): place for place in before}
    if not known:
        return Question("Go back to which step?", ("No step of this stage was gone through yet.",))
    return Question(
        "Go back to which step?",
        ("Those after it are gone through again; what was answered there stands until it is answered anew.",),
        choices=tuple(known),
        then=lambda text: desk.set_place(known[text]),
    )


def _step_words(state: State, place: Place) -> str:
    told = step_of(place.stage, place.step)
    answered = told_here(state, place, told.asks.what) if told.asks else None
    if answered is not None:
        return f"{told.title}: {answered.entered or answered.value}"
    return f"{told.title}: skipped" if told.asks else told.title


def _span(places: tuple[Place, ...]) -> str:
    shown = [str(place.tooth) for place in places]
    return f"{', '.join(shown[:3])} … {shown[-1]}" if len(shown) > 4 else ", ".join(shown)
