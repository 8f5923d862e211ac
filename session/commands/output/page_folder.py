"""Pages to print into a folder of the person's: its options, and all of the files or, where a name is taken, none."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from session.machine.refusal import DISK, Refusal

if TYPE_CHECKING:
    from session.prints.page_sheets import PaperStock


def paper_arguments(parser: argparse.ArgumentParser) -> None:
    """Which paper, and what is out about the printer."""
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="the paper (a4 is the usual)")
    parser.add_argument(
        "--printed", metavar="LENGTH", help='what the bar of 100 mm measured on paper, such as "98.6 mm": mended by it'
    )


def paper_stock(args: argparse.Namespace) -> PaperStock:
    """The paper that the options tell. Raises Refusal for a bar that is too far out."""
    from session.commands.output.option_values import length_option
    from session.prints.page_sheets import LEAST_BAR_MM, MOST_BAR_MM, Paper, PaperStock

    paper = Paper(args.paper)
    if args.printed is None:
        return PaperStock(paper)
    mm = length_option("--printed", args.printed).mm
    if not LEAST_BAR_MM <= mm <= MOST_BAR_MM:
        raise Refusal(
            f"--printed: a bar of 100 mm that measures {args.printed}; allowed: {LEAST_BAR_MM:g} mm to "
            f"{MOST_BAR_MM:g} mm (print at 100 %, not fitted to the page)"
        )
    return PaperStock(paper, mm)


def tell_of_signs(name: str) -> None:
    """Say it where ``name`` has signs that the letters of a PDF lack."""
    from session.commands.output.standard_streams import say
    from session.machine.clean_text import clean
    from session.prints.letter_widths import printable

    if printable(name) != clean(name):
        say(f"the letters of the PDF lack signs of “{clean(name)}” and have a ? for each; an SVG has them")


def write_pages(option: str, target: str, pages: Mapping[str, bytes]) -> None:
    """Each page into a new file of the folder ``target``, which ``option`` named, and their names to stdout.

    Raises Refusal, and writes nothing, where one of the names is taken.
    """
    from session.commands.output.plain_data import write
    from session.machine.disk import REAL, why
    from session.machine.new_file import make_folder, place_file
    from session.machine.untrusted_text import shown

    if "\0" in target:
        raise Refusal(f"{option}: not the name of a folder; write the folder that the pages go into")
    folder = Path(target)
    try:
        make_folder(folder, REAL)
        taken = next((name for name in pages if (folder / name).exists()), None)
        for name, page in pages.items():
            if taken is None and not place_file(folder / name, page, REAL):
                taken = name
    except OSError as problem:
        raise Refusal(f"{option}: {shown(folder)}: the pages were not written: {why(problem)}", DISK) from None
    if taken is not None:
        raise Refusal(
            f"{option}: {shown(folder / taken)}: is there already; allowed: a folder without a file of that name"
        )
    for name in pages:
        write(f"{shown(folder / name)}\n")
