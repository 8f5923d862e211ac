"""Arguments that several commands take, and what they tell."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from session.machine.clean_text import clean
from session.machine.refusal import Refusal

if TYPE_CHECKING:
    from session.trade.lengths import Length


def length_option(option: str, text: str) -> Length:
    """The length that ``text`` tells. Raises Refusal for what is none."""
    from session.trade.told_amounts import said_length
    from session.trade.trade_error import TradeError

    try:
        return said_length(clean(text))
    except TradeError as wrong:
        raise Refusal(f"{option}: {wrong}") from None


def recipe_argument(parser: argparse.ArgumentParser) -> None:
    """The saw that a command is about."""
    parser.add_argument(
        "recipe",
        metavar="RECIPE",
        help="a recipe file, or a saw in the till or a supplied one, by its name or a beginning of it",
    )
