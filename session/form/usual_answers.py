"""What is usual for a field, with who says so: taken where the answer is "I don't know"."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.advice.sourced_figure import amount
from session.form.form_fields import FormField
from session.form.nearest_saw import Pattern
from session.trade.gauge import thickness_mm
from session.trade.kerf import kerf_mm, set_from_measurement_mm
from session.trade.lengths import Length, in_unit
from session.trade.pitch import from_points_per_25mm, from_points_per_inch, from_teeth_per_inch
from session.trade.rounding import half_up
from session.trade.saw import Saw
from session.trade.set_rules import set_advice
from session.trade.told_amounts import ToldCount
from session.trade.trade_error import TradeError
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Usual:
    """A usual answer: as it would be typed, and where it comes from. comes_to: what calipers would read, where it is a
    number of a gauge."""

    text: str
    source: str
    comes_to: str = ""

    @property
    def words(self) -> str:
        """The answer, with what it comes to."""
        return f"{self.text}, {self.comes_to}" if self.comes_to else self.text


@dataclass(frozen=True, slots=True)
class SoFar:
    """What is known of the saw so far; None where nothing was told that could be read."""

    kind: str | None = None
    cut: str | None = None
    length: Length | None = None
    count: ToldCount | None = None
    plate_mm: float | None = None
    over_points: Length | None = None
    wood: str | None = None


def usual(
    name: FormField, unit: str, pattern: Pattern, known: SoFar, *, alike: bool, own: bool = False
) -> Usual | None:
    """What is usual for ``name``, lengths in ``unit``; None where nothing is.

    alike: the saw was said to be like ``pattern``, so that even what has to be told of a saw is taken from there.
    own: ``pattern`` is the saw itself, so that what it has stands until something else is told.
    """
    if own:
        return _as_it_is(name, pattern.recipe.saw)
    if name not in _OF_SAW:
        return _set_usual(unit, pattern, known, alike=alike) if name is FormField.PER_SIDE else None
    # What is like another saw is as that was written: a unit turned into the other one is another figure.
    text = _OF_SAW[name](pattern.recipe.saw, "" if alike else unit)
    if text is None or (name in _ITS_OWN and not alike):
        return None
    if name is FormField.FLEAM and known.cut == "rip":
        return Usual("0°", "NOYES, KING, MTS, DREW: a rip saw is filed square")
    source = pattern.sources.get(_SOURCE_KEY.get(name, ""), "")
    named, gauge = f"as {pattern.called} has it", pattern.recipe.saw.gauge
    comes_to = amount(thickness_mm(gauge), unit) if name is FormField.PLATE and gauge is not None else ""
    return Usual(text, f"{source}; {named}" if source else _UNSOURCED.get(name, named), comes_to)


def _as_it_is(name: FormField, saw: Saw) -> Usual | None:
    length = {FormField.PER_SIDE: saw.set_per_side, FormField.FACE: saw.face}.get(name)
    text = length.text if length is not None else _OF_SAW[name](saw, "") if name in _OF_SAW else None
    if name is FormField.NAME:
        text = saw.name
    if name is FormField.POINTS and saw.points_counted:
        text = str(saw.points)
    return None if text is None else Usual(text, "as its recipe has it")


def _set_usual(unit: str, pattern: Pattern, known: SoFar, *, alike: bool) -> Usual | None:
    saw = pattern.recipe.saw
    wood, plate = known.wood or saw.wood, known.plate_mm or saw.plate.mm
    advice = set_advice(known.kind or saw.kind, saw.cut, wood, plate, pitch_mm(known.count) or saw.pitch_mm)
    if known.over_points is not None and known.plate_mm is not None:
        try:
            now = set_from_measurement_mm(known.over_points.mm, known.plate_mm)
        except TradeError:
            now = 0.0
        if 0.0 < now <= 2.0 * plate and kerf_mm(plate, now) <= 2.0 * plate:
            spread = f"{amount(advice.low_mm, unit)} to {amount(advice.high_mm, unit)}"
            return Usual(
                amount(now, unit),
                f"what it has now, by your calipers; usual in {wood} is {spread}, {advice.source}",
            )
    if saw.set_per_side is not None and wood == saw.wood and known.kind in (None, saw.kind):
        source = pattern.sources.get("per_side", "")
        named = f"as {pattern.called} has it"
        text = _length(saw.set_per_side, "" if alike else unit)
        return Usual(text, f"{source}; {named}" if source else named)
    middle = (advice.low_mm + advice.high_mm) / 2.0
    return Usual(amount(middle, unit), f"{advice.source}: the middle of what is usual in {wood}")


def pitch_mm(count: ToldCount | None) -> float | None:
    """The pitch that a told count comes to, in mm; None without one, or for one that gives no pitch."""
    if count is None:
        return None
    if isinstance(count.value, Length):
        return count.value.mm or None
    by = {
        "points_per_inch": from_points_per_inch,
        "teeth_per_inch": from_teeth_per_inch,
        "points_per_25mm": from_points_per_25mm,
    }
    try:
        return by[count.key](count.value)
    except TradeError:
        return None


def _count(saw: Saw, unit: str) -> str:
    return saw.count_as


def _length(length: Length, unit: str) -> str:
    """As it was written where the form shows that unit, or no other is wanted; else converted to it."""
    if unit in ("", length.unit):
        return length.text
    if unit == "mm" and length.mm >= _WHOLE_FROM_MM:
        return f"{half_up(length.mm):g} mm"
    return in_unit(length.mm, unit) if length.mm >= 2.0 else amount(length.mm, unit)


#: What is so long and only usual is told in whole millimeters: 14 in is no 355.6 mm that anyone measured (judgment).
_WHOLE_FROM_MM: Final = 100.0

_OF_SAW: Final[dict[FormField, Callable[[Saw, str], str | None]]] = {
    FormField.KIND: lambda saw, unit: saw.kind,
    FormField.CUT: lambda saw, unit: str(saw.cut),
    FormField.LENGTH: lambda saw, unit: _length(saw.toothed_length, unit),
    FormField.COUNT: _count,
    FormField.PLATE: lambda saw, unit: f"{saw.gauge} gauge" if saw.gauge is not None else _length(saw.plate, unit),
    FormField.RAKE: lambda saw, unit: f"{saw.rake:g}°",
    FormField.FLEAM: lambda saw, unit: f"{saw.fleam:g}°",
    FormField.LEANS: lambda saw, unit: str(saw.first_leans),
    FormField.JAW: lambda saw, unit: _length(saw.vise_jaw, unit),
    FormField.WOOD: lambda saw, unit: saw.wood,
}

#: What is a saw's own and nobody's usual.
_ITS_OWN: Final = frozenset({FormField.KIND, FormField.CUT, FormField.LENGTH, FormField.COUNT})

#: The key under which a supplied recipe names the source.
_SOURCE_KEY: Final = {
    FormField.LENGTH: "toothed_length",
    FormField.COUNT: "points_per_inch",
    FormField.PLATE: "plate",
    FormField.RAKE: "rake",
    FormField.FLEAM: "fleam",
}

_UNSOURCED: Final = {
    FormField.LEANS: "not known before you look; asked again at the saw before the first bend or stroke",
    FormField.JAW: "from memory: 10 to 14 in is common; measure yours",
}
