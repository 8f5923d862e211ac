"""`toothline scan SAW IMAGE…`: the tooth line measured from flatbed scans of it, or shown again."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Final

from session.commands.output.page_folder import paper_arguments
from session.machine.refusal import BAD_INPUT, Refusal

if TYPE_CHECKING:
    from datetime import datetime

    from session.advice.scan_contradictions import Contradiction
    from session.scan.saw_scan import SawScan
    from session.till.kept_scans import ScanFile
    from session.till.known_saws import KnownSaw
    from session.till.till_folder import Till
    from session.trade.saw import Saw
    from session.trade.scan_tones import TakenTones
    from session.trade.scanned_line import ScannedLine

HELP = "measure every tooth of a line from flatbed scans of the saw"
EXAMPLE = "toothline scan netloft-panel-saw heel.png middle.png toe.png"

#: What is said of a line that is not kept.
_NOT_KEPT: Final = (
    "Not kept, for it contradicts the recipe. If it is the whole line of this saw all the same, keep it with --keep."
)

#: What is said of one that is kept, and is older than another.
_OLDER: Final = (
    "Take care: it does not count, being older than the scan of {at}; if it is the newer one, its picture files say a "
    "wrong time: lay the other aside by --lay-aside."
)

#: A picture saved so many seconds ago is told as one of before, and one of before this year has a clock that is wrong.
OLD_S: Final = 120.0
FIRST_YEAR: Final = 2000


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", nargs="?", help="a saw of the till, a supplied recipe or a recipe file")
    parser.add_argument(
        "images",
        metavar="IMAGE",
        nargs="*",
        help="PNG, TIFF or JPEG, one to five, from heel to toe; none shows the kept line whose pictures are newest",
    )
    parser.add_argument("--dpi", metavar="N", help="dots per inch, where the files do not say or say wrong")
    parser.add_argument(
        "--heel", choices=("left", "right"), help="where the heel lies in the pictures, if the teeth do not tell"
    )
    parser.add_argument(
        "--first", metavar="N", nargs="+", help="the number of the first tooth that each picture shows whole"
    )
    parser.add_argument("--steel", choices=("light", "dark"), help="whether the saw is lighter than what is behind it")
    parser.add_argument(
        "--tones",
        choices=("usual", "linear"),
        help="as the scanner's program was set: usual (sRGB) or linear ones (raw); goes before what the files say",
    )
    parser.add_argument("--svg", metavar="FILE", help="the measured line, ten times in height, into a new file")
    keeping = parser.add_mutually_exclusive_group()
    keeping.add_argument("--no-keep", action="store_true", help="look only: the till keeps nothing of it")
    keeping.add_argument(
        "--keep", action="store_true", help="keep it although it contradicts the recipe, which is mended by: edit SAW"
    )
    keeping.add_argument(
        "--lay-aside",
        action="store_true",
        help="lay the kept line whose pictures are newest aside, so that nothing reads it any more; its file stays",
    )
    paper_arguments(parser)
    parser.add_argument(
        "--json",
        action="store_true",
        help="as JSON, lengths in mm and angles in degrees; height_mm is how far a tooth stands under the line through "
        "the points, below 0 where it is high; gullet_mm is a gullet's place along the line, depth_mm its depth under "
        "it",
    )
    parser.add_argument(
        "--calibrate",
        metavar="RULE-IMAGE",
        help="measure the scanner by a steel rule scanned along the glass, then by one across; the till keeps it",
    )
    parser.add_argument("--length", metavar="LENGTH", help='of that rule, first tick to last, such as "150 mm"')
    parser.add_argument("--how", action="store_true", help="how to make a scan that can be read")


def run(args: argparse.Namespace) -> int:
    """Read the pictures, and print the line as a table or as JSON; the newest kept one where there is no picture.

    The status is that of bad input where a line was not kept since it contradicts the recipe: a script that goes on by
    it would go on by another line.
    """
    from session.advice.scan_contradictions import contradictions
    from session.commands.output.plain_data import write
    from session.commands.output.printed_width import wrapped_lines
    from session.commands.output.standard_streams import say
    from session.files.recipe import load_recipe
    from session.files.supplied import find_recipe
    from session.machine.clock import SystemClock
    from session.till.kept_scans import newest_scan
    from session.till.known_saws import saw_named
    from session.till.till_folder import Till, till_folder

    if args.how:
        from session.commands.output.scan_how import HOW

        write(wrapped_lines(HOW))
        return 0
    if args.calibrate is not None:
        from session.commands.scanning.rule_measured import calibrate

        return calibrate(args)
    if args.saw is None:
        raise Refusal("scan needs a saw and at least one picture, such as: toothline scan netloft-panel-saw line.png")
    till = Till(till_folder(args.till, waits=say))
    saw = load_recipe(find_recipe(args.saw, till.saws(), till.retired())).saw
    known = saw_named(till, saw.name)
    if args.lay_aside:
        return _laid_aside(args, till, known)
    if not args.images:
        return _shown_again(args, saw, till, known, _kept_last(till, known))
    found = _scanned(args, till, saw.points if saw.points_counted else None)
    against = contradictions(found.line, saw, known.slug, dpi=found.dpi, heel=found.heel)
    if args.svg is not None:
        _svg(args, saw, found.line)
    now = SystemClock().now()
    at = _made_at(args.images, now)
    held = any(one.held for one in against)
    kept = None if args.no_keep or (held and not args.keep) else _kept(till, known, saw.name, found, at)
    newest = None if kept is None else newest_scan(till, known)
    counts = newest is not None and newest.at <= at
    _told(args, saw, found.line, found, found.tones, against, {"kept": kept, "counts": counts})
    if kept is not None and not args.json:
        old = (now - at).total_seconds() >= OLD_S
        write(wrapped_lines([f"Kept in {kept}{f', by its pictures of {at:%Y-%m-%d %H:%M}' if old else ''}"]))
        if newest is not None and not counts:
            write(wrapped_lines([_OLDER.format(at=f"{newest.at:%Y-%m-%d %H:%M}")]))
    if kept is None and not args.no_keep:
        say(_NOT_KEPT)
        return BAD_INPUT
    return 0


def _told(
    args: argparse.Namespace,
    saw: Saw,
    line: ScannedLine,
    found: SawScan | None,
    tones: TakenTones | None,
    against: Sequence[Contradiction],
    more: Mapping[str, object],
) -> None:
    """Print the line, how it was taken where that is known, and what of it contradicts the recipe."""
    from session.commands.output.plain_data import print_json
    from session.commands.output.scan_words import contradictions_plain, scan_plain, scan_summary, scan_table

    if args.json:
        print_json(scan_plain(line, found, tones) | {"contradictions": contradictions_plain(against), **more})
    else:
        scan_table(line)
        scan_summary(line, saw, against, found, tones)


def _kept_last(till: Till, known: KnownSaw) -> ScanFile:
    """The file of the kept line whose pictures are newest. Raises Refusal where there is none."""
    from session.commands.output.unread_scans import newest_told

    file = newest_told(till, known)
    if file is None:
        raise Refusal(f"no scan of {known.slug} is in this till yet; scan it: toothline scan {known.slug} line.png")
    return file


def _shown_again(args: argparse.Namespace, saw: Saw, till: Till, known: KnownSaw, file: ScanFile) -> int:
    """The line in ``file``, as it was told when it was scanned."""
    from session.advice.scan_contradictions import contradictions
    from session.commands.output.plain_data import write
    from session.commands.output.printed_width import wrapped_lines
    from session.machine.untrusted_text import shown

    line, at = file.scan.line, file.scan.at
    if args.svg is not None:
        _svg(args, saw, line)
    against = contradictions(line, saw, known.slug)
    _told(args, saw, line, None, file.scan.tones, against, {"kept": shown(file.path), "at": at.isoformat()})
    if not args.json:
        write(wrapped_lines([f"Scanned on {at:%Y-%m-%d %H:%M}, kept in {shown(file.path)}"]))
        if any(one.held for one in against) and (told := _instead(saw, till, known)):
            write(wrapped_lines([told]))
    return 0


def _instead(saw: Saw, till: Till, known: KnownSaw) -> str:
    """Which scan is used where the newest contradicts the recipe; empty where there is no other."""
    from session.advice.saw_advice import looks_of
    from session.advice.scan_in_use import scan_in_use
    from session.machine.clock import SystemClock
    from session.till.kept_scans import newest_line
    from session.till.saw_history import history

    looks = looks_of(newest_line(till, known), history([till], known, unfinished=False), till)
    return "" if looks is None else scan_in_use(looks, saw).instead(SystemClock().now().date())


def _laid_aside(args: argparse.Namespace, till: Till, known: KnownSaw) -> int:
    """Lay the kept line whose pictures are newest aside, and say where it lies and which one counts now."""
    from session.commands.output.plain_data import print_json, write
    from session.commands.output.printed_width import wrapped_lines
    from session.machine.untrusted_text import shown
    from session.till.kept_scans import lay_aside, newest_scan

    if args.images:
        raise Refusal("--lay-aside: no picture is read with it; allowed: the saw alone")
    file = _kept_last(till, known)
    path = lay_aside(file)
    before = newest_scan(till, known)
    if args.json:
        print_json({"laid_aside": shown(path), "newest_at": None if before is None else before.at.isoformat()})
        return 0
    counts = "no other is kept" if before is None else f"that of {before.at:%Y-%m-%d %H:%M} counts now"
    told = f"The scan of {file.scan.at:%Y-%m-%d %H:%M} is laid aside; {counts}."
    write(wrapped_lines([told, f"It lies in {shown(path)}; moved back into the folder above, it counts again."]))
    return 0


def _svg(args: argparse.Namespace, saw: Saw, line: ScannedLine) -> None:
    from session.commands.output.page_folder import paper_stock
    from session.commands.output.record_page import file_named, place_drawing
    from session.commands.output.scan_words import scan_sentences
    from session.prints.record_matter import RecordMatter
    from session.prints.record_sheets import record_sheets
    from session.prints.svg_sheets import svg_sheets

    words = tuple(scan_sentences(line, saw))
    matter = RecordMatter(saw.name, "as a scan measured it", words, (), (), (), (("The line", line),))
    drawn = svg_sheets(saw.name, record_sheets(matter, paper_stock(args)))
    place_drawing("--svg", file_named("--svg", args.svg), drawn.encode("utf-8", "replace"))


def _kept(till: Till, known: KnownSaw, name: str, found: SawScan, at: datetime) -> str:
    """Where the till keeps the line of the saw called ``name`` by its recipe, as it was at ``at``."""
    from session.files.scanned_file import KeptScan
    from session.machine.untrusted_text import shown
    from session.till.kept_scans import write_scan

    return shown(write_scan(till, known, KeptScan(at=at, saw=name, line=found.line, tones=found.tones)))


def _made_at(images: Sequence[str], now: datetime) -> datetime:
    """When the oldest of the pictures was saved, by its file: a picture of before the leveling, read after it, shows
    the line of before. ``now`` where no file says a time that can be."""
    from datetime import datetime

    from session.commands.scanning.picture_options import picture_path

    oldest = now
    for name in images:
        with suppress(OSError, ValueError, OverflowError):
            saved = datetime.fromtimestamp(picture_path(name).stat().st_mtime, now.tzinfo)
            oldest = min(oldest, saved) if saved.year >= FIRST_YEAR else oldest
    return oldest.replace(microsecond=0)


def _scanned(args: argparse.Namespace, till: Till, points: int | None) -> SawScan:
    from session.commands.output.standard_streams import say
    from session.commands.scanning.picture_options import dots_per_inch, first_teeth, picture_libraries, picture_path
    from session.till.kept_scanner import kept_scale

    with picture_libraries():
        from session.scan.saw_scan import SE_UNMEASURED, scan_saw
    from session.trade.scan_tones import Tones

    scale = kept_scale(till)
    return scan_saw(
        [picture_path(name) for name in args.images],
        dpi=dots_per_inch(args.dpi),
        heel=args.heel,
        first=first_teeth(args.first),
        steel=args.steel,
        tones=None if args.tones is None else Tones(args.tones),
        shares=(scale.along or 1.0, scale.down or 1.0),
        se_shares=(
            SE_UNMEASURED if scale.se_along is None else scale.se_along,
            SE_UNMEASURED if scale.se_down is None else scale.se_down,
        ),
        points=points,
        say=say,
    )
