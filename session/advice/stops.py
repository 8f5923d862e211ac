"""What stops all work on a saw, and what is to be heeded whatever is done; both as advice."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from session.advice.plausibility import OTHER_SAW_SHARE, Doubt, other_count, points_of
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.advice.sharpness import hollow_counts
from session.advice.work import Piece, What, piece
from session.texts.wording import fine, teeth
from session.trade.observation import Look, Seen
from session.trade.saw import Saw
from session.trade.seen_words import Bright, Cutting, Plate
from session.trade.tooth import shallowest_mm
from session.value_class import dataclass

#: So many broken teeth in a row, or this share of the line broken, are no matter for a file: judgment, from memory.
BROKEN_IN_A_ROW: Final = 3
BROKEN_SHARE: Final = 0.1


@dataclass(frozen=True, slots=True)
class Advised:
    """What is advised.

    work: in working order, never empty. looks: what to look at first, most telling first. stop: no steel may be taken
    today. less, more: the neighboring choices, () where there is none. doubts: figures that cannot be. notes: what is
    to be heeded whatever is done.
    """

    work: tuple[Piece, ...]
    looks: tuple[Look, ...] = ()
    stop: bool = False
    less: tuple[Piece, ...] = ()
    more: tuple[Piece, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def whats(self) -> tuple[What, ...]:
        """The kinds of work alone."""
        return tuple(one.what for one in self.work)


def stopped(saw: Saw, seen: Seen, records: SawRecords = NO_HISTORY) -> Advised | None:
    """What keeps every file off this saw today; None when nothing does."""
    if seen.crack is not None:
        where = f" at gullet {seen.crack.gullet}" if seen.crack.gullet is not None else ""
        long = f", {seen.crack.length}" if seen.crack.length is not None else ""
        why = f"The plate is cracked{where}{long}: out of use until one who can has seen to it."
        return Advised((piece(What.OUT_OF_USE, why, "OSHA3080"),), stop=True)
    if seen.hard_teeth:
        if seen.last_cut is Cutting.GOOD or seen.bright is Bright.NONE:
            why = "Hard teeth are not filed: use the saw until it is dull, then replace it."
            return Advised((piece(What.NOTHING, why, "GOR; BS3159 5.1"),), stop=True)
        why = "Hard teeth are not filed: a file only skates on them. Replace the saw when it no longer cuts."
        return Advised((piece(What.OUT_OF_USE, why, "GOR; BS3159 5.1"),), stop=True)
    retooth = _too_many_broken(saw, seen) or _too_hollow(saw, seen, records)
    if retooth is not None:
        source = "judgment; from memory"
        less = piece(What.NOTHING, "Hang it up until somebody can retooth it.", source)
        more = piece(What.OUT_OF_USE, "Take it out of use.", source)
        return Advised((piece(What.RETOOTH, retooth, source),), stop=True, less=(less,), more=(more,))
    return _other_saws_recipe(saw, seen)


def _too_many_broken(saw: Saw, seen: Seen) -> str | None:
    broken = seen.broken or ()
    run, points = _longest_run(broken), points_of(saw, seen)
    if run < BROKEN_IN_A_ROW and len(broken) <= BROKEN_SHARE * points:
        return None
    many = f"{run} teeth in a row" if run >= BROKEN_IN_A_ROW else f"{len(broken)} of {points} teeth"
    return f"{many} are broken: not a sharpening. Retooth the stretch or the line, or hang the saw up."


def _too_hollow(saw: Saw, seen: Seen, records: SawRecords) -> str | None:
    """Why the line is retoothed: straight again it would have no tooth left. A saw that cuts well is left alone."""
    gap, depth = seen.line_gap, shallowest_mm(saw)
    if gap is None or gap.mm <= depth or not hollow_counts(saw, seen, records):
        return None
    return (
        f"The line is hollow by {gap}, deeper than its teeth, {fine(depth, gap.unit)}: not a sharpening. Retooth "
        "the line, or hang the saw up."
    )


def _other_saws_recipe(saw: Saw, seen: Seen) -> Advised | None:
    odd = other_count(saw, seen)
    if odd is None:
        return None
    look, counted, said = odd
    if abs((counted - 1) / (said - 1) - 1) <= OTHER_SAW_SHARE:
        return None
    why = f"You counted {counted:g} points where the recipe says {said:g}: this is the recipe of another saw."
    return Advised((piece(What.MEND_RECIPE, why, "NOYES p. 63; judgment"),), (look,), stop=True)


def _longest_run(numbers: Sequence[int]) -> int:
    longest = run = 0
    before = None
    for number in numbers:
        run = run + 1 if before is not None and number == before + 1 else 1
        longest, before = max(longest, run), number
    return longest


def notes(seen: Seen) -> tuple[str, ...]:
    """What to heed in every stage, where nothing stops the work."""
    told = []
    for tooth in (seen.broken or ())[:4]:
        gullets = f"gullets {tooth - 1} and {tooth}" if tooth > 1 else "gullet 1"
        told.append(
            f"Tooth {tooth} is broken: leave the stump, do not bend it, and press away from it in {gullets} (DREW)."
        )
    if len(seen.broken or ()) > 4:
        told.append(f"So for {teeth((seen.broken or ())[4:])}.")
    if seen.low:
        they = "it" if len(seen.low) == 1 else "them"
        told.append(f"Leave {teeth(seen.low)} alone until the line comes down to {they} (HASL p. 74).")
    if seen.last_cut is Cutting.GOOD and seen.is_plate(Plate.BENT, Plate.KINKED):
        told.append("The plate is not straight, and it cuts well with it: leave it so.")
    return tuple(told)
