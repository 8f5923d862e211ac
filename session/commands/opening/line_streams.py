"""Working line by line from the command line: the standard streams, and what a signal or a lost terminal does."""

from __future__ import annotations

import errno
import io
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from types import FrameType
from typing import TYPE_CHECKING, Final, TextIO

from session.commands.output.standard_streams import say, unheard
from session.machine.ending_signals import ENDING
from session.machine.refusal import HUNG_UP, INTERRUPTED

if TYPE_CHECKING:
    from session.desk.line_mode import Plain
    from session.log.sitting import Sitting
    from session.till.till_folder import Till


class Stopped(Exception):
    """A signal asked the program to end. ``code`` is the exit status that says so."""

    def __init__(self, code: int) -> None:
        super().__init__(code)
        self.code = code


class Streams:
    """Lines over two text streams. What is typed into a pipe is repeated, so that the text out reads whole."""

    def __init__(self, typed: TextIO, told: TextIO) -> None:
        self._in: Final = typed
        self._out: Final = told
        self._prompting = False
        for stream in (typed, told):
            # A byte that is no letter, or a letter that the terminal lacks, must not end a sharpening.
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors="replace")

    def tell(self, line: str) -> None:
        """Say one line at once."""
        self._out.write(f"\n{line}\n" if self._prompting else f"{line}\n")
        self._prompting = False
        self._out.flush()

    def typed(self, prompt: str) -> str:
        """The next line typed. Raises EOFError at the end of the input."""
        self._out.write(prompt)
        self._out.flush()
        self._prompting = True
        try:
            line = self._in.readline()
        except OSError as lost:
            raise EOFError("the terminal has gone") from lost
        if not line:
            raise EOFError("the input has ended")
        self._prompting = not line.endswith("\n")
        if not self._in.isatty():
            self.echo(line)
        return line

    def echo(self, line: str) -> None:
        """Repeat what came through a pipe, behind its prompt."""
        from session.machine.clean_text import clean

        self._out.write(clean(line).strip() + "\n")
        self._prompting = False


def open_plain(till: Till, sitting: Sitting, note: str = "") -> int:
    """Work ``sitting`` line by line until it is finished or left, let go of its log, and give the exit status.

    note: what to say first, unless the end of its log was torn.
    """
    from session.advice.closing_account import account_of
    from session.advice.saw_advice import next_visit, saw_records
    from session.desk.desk import Desk
    from session.desk.key_table import key_complaints, keymap
    from session.desk.line_mode import Plain
    from session.files.settings import load_settings
    from session.texts.guidance import Level
    from session.till.learned_bite import known_bites
    from session.till.litter import clear_litter
    from session.till.till_names import SETTINGS

    clear_litter(till.path)
    settings, complaints = load_settings(till.path / SETTINGS)
    for complaint in (*complaints, *key_complaints(settings.keys)):
        say(complaint)
    sitting.units = settings.units
    # A typed line is no key that repeats, so nothing guards against a second one soon after.
    desk = Desk(
        sitting,
        guard_s=0.0,
        idle_s=float(settings.idle_s),
        level=Level(settings.guidance),
        next_visit=lambda: next_visit(till, sitting.saw.name, sitting.clock.now()),
        bites=lambda: known_bites(till, sitting.saw.name),
        records=lambda: saw_records(till, sitting.saw.name),
        account=lambda: account_of(sitting.journal.path),
    )
    plain = Plain(desk, keymap(settings.keys), Streams(sys.stdin, sys.stdout))
    try:
        with _signals():
            try:
                return plain.talk(desk.making.torn() or note)
            except KeyboardInterrupt:
                return _last_words(plain, INTERRUPTED)
            except Stopped as stopped:
                return _last_words(plain, stopped.code)
    except OSError as lost:
        if lost.errno != errno.EIO:
            raise
        # The terminal has gone, and its signal was not the first to say so.
        unheard()
        return HUNG_UP
    finally:
        sitting.close()


def _last_words(plain: Plain, code: int) -> int:
    with suppress(OSError):
        plain.leave()
    unheard()
    return code


@contextmanager
def _signals() -> Iterator[None]:
    """Within it, the signals that end a program raise `Stopped`."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise Stopped(128 + number)

    before = {number: signal.signal(number, stop) for number in ENDING}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
