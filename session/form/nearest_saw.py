"""The supplied saw that one's own is nearest to, and where each of its figures comes from."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache
from typing import Final

from session.files.recipe import Recipe, load_recipe
from session.files.supplied import supplied_recipes
from session.machine.untrusted_text import read_text
from session.texts.wording import lowered
from session.trade.saw import Cut
from session.value_class import dataclass

#: A line of the table of sources at the head of a supplied recipe: the key, the figure, and who says so.
_TOLD: Final = re.compile(r"^#   (\w+) {2,}(\S.*?) {2,}(\S.*)$", re.MULTILINE)

#: How much a difference counts against a saw: another cut most of all, then the kind, then a pitch or a length that is
#: the double or the half. Judgment.
_CUT, _KIND, _PITCH, _LENGTH = 100.0, 3.0, 4.0, 1.0


@dataclass(frozen=True, slots=True)
class Pattern:
    """A saw to start from.

    called: what it is called in words. recipe: its recipe. sources: who stands behind a figure, by the recipe's key;
    nothing of a saw of one's own, whose figures are its owner's. chosen_by: what it is chosen by from a list.
    """

    called: str
    recipe: Recipe
    sources: Mapping[str, str]
    chosen_by: str = ""


@cache
def supplied_patterns() -> tuple[Pattern, ...]:
    """The supplied saws whose line is alike from heel to toe; a progressive line is written by hand."""
    found = []
    for file in supplied_recipes():
        recipe = load_recipe(file)
        if not recipe.saw.zones:
            told = {key: source for key, _, source in _TOLD.findall(read_text(file))}
            name = recipe.saw.name
            found.append(Pattern(f"the supplied {lowered(name)}", recipe, told, file.stem))
    return tuple(found)


def nearest(
    *, kind: str | None = None, cut: str | None = None, pitch_mm: float | None = None, length_mm: float | None = None
) -> Pattern:
    """The supplied saw nearest to what is known of one's own; of what is not known nothing counts.

    >>> nearest(kind="dovetail", cut="rip").called
    'the supplied dovetail saw'
    """

    def apart(pattern: Pattern) -> float:
        saw = pattern.recipe.saw
        cost = _CUT * (cut is not None and saw.cut is not Cut(cut)) + _KIND * (kind is not None and saw.kind != kind)
        if pitch_mm:
            cost += _PITCH * abs(math.log2(pitch_mm / saw.pitch_mm))
        if length_mm:
            cost += _LENGTH * abs(math.log2(length_mm / saw.toothed_length.mm))
        return cost

    return min(supplied_patterns(), key=apart)
