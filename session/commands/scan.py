"""`toothline scan SAW IMAGE…`: the tooth line measured from flatbed scans of it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final

from session.commands.output.page_folder import paper_arguments
from session.machine.refusal import Refusal

if TYPE_CHECKING:
    from datetime import datetime

    from session.scan.saw_scan import SawScan
    from session.till.till_folder import Till
    from session.trade.saw import Saw

HELP = "measure every tooth of a line from flatbed scans of the saw"
EXAMPLE = "toothline scan netloft-panel-saw heel.png middle.png toe.png"

#: What is installed with toothline[scan], by the names that it is imported by.
LIBRARIES: Final = ("numpy", "contourpy", "PIL")

#: A picture saved so many seconds ago is told as one of before, and one of before this year has a clock that is wrong.
OLD_S: Final = 120.0
FIRST_YEAR: Final = 2000

#: How a scan is made that can be read; shown with --how.
HOW: Final = (
    "Wipe filings off the saw first: they scratch glass. Points are sharp: lower the saw, and never slide it.",
    "Lay the plate flat, its teeth clear of the glass's rim and along it, the handle hanging over the edge.",
    "Leave the lid open, lay dark cloth behind the saw, and scan in gray, 8 bit, without sharpening or other mending.",
    "1200 dots per inch tell a tooth's height to a hundredth of a millimeter and a flat to two; 600 to twice that; "
    "300 tell the pitch, and now and then call a good tooth low, high or broken (from rendered scans, no real one).",
    "A scanner with lens and mirrors sees what stands a little over the glass; one with a contact sensor blurs it.",
    "To even the line by it, scan after leveling and before filing: the bench offers the flats of such a scan.",
    "A saw longer than the glass: up to five scans from heel to toe, each with eight teeth of the one before, the same "
    "side down. Strong set: scan both sides, and believe neither to less than they differ by.",
    "Measure the scanner first: scan a steel rule along the glass, then across, each with --calibrate. Without it all "
    "lengths may be off alike by 2 in 1,000; measure ten spaces with calipers, and compare.",
    "To tell a crown of less than a tenth of a millimeter scan the saw once more, turned half round: half of what the "
    "two differ by is the scanner's own bow.",
    "The scanner stays closed and plugged in as its maker left it: nothing of it is taken apart.",
)


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", nargs="?", help="a saw of the till, a supplied recipe or a recipe file")
    parser.add_argument("images", metavar="IMAGE", nargs="*", help="PNG, TIFF or JPEG, one to five, from heel to toe")
    parser.add_argument("--dpi", metavar="N", help="dots per inch, where the files do not say or say wrong")
    parser.add_argument(
        "--heel", choices=("left", "right"), help="where the heel lies in the pictures, if the teeth do not tell"
    )
    parser.add_argument(
        "--first", metavar="N", nargs="+", help="the number of the first tooth that each picture shows whole"
    )
    parser.add_argument("--steel", choices=("light", "dark"), help="whether the saw is lighter than what is behind it")
    parser.add_argument("--svg", metavar="FILE", help="the measured line, ten times in height, into a new file")
    parser.add_argument("--no-keep", action="store_true", help="look only: the till keeps nothing of it")
    paper_arguments(parser)
    parser.add_argument("--json", action="store_true", help="as JSON, lengths in mm and angles in degrees")
    parser.add_argument(
        "--calibrate",
        metavar="RULE-IMAGE",
        help="measure the scanner by a steel rule scanned along the glass, then by one across; the till keeps it",
    )
    parser.add_argument("--length", metavar="LENGTH", help='of that rule, first tick to last, such as "150 mm"')
    parser.add_argument("--how", action="store_true", help="how to make a scan that can be read")


def run(args: argparse.Namespace) -> int:
    """Read the pictures, and print the line as a table or as JSON."""
    from session.commands.output.plain_data import print_json, write
    from session.commands.output.printed_width import wrapped_lines
    from session.commands.output.scan_words import scan_plain, scan_tables
    from session.commands.output.standard_streams import say
    from session.files.recipe import load_recipe
    from session.files.supplied import find_recipe
    from session.machine.clock import SystemClock
    from session.till.till_folder import Till, till_folder

    if args.how:
        write(wrapped_lines(HOW))
        return 0
    if args.calibrate is not None:
        return _calibrate(args)
    if args.saw is None or not args.images:
        raise Refusal("scan needs a saw and at least one picture, such as: toothline scan netloft-panel-saw line.png")
    till = Till(till_folder(args.till, waits=say))
    saw = load_recipe(find_recipe(args.saw, till.saws(), till.retired())).saw
    found = _scanned(args, till)
    if args.svg is not None:
        _svg(args, saw, found)
    now = SystemClock().now()
    at = _made_at(args.images, now)
    kept = None if args.no_keep else _kept(till, saw.name, found, at)
    if args.json:
        print_json(scan_plain(found) | {"kept": kept})
        return 0
    scan_tables(found, saw)
    if kept is not None:
        old = (now - at).total_seconds() >= OLD_S
        write(wrapped_lines([f"Kept in {kept}{f', by its pictures of {at:%Y-%m-%d %H:%M}' if old else ''}"]))
    return 0


def _svg(args: argparse.Namespace, saw: Saw, found: SawScan) -> None:
    from session.commands.output.page_folder import paper_stock
    from session.commands.output.record_page import file_named, place_drawing
    from session.commands.output.scan_words import scan_sentences
    from session.prints.record_matter import RecordMatter
    from session.prints.record_sheets import record_sheets
    from session.prints.svg_sheets import svg_sheets

    words = tuple(scan_sentences(found.line, saw))
    matter = RecordMatter(saw.name, "as a scan measured it", words, (), (), (), (("The line", found.line),))
    drawn = svg_sheets(saw.name, record_sheets(matter, paper_stock(args)))
    place_drawing("--svg", file_named("--svg", args.svg), drawn.encode("utf-8", "replace"))


def _kept(till: Till, name: str, found: SawScan, at: datetime) -> str:
    """Where the till keeps the line of the saw called ``name``, as it was at ``at``."""
    from session.files.scanned_file import KeptScan
    from session.machine.untrusted_text import shown
    from session.till.kept_scans import write_scan
    from session.till.known_saws import saw_named

    return shown(write_scan(till, saw_named(till, name), KeptScan(at=at, saw=name, line=found.line)))


def _made_at(images: Sequence[str], now: datetime) -> datetime:
    """When the oldest of the pictures was saved, by its file: a picture of before the leveling, read after it, shows
    the line of before. ``now`` where no file says a time that can be."""
    from datetime import datetime

    oldest = now
    for name in images:
        with suppress(OSError, ValueError, OverflowError):
            saved = datetime.fromtimestamp(_path(name).stat().st_mtime, now.tzinfo)
            oldest = min(oldest, saved) if saved.year >= FIRST_YEAR else oldest
    return oldest.replace(microsecond=0)


def _scanned(args: argparse.Namespace, till: Till) -> SawScan:
    from session.commands.output.standard_streams import say
    from session.files.scanner_file import read_scanner
    from session.till.kept_scanner import SCANNER

    with _libraries():
        from session.scan.saw_scan import SE_UNMEASURED, scan_saw
    scale = read_scanner(till.path / SCANNER)
    return scan_saw(
        [_path(name) for name in args.images],
        dpi=None if args.dpi is None else _dpi(args.dpi),
        heel=args.heel,
        first=None if args.first is None else [_number(text) for text in args.first],
        steel=args.steel,
        shares=(scale.along or 1.0, scale.down or 1.0),
        se_shares=(
            SE_UNMEASURED if scale.se_along is None else scale.se_along,
            SE_UNMEASURED if scale.se_down is None else scale.se_down,
        ),
        say=say,
    )


def _calibrate(args: argparse.Namespace) -> int:
    """Measure the scanner's scale by a rule, keep it in the till, and say it."""
    from dataclasses import replace

    from session.commands.output.option_values import length_option
    from session.commands.output.plain_data import write
    from session.commands.output.printed_width import wrapped_lines
    from session.commands.output.standard_streams import say
    from session.files.scanner_file import read_scanner
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import shown
    from session.till.kept_scanner import SCANNER, write_scanner
    from session.till.till_folder import Till, till_folder
    from session.trade.rounding import decimals

    if args.length is None:
        raise Refusal('--length is missing: of the rule from its first tick to its last, such as --length "150 mm"')
    with _libraries():
        from session.scan.rule_file import rule_in
    length = length_option("--length", args.length)
    found = rule_in(_path(args.calibrate), length.mm, None if args.dpi is None else _dpi(args.dpi), say)
    till, today = Till(till_folder(args.till)), SystemClock().now().date()
    scale = read_scanner(till.path / SCANNER)
    share, se = found.share, found.se
    if found.upright:
        scale = replace(scale, down=share, se_down=se, down_on=today)
    else:
        scale = replace(scale, along=share, se_along=se, along_on=today)
    path = write_scanner(till, scale)
    way, other = ("down", scale.along) if found.upright else ("along", scale.down)
    off, unsure = decimals((share - 1.0) * 1000.0, 2), decimals(se * 1000.0, 2)
    told = [
        f"{found.spaces} spaces of {decimals(found.spacing_mm, 3)} mm {way} the picture: "
        f"{decimals(found.dots_per_mm, 4)} dots in a millimeter, {off} in 1,000 off the scanner's word, ± {unsure}. "
        f"Kept in {shown(path)}"
    ]
    if other is None:
        told.append(
            f"The other way is not measured yet: turn the rule and scan it {'along' if found.upright else 'across'}."
        )
    write(wrapped_lines(told))
    return 0


@contextmanager
def _libraries() -> Iterator[None]:
    """What is imported in it needs libraries for pictures. Raises Refusal that says how to get them."""
    try:
        yield
    except ImportError as missing:
        if missing.name is None or missing.name.partition(".")[0] not in LIBRARIES:
            raise
        raise Refusal(
            "scan needs libraries for pictures that are not installed; install them by: pip install 'toothline[scan]'"
        ) from None


def _path(name: str) -> Path:
    if "\0" in name or not name:
        raise Refusal("IMAGE: not a file's name; write the picture's file")
    return Path(name)


def _dpi(text: str) -> float:
    from session.machine.clean_text import clean

    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 1.0 <= value <= 100_000.0:
        raise Refusal(f'--dpi: "{clean(text)[:20]}" is no number of dots per inch; allowed: such as 1200')
    return value


def _number(text: str) -> int:
    from session.machine.clean_text import clean

    if not (text.isascii() and text.isdigit() and 1 <= int(text[:9]) <= 3000 and len(text) < 9):
        raise Refusal(f'--first: "{clean(text)[:20]}" is no tooth\'s number; allowed: 1 to 3,000')
    return int(text)
