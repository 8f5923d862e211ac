"""Opening the form for one's own saw from the command line, line by line."""

from __future__ import annotations

import errno
import sys
from typing import TYPE_CHECKING

from session.commands.opening.line_streams import Streams
from session.commands.output.standard_streams import unheard
from session.machine.refusal import BAD_INPUT

if TYPE_CHECKING:
    from session.form.own_saw_form import OwnSawForm

#: The exit status after the terminal has gone: 128 and the number of its signal.
_HUNG_UP = 129


def talk_through(form: OwnSawForm) -> int:
    """Ask ``form`` on the standard streams, show what was written, and give the exit status."""
    from session.commands.output.plain_data import write
    from session.form.line_form import LineForm
    from session.machine.untrusted_text import read_text, shown

    try:
        path = LineForm(form, Streams(sys.stdin, sys.stdout)).talk()
    except OSError as lost:
        if lost.errno != errno.EIO:
            raise
        unheard()
        return _HUNG_UP
    if path is None:
        return BAD_INPUT
    write(f"\n{read_text(path)}\n{form.words[2]}: {shown(path)}\nStart it: toothline start {path.stem}\n")
    return 0
