"""The words at the look at the flats: what they ask for by what was told, what that costs, what can be answered."""

from __future__ import annotations

from session.advice.flats_offer import offer_words
from session.advice.flats_verdict import (
    GO_ON,
    LEAVE_OUT,
    FlatsAsk,
    flats_choices,
    offered_choices,
    reshape_cost,
)
from session.advice.work import passes_mm
from session.sentences.flat_words import fine_unit, seen_width, some
from session.sentences.moment_numbers import GOES_ON, MomentNumbers
from session.texts.guidance import Level
from session.texts.wording import LEVELED
from session.trade.lengths import in_unit
from session.walk.measurables import BY_THE_SCAN
from session.walk.scanned_marks import scanned_places
from session.walk.stages import Stage


def at_the_flats(at: MomentNumbers, lines: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What the flats ask for by what was told of them, and what can be answered."""
    if (verdict := _verdict(at)) and lines:
        # What was told has the room: with what it is looked at and when to stop, in as few words as will do.
        lines = (*verdict, f"Eyes and a light; saw in the vise. Stop when {LEVELED}.", *lines[2:], *_verdict_by(at))
    by_scan = (BY_THE_SCAN,) if at.flats_offer is not None and at.flats_offer.flats else ()
    return (*_scanned(at), *lines, *_measures(at)), (*offered_choices(at.state), *by_scan)


def by_verdict(at: MomentNumbers) -> str:
    """What is done at the look at the flats once they were told: looking is over. Empty elsewhere, and before that."""
    if not at.by_flats:
        return ""
    goes = "these flats will do" if at.by_flats == GOES_ON else at.by_flats
    return f"Go on: {goes}. Or pick another answer."


def _verdict(at: MomentNumbers) -> tuple[str, ...]:
    """What the flats as told or graded ask for; of reshaping that comes in, also what it costs."""
    state, saw = at.state, at.saw
    told = at.verdict
    if told is None:
        return ()
    if told.asks is not FlatsAsk.RESHAPE:
        low = tuple(tooth for tooth in sorted(at.flats) if at.flats[tooth] == 0 and tooth not in state.broken)
        return (f"{told.why} {told.asks}{f' Low: {some(low)}.' if low else ''}", *_told_on_strip(at))
    if Stage.RESHAPE not in state.taken_in:
        return (f"{told.why} Left out today.",)
    leveled = state.tally.rounds[1].passes if 1 in state.tally.rounds else 0
    keys = f"{_digit(at, GO_ON)} goes on to it, {_digit(at, LEAVE_OUT)} leaves it out"
    return (
        told.why,
        f"Reshaping is in the plan now: {keys}.",
        f"It costs {reshape_cost(saw, passes_mm(leveled), at.records.bite)}.",
    )


def next_by_flats(at: MomentNumbers) -> str:
    """The pass that comes after the look at the flats where they ask for one; empty elsewhere."""
    place, told = at.place, at.verdict
    if place is None or told is None or told.asks is not FlatsAsk.MORE:
        return ""
    level = at.state.tally.rounds.get(place.round)
    return f"pass {1 + (level.passes if level is not None else 0)}"


def _digit(at: MomentNumbers, choice: str) -> int:
    """The digit of ``choice`` at the look at the flats."""
    return flats_choices(at.state).index(choice) + 1


def _verdict_by(at: MomentNumbers) -> tuple[str, ...]:
    """Who says what the flats ask for, for whoever reads on."""
    told = at.verdict
    return () if told is None else (f"By print and practice ({told.source.replace(';', ',')}).",)


def _scanned(at: MomentNumbers) -> tuple[str, ...]:
    """What the newest scan offers, or why it is not used; nothing where there is none."""
    return () if at.flats_offer is None else (offer_words(at.flats_offer),)


def _measures(at: MomentNumbers) -> tuple[str, ...]:
    """How long a third of the pitch is on this saw, and what strip and scan are, for whoever reads on."""
    saw = at.saw
    if at.level is Level.BARE:
        return ()
    where = " at the heel" if saw.zones else ""
    third, pitch = in_unit(saw.pitch_mm / 3, saw.unit), in_unit(saw.pitch_mm, saw.unit)
    return (
        f"A third of the pitch is {third}{where}; the pitch, {pitch}, goes from one point to the next.",
        "A strip of “toothline templates” tells where each flat lies; “toothline scan” measures it.",
    )


def _told_on_strip(at: MomentNumbers) -> tuple[str, ...]:
    """What is gained by the flats that were told against the strip, as exact as an eye is, or measured by a scan; empty
    where none were."""
    plan, saw = at.leaning, at.saw
    if plan is None or plan.worst_before_mm is None or plan.worst_after_mm is None:
        return ()
    before, after = (seen_width(mm, fine_unit(saw)) for mm in (plan.worst_before_mm, plan.worst_after_mm))
    by = "scan" if scanned_places(at.state) else "strip"
    count = sum(point is not None for point in plan.points_mm)
    of = "" if count == len(plan.points_mm) else f", of {count} teeth"
    return (f"Worst spacing error by the {by}{of}: {before} with every flat halved, {after} by shares.",)
