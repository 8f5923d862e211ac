"""What the keys of a recipe must be to each other, and what is possible but unusual.

The rules work on the values as read, leaving out those that are wrong by themselves, so that all of a
file's errors can be told at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from session.files.complaints import Complaint
from session.files.key_path import KeyPath
from session.files.recipe_tables import COUNTS, SawTable, TeethTable, ZoneTable
from session.files.sound_values import checked
from session.files.zone_rules import pitch_of, zone_complaints, zones_of
from session.trade.file_choice import narrow_face, tooth_to_fit, warnings
from session.trade.gauge import thickness_mm
from session.trade.kerf import bent_height_mm, kerf_warnings
from session.trade.lengths import MM_PER, Length, by_inches, in_unit, parse_length
from session.trade.pitch import count_points
from session.trade.rounding import significant
from session.trade.saw import FilePoints, Saw
from session.trade.tooth import teeth_of, tooth
from session.trade.trade_error import TradeError
from session.trade.zones import Zone, ZonedLine

#: A counted number of points further than this from the computed one is worth a second count (judgment).
COUNT_AGREES_WITHIN = 0.05


def cross_check(values: Mapping[str, Any], bad: Collection[KeyPath]) -> Iterator[Complaint]:
    """The errors between keys. ``bad`` are the keys that are wrong by themselves; nothing is said of them again."""
    known = _Known(values, bad)
    yield from _one_of_several(known, ("saw",), ("plate_thickness", "plate_gauge"))
    yield from _one_of_several(known, ("teeth",), COUNTS)
    count_key, pitch = known.pitch()
    length = known.length("saw", "toothed_length")
    if pitch is not None and length is not None:
        try:
            count_points(length.mm, pitch)
        except TradeError as problem:
            yield ("teeth", count_key), f"does not go with saw.toothed_length: {problem}"
    if known.given("work", "sides") == 1 and known.given("teeth", "fleam", 0) not in (0, None):
        yield ("work", "sides"), "1 is for a saw filed square; allowed: 2, or 1 when teeth.fleam is 0"
    jaw = known.length("work", "vise_jaw")
    zones = known.zones()
    wrong_zones = list(zone_complaints(pitch, zones, length)) if zones and pitch is not None and length else []
    yield from wrong_zones
    stretches = _stretches(known, pitch, length, [] if wrong_zones else zones)
    coarsest = max((one.pitch_mm for one in stretches), default=pitch)
    if jaw is not None and coarsest is not None and jaw.mm < coarsest:
        yield ("work", "vise_jaw"), f"{jaw} is shorter than one pitch; allowed: {in_unit(coarsest, jaw.unit)} or more"
    per_side, least = known.length("set", "per_side"), known.length("set", "least_per_side")
    if per_side is not None and least is not None and least.mm > per_side.mm * (1 + 1e-9):
        yield ("set", "least_per_side"), f"{least} is more than set.per_side; allowed: at most {per_side}"
    yield from _shapes(known, stretches, per_side)


def unusual(saw: Saw) -> tuple[str, ...]:
    """What is possible but worth a word before steel is cut, each with its source. Nothing here is an error."""
    found: list[str] = []
    unit = saw.unit if by_inches(saw.unit) else "mm"
    if saw.face is not None and (narrow := narrow_face(saw.face, tooth_to_fit(saw))) is not None:
        found.append(f"file.face: {narrow.text} ({narrow.source}).")
    told = {one.text: one for made in teeth_of(saw) for one in warnings(made, unit=unit)}
    found.extend(f"teeth: {one.text} ({one.source})" for one in told.values())
    set_mm = saw.set_per_side.mm if saw.set_per_side is not None else 0.0
    found.extend(f"set: {words}" for words in kerf_warnings(saw.plate.mm, set_mm, saw.bent_share, unit))
    if saw.points_counted:
        computed = ZonedLine.of(saw.zones).points if saw.zones else count_points(saw.toothed_length.mm, saw.pitch_mm)
        if abs(saw.points - computed) > max(1.0, COUNT_AGREES_WITHIN * computed):
            found.append(
                f"saw.points_counted: {saw.points} were counted, but {saw.toothed_length} at {saw.count_as} has "
                f"{computed}; {saw.points} is used. {_mended_count(saw)}"
            )
    return tuple(found)


def _mended_count(saw: Saw) -> str:
    """How a count and a length that contradict are mended; of a line in zones there is no one length to expect."""
    if saw.zones:
        return "Count again, or measure again."
    long = in_unit((saw.points - 1) * saw.pitch_mm, saw.toothed_length.unit)
    return f"Count again, or measure: {saw.points} of these are {long} long."


def plate_of(saw: SawTable) -> Length:
    """The plate's thickness; that of a gauge number in the unit of the toothed length."""
    if saw.plate_thickness is not None:
        return saw.plate_thickness
    assert saw.plate_gauge is not None, "cross_check wants one of the two"
    return Length.of(thickness_mm(saw.plate_gauge), "in" if by_inches(saw.toothed_length.unit) else "mm")


class _Known:
    """The values of a recipe that are right by themselves."""

    def __init__(self, values: Mapping[str, Any], bad: Collection[KeyPath]) -> None:
        self._values = values
        self._bad = frozenset(bad)

    def table(self, name: str) -> Mapping[str, Any] | None:
        table = self._values.get(name)
        return table if isinstance(table, Mapping) else None

    def given(self, table: str, key: str, otherwise: Any = None) -> Any:
        """The value; None when it is wrong; ``otherwise`` when it is not there."""
        if (table, key) in self._bad or (table,) in self._bad:
            return None
        return (self.table(table) or {}).get(key, otherwise)

    def length(self, table: str, key: str) -> Length | None:
        text = self.given(table, key)
        return parse_length(text) if text is not None else None

    def zones(self) -> list[ZoneTable]:
        """The zones of the line beyond the first; none when anything of them is wrong."""
        zones = self.given("teeth", "zone")
        if zones is None or any(path[:2] == ("teeth", "zone") for path in self._bad):
            return []
        return [checked(ZoneTable, zone) for zone in zones]

    def pitch(self) -> tuple[str, float | None]:
        """The key that says how fine the teeth are, and the pitch in mm when that can be known."""
        counts = [key for key in COUNTS if key in (self.table("teeth") or {})]
        value = self.given("teeth", counts[0]) if len(counts) == 1 else None
        if value is None:
            return "", None
        teeth = checked(TeethTable, {counts[0]: value, "rake": 0.0})
        return counts[0], pitch_of(teeth)[0]


def _one_of_several(known: _Known, path: tuple[str], keys: tuple[str, ...]) -> Iterator[Complaint]:
    table = known.table(path[0])
    if table is None:
        return
    given = [key for key in table if key in keys]
    allowed = f"exactly one of {', '.join(keys)}"
    if not given:
        yield path, f"lacks {keys[0]} or one in its place; allowed: {allowed}"
    for key in given[1:]:
        yield (*path, key), f"cannot stand beside {given[0]}; allowed: {allowed}"


def _stretches(known: _Known, pitch: float | None, length: Length | None, zones: list[ZoneTable]) -> tuple[Zone, ...]:
    """The zones of the line, from the heel; none while the pitch or the rake there is not known."""
    rake = known.given("teeth", "rake")
    if pitch is None or rake is None:
        return ()
    # Where the line ends matters to no rule of its teeth.
    return zones_of(pitch, rake, zones if length is not None else [], length or Length.of(pitch, "mm"))


def _shapes(known: _Known, stretches: Sequence[Zone], per_side: Length | None) -> Iterator[Complaint]:
    """The angles must leave a tooth, and the bent part must be longer than it is bent aside (geometry)."""
    fleam, slope = known.given("teeth", "fleam", 0.0), known.given("teeth", "slope", 0.0)
    points = known.given("work", "file_points", FilePoints.TOE)
    if fleam is None or slope is None or points is None:
        return
    depths: dict[float, int] = {}
    for number, zone in enumerate(stretches):
        try:
            shape = tooth(zone.pitch_mm, zone.rake, fleam, slope, file_points=points)
        except TradeError as problem:
            yield ("teeth", "zone", number - 1) if number else ("teeth", "slope"), f"{problem}"
        else:
            depths.setdefault(shape.depth_mm, number)
    share = known.given("set", "bent_share", 0.4)
    if not depths or per_side is None or share is None:
        return
    shallowest = min(depths)
    bent = bent_height_mm(shallowest, share)
    if per_side.mm >= bent:
        # More places than are usual, as the limit may round to what was asked for.
        most = f"{significant(bent / MM_PER[per_side.unit], 4)} {per_side.unit}"
        where = f" in zone {depths[shallowest]}" if depths[shallowest] else ""
        words = f"{per_side} is more than the bent part of the tooth is long{where}; allowed: under {most}"
        yield ("set", "per_side"), words
