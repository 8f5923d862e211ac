"""The zones of a progressive line for `toothline plan`, as they are told on the command line: from heel to toe.

SPON prints rip saws that are coarser at the heel than at the toe. Each zone has its own pitch and, if wanted, its own
rake; fleam and slope are the recipe's.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Final

from session.commands.trouble import Trouble
from session.counsel.figure import amount
from session.trade.files import FaceNeeds, face_needs
from session.trade.lengths import LengthError, parse_length
from session.trade.pitch import PitchError, from_points_per_25mm, from_points_per_inch, from_teeth_per_inch
from session.trade.saw import Saw
from session.trade.tooth import Tooth, ToothError, tooth
from session.trade.zones import Line, Zone, ZoneError

#: How a zone is written.
ALLOWED: Final = 'such as "10 in; 4 points per inch; rake 0", the rake only where it differs from the recipe\'s'

_COUNTS: Final[dict[str, Callable[[float], float]]] = {
    "points per inch": from_points_per_inch,
    "teeth per inch": from_teeth_per_inch,
    "points per 25 mm": from_points_per_25mm,
}

COLUMNS: Final = ("teeth", "pitch", "rake on the block", "on the plate", "depth", "face wider than", "serves best")


@dataclass(frozen=True, slots=True)
class Stretch:
    """One zone with the teeth that it holds, counted from the heel, the tooth it gives and the face that asks for."""

    first: int
    last: int
    zone: Zone
    made: Tooth
    needs: FaceNeeds


def stretches(saw: Saw, told: Sequence[str]) -> tuple[Stretch, ...]:
    """The zones of ``saw``; none when none are told. Raises Trouble for zones that are none or not this saw's."""
    if not told:
        return ()
    try:
        line = Line.of([_zone(saw, text) for text in told])
        end = line.zones[-1]
        if abs(end.upto_mm - saw.toothed_length.mm) > end.pitch_mm:
            raise ZoneError(f"the last zone ends at {amount(end.upto_mm, saw.unit)}; allowed: {saw.toothed_length}")
        found, first = [], 1
        for zone, spaces in zip(line.zones, line.spaces, strict=True):
            made = tooth(zone.pitch_mm, zone.rake, saw.fleam, saw.slope, 0.0, saw.plate.mm, saw.file_points)
            # The last tooth closes the last space and begins none.
            last = first + spaces - (zone is not end)
            found.append(Stretch(first, last, zone, made, face_needs(made)))
            first = last + 1
    except (LengthError, PitchError, ToothError, ZoneError) as wrong:
        raise Trouble(f"--zone: {wrong}") from None
    return tuple(found)


def as_data(found: Sequence[Stretch]) -> list[dict[str, Any]]:
    """The zones for JSON, lengths in mm and angles in degrees."""
    return [
        {
            "first": one.first,
            "last": one.last,
            "pitch_mm": one.made.pitch_mm,
            "rake_block_deg": one.made.rake,
            "rake_plate_deg": one.made.front_deg,
            "depth_mm": one.made.depth_mm,
            "file_face_hard_minimum_mm": one.needs.hard_minimum_mm,
            "file_face_advised_mm": one.needs.advised_mm,
        }
        for one in found
    ]


def as_rows(found: Sequence[Stretch], unit: str) -> list[Sequence[str]]:
    """A row for each zone under COLUMNS; the advised face is from memory."""
    return [
        (
            f"{one.first}–{one.last}",
            amount(one.made.pitch_mm, unit),
            f"{one.made.rake:g}°",
            f"{one.made.front_deg:.1f}°",
            amount(one.made.depth_mm, unit),
            amount(one.needs.hard_minimum_mm, unit),
            f"{amount(one.needs.advised_mm, unit)} (from memory)",
        )
        for one in found
    ]


def _zone(saw: Saw, text: str) -> Zone:
    parts = [part.strip() for part in text.split(";")]
    if not 2 <= len(parts) <= 3:
        raise ZoneError(f'"{text}" is not a zone; allowed: {ALLOWED}')
    return Zone(parse_length(parts[0]).mm, _pitch(parts[1]), _number(parts[2], "rake ") if parts[2:] else saw.rake)


def _pitch(text: str) -> float:
    if text.startswith("pitch "):
        return parse_length(text.removeprefix("pitch ")).mm
    for words, pitch_of in _COUNTS.items():
        if text.endswith(f" {words}"):
            return pitch_of(_number(text.removesuffix(words)))
    raise ZoneError(f'"{text}" is no count; allowed: N {", N ".join(_COUNTS)}, or pitch and a length')


def _number(text: str, before: str = "") -> float:
    try:
        if not text.startswith(before):
            raise ValueError
        return float(text.removeprefix(before).replace(",", "."))
    except ValueError:
        wanted = f"{before}and a number" if before else "a number"
        raise ZoneError(f'"{text.strip()}" is not {wanted}; allowed: {ALLOWED}') from None
