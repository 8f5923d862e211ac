"""The words at a named step: what to look at or measure, what is expected, and what was answered."""

from __future__ import annotations

from datetime import date
from typing import Final, TypeAlias

from session.advice.plausibility import expected
from session.advice.set_advice import least_set_mm
from session.advice.sourced_figure import amount
from session.advice.work import WITHOUT_A_SCREEN, What
from session.sentences.asked_words import Asked
from session.sentences.flats_look_words import at_the_flats, by_verdict
from session.sentences.listed_places import flag_choices, left_out, steps_passed, told_past
from session.sentences.moment_numbers import MomentNumbers
from session.sentences.own_words import file_choices, own_words
from session.sentences.plan_words import settle
from session.sentences.tool_words import set_width
from session.texts.guidance import Level
from session.texts.steps import AskKind, Asks, Step
from session.texts.steps import step as step_of
from session.texts.wording import lowered
from session.trade.file_choice import face_needs, tooth_to_fit
from session.trade.lengths import Length, by_inches
from session.trade.observation import Look
from session.trade.printed_rows import agreements
from session.trade.saw import Cut, Saw
from session.trade.seen_words import Plate
from session.trade.set_rules import BACKED
from session.trade.tooth_numbers import numbers_in_words
from session.walk.added_work import fault_of_cut, told_here
from session.walk.measurables import NO_FLEAM, Measurable, counts_line
from session.walk.place import Place
from session.walk.stages import LEFT_OUT_STEP, PLAN_STEP, Stage

#: The trial cut: how long and through how thick a board, in inches and otherwise (common practice, no source).
_CUT: Final = {True: ("6 in", "3/4 in"), False: ("150 mm", "20 mm")}


def cut_size(saw: Saw) -> tuple[str, str]:
    """How long the trial cut is and how thick its board, in the units of ``saw``."""
    return _CUT[by_inches(saw.unit)]


def action(told: Step, saw: Saw) -> str:
    """The one action of a step; of the trial cut how long and in what, for ``saw``: across the grain or along it."""
    if told.asks is None or told.asks.what is not Measurable.TRIAL_CUT:
        return told.do
    long, thick = cut_size(saw)
    grain = "along the grain" if saw.cut is Cut.RIP else "across the grain"
    return f"Saw {long} {grain} on a line, a {thick} board, counting your strokes."


def _with(told: Step) -> str:
    """What a step is done with, as a sentence."""
    return told.tool if told.tool.startswith("No tool") else f"With {lowered(told.tool)}"


def _stop(told: Step, saw: Saw) -> str:
    """When to stop at a step; of the trial cut at its length, for ``saw``."""
    if told.asks is None or told.asks.what is not Measurable.TRIAL_CUT:
        return told.stop
    return told.stop.replace("at its end", f"at {cut_size(saw)[0]}")


#: Sentences one below the other, or answers to choose from.
_Lines: TypeAlias = tuple[str, ...]

#: What going on does with an answer that is expected.
_NOT_TAKEN: Final = "Skipped, it counts as not looked at."

#: What it does where the records tell teeth broken or low: of what nobody looked at they are believed.
_STAYS: Final = {
    Measurable.BROKEN_TEETH: "Skipped, they stay broken by the records.",
    Measurable.LOW_TEETH: "Skipped, they stay low by the records.",
}

#: What is worth a minute where the saw was scanned before the work.
SCAN_AFTER: Final = "It was scanned before: scan it once more now, and “toothline show” tells what the work did."

#: How a plate under a back is looked at: it is not bent, and the back covers an edge of it.
_BACKED_HOW: Final = {
    "all round": "Do not bend a backed plate. Try back and handle, look along the teeth from heel to toe.",
    "crack": "The back covers one edge and keeps it stiff: look along the gullets, and at heel and toe where the plate "
    "leaves the back. Write none, or the gullet and length.",
}


def step_words(at: MomentNumbers, place: Place) -> Asked:
    told = step_of(place.stage, place.step)
    if place.stage is Stage.LOOK_OVER and place.step == PLAN_STEP:
        return settle(at, told)
    lines: _Lines = _lines(at, told, place)
    choices: _Lines = ()
    if place.stage is Stage.LEVEL:
        lines, choices = at_the_flats(at, lines)
    if place.stage is Stage.CLOSE and place.step == LEFT_OUT_STEP:
        lines, choices = _at_the_end(at, lines), flag_choices(at.state)
    if told.asks is not None:
        lines, choices = _answerable(at, place, told.asks, lines, choices)
    doing = by_verdict(at) or action(told, at.saw)
    return Asked(told.title, lines, doing, choices=choices, source=told.source)


def _lines(at: MomentNumbers, told: Step, place: Place) -> _Lines:
    """What a step is done with, when to stop, how and why, as much of it as the guidance asks."""
    if at.level is Level.BARE:
        return ()
    first = (_with(told), _stop(told, at.saw), *((told.without,) if told.without else ()))
    if at.level is Level.BRIEF:
        return first
    how = _BACKED_HOW.get(place.step, told.how) if at.saw.kind in BACKED else told.how
    # What a hand asks comes first: the reasons may stand a page on.
    return (*first, how, told.why, *told.apart)


def _at_the_end(at: MomentNumbers, lines: _Lines) -> _Lines:
    """What is to be known before the record is closed: a cut that was not good, and what was not done."""
    state, fault = at.state, fault_of_cut(at.state)
    unproved = (f"The last cut was not good ({fault}): “more” names causes and remedies.",) if fault else ()
    scanned = at.records.scanned is not None or any(level.scanned for level in state.tally.rounds.values())
    after = (SCAN_AFTER,) if scanned else ()
    return (*unproved, *left_out(state), *told_past(state), *steps_passed(state), *_foul(at), *lines, *after)


def _foul(at: MomentNumbers) -> tuple[str, ...]:
    """That a plate told rusty or gummed is to be cleaned and waxed, or is to be waxed by the plan: no screen of the
    work asks for either."""
    told = at.state.measured.get(Measurable.PLATE)
    words = str(told.value).split(", ") if told is not None else []
    foul = " and ".join(word for word in words if word in (Plate.RUSTY, Plate.GUMMED))
    if foul:
        return (f"The plate was {foul}: clean it and wax it, if you have not.",)
    chosen = at.state.measured.get(Measurable.CHOSEN)
    by_hand = str(chosen.value).partition(WITHOUT_A_SCREEN)[2].split(", ") if chosen is not None else []
    return ("Wax is advised today: wax the plate, if you have not.",) if What.WAX in by_hand else ()


def _answerable(at: MomentNumbers, place: Place, asks: Asks, lines: _Lines, choices: _Lines) -> tuple[_Lines, _Lines]:
    """What is known of a question beforehand, above what is said of the step, and what can be answered by a digit."""
    if asks.kind in (AskKind.CHOICE, AskKind.CUT, AskKind.NAME):
        choices = tuple(choice for choice in asks.choices if choice != NO_FLEAM or not at.saw.fleam)
    known: _Lines = ()
    if asks.what in (Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END):
        known = _right_width(at.saw)
    if asks.kind is AskKind.TEETH and not _foretold(at, asks):
        known = (_counted(at),)
    if place.stage is Stage.LOOK_OVER:
        known, choices = _looked_for(at, asks, known, choices)
    if asks.kind is AskKind.FILE:
        # With what it is done, when to stop and where its corner's number is from, then its size.
        lines = (*lines[:3], *_file_size(at.saw), *lines[3:])
        if at.files:
            known, choices = own_words(at.files), file_choices(at.files)
    return (*_answered(at, place, asks), *known, *lines), choices


def _looked_for(at: MomentNumbers, asks: Asks, known: _Lines, choices: _Lines) -> tuple[_Lines, _Lines]:
    """``known`` and ``choices`` of a look with what the records and the newest scan say of it, which stands first."""
    if foretold := _foretold(at, asks):
        teeth = _known(at, asks)
        stays = _STAYS.get(asks.what, _NOT_TAKEN) if teeth else _NOT_TAKEN
        known, choices = (f"Expected: {foretold}.", stays, *known), (*([teeth] if teeth else []), *choices)
    if asks.what is Measurable.POINTS:
        known = (*_unused_scan(at), *known)
    if measured := _measured(at, asks):
        sentence, answer = measured
        known, choices = (sentence, *known), (answer, *(one for one in choices if one != answer))
    return known, choices


def _counted(at: MomentNumbers) -> str:
    """How many teeth there are to be named, and who says so."""
    points = at.state.measured.get(Measurable.POINTS)
    counted = "as you counted" if points is not None and counts_line(points) else "by the recipe, not counted yet"
    return f"Teeth 1 to {at.state.plan.points} from the heel, {counted}."


def _answered(at: MomentNumbers, place: Place, asks: Asks) -> _Lines:
    """What was answered already; of flats their own words say it."""
    answered = told_here(at.state, place, asks.what)
    if answered is None or answered.what == Measurable.FLATS:
        return ()
    with_corner = ""
    if answered.what == Measurable.FILE:
        corner = at.state.measured.get(Measurable.FILE_CORNER)
        with_corner = ", no corner told: answer again with its corner, 1 to 3"
        if corner is not None:
            with_corner = f", {corner.entered or corner.value}"
    return (f"Answered: {answered.entered or answered.value}{with_corner}.",)


def _file_size(saw: Saw) -> tuple[str, ...]:
    """How large a file the saw takes: its face, and what of the print has one."""
    needs = face_needs(tooth_to_fit(saw))
    least, best = amount(needs.at_outer_face_mm, saw.unit), amount(needs.advised_mm, saw.unit)
    named = dict.fromkeys(one.row.file for one in agreements(saw.kind, needs) if one.agrees)
    size = f"Its face over {least}, best {best} (from memory): calipers on a flat side, mid-length."
    return (size, *([f"In print for such a saw: {', '.join(named)}."] if named else []))


#: The look that each measured thing of the look over answers, where the recipe foretells it.
_LOOK_OF: Final = {
    Measurable.OVER_POINTS: Look.OVER_POINTS,
    Measurable.POINTS: Look.IN_LINE,
    Measurable.FIRST_LEANS: Look.FIRST_LEANS,
    Measurable.BROKEN_TEETH: Look.BROKEN,
    Measurable.LOW_TEETH: Look.LOW,
}


def _right_width(saw: Saw) -> tuple[str, ...]:
    """What the caliper should read over a set line, and the least that the work asks for."""
    wide, least = set_width(saw), least_set_mm(saw)
    if not wide:
        return ()
    told = f"Over the points it should read {wide}: the plate {saw.plate}, and {saw.set_per_side} on each side."
    if least is None:
        return (told,)
    return (told, f"A width under {Length.of(saw.plate.mm + 2 * least, saw.unit)} is too little set.")


def _foretold(at: MomentNumbers, asks: Asks) -> str:
    """What the recipe and the records expect as an answer; empty when they foretell nothing."""
    if asks.what is Measurable.LOW_TEETH and not at.records.low:
        return ""
    look = _LOOK_OF.get(asks.what)
    return "" if look is None else expected(at.saw, at.records).get(look, "")


def _known(at: MomentNumbers, asks: Asks) -> str:
    """The teeth that the records tell, as an answer to choose; empty where the look is for none, or they tell none."""
    teeth = {Measurable.BROKEN_TEETH: at.records.broken, Measurable.LOW_TEETH: at.records.low}.get(asks.what, ())
    return numbers_in_words(teeth) if teeth and max(teeth) <= at.state.plan.points else ""


def _measured(at: MomentNumbers, asks: Asks) -> tuple[str, str] | None:
    """What the newest scan says of a look, as a sentence and as the first answer to choose; None where it says nothing.

    It is offered, and never taken as the answer by itself.
    """
    scan = at.scan_in_use
    if scan is None or scan.looks is None or not (answer := scan.looks.offered(asks.what, at.saw.unit)):
        return None
    return scan.looks.told(asks.what, at.saw.unit, _today(at)), answer


def _unused_scan(at: MomentNumbers) -> tuple[str, ...]:
    """Why the newest scan is not used for this saw, and which is in its place; nothing where it is used."""
    scan = at.scan_in_use
    return (told,) if scan is not None and (told := scan.told(_today(at))) else ()


def _today(at: MomentNumbers) -> date | None:
    """The day of the last mark, since words know no clock."""
    marks = at.state.marks
    return marks[-1].at.date() if marks else None
