"""Retoothing in numbers, and whether it is worth it: said honestly, with the reason and who says so."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from session.advice.sourced_figure import DERIVED, JUDGMENT, MEMORY, OWN_RECIPE, OWN_RECORDS, Figure, amount
from session.texts.cautions import caution
from session.texts.wording import times
from session.trade.file_choice import Reason, face_needs, tooth_to_fit
from session.trade.file_life import STROKES_A_TOOTH, TEETH_PER_CORNER
from session.trade.file_names import CORNERS
from session.trade.leveling import PASS_MM
from session.trade.retoothing import SAME_MM, Retoothing, retoothing
from session.trade.rounding import decimals, half_up, significant, whole_number
from session.trade.saw import Saw
from session.trade.strokes import LIGHT_MM, Bite, stroke_range, usual_bite
from session.trade.tooth import shallowest_mm, tooth_of
from session.value_class import dataclass

#: Seconds that a stroke, a new place of the file and a pass of the leveling file take: from memory.
STROKE_S: Final = 1.5
PLACE_S: Final = 4.0
PASS_S: Final = 10.0

#: Each gullet is gone to twice: half deep along the line, then to the marks (GOR shapes every gullet in order).
ROUNDS: Final = 2

#: A pitch that is finer or coarser by less than this is not felt in the cut; a change of rake that so many sharpenings
#: bring by themselves is left to them; more hours than this are long at a vise: judgment.
NOT_FELT: Final = 0.1
BY_ITSELF: Final = 10
LONG_H: Final = 3.0


@dataclass(frozen=True, slots=True)
class RetoothAdvice:
    """new: the saw as it would be. figures: what it comes to. worth: whether it is advised; reasons: why, or why not.

    how: what is done, in order, for those who do it all the same.
    """

    new: Saw
    made: Retoothing
    figures: tuple[Figure, ...]
    worth: bool
    reasons: tuple[Reason, ...]
    how: tuple[str, ...]


def retooth_advice(
    old: Saw, new: Saw, bite: Bite, each_mm: float | None = None, left_mm: float | None = None
) -> RetoothAdvice:
    """What cutting the teeth of ``new`` into ``old`` comes to.

    bite: of one stroke, by the records; one that no record taught stands for the usual one. each_mm: what a sharpening
    of this saw takes off the line by its records; None for a light one. left_mm: what the line may still come down;
    None where nobody told. Raises TradeError as ``retoothing`` does.
    """
    made = retoothing(old, new)
    if not bite.learned:
        bite = usual_bite(new.pitch_mm, old.plate.mm)
    each = each_mm or LIGHT_MM
    figures = tuple(_figures(old, new, made, bite, each))
    against = tuple(_against(old, new, made, each, left_mm, _hours(made, bite.mm3)))
    hard = caution("hard teeth")
    return RetoothAdvice(
        new=new,
        made=made,
        figures=figures,
        worth=not against,
        reasons=(*(against or _speaks_for(old, made)), Reason(f"{hard.hazard} {hard.avoid}", hard.source)),
        how=tuple(_how(old, new, made)),
    )


def _hours(made: Retoothing, bite_mm3: float) -> float:
    """Hours at the vise, without setting and sharpening."""
    strokes = made.filed_mm3 / bite_mm3
    passes = made.lower_mm / PASS_MM
    return (strokes * STROKE_S + ROUNDS * (made.points - 1) * PLACE_S + passes * PASS_S) / 3600


def _figures(old: Saw, new: Saw, made: Retoothing, bite: Bite, each: float) -> Iterator[Figure]:
    recipe = "as the recipe gives it"
    yield Figure("pitch_before_mm", f"pitch now, {old.count_as}", old.pitch_mm, "mm", recipe, OWN_RECIPE)
    yield Figure("pitch_mm", f"pitch then, {new.count_as}", new.pitch_mm, "mm", "as wished for", DERIVED)
    yield Figure("points_before", "points now", old.points, "", recipe, OWN_RECIPE)
    yield Figure("points", "points then", made.points, "", "as many as the line holds from the first on", DERIVED)
    yield Figure("rake_before_deg", "rake on the guide block now", old.rake, "deg", recipe, OWN_RECIPE)
    yield Figure("rake_block_deg", "rake on the guide block then", new.rake, "deg", "as wished for", DERIVED)
    yield Figure("fleam_deg", "fleam then", new.fleam, "deg", "as wished for", DERIVED)
    first = "where the line has to come down least"
    yield Figure("first_mm", "first new point, from the first old one", made.first_mm, "mm", first, DERIVED)
    yield Figure("points_kept", "points that stay where they are", made.kept, "", "within 0.05 mm", DERIVED)
    lower = "the new tooth that the old gullets reach into most has to be whole"
    yield Figure("lower_mm", "the line comes down by", made.lower_mm, "mm", lower, DERIVED)
    formula = f"what the line comes down, / {significant(each, 3)} mm"
    source = f"{DERIVED}; {MEMORY if each == LIGHT_MM else OWN_RECORDS}"
    yield Figure("sharpenings_worth", "sharpenings that take as much", _ups(made.lower_mm / each), "", formula, source)
    flat = "line down · pitch / depth of the old tooth"
    yield Figure("flat_mm", "flat on an old tooth then, before filing", made.flat_mm, "mm", flat, DERIVED)
    yield Figure("depth_mm", "depth of the new tooth", tooth_of(new).depth_mm, "mm", "pitch / (tan F + tan B)", DERIVED)
    best = face_needs(tooth_to_fit(new)).advised_mm
    yield Figure("file_face_advised_mm", "face that serves the new teeth best", best, "mm", "twice the flank", MEMORY)
    yield from _work(made, bite)


def _work(made: Retoothing, bite: Bite) -> Iterator[Figure]:
    source = f"{DERIVED}; {OWN_RECORDS if bite.learned else MEMORY}"
    gullets = made.points - 1
    one = made.filed_mm3 / gullets
    fewest, likely, most = stroke_range(one, bite)
    formula = f"{significant(one, 3)} mm³ a gullet / {significant(bite.mm3, 3)} mm³ a stroke; {fewest} to {most}"
    yield Figure("strokes_per_gullet", "strokes a gullet", likely, "", formula, source)
    total = max(gullets if one else 0, whole_number(made.filed_mm3 / bite.mm3))
    yield Figure("strokes_total", "strokes in all", total, "", f"{significant(made.filed_mm3, 3)} mm³ of steel", source)
    passes = _ups(made.lower_mm / PASS_MM)
    yield Figure(
        "passes", "passes of the flat file", passes, "", f"{PASS_MM:g} mm a light pass", f"{DERIVED}; {MEMORY}"
    )
    hours = f"{STROKE_S:g} s a stroke, {PLACE_S:g} s a place, {PASS_S:g} s a pass; setting and sharpening not counted"
    for key, words, mm3 in (
        ("hours", "hours at the vise", bite.mm3),
        ("hours_low", "hours, from", bite.high_mm3),
        ("hours_high", "hours, to", bite.low_mm3),
    ):
        yield Figure(key, words, half_up(_hours(made, mm3), 1), "", hours, f"{DERIVED}; {MEMORY}")
    teeth = total / STROKES_A_TOOTH / (TEETH_PER_CORNER * len(CORNERS))
    formula = f"a corner wears by {STROKES_A_TOOTH * TEETH_PER_CORNER} strokes, a file by {len(CORNERS)} corners"
    yield Figure("files_used", "saw files used up", half_up(teeth, 1), "", formula, f"{MEMORY}; {JUDGMENT}")


def _against(
    old: Saw, new: Saw, made: Retoothing, each: float, left_mm: float | None, hours: float
) -> Iterator[Reason]:
    """What speaks against it; nothing where it is worth doing."""
    felt = abs(new.pitch_mm / old.pitch_mm - 1)
    same = felt < 1e-6 and not new.zones and not old.zones
    if same and (new.rake, new.fleam, new.slope) == (old.rake, old.fleam, old.slope):
        yield Reason("These are the teeth that the saw has.", DERIVED)
        return
    worth = _ups(made.lower_mm / each)
    if same and worth <= BY_ITSELF:
        many = max(1, worth)
        text = (
            f"No work of its own: hold the file at the new angles from now on. {times(many, 'sharpening')} "
            f"{'takes' if many == 1 else 'take'} as much off the line, and the new teeth come with "
            f"{'it' if many == 1 else 'them'}."
        )
        yield Reason(text, f"{DERIVED}; {JUDGMENT}")
    elif not same and felt < NOT_FELT and not new.zones and not old.zones:
        text = "A pitch that is finer or coarser by less than a tenth is not felt in the cut: leave it as it is."
        yield Reason(text, JUDGMENT)
    if left_mm is not None and made.lower_mm > left_mm:
        down, left = (amount(mm, old.unit) for mm in (made.lower_mm, left_mm))
        yield Reason(f"The line would come down by {down}, and may lose no more than {left}.", DERIVED)
    if hours > LONG_H:
        text = (
            f"About {decimals(hours, 1)} hours by hand. A machine made for it cuts new teeth in minutes, and then the "
            "saw is only set and sharpened; or take a saw that has these teeth."
        )
        yield Reason(text, f"{MEMORY}; {JUDGMENT}")


def _speaks_for(old: Saw, made: Retoothing) -> tuple[Reason, ...]:
    if made.lower_mm <= LIGHT_MM and made.kept == made.points:
        return (Reason("Every new point stands on an old one: steel goes from the gullets alone.", DERIVED),)
    share = made.lower_mm / shallowest_mm(old)
    text = f"The line comes down by {amount(made.lower_mm, old.unit)}, {whole_number(share * 100)} % of an old tooth."
    return (Reason(text, DERIVED),)


def _how(old: Saw, new: Saw, made: Retoothing) -> Iterator[str]:
    if made.lower_mm > PASS_MM / 2:
        left = (
            "until nothing is left of the old teeth"
            if made.whole_teeth
            else f"until the flats are {amount(made.flat_mm, old.unit)} wide"
        )
        yield f"Level the line, down by {amount(made.lower_mm, old.unit)}: {left}."
    yield f"Tape the strip to the plate, {mark_one(old, made)}, the rest toward the toe."
    yield (
        f"File square across at rake {new.rake:g}°, every gullet in order, all of them half deep first; then until two "
        "gullets meet at each mark (GOR p. 150)."
    )
    yield "Give the saw its new figures (toothline edit), then level lightly, set and file it as any other."


def mark_one(old: Saw, made: Retoothing) -> str:
    """Where mark 1 of the strip is laid."""
    if made.first_mm < SAME_MM:
        return "mark 1 on the first old point"
    return f"mark 1 toward the toe from the first old point by {amount(made.first_mm, old.unit)}"


def _ups(value: float) -> int:
    """``value`` to the next whole number, what arithmetic leaves over not counted."""
    return max(0, math.ceil(value - 1e-6))
