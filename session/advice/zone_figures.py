"""A progressive line, zone by zone: its numbers, and what is said where the guide block has to change."""

from __future__ import annotations

from session.trade.lengths import in_unit
from session.trade.saw import Saw
from session.trade.tooth import Tooth, teeth_of
from session.value_class import dataclass
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State


@dataclass(frozen=True, slots=True)
class ZoneFigures:
    """One zone: its first and last tooth from the heel, its block rake in degrees and its tooth."""

    first: int
    last: int
    rake: float
    tooth: Tooth


@dataclass(frozen=True, slots=True)
class ZoneChange:
    """What the zone adds to the words at one place: sentences beside the picture, and another instruction."""

    lines: tuple[str, ...] = ()
    instruction: str = ""


def zone_figures(saw: Saw) -> tuple[ZoneFigures, ...]:
    """The zones of the line from the heel; a plain line is one. Raises TradeError for angles that leave no tooth."""
    return tuple(
        ZoneFigures(first, last, zone.rake, tooth)
        for (first, last, zone), tooth in zip(saw.line.stretches(), teeth_of(saw), strict=True)
    )


def zone_named(saw: Saw, tooth: int) -> str:
    """The zone of ``tooth`` as it is named behind other words, ", teeth 1–42"; nothing on a plain line."""
    if not saw.zones:
        return ""
    first, last = next((first, last) for first, last, _ in saw.line.stretches() if first <= tooth <= last)
    return f", teeth {first}–{last}"


def zoned(state: State, saw: Saw, place: Place) -> ZoneChange:
    """The words of the zone at ``place``, a gullet to be filed or reshaped; nothing on a plain line."""
    if not saw.zones or place.stage not in (Stage.FILE, Stage.RESHAPE):
        return ZoneChange()
    line = saw.line
    here = line.zone_at(place.tooth)
    lines = []
    if len({zone.rake for zone in line.zones}) > 1:
        lines.append(f"Rake here: {here.rake:g}° on the guide block.")
    if len({zone.pitch_mm for zone in line.zones}) > 1:
        lines.append(f"Pitch here: {in_unit(here.pitch_mm, 'in' if saw.unit in ('in', 'thou') else 'mm')}.")
    leg, first = state.route.leg_at(state.here)
    # At the first gullet of a side the block has just been turned over, and may hold the other end's rake.
    before = line.zone_at(leg.places[state.here - first - 1].tooth) if state.here > first else None
    changes = len({zone.rake for zone in line.zones}) > 1 and (before is None or before.rake != here.rake)
    words = f"Guide block at rake {here.rake:g}° from here on; then file this gullet." if changes else ""
    return ZoneChange(tuple(lines), words)
