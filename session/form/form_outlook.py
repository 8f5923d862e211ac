"""What follows from the answers so far: tooth, file, kerf and strokes, computed anew at each change."""

from __future__ import annotations

import re
from typing import Final

from session.advice.saw_figures import figure_groups
from session.form.form_fields import FormField, field_of
from session.form.form_reading import Reading
from session.texts.field_words import field_words
from session.trade.file_choice import Fit, face_needs, fit_of, tooth_to_fit
from session.trade.trade_error import TradeError
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Outlook:
    """What follows. lines: heading and figures, one line each. warnings: what is possible but unusual, a sentence each.

    supposed: whether figures of the nearest saw stand in for some that are still to be told.
    """

    lines: tuple[tuple[str, str], ...]
    warnings: tuple[str, ...] = ()
    supposed: bool = False


#: Without these every figure would be that of another saw.
_BEFORE: Final = (FormField.KIND, FormField.CUT, FormField.COUNT)

_YOURS: Final = {
    Fit.SERVES: "serves",
    Fit.LARGE: "is larger than needed",
    Fit.NARROW: "is narrow and will do",
    Fit.TOO_NARROW: "is too narrow",
}

#: A key of a recipe, with its table or alone.
_KEY: Final = re.compile(r"(?:saw|teeth|set|file|work)(?:\.[a-z_]+)?")

_NOTHING: Final = Outlook((("Nothing", "follows yet: tell its kind, its cut and its teeth."),))


def outlook(reading: Reading, unit: str) -> Outlook:
    """What ``reading`` comes to, lengths in ``unit``, "in" or "mm"."""
    recipe = reading.sketch()
    if recipe is None or not reading.founded or any(name in reading.missing for name in _BEFORE):
        return _NOTHING
    saw = recipe.saw
    try:
        figures = {one.key: one for _, group in figure_groups(saw) for one in group}
    except TradeError:
        return _NOTHING

    def told(key: str) -> str:
        return figures[key].shown(unit)

    tooth = f"{told('points')} points, {told('pitch_mm')} apart, {told('depth_mm')} deep; rake {told('rake_block_deg')}"
    if told("rake_plate_deg") != told("rake_block_deg"):
        tooth += f", seen {told('rake_plate_deg')}"
    file = f"a face over {told('file_face_outer_minimum_mm')}, best {told('file_face_advised_mm')} (from memory)"
    if saw.face is not None:
        file += f"; yours {_YOURS[fit_of(saw.face.mm, face_needs(tooth_to_fit(saw)))]}"
    kerf = "no set told, so not known"
    if saw.set_per_side is not None:
        kerf = f"{told('kerf_mm')}: plate {told('plate_mm')} and twice a set of {told('set_per_side_mm')}"
    strokes = f"about {told('strokes_per_gullet')} a gullet, {told('strokes_total')} in all"
    strokes += " (from memory; NOYES prints 1 to 3)"
    lines = (("Tooth", tooth), ("File", file), ("Kerf", kerf), ("Strokes", strokes))
    return Outlook(lines, tuple(map(_of_field, recipe.warnings)), supposed=not reading.ready)


def _of_field(warning: str) -> str:
    """``warning`` with the field that it is about in the place of the recipe's key."""
    key, told, words = warning.partition(": ")
    if not told or not _KEY.fullmatch(key):
        return warning
    return f"{field_words(field_of(tuple(key.split('.')))).title}: {words}"
