"""From a fault of the cut to its possible causes on this saw, as far as what was seen allows; least steel first."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import Final

from session.advice.measured_set import MeasuredSet
from session.advice.sourced_figure import amount
from session.advice.wood_words import is_wet, wood_class
from session.advice.work import What
from session.texts.wording import fine
from session.trade.kerf import kerf_mm
from session.trade.lengths import MM_PER
from session.trade.observation import Look, Seen
from session.trade.saw import Cut, Saw
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.value_class import dataclass


class Suspicion(StrEnum):
    """How a cause stands against what was seen. One that is ruled out is not named at all."""

    SEEN = "seen"
    POSSIBLE = "possible"


@dataclass(frozen=True, slots=True)
class SuspectedCause:
    """One cause with its remedy.

    works: the remedy, in order; () where sharpening itself is the remedy. look: what would decide, None when nothing
    more can be looked at. reason: the cause and the remedy in one or two sentences; source: who says so.
    """

    standing: Suspicion
    works: tuple[What, ...]
    look: Look | None
    reason: str
    source: str


#: Fewer points in an inch than this are for rough work across the grain (DREW: 6 to 7 rough, about 8 ordinary).
COARSE_PER_INCH: Final = 6.9

#: A rake from which a saw may slide instead of taking hold (FIT: the peg tooth, 30 degrees).
LITTLE_HOOK: Final = 28.0

#: A rake under which the faces are near upright: nothing crosscut in print is under it (GOR p. 155: 10 degrees).
MUCH_HOOK: Final = {Cut.CROSSCUT: 10.0, Cut.RIP: 0.0}

#: The most fleam that is printed for hard wood (KING 64: 20 degrees).
HARD_WOOD_FLEAM: Final = 20.0

#: So many low teeth may wait for the line (HASL; the number is common practice, no source).
LOW_MAY_WAIT: Final = 3

SEEN, POSSIBLE = Suspicion.SEEN, Suspicion.POSSIBLE


def causes(saw: Saw, seen: Seen, has: MeasuredSet) -> tuple[SuspectedCause, ...]:
    """The causes of ``seen.last_cut`` that stand; none for a cut that was good, untried or not told."""
    told = _TOLD.get(seen.last_cut) if seen.last_cut is not None else None
    return () if told is None else tuple(told(saw, seen, has))


def wrong_saw(saw: Saw, seen: Seen) -> bool:
    """Whether the last cut was none for this saw: a rip saw across the grain, a crosscut saw along it."""
    return (saw.cut, seen.cut) in ((Cut.RIP, Grain.ACROSS), (Cut.CROSSCUT, Grain.ALONG))


def idle_teeth(seen: Seen) -> bool:
    """Whether teeth were seen that stand too low or too small to work, or one that holds the others off."""
    many_low = len(seen.low or ()) > LOW_MAY_WAIT
    odd_sizes = seen.sizes in (Sizes.HERE_AND_THERE, Sizes.ALTERNATE)
    return many_low or odd_sizes or bool(seen.high) or seen.line is LineShape.HOLLOW


def _wanders(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    if seen.handle is not Handle.TIGHT:
        standing = SEEN if seen.handle is Handle.LOOSE else POSSIBLE
        why = "A loose handle feels like a saw that wanders: tighten it, then cut again."
        yield SuspectedCause(standing, (What.TIGHTEN,), Look.HANDLE, why, _PRACTICE)
    yield from _crooked(seen, "A plate that is not straight cannot follow a line")
    if has.uneven:
        yield _even_the_set(saw, has)
    if seen.sizes is Sizes.ALTERNATE:
        why = "Big and small teeth by turns stand higher on one side: level them and file them to one size."
        yield SuspectedCause(SEEN, (), None, why, "FSMAN; GOR p. 150")
    if seen.wanders_to is None:
        why = "The side it wanders to has more set, or higher teeth."
        yield SuspectedCause(POSSIBLE, (What.STONE_BOTH,), Look.WANDERS_TO, why, "FSMAN")
        return
    side = What.STONE_LEFT if seen.wanders_to is Toward.LEFT else What.STONE_RIGHT
    if has.due(0.0, 1):
        why = f"It goes to the {seen.wanders_to}: more set there, too little to stone. Set the other side a touch more."
        yield SuspectedCause(POSSIBLE, (What.SET,), None, why, "FSMAN; judgment")
    else:
        why = (
            f"It goes to the {seen.wanders_to}, where more set or longer teeth stand: "
            "stone that side once, lightly, and cut again."
        )
        yield SuspectedCause(POSSIBLE, (side,), None, why, "FSMAN; from memory")


def _binds(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    if not seen.is_plate(Plate.CLEAN):
        foul = seen.is_plate(Plate.RUSTY, Plate.GUMMED)
        why = "Rust or gum on the plate rubs in the kerf: " + (
            "clean it, and wax it when nothing is left to file." if foul else "look; wax it."
        )
        works = (What.CLEAN, What.WAX) if foul else (What.WAX,)
        yield SuspectedCause(SEEN if foul else POSSIBLE, works, Look.PLATE, why, f"TM9243 46-7; {_PRACTICE}")
    wet = is_wet(seen.wood)
    if wet is not False:
        why = "Damp or springy wood closes on the plate: wedge the kerf open, and a drop of oil or wax on the plate."
        standing = POSSIBLE if wet is None else SEEN
        works = (What.WAX,) if wet is None else (What.TECHNIQUE, What.WAX)
        yield SuspectedCause(standing, works, Look.WOOD, why, "FSMAN; NOYES; TM9243 46-7")
    yield from _crooked(seen, "A bent plate binds")
    if has.now_mm is None:
        why = "Too little set for this wood; nobody measured it."
        yield SuspectedCause(POSSIBLE, (What.SET,), Look.OVER_POINTS, why, "FSMAN; NOYES; GRIF")
    elif has.under_wanted or has.due(0.0):
        unit = saw.unit
        why = f"The set is {fine(has.now_mm, unit)} a side, {fine(has.want_mm, unit)} is asked for: a touch more."
        yield SuspectedCause(SEEN, (What.SET,), None, why, "FSMAN; NOYES; GRIF")
    else:
        if seen.is_plate(Plate.CLEAN) and wet is False:
            why = "Plate, wood and set give no cause: keep the kerf open with a wedge; the cut itself may curve."
            yield SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, "FSMAN; TM9243 46-7")
        why = "Only when nothing else helps: a touch more set."
        yield SuspectedCause(POSSIBLE, (What.SET,), None, why, "FSMAN; GRIF")


def _rough(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    if saw.cut is Cut.RIP and seen.cut is not Grain.ALONG:
        standing = SEEN if seen.cut is Grain.ACROSS else POSSIBLE
        why = "A rip saw tears across the grain however well it is filed: take a crosscut saw."
        yield SuspectedCause(standing, (What.OTHER_SAW,), Look.CUT, why, "NOYES; KING 64")
    per_inch = MM_PER["in"] / saw.pitch_mm + 1
    if saw.cut is Cut.CROSSCUT and per_inch < COARSE_PER_INCH:
        why = f"{saw.count_as} is for rough work: take a finer saw for a clean cut."
        yield SuspectedCause(POSSIBLE, (What.OTHER_SAW,), None, why, "DREW; KING 64")
    if has.over:
        yield _stone_down(saw, has, "and it cut rough")
    if has.uneven:
        yield _even_the_set(saw, has)
    if has.now_mm is None:
        why = "Too much set tears the wood; nobody measured it."
        yield SuspectedCause(POSSIBLE, (What.STONE_BOTH,), Look.OVER_POINTS, why, "KING 64; ZERBE")
    elif not has.due(0.0, 1):
        why = "Single points bent far out scratch the walls: stone both sides once, lightly, and cut again."
        if saw.cut is Cut.CROSSCUT:
            why += " For finer work than the size of its teeth, take a finer saw."
        yield SuspectedCause(POSSIBLE, (What.STONE_BOTH,), None, why, "ZERBE; KING 64; from memory")
    elif seen.bright is Bright.NONE:
        yield _unexplained("cuts rough")


def _slow(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    dull = seen.bright in (Bright.SOME, Bright.MOST)
    if wrong_saw(saw, seen) or (seen.cut is None and not dull):
        if saw.cut is Cut.CROSSCUT:
            why = "A crosscut saw is slow along the grain: for ripping, take a rip saw."
        else:
            why = "A rip saw works hard across the grain: take a crosscut saw."
        standing = POSSIBLE if seen.cut is None else SEEN
        yield SuspectedCause(standing, (What.OTHER_SAW,), Look.CUT, why, "NOYES; SHOP2")
    if seen.is_plate(Plate.RUSTY, Plate.GUMMED):
        why = "Rust or gum on the plate drags: clean it, wax it when nothing is left to file, and cut again."
        yield SuspectedCause(SEEN, (What.CLEAN, What.WAX), None, why, _PRACTICE)
    if has.over:
        yield _stone_down(saw, has, "and it dragged")
    if dull:
        why = "Bright points are dull: level lightly, then file."
        yield SuspectedCause(SEEN, (), None, why, "FIT; NOYES")
    if seen.bright is None:
        why = "Dull points cut slowly; nobody looked whether they shine."
        yield SuspectedCause(POSSIBLE, (), Look.BRIGHT, why, "FIT; NOYES")
    if idle_teeth(seen):
        why = "Teeth that stand lower than the others are idle: level, then file."
        yield SuspectedCause(SEEN, (), None, why, "RECIPE; NOYES")
    else:
        for look, known in ((Look.SIZES, seen.sizes), (Look.LOW, seen.low), (Look.LINE, seen.line)):
            if known is None:
                why = "Short teeth are idle; nobody looked for them."
                yield SuspectedCause(POSSIBLE, (), look, why, "RECIPE; NOYES")
    hard = (wood_class(seen.wood) or saw.wood) == "dry hardwood"
    if saw.cut is Cut.CROSSCUT and saw.fleam > HARD_WOOD_FLEAM and hard and seen.bright is Bright.NONE:
        why = (
            f"{saw.fleam:g}° of fleam is much for hard wood: if a core of wood stays in the kerf, file less next time."
        )
        yield SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, "ROSS p. 7; KING 64")
    elif seen.bright is Bright.NONE and not wrong_saw(saw, seen):
        yield _unexplained("cuts slowly")


def _jumps(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    yield from _crooked(seen, "A bent plate catches", only_seen=True)
    if has.uneven:
        yield _even_the_set(saw, has)
    elif has.places < 2:
        why = "Uneven set catches; fewer than two places were measured."
        yield SuspectedCause(POSSIBLE, (What.SET, What.STONE_BOTH), Look.OVER_POINTS, why, "FSMAN; ROSS p. 9")
    if seen.high or seen.sizes is Sizes.ALTERNATE:
        why = "A long tooth catches: level until it agrees with the others, then file what has a flat."
        yield SuspectedCause(SEEN, (), None, why, "FSMAN; RECIPE")
    elif seen.high is None:
        why = "A long tooth catches; nobody looked for one."
        yield SuspectedCause(POSSIBLE, (), Look.HIGH, why, "FSMAN; RECIPE")
    if saw.rake < MUCH_HOOK[saw.cut]:
        why = f"{saw.rake:g}° of rake is much hook: give the faces a little more rake at the next sharpenings."
        yield SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, "ROSS p. 6")
    elif seen.bright is Bright.NONE:
        yield _unexplained("jumps")


def _unexplained(how: str) -> SuspectedCause:
    """For a sharp saw: what is left to try when nothing else is found. It stands last, and any other comes before."""
    why = (
        f"No point shines, and nothing else that was looked at tells why it {how}: let its own weight carry it in long "
        "strokes, and cut again, in other wood too."
    )
    return SuspectedCause(POSSIBLE, (What.TECHNIQUE,), None, why, _PRACTICE)


def _hard_to_start(saw: Saw, seen: Seen, has: MeasuredSet) -> Iterator[SuspectedCause]:
    why = "Carry the weight of the saw in the hand and start at a low angle; a back saw starts with a pull."
    if saw.rake >= LITTLE_HOOK:
        why += f" If it still slides, {saw.rake:g}° of rake is little hook: file less rake next time (FIT)."
    yield SuspectedCause(SEEN, (What.TECHNIQUE,), None, why, "NOYES; GRIF art. 14")


def _crooked(seen: Seen, what: str, *, only_seen: bool = False) -> Iterator[SuspectedCause]:
    if seen.is_plate(Plate.BENT, Plate.KINKED):
        why = f"{what}: have it straightened by one who can; no filing helps."
        yield SuspectedCause(SEEN, (What.STRAIGHTEN,), None, why, _PRACTICE)
    elif not only_seen and not seen.is_plate(Plate.STRAIGHT):
        yield SuspectedCause(POSSIBLE, (What.STRAIGHTEN,), Look.PLATE, f"{what}: sight along it.", _PRACTICE)


def _stone_down(saw: Saw, has: MeasuredSet, how: str) -> SuspectedCause:
    return SuspectedCause(SEEN, (What.STONE_BOTH,), None, over_words(saw, has, how), "KING 64; FSMAN; judgment")


def over_words(saw: Saw, has: MeasuredSet, how: str = "") -> str:
    """That the set is over the fullest useful one, and what to do about it."""
    now = fine(has.now_mm or 0.0, saw.unit)
    most = fine(has.fullest_mm, saw.unit)
    told = f"The set is {now} a side, over the {most} that is of use{', ' + how if how else ''}"
    enough = amount(kerf_mm(saw.plate.mm, has.fullest_mm), saw.unit)
    return f"{told}: stone both sides lightly, measure, cut. Enough at {enough} over the points."


def _even_the_set(saw: Saw, has: MeasuredSet) -> SuspectedCause:
    alone = has.enough_to_stone()
    works = (What.STONE_BOTH,) if alone else (What.SET, What.STONE_BOTH)
    return SuspectedCause(SEEN, works, None, uneven_words(saw, has, alone=alone), "ROSS p. 9; FSMAN; from memory")


def uneven_words(saw: Saw, has: MeasuredSet, *, alone: bool) -> str:
    """That the set is uneven, and what to do about it: with the stone alone, or set up first."""
    low, high = (has.readings.least_mm, has.readings.most_mm) if has.readings is not None else (0.0, 0.0)
    told = f"The set goes from {fine(low, saw.unit)} to {fine(high, saw.unit)} a side"
    if alone:
        return f"{told}, and even the least is enough: stone it down evenly."
    want, most = fine(has.want_mm, saw.unit), fine(has.fullest_mm, saw.unit)
    return f"{told}: set it to {want}, {most} at most, then stone both sides down evenly."


_PRACTICE: Final = "common practice, no source"

_TOLD: Final = {
    Cutting.WANDERS: _wanders,
    Cutting.BINDS: _binds,
    Cutting.ROUGH: _rough,
    Cutting.SLOW: _slow,
    Cutting.JUMPS: _jumps,
    Cutting.HARD_TO_START: _hard_to_start,
}
