"""`toothline templates SAW --to DIR`: pages to print, true to scale: guides, gauges, a pitch strip, a bench card."""

from __future__ import annotations

import argparse
from typing import Final

from session.commands.output.option_values import recipe_argument
from session.commands.output.page_folder import paper_arguments
from session.machine.refusal import Refusal

HELP = (
    "make pages to print, true to scale: guide block, fleam guide, protractor, file-face gauge, pitch strip, bench card"
)
EXAMPLE = "toothline templates crosscut-panel --to pages"

#: The names of session.prints.printables, told again so that help loads nothing.
PAGES: Final = ("guide-block", "fleam-guide", "protractor", "face-gauge", "pitch-strip", "bench-card")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    recipe_argument(parser)
    parser.add_argument("--to", metavar="DIR", required=True, help="the folder that the pages go into")
    parser.add_argument("--only", choices=PAGES, action="append", help="not all, but this one; may be repeated")
    parser.add_argument("--as", dest="form", choices=("pdf", "svg"), help="in this form alone, not in both")
    paper_arguments(parser)
    parser.add_argument(
        "--length",
        metavar="LENGTH",
        help="what the line measures from its first point to its last, where that is not the recipe's, such as "
        '"21 15/16 in": the marks of the strip are spread over it',
    )


def run(args: argparse.Namespace) -> int:
    """Write the pages, and print the name of each."""
    from session.commands.output.option_values import length_option
    from session.commands.output.page_folder import paper_stock, tell_of_signs, write_pages
    from session.commands.output.plan_told import told_of
    from session.commands.output.standard_streams import say
    from session.prints.bench_card import CardMatter
    from session.prints.printables import PageFormat, Printable, page_files, sheets
    from session.till.saw_file_name import slug
    from session.till.till_folder import Till, till_folder
    from session.trade.trade_error import TradeError

    told = told_of(Till(till_folder(args.till, waits=say)), args.recipe)
    saw, figures = told.recipe.saw, tuple(figure for _, group in told.groups for figure in group)
    card = CardMatter(figures, told.stages, told.plan)
    measured = None if args.length is None else length_option("--length", args.length)
    stock = paper_stock(args)
    wanted = [what for what in Printable if not args.only or what in args.only]
    try:
        printed = {str(what): sheets(saw, what, stock, measured=measured, card=card) for what in wanted}
    except TradeError as wrong:
        raise Refusal(f"{'--length: ' if args.length else ''}{wrong}") from None
    if not any(printed.values()):
        raise Refusal(f"--only: {saw.name} is filed square across and has no fleam guide; allowed: another page")
    if args.form != "svg":
        tell_of_signs(saw.name)
    write_pages(
        "--to", args.to, page_files(slug(saw.name), printed, [PageFormat(args.form)] if args.form else [*PageFormat])
    )
    return 0
