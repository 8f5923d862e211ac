"""`toothline even FLATS.toml`: how to even a measured line, gullet by gullet."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal
from session.trade.rounding import decimals, significant

if TYPE_CHECKING:
    from datetime import date

    from session.files.flats_file import Measured
    from session.till.kept_scans import NewestLine
    from session.till.known_saws import KnownSaw
    from session.till.till_folder import Till
    from session.trade.evening import EveningPlan
    from session.trade.strokes import Bite

HELP = "plan the evening of a measured tooth line"
EXAMPLE = 'toothline even line.toml --within "0.1 mm"'

#: Gullets listed one by one before the list is cut; all of them are in the JSON and with --all.
MOST_LISTED: Final = 24


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "flats",
        metavar="FLATS.toml",
        help="pitch, depth, plate_thickness, and flats or widths in mm; or a saw: the newest scan of it, made after "
        "leveling",
    )
    parser.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    parser.add_argument(
        "--within", metavar="LENGTH", help='spacing error that is good enough, such as "0.1 mm" (the default)'
    )
    parser.add_argument(
        "--bite-from", metavar="SAW", help="count strokes by the bite that the records of this saw teach"
    )
    parser.add_argument("--all", action="store_true", help="list every gullet, however many")


def run(args: argparse.Namespace) -> int:
    """Compute, and print as a table or as JSON."""
    from session.commands.output.plain_data import print_json
    from session.trade.strokes import usual_bite

    within_mm = _within(args.within)
    measured = _measured(args)
    bite = _bite(args)
    if not bite.learned:
        bite = usual_bite(measured.pitch.mm, measured.plate.mm)
    plan = _planned(measured, bite, within_mm)
    warnings = (*plan.notes, *_odd(measured, plan))
    if args.json:
        print_json(_plain(plan, bite, warnings))
    else:
        _tables(plan, bite, warnings, measured, args.all)
    return 0


def _measured(args: argparse.Namespace) -> Measured:
    """The line in the file that is named; else in the newest scan of the saw that is."""
    from session.commands.output.unread_scans import lines_told
    from session.files.flats_file import load_flats
    from session.machine.clean_text import clean
    from session.machine.clock import SystemClock
    from session.till.known_saws import known_saws, only_saw, saws_called
    from session.till.till_folder import Till, till_folder

    name, path = args.flats, Path(args.flats) if "\0" not in args.flats else None
    if path is None or path.suffix == ".toml" or len(path.parts) != 1 or path.is_file():
        return load_flats(Path(name))
    till = Till(till_folder(args.till, waits=say))
    saws = saws_called(known_saws([till]), name)
    if not saws:
        return load_flats(path)
    saw = only_saw(saws, name)
    newest = lines_told(till, saw)
    if newest.scan is None:
        raise Refusal(
            f"{clean(saw.slug)}: no scan of it is in this till yet; level it, then: toothline scan {saw.slug}"
        )
    return _by_scan(till, saw, newest, SystemClock().now().date())


def _by_scan(till: Till, saw: KnownSaw, newest: NewestLine, today: date) -> Measured:
    """The flats of the newest scan; of an older one that shows the same line, where that is not to be used."""
    from session.advice.flats_offer import FEWEST_FLATS
    from session.advice.measured_looks import age
    from session.advice.saw_advice import looks_of
    from session.advice.scan_in_use import scan_in_use
    from session.files.flats_file import Measured
    from session.files.recipe import load_recipe
    from session.files.supplied import find_recipe
    from session.till.saw_history import history
    from session.trade.lengths import Length
    from session.trade.scanned_line import told_flat, uneven_line
    from session.trade.tooth import tooth_of
    from session.trade.trade_error import TradeError

    recipe = load_recipe(saw.recipe or find_recipe(saw.name, [])).saw
    looks = looks_of(newest, history([till], saw, unfinished=False), till)
    assert looks is not None
    use = scan_in_use(looks, recipe)
    if (scan := use.looks) is None:
        instead = f". {told}" if (told := use.instead(today)) else ""
        raise Refusal(
            f"{saw.slug}, scan of {looks.at:%Y-%m-%d %H:%M}: {use.why_not}; toothline scan {saw.slug} shows it and "
            f"says what it may be{instead}"
        )
    if told := use.told(today):
        say(told)
    of = f"{saw.slug}, scan of {scan.at:%Y-%m-%d %H:%M}"
    if sum(bool(told_flat(tooth)) for tooth in scan.line.teeth) < FEWEST_FLATS:
        raise Refusal(f"{of}: it shows no flats, as before leveling; level the line, then scan it again")
    say(
        f"by the scan of {scan.at:%Y-%m-%d %H:%M}, {age(scan.at, today)}; it holds if the line was leveled before it, "
        "and not filed since"
    )
    pitch = Length.of(scan.line.pitch_mm, recipe.unit)
    depth = Length.of(tooth_of(recipe).depth_mm * scan.line.pitch_mm / recipe.pitch_mm, recipe.unit)
    try:
        return Measured(uneven_line(scan.line), pitch, depth, recipe.plate, Path(saw.slug))
    except TradeError as wrong:
        raise Refusal(f"{of}: {wrong}") from None


def _planned(measured: Measured, bite: Bite, within_mm: float) -> EveningPlan:
    """The exact plan where the flats' places were measured, the printed rule where only their widths were."""
    from session.trade.evening import line_notes, plan_evening
    from session.trade.graded_line import GradedLine
    from session.trade.grades import nearest
    from session.trade.printed_lean import plan_by_widths
    from session.value_class import replace

    line, depth, plate, pitch = measured.line, measured.depth.mm, measured.plate.mm, measured.pitch.mm
    if measured.widths_mm is None:
        return plan_evening(line, depth, plate, bite_mm3=bite.mm3, within_mm=within_mm)
    grades = [nearest(width / pitch) for width in measured.widths_mm]
    graded = GradedLine(measured.widths_mm, pitch, depth, plate, grades, bite.mm3, line.broken)
    return replace(plan_by_widths(graded), within_mm=within_mm, notes=tuple(line_notes(line)))


def _within(text: str | None) -> float:
    from session.commands.output.option_values import length_option
    from session.trade.evening import WITHIN_MM

    return WITHIN_MM if text is None else length_option("--within", text).mm


def _bite(args: argparse.Namespace) -> Bite:
    """The bite to count strokes by: that of the saw asked for, else the default, which is from memory."""
    from session.till.known_saws import find_saw, known_saws
    from session.till.learned_bite import learned_bite
    from session.till.saw_history import history
    from session.till.till_folder import Till, till_folder
    from session.trade.strokes import DEFAULT_BITE

    if args.bite_from is None:
        return DEFAULT_BITE
    till = Till(till_folder(args.till, must_exist=True, waits=say))
    saws = known_saws([till])
    try:
        saw = find_saw(saws, args.bite_from)
    except Refusal as wrong:
        raise Refusal(f"--bite-from: {wrong}") from None
    bite = learned_bite(history([till], saw, unfinished=False).finished)
    if not bite.learned:
        say(f"--bite-from: no record of {saw.name} teaches a bite yet; strokes are counted from memory")
    return bite


def _odd(measured: Measured, plan: EveningPlan) -> Sequence[str]:
    from session.trade.tooth import tooth

    said = []
    share = measured.depth.mm / measured.pitch.mm
    # Held square across, a 60° file leaves a depth between these; slope and a worn corner add a little.
    least, most = tooth(1.0, -15).depth_mm, tooth(1.0, 30).depth_mm
    if not 0.9 * least <= share <= 1.1 * most:
        said.append(
            f"The depth is {decimals(share, 2)} of the pitch; "
            f"a 60° file leaves about {decimals(least, 2)} to {decimals(most, 2)} of it (derived)."
        )
    if not plan.placed:
        said.append(
            "Widths do not tell where the flats lie: lean on the tooth with the larger flat (KING 64, DREW, FIT). "
            "Measure both ends of each flat for a plan of places."
        )
    elif plan.extra_leveling_mm is None:
        said.append("No further leveling brings the spacing within the tolerance before gullets are gone.")
    return said


def _plain(plan: EveningPlan, bite: Bite, warnings: Sequence[str]) -> dict[str, Any]:
    return {
        "points_mm": list(plan.points_mm),
        "front_mm": list(plan.front_mm),
        "back_mm": list(plan.back_mm),
        "share_front": list(plan.share_front),
        "lean": [str(lean) for lean in plan.lean],
        "strokes": list(plan.strokes),
        "heel_strokes": plan.heel_strokes,
        "strokes_total": _in_all(plan),
        "bite_mm3": bite.mm3,
        "bite_low_mm3": bite.low_mm3,
        "bite_high_mm3": bite.high_mm3,
        "bite_learned_from_gullets": bite.gullets,
        "drop_mm": list(plan.drop_mm),
        "low": list(plan.low),
        "broken": list(plan.broken),
        "unseen": list(plan.unseen),
        "worst_spacing_error_before_mm": plan.worst_before_mm,
        "worst_spacing_error_after_mm": plan.worst_after_mm,
        "within_mm": plan.within_mm,
        "extra_leveling_mm": plan.extra_leveling_mm,
        "light_leveling_mm": plan.light_mm,
        "sharpenings_until_even": plan.sharpenings_until_even,
        "pitch_mm": plan.pitch_mm,
        "warnings": list(warnings),
    }


def _tables(plan: EveningPlan, bite: Bite, warnings: Sequence[str], measured: Measured, everything: bool) -> None:
    from session.commands.output.printed_tables import print_heading, print_line, print_table
    from session.machine.untrusted_text import shown

    print_heading(f"{shown(measured.source)}: {len(plan.points_mm)} teeth, pitch {measured.pitch}")
    for warning in warnings:
        print_line(f"Take care: {warning}")
    print_table("In all", ["", ""], _summary(plan, bite, measured.pitch.unit))
    usual = _usual(plan)
    told = [gullet for gullet in range(1, len(plan.strokes) + 1) if everything or _needs_more(plan, gullet, usual)]
    if not told:
        print_line(f"Every gullet: {_strokes(usual)}, straight.")
        return
    # Those that ask for most come into a list that is cut; a list is then read along the line all the same.
    kept = sorted(sorted(told, key=lambda gullet: -plan.strokes[gullet - 1])[: None if everything else MOST_LISTED])
    title = "Every gullet" if everything else "Gullets that need more than the usual, or a lean"
    columns = ["gullet", "strokes", "lean to", "front gives", "back of next gives", "of its flats"]
    rows = [_gullet(plan, gullet, measured.pitch.unit) for gullet in kept]
    print_table(title, columns, rows, right=("gullet", "strokes", "front gives", "back of next gives"))
    if len(kept) < len(told):
        print_line(f"And {len(told) - len(kept)} more that lean or need more; --all lists every gullet.")
    if len(told) < len(plan.strokes):
        print_line(f"All others: {_strokes(usual)}, straight.")
    print_line("Lift the file the moment the flat is gone, whatever the count (GOR p. 150).")


def _summary(plan: EveningPlan, bite: Bite, unit: str) -> list[Sequence[str]]:
    from session.advice.sourced_figure import amount
    from session.texts.wording import times

    rests_on = f"learned from {times(bite.gullets, 'gullet')}" if bite.learned else "from memory"
    never = "not before gullets are gone"
    extra, later = plan.extra_leveling_mm, plan.sharpenings_until_even
    within = amount(plan.within_mm, unit)
    light = f"at {amount(plan.light_mm, unit)} each (from memory)"
    rows: list[Sequence[str]] = []
    if plan.worst_before_mm is not None and plan.worst_after_mm is not None:
        rows = [
            ("worst spacing error, points in the middle of their flats", amount(plan.worst_before_mm, unit)),
            ("worst spacing error by this plan", amount(plan.worst_after_mm, unit)),
            (
                f"further leveling to come within {within}",
                never if extra is None else amount(extra, unit) if extra else "none",
            ),
            (
                f"or after this plan, light sharpenings to come within {within}",
                never if later is None else f"{times(later, 'sharpening')} {light}" if later else "none",
            ),
        ]
    rows.append(("strokes in all", f"{_in_all(plan)} at {significant(bite.mm3, 3)} mm³ a stroke ({rests_on})"))
    if plan.heel_strokes:
        rows.append(("of these on the back of tooth 1", str(plan.heel_strokes)))
    return rows


def _in_all(plan: EveningPlan) -> int:
    return sum(plan.strokes) + plan.heel_strokes


def _usual(plan: EveningPlan) -> int:
    """The middle count of strokes, of the smaller two where there are two."""
    from statistics import median_low

    return median_low(plan.strokes)


def _needs_more(plan: EveningPlan, gullet: int, usual: int) -> bool:
    # A lean is only worth a line where there is a stroke to lean with.
    strokes = plan.strokes[gullet - 1]
    unseen = not {gullet, gullet + 1}.isdisjoint(plan.unseen)
    return unseen or strokes != usual or (strokes > 0 and plan.lean[gullet - 1] != "straight")


def _strokes(count: int) -> str:
    from session.texts.wording import times

    return times(count, "stroke") if count else "no stroke"


def _gullet(plan: EveningPlan, gullet: int, unit: str) -> Sequence[str]:
    from session.advice.sourced_figure import amount
    from session.sentences.flat_shares import shares_of_gullet

    back = plan.back_mm[gullet] if gullet < len(plan.back_mm) else 0.0
    front = plan.front_mm[gullet - 1]
    by_eye = [f"flat {tooth} not seen: grade it by eye" for tooth in (gullet, gullet + 1) if tooth in plan.unseen]
    return (
        str(gullet),
        str(plan.strokes[gullet - 1]),
        str(plan.lean[gullet - 1]),
        amount(front, unit),
        amount(back, unit),
        ", ".join(part for part in (shares_of_gullet(plan, gullet), *by_eye) if part),
    )
