"""The instruction line: what to do at the place in hand, and when to stop, for one row of the bench."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from session.texts.steps import step as step_words
from session.texts.wording import times
from session.trade.rounding import half_up, percent
from session.trade.saw import End, Saw
from session.walk.stages import FACTS, Kind, Stage

#: The longest instruction, in characters: one row of an 80-column screen inside its frame.
ROOM = 76


class Shines(StrEnum):
    """What shows that a gullet still has steel to give, where nobody graded the flats."""

    FLAT = "flat"  # one that a leveling pass has just left
    POINT = "point"  # a dull point, where no pass was made
    ALL_ALIKE = "all alike"  # nothing is looked for: a touch up, no pass made before it


#: Ways to press the file, as an evening plan names them. "straight" is said as nothing: it is the usual case.
LEANS = ("heel", "toe", "straight")


def instruction(
    stage: Stage,
    *,
    step: str | None = None,
    strokes: int | None = None,
    lean: str | None = None,
    half: bool = False,
    flat_of: int | None = None,
    shares: Sequence[str] = (),
    low: bool = False,
    off: int | None = None,
    only: Shines | None = None,
    number: int | None = None,
    of: int | None = None,
    saw: Saw | None = None,
) -> str:
    """What to do at one place, in at most 76 characters.

    step: for a stage of named steps, which; its own action is the instruction.
    strokes: for gullets, how many to expect, 0 or more; None when nothing is known yet.
    lean: "heel", "toe" or "straight": toward which tooth the file is pressed.
    half: only half of each flat is to go, because the other side takes the rest (KING, MTS, WHEEL).
    flat_of: the tooth whose flat just goes; None when it is said of no tooth in particular.
    shares: what goes of each flat here, longest words first, where it is known where the flats lie; empty for what
        ``half`` and ``flat_of`` say.
    off: a broken tooth beside the gullet: the file is pressed away from the stump, to keep its neighbor's size (DREW).
    only: for gullets that are filed a little once more: nothing is taken where that does not shine (FIT); in a touch
        up the same one or two strokes are taken in every gullet (ZERBE; NOYES), as there is no flat to stop at.
    low: the tooth has no flat, so nothing may come off it (HASL).
    number, of: which pass of how many, for a stage of passes.
    saw: gives slope, end to start from and share of the tooth bent; without it the usual ones are said.

    Raises ValueError for a missing or unknown step, a negative count or an unknown lean.
    """
    if lean is not None and lean not in LEANS:
        raise ValueError(f'lean "{lean}" is not known; allowed: {", ".join(LEANS)}')
    for name, count in (("strokes", strokes), ("number", number), ("of", of)):
        if count is not None and count < 0:
            raise ValueError(f"{name} {count} is negative; allowed: 0 or more")
    if FACTS[stage].kind is Kind.STEP:
        if step is None:
            raise ValueError(f"{stage} goes by named steps; allowed: {', '.join(FACTS[stage].steps)}")
        return step_words(stage, step).do
    if stage is Stage.LEVEL:
        return f"{_pass(number, of)}file along the points, {_along(saw)}, square and light."
    if stage is Stage.DRESS:
        return f"{_pass(number, of)}stone along the teeth, {_along(saw)}, flat on the plate."
    if stage is Stage.SET:
        return f"Bend this tooth away from you, {_bend(saw)}, one even squeeze."
    if only is not None:
        return _only(only, saw)
    if low:
        return "No flat here: leave this tooth out, do not file it."
    if strokes == 0:
        if shares:
            return "No stroke here: both flats go with the gullets beside this one. Go on."
        return "No stroke here: this gullet has given enough. Go on."
    return _gullet(stage, strokes, lean, half, flat_of, saw, off, shares)


def _only(shines: Shines, saw: Saw | None) -> str:
    if shines is Shines.ALL_ALIKE:
        return f"Light strokes, the same one or two in every gullet, {_held(saw)}."
    if shines is Shines.FLAT:
        return f"Only where a flat shines: light strokes, {_held(saw)}, until it goes."
    return f"Only where a point shines: one light stroke, {_held(saw)}. Else go on."


def _gullet(
    stage: Stage,
    strokes: int | None,
    lean: str | None,
    half: bool,
    flat_of: int | None,
    saw: Saw | None,
    off: int | None,
    shares: Sequence[str],
) -> str:
    count = "Light strokes" if strokes is None else times(strokes, "stroke")
    held = "square across" if stage is Stage.RESHAPE else _held(saw)
    pressed = f", lean to the {lean}" if lean in ("heel", "toe") else ""
    if off is not None:
        pressed = f", lean off tooth {off}"
    if shares:
        return _to_shares(count, held, pressed, shares)
    work = f"{count}, {held}{pressed}."
    end = "Stop when half the flat is gone." if half else "Stop when the flat just goes."
    if flat_of is not None:
        end = f"Stop when flat {flat_of} just goes."
    if len(work) + 1 + len(end) > ROOM:
        end = "Stop at half the flat." if half else "Stop as the flat goes."
        end = end if flat_of is None else f"Stop as flat {flat_of} goes."
    return f"{work} {end}"


def _to_shares(count: str, held: str, pressed: str, shares: Sequence[str]) -> str:
    """The work of a gullet with what goes of each flat, said whole: the count gives way, then how it is held."""
    works = (f"{count}, {held}{pressed}", f"{held}{pressed}", pressed.removeprefix(", ") or held)
    said = [f"{work[:1].upper()}{work[1:]}: {stop}." for work in works for stop in shares]
    return next((one for one in said if len(one) <= ROOM), said[-1])


def _held(saw: Saw | None) -> str:
    if saw is None or saw.slope == 0:
        return "held level"
    return f"handle {half_up(abs(saw.slope), 1):g}° {'low' if saw.slope > 0 else 'high'}"


def _pass(number: int | None, of: int | None) -> str:
    if number is None:
        return "One pass: "
    return f"Pass {number}: " if of is None else f"Pass {number} of {of}: "


def _along(saw: Saw | None) -> str:
    return "toe to heel" if saw is not None and saw.start is End.TOE else "heel to toe"


def _bend(saw: Saw | None) -> str:
    if saw is None:
        return "upper half at most"
    return f"its top {percent(saw.bent_share)}"
