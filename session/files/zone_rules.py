"""What the zones of a progressive line must be to each other and to the saw, and what they come to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from session.files.complaints import Complaint
from session.files.key_path import KeyPath
from session.files.recipe_tables import COUNTS, Count, ZoneTable
from session.trade.lengths import Length, in_unit
from session.trade.pitch import from_points_per_25mm, from_points_per_inch, from_teeth_per_inch
from session.trade.trade_error import TradeError
from session.trade.zones import Zone, ZonedLine


def pitch_of(teeth: Count) -> tuple[float, str]:
    """The pitch in mm of a checked table and its count in words, such as "8 points per inch"."""
    if teeth.points_per_inch is not None:
        return from_points_per_inch(teeth.points_per_inch), f"{teeth.points_per_inch:g} points per inch"
    if teeth.teeth_per_inch is not None:
        return from_teeth_per_inch(teeth.teeth_per_inch), f"{teeth.teeth_per_inch:g} teeth per inch"
    if teeth.points_per_25mm is not None:
        return from_points_per_25mm(teeth.points_per_25mm), f"{teeth.points_per_25mm:g} points per 25 mm"
    assert teeth.pitch is not None, "one of the four was checked to be there"
    return teeth.pitch.mm, f"pitch {teeth.pitch}"


def zones_of(pitch_mm: float, rake: float, zones: Sequence[ZoneTable], toothed_length: Length) -> tuple[Zone, ...]:
    """The line's zones from the heel, of ``pitch_mm`` and ``rake`` there; what a zone does not say stays as before it.

    A plain line is one zone.
    """
    begins, pitches, rakes = [], [pitch_mm], [rake]
    for zone in zones:
        begins.append(zone.begins.mm)
        pitches.append(pitch_of(zone)[0] if counts_in(zone) else pitches[-1])
        rakes.append(rakes[-1] if zone.rake is None else zone.rake)
    ends = (*begins, toothed_length.mm)
    return tuple(Zone(end, pitch, rake) for end, pitch, rake in zip(ends, pitches, rakes, strict=True))


def counts_in(zone: Count) -> list[str]:
    """The keys of ``zone`` that say how fine its teeth are."""
    return [key for key in COUNTS if getattr(zone, key) is not None]


def zone_complaints(pitch_mm: float, zones: Sequence[ZoneTable], toothed_length: Length) -> Iterator[Complaint]:
    """What is wrong with zones that are right by themselves, on a line of ``pitch_mm`` at the heel."""
    reached = 0.0
    for number, zone in enumerate(zones):
        path: KeyPath = ("teeth", "zone", number)
        counts = counts_in(zone)
        for key in counts[1:]:
            yield (*path, key), f"cannot stand beside {counts[0]}; allowed: at most one of {', '.join(COUNTS)}"
        if not counts and zone.rake is None:
            yield path, f"changes nothing; allowed: rake, or one of {', '.join(COUNTS)}, or both"
        begins = zone.begins
        if not reached < begins.mm < toothed_length.mm:
            least, unit = in_unit(reached, begins.unit), begins.unit
            most = in_unit(toothed_length.mm, unit)
            yield (*path, "begins"), f"{begins} is out of order; allowed: between {least} and {most} from the heel"
            return
        reached = begins.mm
    try:
        ZonedLine.of(zones_of(pitch_mm, 0.0, zones, toothed_length))
    except TradeError as problem:
        yield ("teeth", "zone"), f"with the heel as zone 1: {problem}"
