"""Answers of a form that can be and are unlikely: what is far from the nearest saw, as a slip of the unit is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.form.form_fields import FormField
from session.form.nearest_saw import Pattern
from session.form.usual_answers import SoFar, pitch_mm
from session.trade.file_choice import WIDEST_FACE_MM
from session.trade.lengths import Length
from session.trade.told_amounts import ToldCount

#: What an answer is once it was read.
Told = str | Length | ToldCount | float | int

#: A figure so many times smaller or larger than that of the nearest saw is asked about: judgment.
FAR: Final = 2.5


def doubts(
    known: SoFar, told: Mapping[FormField, Told], pattern: Pattern, wrong: Mapping[FormField, str], unit: str
) -> dict[FormField, str]:
    """What can be, and is far from what the nearest saw has: a slip of the unit shows there first."""
    saw = pattern.recipe.saw
    found = {}
    for name, mm, usual_mm, shown in (
        (FormField.LENGTH, known.length.mm if known.length else None, saw.toothed_length.mm, str(saw.toothed_length)),
        (FormField.COUNT, pitch_mm(known.count), saw.pitch_mm, saw.count_as),
        (FormField.PLATE, known.plate_mm, saw.plate.mm, str(saw.plate)),
    ):
        if mm is None or name in wrong or usual_mm / FAR <= mm <= usual_mm * FAR:
            continue
        value = told[name]
        words = (
            value.words if isinstance(value, ToldCount) else f"{value} gauge" if isinstance(value, int) else f"{value}"
        )
        found[name] = f"{words} is far from {shown} of {pattern.called}; is the unit right?"
    face = told.get(FormField.FACE)
    if isinstance(face, Length) and FormField.FACE not in wrong and face.mm > WIDEST_FACE_MM:
        found[FormField.FACE] = f"{face} is more than one face of any saw file has (from memory); is the unit right?"
    return found
