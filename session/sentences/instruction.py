"""The instruction line: what to do at the place in hand, and when to stop, for one row of the bench."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from session.texts.wording import capital, times
from session.trade.evening import Lean
from session.trade.lengths import in_unit
from session.trade.rounding import half_up
from session.trade.saw import End, Saw
from session.trade.tooth import tooth_of
from session.value_class import dataclass
from session.walk.stages import Stage

#: The longest instruction, in characters: one row of an 80-column screen inside its frame.
ROOM = 76


#: How a file is held, and the same where there is room for no more words: that the block is level stands beside it.
_SHORTER: Final = {", file level": "", ", square across": ", square"}


class Shines(StrEnum):
    """What shows that a gullet still has steel to give, where nobody graded the flats."""

    FLAT = "flat"  # one that a leveling pass has just left
    POINT = "point"  # a dull point, where no pass was made
    ALL_ALIKE = "all alike"  # nothing is looked for: a touch up, no pass made before it


@dataclass(frozen=True, slots=True, kw_only=True)
class GulletWork:
    """What one gullet is to be given.

    strokes: how many to expect, 0 or more; None when nothing is known yet.
    lean: toward which tooth the file is pressed; "straight" is evenly.
    half: only half of each flat is to go, because the other side takes the rest (KING, MTS, WHEEL).
    flat_of: the tooth whose flat just goes; None when it is said of no tooth in particular.
    halved: the other tooth, where its flat is the wider: the file is pressed to it first, until half of it is gone,
        and then to ``flat_of``; None where one way of pressing holds until the end.
    flats: the teeth beside the gullet that have a flat for all that is known, one or two, to say whose it is.
    shares: what goes of each flat here, longest words first, where it is known where the flats lie; empty for what
        ``half`` and ``flat_of`` say.
    off: a broken tooth beside the gullet: the file is pressed away from the stump, to keep its neighbor's size (DREW).
    only: for gullets that are filed a little once more: nothing is taken where that does not shine (FIT); in a touch
        up the same one or two strokes are taken in every gullet (ZERBE; NOYES), as there is no flat to stop at.
    low: the tooth has no flat, so nothing may come off it (HASL).
    """

    strokes: int | None = None
    lean: Lean = Lean.STRAIGHT
    half: bool = False
    flat_of: int | None = None
    halved: int | None = None
    flats: tuple[int, ...] = ()
    shares: Sequence[str] = ()
    off: int | None = None
    only: Shines | None = None
    low: bool = False


def bend_words() -> str:
    """How one tooth is bent; how much of it is what its anvil is set to."""
    return "Squeeze once: bend the tooth away from you until it rests on the anvil."


def again_words(stage: Stage) -> str:
    """What to do at a tooth or a gullet that was worked, flagged and gone back to: nothing is worked twice unseen."""
    if stage is Stage.SET:
        return "Look: it was bent. Bend it again only if it is short of its neighbors."
    return "Look: it was filed. File it again only where a flat still shines."


def anvil_words(saw: Saw) -> str:
    """How low the anvil of the saw set stands, by a length that can be looked at, on which side of the tooth, and that
    it is adjusted once, or once a zone; ``saw`` as it is at the tooth in hand."""
    deep = in_unit(tooth_of(saw).depth_mm * saw.bent_share, saw.unit)
    return f"Anvil beyond, {deep} below the point: set it there once{' a zone' if saw.zones else ''}."


def pass_words(stage: Stage, number: int, of: int, saw: Saw) -> str:
    """Pass ``number`` of so many, of the leveling file or of the stone."""
    along = "toe to heel" if saw.start is End.TOE else "heel to toe"
    # Of one pass its number says nothing.
    which = f"Pass {number} of {of}: " if of > 1 else ""
    if stage is Stage.LEVEL:
        # Which of how many it is says that it is one.
        once = "mill file" if which else "flat mill file once,"
        told = f"{which}push the {once} lengthwise on the points, {along}."
    else:
        told = f"{which}stone the teeth once, an oilstone laid flat, {along}."
    return capital(told)


def gullet_words(stage: Stage, work: GulletWork, saw: Saw) -> str:
    """What to do in one gullet and when to stop, in at most `ROOM` characters."""
    if work.low:
        # In a touch up no flat is looked for at all.
        why = "No flat here" if work.only is None else "Low teeth beside it"
        return f"{why}: do not file this gullet. Go on."
    if work.only is not None:
        return _only(work.only, saw)
    if work.strokes == 0:
        if work.shares:
            return "No stroke here: both flats go with the gullets beside this one. Go on."
        return "No stroke here: this gullet has given enough. Go on."
    # The count only foretells: the flat says when to stop.
    count = "Light strokes" if work.strokes is None else f"About {times(work.strokes, 'stroke')}"
    if work.halved is not None:
        return _one_then_the_other(count, work.halved, work.flat_of)
    held = "square across" if stage is Stage.RESHAPE else _held(saw)
    pressed = "" if work.lean is Lean.STRAIGHT else f", press to the {work.lean}"
    if work.off is not None:
        pressed = f", keep off tooth {work.off}"
    if work.shares:
        return _to_shares(count, held, pressed, work.shares)
    if not pressed and len(work.flats) != 1:
        pressed = ", press evenly"
    held = f", {held}"
    told = (f"{count}{held}{pressed}.", f"{count}{_SHORTER.get(held, held)}{pressed}.")
    ends = _ends(work)
    # Flats by their numbers before the way that the file is held, which the picture shows.
    named = [end for end in ends if any(map(str.isdigit, end))]
    said = [f"{one} {end}" for some in (named, ends) for one in told for end in some]
    said += [_bare(one) for one in said]
    return next((one for one in said if len(one) <= ROOM), said[-1])


def _one_then_the_other(count: str, halved: int, goes: int | None) -> str:
    """Both ways of pressing in the order in which they come; how the file is held stands beside the picture."""
    first, last = f"press to {halved} down to half its flat, then to {goes}", f"until flat {goes}"
    said = [
        f"{much}{first} {last} {end}." for much in (f"{count}: ", f"{_bare(count)}: ") for end in ("just goes", "goes")
    ]
    return next((one for one in said if len(one) <= ROOM), f"{capital(first)} {last} goes.")


def _bare(count: str) -> str:
    """``count`` in fewer letters."""
    return count.removeprefix("About ").replace("Light strokes", "Lightly")


def _ends(work: GulletWork) -> tuple[str, ...]:
    """When to stop, longest words first: whose flat it is, as there is one on either side of the gullet."""
    if work.flat_of is not None:
        return f"Stop when flat {work.flat_of} just goes.", f"Stop as flat {work.flat_of} goes."
    if not work.half:
        match work.flats:
            case (one,):
                return f"Stop when flat {one} just goes.", f"Stop as flat {one} goes."
            case (one, other):
                both = f"flats {one} and {other}"
                return f"Stop when {both} just go.", f"Stop as {both} go.", "Stop as both flats go."
        return "Stop when the flat just goes.", "Stop as the flat goes."
    match work.flats:
        case (one,):
            return f"Stop when half of flat {one} is gone.", f"Stop at half of flat {one}."
        case (one, other):
            both = f"half of flats {one} and {other}"
            return f"Stop when {both} is gone.", f"Stop at {both}.", "Stop at half of each flat."
    return "Stop when half of each flat is gone.", "Stop at half of each flat."


def _only(shines: Shines, saw: Saw) -> str:
    if shines is Shines.ALL_ALIKE:
        return f"Light strokes, the same one or two in every gullet, {_held(saw)}."
    if shines is Shines.FLAT:
        return f"Only where a flat shines: light strokes, {_held(saw)}, until it goes."
    return f"Only where a point shines: one light stroke, {_held(saw)}. Else go on."


def _to_shares(count: str, held: str, pressed: str, shares: Sequence[str]) -> str:
    """The work of a gullet with what goes of each flat, said whole: the count gives way, then how it is held."""
    works = (f"{count}, {held}{pressed}", f"{held}{pressed}", pressed.removeprefix(", ") or held)
    said = [f"{capital(work)}: {stop}." for work in works for stop in shares]
    return next((one for one in said if len(one) <= ROOM), said[-1])


def _held(saw: Saw) -> str:
    if saw.slope == 0:
        return "file level"
    return f"handle {half_up(abs(saw.slope), 1):g}° {'down' if saw.slope > 0 else 'up'}"
