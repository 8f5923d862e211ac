"""Values given on the command line, read; what is wrong with one is told with its option's name in front."""

from __future__ import annotations

from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.trade.lengths import Length, parse_length
from session.trade.trade_error import TradeError


def length_option(option: str, text: str) -> Length:
    """The length that ``text`` tells. Raises Refusal for what is none."""
    try:
        return parse_length(clean(text))
    except TradeError as wrong:
        raise Refusal(f"{option}: {wrong}") from None
