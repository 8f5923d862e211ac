"""Strokes and minutes of the filing, by the flat that a leveling leaves and by what the records taught."""

from __future__ import annotations

import math
from collections.abc import Iterable

from session.advice.sourced_figure import DERIVED, JUDGMENT, MEMORY, OWN_RECORDS, Figure
from session.advice.zone_figures import zone_named
from session.texts.wording import median_of, times
from session.till.set_loss import SetWear
from session.trade.leveling import flat_from_off_mm
from session.trade.rounding import decimals, significant, whole_number
from session.trade.saw import Saw
from session.trade.strokes import LIGHT_MM, Bite, filing_volume_mm3, stroke_range, usual_bite
from session.trade.tooth import Tooth, tooth_of
from session.value_class import replace


def flat_light_figure(saw: Saw, made: Tooth) -> Figure:
    """The flat after a light leveling of a plain line with the tooth ``made``."""
    formula = f"{significant(min(LIGHT_MM, made.depth_mm / 2), 4)} mm · pitch / depth; a light leveling"
    flat = _flat_mm(LIGHT_MM, saw, made)
    return Figure("flat_light_mm", "flat after a light leveling", flat, "mm", formula, f"{DERIVED}; {MEMORY}")


def filing_figures(saw: Saw, bite: Bite, worn: SetWear) -> Iterable[Figure]:
    """Strokes for a gullet and in all, once the line has come down by what a sharpening takes off it."""
    if not bite.learned:
        bite = usual_bite(saw.pitch_mm, saw.plate.mm)
    one = strokes_figure(saw.at(1), bite, worn)
    yield replace(one, words=f"{one.words}{zone_named(saw, 1)}")
    off, _ = _off(worn)
    volumes = [(last - first + 1, _volume_mm3(off, saw.at(first))) for first, last, _ in saw.line.stretches()]
    # Not the strokes of one gullet times the gullets: what rounding takes from each, none of them is spared.
    fewest, likely, most = (
        max(saw.points, strokes)
        for strokes in stroke_range(math.fsum(count * volume for count, volume in volumes), bite)
    )
    steel = " + ".join(f"{count} · {significant(volume, 4)}" for count, volume in volumes)
    formula = (
        f"({steel}) mm³ / {significant(bite.mm3, 4)} mm³ a stroke, to a whole number, no gullet with less than one; "
        f"gullets · steel{_learned(bite)}; {fewest} to {most} by the same spread"
    )
    yield Figure("strokes_total", "strokes for the filing in all", likely, "", formula, _filing_source(bite, off))


def strokes_figure(saw: Saw, bite: Bite, worn: SetWear) -> Figure:
    """The strokes of one gullet of a plain line."""
    off, by = _off(worn)
    volume = _volume_mm3(off, saw)
    fewest, likely, most = stroke_range(volume, bite)
    spread = f"{fewest} to {most} for {significant(bite.high_mm3, 3)} to {significant(bite.low_mm3, 3)} mm³"
    formula = (
        f"{significant(volume, 4)} mm³ / {significant(bite.mm3, 4)} mm³ a stroke, to a whole number, at least one; "
        f"steel of a gullet: plate · depth / pitch · flat · (pitch − flat / 2), {by}{_learned(bite)}; {spread}; "
        "NOYES prints 1 to 3, SICK 1 or 2"
    )
    return Figure("strokes_per_gullet", "strokes a gullet", likely, "", formula, _filing_source(bite, off))


def _off(worn: SetWear) -> tuple[float, str]:
    """What a sharpening takes off the line, and where that is from."""
    if worn.each_mm:
        return worn.each_mm, f"flat by {decimals(worn.each_mm, 3)} mm off the line, {median_of(max(1, worn.known))}"
    return LIGHT_MM, f"flat of a light leveling, {LIGHT_MM:g} mm off the line"


def _learned(bite: Bite) -> str:
    return f"; learned from {times(bite.gullets, 'gullet')}" if bite.learned else ""


def _filing_source(bite: Bite, off_mm: float) -> str:
    recorded = bite.learned or off_mm != LIGHT_MM
    remembered = not (bite.learned and off_mm != LIGHT_MM)
    return "; ".join((DERIVED, *([OWN_RECORDS] if recorded else []), *([MEMORY] if remembered else [])))


def minutes_figures(
    minutes: float | None, minutes_of: int, minutes_range: tuple[float, float] | None
) -> Iterable[Figure]:
    """The minutes of the whole work and their range, as the records tell them."""
    if minutes is None:
        formula = "places of the plan · minutes a place; no record of this saw tells the pace"
    else:
        formula = f"places of the plan · minutes a place, by {median_of(minutes_of)}; rests not counted"
    rounded = None if minutes is None else whole_number(minutes)
    yield Figure("minutes_expected", "minutes of work in all", rounded, "", formula, OWN_RECORDS)
    if minutes_range is None:
        return
    formula = f"by how {times(minutes_of, 'record')} and a judged 15 % differ; holds seven times in ten"
    for key, words, end in zip(("low", "high"), ("from", "to"), minutes_range, strict=True):
        source = f"{OWN_RECORDS}; {JUDGMENT}"
        yield Figure(f"minutes_{key}", f"minutes, {words}", whole_number(end), "", formula, source)


def _volume_mm3(off_mm: float, saw: Saw) -> float:
    """The steel of one gullet when the line has come down by ``off_mm``."""
    made = tooth_of(saw)
    flat = _flat_mm(off_mm, saw, made)
    return filing_volume_mm3(flat, saw.pitch_mm, made.depth_mm / saw.pitch_mm, saw.plate.mm)


def _flat_mm(off_mm: float, saw: Saw, made: Tooth) -> float:
    """The flat that ``off_mm`` off the line leaves; no more than half the tooth is taken."""
    return flat_from_off_mm(min(off_mm, made.depth_mm / 2), saw.pitch_mm, made.depth_mm)
