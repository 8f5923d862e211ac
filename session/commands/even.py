"""`toothline even FLATS.toml`: how to even a measured line, gullet by gullet."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from session.commands.trouble import Trouble

if TYPE_CHECKING:
    from rich.console import Console

    from session.records.flats import Measured
    from session.trade.evening import EveningPlan

HELP = "plan the evening of a measured tooth line"
EXAMPLE = 'toothline even line.toml --within "0.1 mm"'

#: Gullets listed one by one before the list is cut; all of them are in the JSON and with --all.
MOST_LISTED: Final = 24


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("flats", metavar="FLATS.toml", help="pitch, depth, plate_thickness, and flats or widths in mm")
    parser.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    parser.add_argument(
        "--within", metavar="LENGTH", help='spacing error that is good enough, such as "0.1 mm" (the default)'
    )
    parser.add_argument("--all", action="store_true", help="list every gullet, however many")


def run(args: argparse.Namespace) -> int:
    """Compute, and print as a table or as JSON."""
    from session.commands.printing import console, print_json
    from session.records.flats import load_flats
    from session.trade.evening import plan_evening

    within_mm = _within(args.within)
    measured = load_flats(Path(args.flats))
    plan = plan_evening(measured.line, measured.depth.mm, measured.plate.mm, within_mm=within_mm)
    warnings = (*plan.notes, *_odd(measured, plan))
    if args.json:
        print_json(_plain(plan, warnings))
    else:
        _tables(plan, warnings, measured, console(), args.all)
    return 0


def _within(text: str | None) -> float:
    from session.trade.evening import WITHIN_MM
    from session.trade.lengths import LengthError, parse_length

    if text is None:
        return WITHIN_MM
    try:
        return parse_length(text).mm
    except LengthError as wrong:
        raise Trouble(f"--within: {wrong}") from None


def _odd(measured: Measured, plan: EveningPlan) -> Sequence[str]:
    from session.trade.tooth import tooth

    said = []
    share = measured.depth.mm / measured.pitch.mm
    # Held square across, a 60° file leaves a depth between these; slope and a worn corner add a little.
    least, most = tooth(1.0, -15).depth_mm, tooth(1.0, 30).depth_mm
    if not 0.9 * least <= share <= 1.1 * most:
        said.append(
            f"The depth is {share:.2f} of the pitch; a 60° file leaves about {least:.2f} to {most:.2f} of it (derived)."
        )
    if plan.extra_leveling_mm is None:
        said.append("No further leveling brings the spacing within the tolerance before gullets are gone.")
    return said


def _plain(plan: EveningPlan, warnings: Sequence[str]) -> dict[str, Any]:
    return {
        "points_mm": list(plan.points_mm),
        "front_mm": list(plan.front_mm),
        "back_mm": list(plan.back_mm),
        "lean": [str(lean) for lean in plan.lean],
        "strokes": list(plan.strokes),
        "heel_strokes": plan.heel_strokes,
        "drop_mm": list(plan.drop_mm),
        "low": list(plan.low),
        "broken": list(plan.broken),
        "worst_spacing_error_before_mm": plan.worst_before_mm,
        "worst_spacing_error_after_mm": plan.worst_after_mm,
        "within_mm": plan.within_mm,
        "extra_leveling_mm": plan.extra_leveling_mm,
        "light_leveling_mm": plan.light_mm,
        "sharpenings_until_even": plan.sharpenings_until_even,
        "pitch_mm": plan.pitch_mm,
        "warnings": list(warnings),
    }


def _tables(plan: EveningPlan, warnings: Sequence[str], measured: Measured, out: Console, everything: bool) -> None:
    from rich.text import Text

    from session.commands.printing import table
    from session.records.reading import shown

    out.print(Text(f"{shown(measured.source)}: {len(plan.points_mm)} teeth, pitch {measured.pitch}", style="bold"))
    for warning in warnings:
        out.print(Text(f"Take care: {warning}"))
    out.print(table("In all", ["", ""], _summary(plan, measured.pitch.unit)))
    usual = _usual(plan)
    told = [gullet for gullet in range(1, len(plan.strokes) + 1) if everything or _needs_more(plan, gullet, usual)]
    if not told:
        out.print(Text(f"Every gullet: {_strokes(usual)}, straight."))
        return
    # Those that ask for most come into a list that is cut; a list is then read along the line all the same.
    kept = sorted(sorted(told, key=lambda gullet: -plan.strokes[gullet - 1])[: None if everything else MOST_LISTED])
    title = "Every gullet" if everything else "Gullets that need more than the usual, or a lean"
    columns = ["gullet", "strokes", "lean to", "front gives", "back of next gives"]
    rows = [_gullet(plan, gullet, measured.pitch.unit) for gullet in kept]
    out.print(table(title, columns, rows, right=("gullet", "strokes", "front gives", "back of next gives")))
    if len(kept) < len(told):
        out.print(Text(f"And {len(told) - len(kept)} more that lean or need more; --all lists every gullet."))
    if len(told) < len(plan.strokes):
        out.print(Text(f"All others: {_strokes(usual)}, straight."))
    out.print(Text("Lift the file the moment the flat is gone, whatever the count (GOR p. 150)."))


def _summary(plan: EveningPlan, unit: str) -> list[Sequence[str]]:
    from session.counsel.figure import amount
    from session.counsel.wording import times
    from session.trade.strokes import DEFAULT_BITE_MM3

    never = "not before gullets are gone"
    extra, later = plan.extra_leveling_mm, plan.sharpenings_until_even
    within = amount(plan.within_mm, unit)
    light = f"at {amount(plan.light_mm, unit)} each (from memory)"
    rows: list[Sequence[str]] = [
        ("worst spacing error, points in the middle of their flats", amount(plan.worst_before_mm, unit)),
        ("worst spacing error by this plan", amount(plan.worst_after_mm, unit)),
        (f"further leveling to come within {within}", never if extra is None else amount(extra, unit)),
        (
            f"or after this plan, light sharpenings to come within {within}",
            never if later is None else f"{times(later, 'sharpening')} {light}" if later else "none",
        ),
        (
            "strokes in all",
            f"{sum(plan.strokes) + plan.heel_strokes} at {DEFAULT_BITE_MM3:g} mm³ a stroke (from memory)",
        ),
    ]
    if plan.heel_strokes:
        rows.append(("of these on the back of tooth 1", str(plan.heel_strokes)))
    return rows


def _usual(plan: EveningPlan) -> int:
    """The middle count of strokes, of the smaller two where there are two."""
    from statistics import median_low

    return median_low(plan.strokes)


def _needs_more(plan: EveningPlan, gullet: int, usual: int) -> bool:
    # A lean is only worth a line where there is a stroke to lean with.
    strokes = plan.strokes[gullet - 1]
    return strokes != usual or (strokes > 0 and plan.lean[gullet - 1] != "straight")


def _strokes(count: int) -> str:
    from session.counsel.wording import times

    return times(count, "stroke") if count else "no stroke"


def _gullet(plan: EveningPlan, gullet: int, unit: str) -> Sequence[str]:
    from session.counsel.figure import amount

    back = plan.back_mm[gullet] if gullet < len(plan.back_mm) else 0.0
    front = plan.front_mm[gullet - 1]
    return (
        str(gullet),
        str(plan.strokes[gullet - 1]),
        str(plan.lean[gullet - 1]),
        amount(front, unit),
        amount(back, unit),
    )
