"""Readable output on stdout: rich tables that are plain text in a pipe.

A user's text only ever goes in as ``Text``: rich would take signs in a plain string for markup.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import NoReturn

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from session.commands.output.printed_width import columns


class _Console(Console):
    """A console that leaves a closed pipe to the command line to deal with: rich itself would exit with a fault's 1."""

    def on_broken_pipe(self) -> NoReturn:
        """The reader has gone (`| head`)."""
        raise BrokenPipeError


def console() -> Console:
    """A console on stdout as it is now: its own width and style at a terminal, neither in a pipe."""
    terminal = sys.stdout.isatty()
    return _Console(
        file=sys.stdout,
        width=None if terminal else columns(),
        force_terminal=None if terminal else False,
        no_color=None if terminal else True,
        color_system="auto" if terminal else None,
        markup=False,
        emoji=False,
        highlight=False,
        soft_wrap=False,
    )


def table(title: str, columns: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[str] = ()) -> Table:
    """A table of plain texts; the columns named in ``right`` hold numbers and are ranged right."""
    made = Table(title=Text(title), title_justify="left", box=box.SIMPLE_HEAD if any(columns) else box.SIMPLE)
    made.show_header = any(columns)
    for name in columns:
        made.add_column(Text(name), justify="right" if name in right else "left", overflow="fold")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    return made
