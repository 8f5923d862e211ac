"""All the numbers of a saw, in groups as a person reads them, each with where it comes from.

How much a sharpening will take off the line, nobody can measure beforehand; a light leveling stands in for
it (from memory) until the records say better.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from session.advice.set_advice import LEAST_SHARE, least_set_mm, set_today, slope_of
from session.advice.sourced_figure import ASKED, OWN_RECIPE, OWN_RECORDS, Figure
from session.texts.wording import median_of, times
from session.till.set_loss import SetWear
from session.trade.file_choice import ADVISED_FLANKS, face_needs, face_ok, tooth_to_fit
from session.trade.kerf import bend_angle_deg, kerf_mm
from session.trade.leveling import flat_from_off_mm
from session.trade.reaches import held as held_of
from session.trade.rounding import decimals, significant, whole_number
from session.trade.saw import Saw
from session.trade.set_rules import set_advice
from session.trade.setting import STONE_PASS_MM, SetLine
from session.trade.strokes import DEFAULT_BITE, LIGHT_MM, Bite, filing_volume_mm3, stroke_range, usual_bite
from session.trade.tooth import Tooth, block_rake_for, shallowest_mm, tooth_of

Group = tuple[str, tuple[Figure, ...]]

DERIVED: Final = "derived"
MEMORY: Final = "from memory"
JUDGMENT: Final = "judgment"

#: Of a saw without records.
UNKNOWN: Final = SetWear()

#: How a count becomes a pitch, and who defines the count, by the words the recipe's count ends in.
_PITCH: Final[dict[str, tuple[str, str]]] = {
    "points per inch": ("25.4 mm / (points per inch − 1)", "NOYES p. 63; GRIF art. 11"),
    "teeth per inch": ("25.4 mm / teeth per inch", "NOYES p. 63; GRIF art. 11"),
    "points per 25 mm": ("25 mm / (points per 25 mm − 1)", "BS3159 5.3.1; GOR p. 155"),
}


def figure_groups(
    saw: Saw,
    *,
    worn: SetWear = UNKNOWN,
    rake_on_plate: float | None = None,
    bite: Bite = DEFAULT_BITE,
    minutes: float | None = None,
    minutes_of: int = 1,
    minutes_range: tuple[float, float] | None = None,
) -> tuple[Group, ...]:
    """The figures of ``saw`` under their headings.

    worn: what the records say of the set by now, and of what one sharpening takes off the line; without records a
        light one is taken for it, LIGHT_MM, from memory, and the set by now is not known.
    rake_on_plate: a rake wanted on the plate, in degrees, for which the block's rake is told as well.
    bite: steel taken by one stroke, from the records; one that no record taught stands for the usual one of such a saw.
    minutes: what the whole sharpening will take at the pace of ``minutes_of`` records; None when no record tells.
    minutes_range: between which they lie about seven times in ten.
    Raises TradeError for angles that leave no tooth or a wanted rake that no block gives, and for amounts
    that cannot be.
    """
    made = tooth_of(saw)
    return (
        ("Line", tuple(_line(saw))),
        ("Tooth", (*_tooth(saw, made), *_wanted(saw, rake_on_plate))),
        ("File", tuple(_file(saw, tooth_to_fit(saw)))),
        ("Set and kerf", (*_kerf(saw), *_lasting(saw, worn))),
        (
            "Work",
            (
                *_work(saw, made),
                *_filing(saw, bite, worn.each_mm, max(1, worn.known)),
                *_minutes(minutes, minutes_of, minutes_range),
            ),
        ),
    )


def _line(saw: Saw) -> Iterable[Figure]:
    ending = next((words for words in _PITCH if saw.count_as.endswith(words)), None)
    formula, source = _PITCH[ending] if ending is not None else ("as the recipe gives it", OWN_RECIPE)
    yield Figure("pitch_mm", f"pitch, from {saw.count_as}", saw.pitch_mm, "mm", formula, source)
    if saw.points_counted:
        yield Figure("points", "points, counted", saw.points, "", "counted on the saw", OWN_RECIPE)
    else:
        formula = "toothed length / pitch, to a whole number, + 1"
        yield Figure("points", f"points along {saw.toothed_length}", saw.points, "", formula, DERIVED)
    if saw.gauge is None:
        yield Figure("plate_mm", "plate", saw.plate.mm, "mm", "as the recipe gives it", OWN_RECIPE)
    else:
        formula = f"number {saw.gauge} of the Birmingham gauge"
        yield Figure("plate_mm", "plate", saw.plate.mm, "mm", formula, "BWG; HOLTZ p. 699")


def _tooth(saw: Saw, made: Tooth) -> Iterable[Figure]:
    block, plate = "rake on the guide block", "rake seen on the plate"
    yield Figure(
        "rake_block_deg", block, saw.rake, "deg", "degrees back from square, as the recipe gives it", OWN_RECIPE
    )
    yield Figure("fleam_deg", "fleam", saw.fleam, "deg", "as the recipe gives it", OWN_RECIPE)
    file_to_plate = 90.0 - saw.fleam
    yield Figure("file_to_plate_deg", "file to plate, from above", file_to_plate, "deg", "90 − fleam", "KING 64; FIT")
    yield Figure("slope_deg", "slope, handle below the tip", saw.slope, "deg", "as the recipe gives it", OWN_RECIPE)
    swing = "f" if made.fleam == 0 or saw.file_points == "toe" else "−f"
    bottom = f"cos r / cos s − sin r · tan({swing}) · tan s"
    formula = f"atan((sin r / cos f) / ({bottom})) for block rake r, fleam f, slope s"
    yield Figure("rake_plate_deg", plate, made.front_deg, "deg", formula, DERIVED)
    bottom = f"cos b / cos s + sin b · tan({swing}) · tan s"
    formula = f"atan((sin b / cos f) / ({bottom})) for b = 60 − r"
    yield Figure("back_plate_deg", "back seen on the plate", made.back_deg, "deg", formula, DERIVED)
    formula = "front + back; 60 only when the file is held square across"
    yield Figure("gullet_plate_deg", "gullet seen on the plate", made.gullet_deg, "deg", formula, DERIVED)
    formula = "pitch / (tan front + tan back), for a file with sharp corners"
    yield Figure("depth_mm", "depth of the tooth", made.depth_mm, "mm", formula, DERIVED)
    formula = "90 − asin(sin f · cos r) without slope; else from the planes of front and plate"
    yield Figure("edge_angle_deg", "steel between front and side", made.edge_deg, "deg", formula, DERIVED)
    formula = "half the plate · slant of the line in which front and back meet"
    words = "point above the middle of the plate"
    yield Figure("point_rise_mm", words, made.point_rise_mm, "mm", formula, DERIVED)


def _wanted(saw: Saw, wanted: float | None) -> Iterable[Figure]:
    if wanted is None:
        return
    block = block_rake_for(wanted, saw.fleam, saw.slope, saw.file_points)
    yield Figure("rake_plate_wanted_deg", "rake wanted on the plate", wanted, "deg", "as asked for", ASKED)
    formula = "the rake on the plate solved for the block's; tan r = tan F · cos f without slope"
    yield Figure("rake_block_wanted_deg", "block rake that gives it", block, "deg", formula, DERIVED)


def _file(saw: Saw, made: Tooth) -> Iterable[Figure]:
    needs = face_needs(made)
    hard, advised = "longer flank in mid-plate", "face that serves best"
    yield Figure("file_face_hard_minimum_mm", hard, needs.hard_minimum_mm, "mm", _flank(made), DERIVED)
    outer = "flank at the outer face of the plate"
    formula = "the same where the fleam makes it longest"
    yield Figure("file_face_outer_minimum_mm", outer, needs.at_outer_face_mm, "mm", formula, DERIVED)
    formula = f"{ADVISED_FLANKS:g} × the longer flank, so that each corner wears on its own half of two faces"
    if needs.beyond_any_file:
        formula = f"the largest you can get: {formula}, is more than any file has"
    yield Figure("file_face_advised_mm", advised, needs.advised_mm, "mm", formula, MEMORY)
    face = None if saw.face is None else saw.face.mm
    yield Figure("file_face_mm", "face of the recipe's file", face, "mm", "as the recipe gives it", OWN_RECIPE)
    ok = None if face is None else face_ok(face, needs)
    yield Figure(
        "file_face_ok", "that face is wide enough", ok, "", "face > the flank at the outer face of the plate", DERIVED
    )


def _flank(made: Tooth) -> str:
    """How the longer flank follows, square to the file."""
    if made.fleam == 0 or made.slope == 0:
        return "the longer flank: depth · cos s / cos(60 − r) up to rake 30, above it depth · cos s / cos r"
    # Swung and tipped at once, the file meets one flank higher up than the other.
    front, back = "+−" if made.file_points == "toe" else "−+"
    return (
        f"the longer of depth · (cos s {front} tan front · sin f · sin s) / cos r "
        f"and depth · (cos s {back} tan back · sin f · sin s) / cos(60 − r)"
    )


def _kerf(saw: Saw) -> Iterable[Figure]:
    wanted = None if saw.set_per_side is None else saw.set_per_side.mm
    least = least_set_mm(saw)
    kerf = bend = None
    if wanted is not None and least is not None:
        kerf = kerf_mm(saw.plate.mm, wanted)
        bend = bend_angle_deg(wanted, shallowest_mm(saw), saw.bent_share)
    yield Figure("set_per_side_mm", "set per side", wanted, "mm", "as the recipe gives it", OWN_RECIPE)
    own = saw.least_per_side is not None or least is None
    formula, source = "as the recipe gives it", OWN_RECIPE
    if not own:
        formula, source = f"{LEAST_SHARE:g} × the set, as the recipe names no least", "judgment"
    yield Figure("set_least_mm", "least set that the work asks for", least, "mm", formula, source)
    advice = set_advice(saw.kind, saw.cut, saw.wood, saw.plate.mm, saw.pitch_mm)
    formula = f"usual for this kind of saw in {saw.wood}"
    yield Figure("set_usual_low_mm", "usual set, from", advice.low_mm, "mm", formula, advice.source)
    yield Figure("set_usual_high_mm", "usual set, to", advice.high_mm, "mm", formula, advice.source)
    low, high = advice.printed_spread_mm
    formula = "the smallest and the largest number printed, those for two-man saws among them"
    yield Figure("set_printed_low_mm", "set in print, from", low, "mm", formula, "FSMAN; FSTOOL; MTS")
    yield Figure("set_printed_high_mm", "set in print, to", high, "mm", formula, "FSMAN; FSTOOL; MTS")
    yield Figure("kerf_mm", "kerf", kerf, "mm", "plate + 2 · set", "FSMAN")
    bent = f"set / ({saw.bent_share:g} · depth)"
    yield Figure("bend_angle_deg", "bend of the point", bend, "deg", f"asin({bent})", DERIVED)


def _lasting(saw: Saw, worn: SetWear) -> Iterable[Figure]:
    """How many sharpenings the set by now outlives, and how many a set fresh from the recipe would."""
    passes = f" + {saw.dressing_passes} × {STONE_PASS_MM:g} mm to the stone" if saw.dressing_passes else ""
    if worn.each_mm is None:
        each, each_source = f"{LIGHT_MM:g} mm off the line for a sharpening", MEMORY
    else:
        each, each_source = f"{decimals(worn.each_mm, 3)} mm off the line, by {median_of(max(1, worn.known))}", ""
    key, words = "sharpenings_until_set_is_due", "sharpenings the set outlives"
    if worn.line is None:
        yield Figure(key, words, None, "", "not known: no record says that it was set or measured", OWN_RECORDS)
    else:
        today = set_today(saw, worn.line, down_mm=worn.each_mm)
        has = f"{decimals(worn.line.left_mm, 3)} mm a side by now"
        if worn.told_mm is None:
            has += ", by the recipe of the day it was set"
        elif worn.told_mm != worn.line.left_mm:
            has += f", {decimals(worn.told_mm, 3)} mm when last measured"
        if worn.came_down_mm > 0:
            since = "set" if worn.told_mm is None else "measured"
            has += f"; {decimals(worn.came_down_mm, 3)} mm came off since it was {since}"
        formula = f"(set − least) / ({decimals(worn.line.slope, 4)} · {each}{passes}); {has}"
        source = "; ".join(one for one in (DERIVED, OWN_RECORDS, each_source, JUDGMENT if passes else "") if one)
        yield Figure(key, words, None if today is None else today.outlives, "", formula, source)
    key, words = "sharpenings_fresh_set_outlives", "sharpenings a fresh set outlives"
    slope = slope_of(saw)
    if saw.set_per_side is None or slope is None:
        yield Figure(key, words, None, "", "the recipe says nothing of set", OWN_RECIPE)
        return
    fresh = set_today(saw, SetLine(saw.set_per_side.mm, slope), down_mm=worn.each_mm)
    formula = f"(set − least) / (set / ({saw.bent_share:g} · depth) · {each}{passes})"
    recorded = OWN_RECORDS if worn.each_mm is not None else ""
    source = "; ".join(one for one in (DERIVED, recorded, each_source, JUDGMENT if passes else "") if one)
    yield Figure(key, words, None if fresh is None else fresh.outlives, "", formula, source)


def _work(saw: Saw, made: Tooth) -> Iterable[Figure]:
    flat = _flat_mm(LIGHT_MM, saw, made)
    formula = f"{min(LIGHT_MM, made.depth_mm / 2):g} mm · pitch / depth, for a light leveling"
    yield Figure("flat_light_mm", "flat after a light leveling", flat, "mm", formula, f"{DERIVED}; {MEMORY}")
    held = min(saw.points, held_of(saw.widest_pitch_mm, saw.vise_jaw.mm))
    words = f"teeth in a vise of {saw.vise_jaw}"
    yield Figure("teeth_held", words, held, "", "jaw / pitch, to a whole number", DERIVED)


def _filing(saw: Saw, bite: Bite, each_time_mm: float | None, each_time_of: int) -> Iterable[Figure]:
    """Strokes for a gullet and in all, once the line has come down by what a sharpening takes off it."""
    if not bite.learned:
        bite = usual_bite(saw.pitch_mm, saw.plate.mm)
    off, flat_of = LIGHT_MM, f"the flat of a light leveling, {LIGHT_MM:g} mm off the line"
    if each_time_mm is not None and each_time_mm > 0:
        off = each_time_mm
        flat_of = f"the flat that {decimals(off, 3)} mm off the line leaves, by {median_of(each_time_of)}"
    volumes = [(last - first + 1, _volume_mm3(off, saw.at(first))) for first, last, _ in saw.line.stretches()]
    fewest, likely, most = stroke_range(volumes[0][1], bite)
    stroke = f"{significant(bite.mm3, 3)} mm³ a stroke"
    spread = f"{fewest} to {most} for {significant(bite.high_mm3, 3)} to {significant(bite.low_mm3, 3)} mm³"
    learned = f"; learned from {times(bite.gullets, 'gullet')}" if bite.learned else ""
    recorded = bite.learned or off != LIGHT_MM
    remembered = not (bite.learned and off != LIGHT_MM)
    source = "; ".join((DERIVED, *([OWN_RECORDS] if recorded else []), *([MEMORY] if remembered else [])))
    formula = f"steel of {flat_of}, / {stroke}{learned}; {spread}; NOYES prints 1 to 3, SICK 1 or 2"
    yield Figure("strokes_per_gullet", "strokes a gullet", likely, "", formula, source)
    # Not the strokes of one gullet times the gullets: what rounding takes from each, none of them is spared.
    fewest, likely, most = (
        max(saw.points, strokes)
        for strokes in stroke_range(math.fsum(count * volume for count, volume in volumes), bite)
    )
    formula = (
        f"that steel · {saw.points} gullets / {stroke}{learned}, no gullet with less than one; "
        f"{fewest} to {most} by the same spread"
    )
    yield Figure("strokes_total", "strokes for the filing in all", likely, "", formula, source)


def _minutes(minutes: float | None, minutes_of: int, minutes_range: tuple[float, float] | None) -> Iterable[Figure]:
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
