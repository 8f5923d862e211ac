"""What a saw needs that costs no steel: a recipe put right, a tight handle, a clean and straight plate."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.advice.plausibility import other_count
from session.advice.work import What
from session.trade.lengths import in_unit
from session.trade.observation import Look, Seen
from session.trade.saw import Leans, Saw
from session.trade.seen_words import Cutting, Handle, Plate

_PRACTICE: Final = "common practice, no source"


def care_of(saw: Saw, seen: Seen) -> Mapping[What, tuple[str, str]]:
    """Each kind of care that ``saw`` needs, with its reason and who says so. ``saw``: by its recipe, not the count."""
    care: dict[What, tuple[str, str]] = {}
    recipe = mended(saw, seen)
    if recipe:
        care[What.MEND_RECIPE] = (recipe, "NOYES p. 63; PSM89; derived")
    if seen.handle is Handle.LOOSE:
        care[What.TIGHTEN] = ("The handle is loose: tighten it first, it feels like wander.", _PRACTICE)
    if seen.is_plate(Plate.RUSTY, Plate.GUMMED):
        care[What.CLEAN] = ("The plate is rusty or gummed: clean it, it rubs in the kerf.", _PRACTICE)
    if crooked(seen):
        what = "kinked" if seen.is_plate(Plate.KINKED) else "bent"
        after = "No filing helps." if straighten_first(seen) else "No line is leveled true on a bent plate."
        care[What.STRAIGHTEN] = (f"The plate is {what}: have it straightened first by one who can. {after}", _PRACTICE)
    return care


def crooked(seen: Seen) -> bool:
    """Whether the plate is bent or kinked, on a saw that is not known to cut well with it."""
    return seen.is_plate(Plate.BENT, Plate.KINKED) and seen.last_cut is not Cutting.GOOD


def straighten_first(seen: Seen) -> bool:
    """Whether the plate has to be straight before anything else is worth doing."""
    bent = seen.is_plate(Plate.BENT) and seen.last_cut in (Cutting.WANDERS, Cutting.BINDS, Cutting.JUMPS)
    return crooked(seen) and (seen.is_plate(Plate.KINKED) or bent)


def mended(saw: Saw, seen: Seen) -> str:
    """What of the recipe has to be put right before anything else; empty when it fits."""
    told = []
    odd = other_count(saw, seen)
    if odd is not None:
        look, counted, said = odd
        if look is Look.IN_LINE and saw.zones:
            told.append(
                f"You counted {counted:g} points, the recipe says {said:g}. The count holds: put the zones right by "
                "it, their lengths and their counts, as distances, depth and file follow them."
            )
        elif look is Look.IN_LINE:
            pitch = in_unit(saw.toothed_length.mm / (counted - 1), "in" if saw.unit == "thou" else saw.unit)
            told.append(
                f"You counted {counted:g} points, the recipe says {said:g}. The count holds: the pitch is the "
                f"length / {counted - 1:g} = {pitch}, and distances, depth and file follow."
            )
        else:
            told.append(
                f"You counted {counted:g} points where the recipe says {said:g}, both ends counted: count the whole "
                "line as well and put the recipe right by that, as pitch, distances, depth and file follow it."
            )
    if seen.first_leans is not None and seen.first_leans is not saw.first_leans:
        told.append(
            f"Tooth 1 leans {seen.first_leans}, the recipe says {saw.first_leans}: put the recipe right before "
            "anything is bent or filed, as every side changes with it."
            if seen.first_leans is not Leans.UNSET
            else f"No tooth leans, the recipe says that tooth 1 leans {saw.first_leans}: put that right first."
        )
    return " ".join(told)
