"""`toothline advise RECIPE --seen SEEN.toml`: what a saw needs, from what was seen of it."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from session.commands.output.option_values import recipe_argument
from session.trade.rounding import half_up, whole_number

if TYPE_CHECKING:
    from session.advice.measured_looks import MeasuredLooks
    from session.advice.seen_by_scan import SeenByScan
    from session.advice.stops import Advised
    from session.advice.work import Piece
    from session.trade.saw import Saw

HELP = "say what a saw needs today, from what was seen of it"
EXAMPLE = "toothline advise crosscut-panel --seen seen.toml"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    recipe_argument(parser)
    parser.add_argument(
        "--seen",
        metavar="SEEN.toml",
        help="what was seen of it; the newest scan of it is taken for the rest; without both, only what to look at is "
        "said",
    )
    parser.add_argument("--json", action="store_true", help="as JSON, steel in thousandths of an inch")
    parser.add_argument(
        "--may-lose",
        metavar="LENGTH",
        help='what the line may come down in all its life, such as "5 mm": with little of it left, less is advised',
    )


def run(args: argparse.Namespace) -> int:
    """Judge, and print as a table or as JSON."""
    from session.advice.decision import decide
    from session.advice.saw_advice import looks_of, records_of
    from session.advice.seen_by_scan import seen_by_scan
    from session.commands.output.due_output import due_data, due_line
    from session.commands.output.plain_data import print_json
    from session.commands.output.plan_steel import limit
    from session.commands.output.printed_tables import print_line
    from session.commands.output.standard_streams import say
    from session.commands.output.unread_scans import lines_told
    from session.files.recipe import load_recipe
    from session.files.seen_file import load_seen
    from session.files.supplied import find_recipe
    from session.machine.clock import SystemClock
    from session.till.due_date import due
    from session.till.known_saws import saw_named
    from session.till.saw_history import history
    from session.till.till_folder import Till, till_folder
    from session.trade.observation import Seen

    till = Till(till_folder(args.till, waits=say))
    saw = load_recipe(find_recipe(args.recipe, till.saws(), till.retired())).saw
    seen = Seen() if args.seen is None else load_seen(Path(args.seen))
    known, now = history([till], saw_named(till, saw.name)), SystemClock().now()
    by_scan = None
    if (scanned := looks_of(lines_told(till, known.saw), known, till)) is not None:
        by_scan = seen_by_scan(seen, scanned, saw, now.date(), known.saw.slug)
    advised = decide(
        saw, seen if by_scan is None else by_scan.seen, records_of(known, limit(args.may_lose)), now.date()
    )
    if args.json:
        print_json(plain(advised) | {"scan": _scan(scanned, by_scan), "due": due_data(due(known, now))})
    else:
        _tables(advised, saw, () if by_scan is None else by_scan.told)
        print_line(due_line(due(known, now)))
    return 0


def plain(advised: Advised) -> dict[str, Any]:
    """The advice as plain values."""
    return {
        "work": [_piece(one) for one in advised.work],
        "looks": [str(look) for look in advised.looks],
        "stop": advised.stop,
        "less": [_piece(one) for one in advised.less],
        "more": [_piece(one) for one in advised.more],
        "doubts": [
            {"look": str(one.look), "seen": one.seen, "expected": one.expected, "why": one.why}
            for one in advised.doubts
        ],
        "notes": list(advised.notes),
    }


def _piece(one: Piece) -> dict[str, Any]:
    return {
        "what": str(one.what),
        "reason": one.reason,
        "source": one.source,
        "steel_thou": None if one.steel_thou is None else half_up(one.steel_thou, 2),
        "places": one.places,
        "minutes": None if one.minutes is None else half_up(one.minutes, 1),
    }


def _scan(scanned: MeasuredLooks | None, by_scan: SeenByScan | None) -> dict[str, Any] | None:
    """The scan that was read, and what was taken from it; None without one."""
    if scanned is None or by_scan is None:
        return None
    taken = {str(look): words for look, words in by_scan.taken.items()}
    return {
        "at": by_scan.scan.at.isoformat(),
        "newest_at": scanned.at.isoformat(),
        "filed_since": by_scan.scan.filed_since,
        "taken": taken,
        "told": list(by_scan.told),
    }


def _tables(advised: Advised, saw: Saw, scanned: Sequence[str]) -> None:
    from session.advice.look_words import LOOK_WORDS
    from session.commands.output.printed_tables import print_heading, print_line, print_table

    print_heading(f"{saw.name}: what it needs today")
    for line in scanned:
        print_line(line)
    if advised.stop:
        print_line("Stop: no steel may be taken off this saw today.")
    for doubt in advised.doubts:
        beside = f" Expected: {doubt.expected}." if doubt.expected else ""
        print_line(f"Look again: {LOOK_WORDS[doubt.look]}: {doubt.seen}; {doubt.why}.{beside}")
    doubted = {doubt.look for doubt in advised.doubts}
    for look in advised.looks:
        if look not in doubted:
            print_line(f"Look first: {LOOK_WORDS[look]}.")
    columns = ["do", "why", "who says so", "steel"]
    print_table("", columns, [[*_row(one), _steel(one, saw)] for one in advised.work], right=("steel",))
    for note in advised.notes:
        print_line(note)
    for name, work in (("Less", advised.less), ("More", advised.more)):
        if work:
            print_line(f"{name} than that: {in_words(work)}{_cost(work, saw)}.")
    print_line("This is advice; you decide, and the trial cut tells.")


def _row(one: Piece) -> Sequence[str]:
    return str(one.what), one.reason, one.source


def _steel(one: Piece, saw: Saw) -> str:
    from session.texts.wording import fine

    return "–" if one.steel_mm is None else fine(one.steel_mm, saw.unit)


def in_words(work: Sequence[Piece]) -> str:
    """The kinds of work in a row: "level, file, dress"."""
    return ", ".join(str(one.what) for one in work)


def _cost(work: Sequence[Piece], saw: Saw) -> str:
    from session.advice.work import steel_mm
    from session.texts.wording import fine

    off = steel_mm(work)
    minutes = sum(one.minutes or 0.0 for one in work)
    told = [f"{fine(off, saw.unit)} off the line"] if off else []
    told += [f"about {whole_number(minutes)} min"] if minutes >= 1 else []
    return f" ({', '.join(told)})" if told else ""
