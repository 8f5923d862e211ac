"""All the numbers of a saw, in groups as a person reads them, each with where it comes from.

How much a sharpening will take off the line, nobody can measure beforehand; a light leveling stands in for
it (from memory) until the records say better.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from session.advice.filing_figures import filing_figures, flat_light_figure, minutes_figures, strokes_figure
from session.advice.set_advice import LEAST_SHARE, least_set_mm, set_today, slope_of
from session.advice.sourced_figure import ASKED, DERIVED, JUDGMENT, MEMORY, OWN_RECIPE, OWN_RECORDS, Figure
from session.advice.zone_figures import zone_named
from session.texts.wording import median_of
from session.till.set_loss import SetWear
from session.trade.file_choice import ADVISED_FLANKS, face_needs, face_ok, tooth_to_fit
from session.trade.kerf import bend_angle_deg, kerf_mm
from session.trade.reaches import held as held_of
from session.trade.rounding import decimals, significant
from session.trade.saw import Saw
from session.trade.set_rules import set_advice
from session.trade.setting import STONE_PASS_MM, SetLine
from session.trade.strokes import DEFAULT_BITE, LIGHT_MM, Bite, usual_bite
from session.trade.tooth import Tooth, block_rake_for, shallowest_mm, tooth_of

Group = tuple[str, tuple[Figure, ...]]

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
    made, first = tooth_of(saw), zone_named(saw, 1)
    return (
        ("Line", tuple(_line(saw))),
        (f"Tooth{first}", (*_tooth(saw, made), *_wanted(saw, rake_on_plate))),
        (f"File{_widest(saw)}", tuple(_file(saw, tooth_to_fit(saw)))),
        ("Set and kerf", (*_kerf(saw), *_lasting(saw, worn))),
        (
            "Work",
            (
                *_work(saw, made),
                *filing_figures(saw, bite, worn),
                *minutes_figures(minutes, minutes_of, minutes_range),
            ),
        ),
    )


def zone_groups(saw: Saw, *, worn: SetWear = UNKNOWN, bite: Bite = DEFAULT_BITE) -> tuple[tuple[int, Group], ...]:
    """What is otherwise in each zone of a progressive line: the number of its first tooth, and its figures under their
    heading. None on a plain line. The arguments are those of ``figure_groups``.

    Of the first zone, ``figure_groups`` tells the tooth and the strokes already.
    """
    if not saw.zones:
        return ()
    if not bite.learned:
        # One file is used on the whole line, and of it a stroke takes as much in every zone.
        bite = usual_bite(saw.pitch_mm, saw.plate.mm)
    found = []
    for first, last, _ in saw.line.stretches():
        zone = saw.at(first)
        made = tooth_of(zone)
        pitch = Figure("pitch_mm", "pitch", zone.pitch_mm, "mm", "as the recipe gives it", OWN_RECIPE)
        own = (
            pitch,
            *_tooth(zone, made),
            *_bend(zone),
            flat_light_figure(zone, made),
            strokes_figure(zone, bite, worn),
        )
        found.append((first, (f"Teeth {first}–{last}", own)))
    return tuple(found)


def _widest(saw: Saw) -> str:
    """Whose tooth asks for the widest face, where there are zones; else nothing."""
    fits = tooth_to_fit(saw)
    first = next((first for first, _, _ in saw.line.stretches() if tooth_of(saw.at(first)) == fits), 1)
    return zone_named(saw, first)


def _shallowest(saw: Saw) -> int:
    """A tooth of the zone whose teeth are shallowest."""
    return min((tooth_of(saw.at(first)).depth_mm, first) for first, _, _ in saw.line.stretches())[1]


def _line(saw: Saw) -> Iterable[Figure]:
    ending = next((words for words in _PITCH if saw.count_as.endswith(words)), None)
    formula, source = _PITCH[ending] if ending is not None else ("as the recipe gives it", OWN_RECIPE)
    words = f"pitch, from {saw.count_as}{zone_named(saw, 1)}"
    yield Figure("pitch_mm", words, saw.pitch_mm, "mm", formula, source)
    if saw.points_counted:
        yield Figure("points", "points, counted", saw.points, "", "counted on the saw", OWN_RECIPE)
    else:
        formula = "toothed length / pitch, to a whole number, + 1"
        if saw.zones:
            formula = f"{' + '.join(str(spaces) for spaces in saw.line.spaces)} + 1, the spaces of each zone and 1"
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
    formula = "90 − asin(sin f · cos r)"
    if made.slope:
        formula = "between the planes of front and plate, of a file swung and tipped"
    yield Figure("edge_angle_deg", "steel between front and side", made.edge_deg, "deg", formula, DERIVED)
    formula = "plate / 2 · slant of the line in which front and back meet"
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
    kerf = None if wanted is None else kerf_mm(saw.plate.mm, wanted)
    yield Figure("set_per_side_mm", "set per side", wanted, "mm", "as the recipe gives it", OWN_RECIPE)
    own = saw.least_per_side is not None or least is None
    formula, source = "as the recipe gives it", OWN_RECIPE
    if not own:
        formula, source = f"{LEAST_SHARE:g} · set, as the recipe names no least", "judgment"
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
    yield from _bend(saw)


def _bend(saw: Saw) -> Iterable[Figure]:
    """The bend of the shallowest teeth, which is the sharpest."""
    wanted = None if saw.set_per_side is None else saw.set_per_side.mm
    bend = None if wanted is None else bend_angle_deg(wanted, shallowest_mm(saw), saw.bent_share)
    formula = f"asin(set / ({saw.bent_share:g} · depth)){_by_shallowest(saw)}"
    yield Figure("bend_angle_deg", "bend of the point", bend, "deg", formula, DERIVED)


def _by_shallowest(saw: Saw) -> str:
    """Whose depth is meant where there are zones; else nothing."""
    return f"; depth {decimals(shallowest_mm(saw), 3)} mm{zone_named(saw, _shallowest(saw))}" if saw.zones else ""


def _lasting(saw: Saw, worn: SetWear) -> Iterable[Figure]:
    """How many sharpenings the set by now outlives, and how many a set fresh from the recipe would."""
    passes = f" + {saw.dressing_passes} · {STONE_PASS_MM:g} mm to the stone" if saw.dressing_passes else ""
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
        doubt = f" − {significant(worn.line.doubt_mm, 3)} mm of doubt" if worn.line.doubt_mm else ""
        steep = significant(worn.line.slope, 4)
        formula = f"(set now{doubt} − least) / ({steep} · {each}{passes}), whole ones; {has}"
        source = "; ".join(one for one in (DERIVED, OWN_RECORDS, each_source, JUDGMENT if passes else "") if one)
        yield Figure(key, words, None if today is None else today.outlives, "", formula, source)
    key, words = "sharpenings_fresh_set_outlives", "sharpenings a fresh set outlives"
    slope = slope_of(saw)
    if saw.set_per_side is None or slope is None:
        yield Figure(key, words, None, "", "the recipe says nothing of set", OWN_RECIPE)
        return
    fresh = set_today(saw, SetLine(saw.set_per_side.mm, slope), down_mm=worn.each_mm)
    formula = f"(set − least) / (set / ({saw.bent_share:g} · depth) · {each}{passes}), whole ones{_by_shallowest(saw)}"
    recorded = OWN_RECORDS if worn.each_mm is not None else ""
    source = "; ".join(one for one in (DERIVED, recorded, each_source, JUDGMENT if passes else "") if one)
    yield Figure(key, words, None if fresh is None else fresh.outlives, "", formula, source)


def _work(saw: Saw, made: Tooth) -> Iterable[Figure]:
    yield flat_light_figure(saw, made)
    held = min(saw.points, held_of(saw.widest_pitch_mm, saw.vise_jaw.mm))
    words = f"teeth in a vise of {saw.vise_jaw}"
    formula = f"jaw / {'the coarsest ' if saw.zones else ''}pitch, whole ones, no more than the points"
    yield Figure("teeth_held", words, held, "", formula, DERIVED)
