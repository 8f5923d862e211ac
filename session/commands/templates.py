"""`toothline templates RECIPE --to DIR`: pages to print, true to scale: a strip with the places of all points."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Final

from session.commands.output.option_values import recipe_argument
from session.machine.refusal import DISK, Refusal

if TYPE_CHECKING:
    from session.commands.output.strip_svg import StripHead
    from session.trade.lengths import Length
    from session.trade.saw import Saw

HELP = "make pages to print, true to scale: a strip with a mark for each point of the line"
EXAMPLE = "toothline templates crosscut-panel --to pages"

#: What the bar of 100 mm may measure; a printer that is further out was told to fit the page.
_LEAST_MM: Final = 90.0
_MOST_MM: Final = 110.0


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    recipe_argument(parser)
    parser.add_argument("--to", metavar="DIR", required=True, help="the folder that the pages go into")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="the paper, lying (a4 is the usual)")
    parser.add_argument(
        "--length",
        metavar="LENGTH",
        help="what the line measures from its first point to its last, where that is not the recipe's, such as "
        '"21 15/16 in": the marks are spread over it',
    )
    parser.add_argument(
        "--printed", metavar="LENGTH", help='what the bar of 100 mm measured on paper, such as "98.6 mm": mended by it'
    )


def run(args: argparse.Namespace) -> int:
    """Write the pages, and print the name of each."""
    from session.commands.output.standard_streams import say
    from session.commands.output.strip_svg import strip_pages
    from session.files.recipe import load_recipe
    from session.files.supplied import find_recipe
    from session.till.saw_file_name import slug
    from session.till.till_folder import Till, till_folder
    from session.trade.trade_error import TradeError

    saw = load_recipe(find_recipe(args.recipe, Till(till_folder(args.till, waits=say)).saws())).saw
    try:
        head, places = _strip(saw, args.length)
        pages = strip_pages(head, places, paper=args.paper, bar_mm=_bar(args.printed))
    except TradeError as wrong:
        raise Refusal(f"{'--length: ' if args.length else ''}{wrong}") from None
    _write(Path(args.to), {f"{slug(saw.name)}-pitch-strip-{n}.svg": page for n, page in enumerate(pages, 1)})
    return 0


def _strip(saw: Saw, measured: str | None) -> tuple[StripHead, tuple[float, ...]]:
    """What stands over the strip, and where its marks go."""
    from session.commands.output.option_values import length_option
    from session.commands.output.strip_svg import StripHead
    from session.trade.pitch_strip import spread_over

    places = tuple(saw.from_heel_mm(tooth) for tooth in range(1, saw.points + 1))
    length = None if measured is None else length_option("--length", measured)
    if length is not None:
        places = spread_over(places, length.mm)
    zones = f" at the heel, {len(saw.zones)} zones" if saw.zones else ""
    line = f"{saw.count_as}{zones}, {saw.points} points over {_told(places[-1], length, saw)}"
    return StripHead(saw.name, line), places


def _told(mm: float, measured: Length | None, saw: Saw) -> str:
    from session.trade.lengths import in_unit

    return in_unit(mm, saw.unit) if measured is None else f"{measured}, as measured"


def _bar(printed: str | None) -> float:
    from session.commands.output.option_values import length_option

    if printed is None:
        return 100.0
    mm = length_option("--printed", printed).mm
    if not _LEAST_MM <= mm <= _MOST_MM:
        raise Refusal(
            f"--printed: a bar of 100 mm that measures {printed}; allowed: {_LEAST_MM:g} mm to {_MOST_MM:g} mm (print "
            "at 100 %, not fitted to the page)"
        )
    return mm


def _write(folder: Path, pages: dict[str, str]) -> None:
    """Each page into a new file of ``folder``, all or none of whose names may be taken."""
    from session.commands.output.plain_data import write
    from session.machine.disk import REAL, why
    from session.machine.new_file import make_folder, place_file
    from session.machine.untrusted_text import shown

    if "\0" in str(folder):
        raise Refusal("--to: not the name of a folder; write the folder that the pages go into")
    try:
        make_folder(folder, REAL)
        taken = next((name for name in pages if (folder / name).exists()), None)
        for name, page in pages.items():
            if taken is None and not place_file(folder / name, page.encode("utf-8", "replace"), REAL):
                taken = name
    except OSError as problem:
        raise Refusal(f"--to: {shown(folder)}: the pages were not written: {why(problem)}", DISK) from None
    if taken is not None:
        raise Refusal(f"--to: {shown(folder / taken)}: is there already; allowed: a folder without a file of that name")
    for name in pages:
        write(f"{shown(folder / name)}\n")
