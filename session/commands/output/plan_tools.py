"""The page before the start: what is laid out for one saw, what can be done without, how long it will be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from session.advice.own_files import own_files
from session.advice.sourced_figure import Figure
from session.advice.tools_needed import TOOLS, laid_out
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.till.drawer import Drawer
from session.trade.saw import Saw
from session.walk.stages import Stage


def missing_tools(told: Sequence[str]) -> frozenset[str]:
    """The tools that are told to be missing. Raises Refusal for a name that none has."""
    for name in told:
        if name not in TOOLS:
            raise Refusal(f'--without: "{clean(name)[:40]}" is no tool of the page; allowed: {", ".join(TOOLS)}')
    return frozenset(told)


def tools_page(
    saw: Saw, taken_in: Iterable[Stage], drawer: Drawer, missing: frozenset[str], figures: Iterable[Figure]
) -> list[str]:
    """The page in lines."""
    own = own_files((one.file for one in drawer.worn), saw, drawer.limit)
    lines = [f"Before you start: {saw.name}", ""]
    lines += [
        f"{'MISSING ' if one.missing else ''}{one.title}: {one.words} ({one.source})"
        for one in laid_out(saw, taken_in, own, missing)
    ]
    told = {one.key: one for one in figures}
    strokes, minutes = told["strokes_total"], told["minutes_expected"]
    lines += ["", f"{strokes.words}: about {strokes.shown(saw.unit)} (from memory until your records tell)."]
    lines.append(f"{minutes.words}: {minutes.shown(saw.unit)}{'' if minutes.value else ', before a record tells'}.")
    lines += ["", "To print, true to scale: guides, gauges and a card of the work (toothline templates)."]
    return lines
