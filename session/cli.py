"""The command line: one parser, one small module per command, one place where errors become exit codes.

Exit status: 0 done; 1 a fault of the program; 2 bad input or usage; 3 refused because another holds it;
4 the disk would not take it; 130 interrupted.
"""

from __future__ import annotations

import argparse
import errno
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any, Final, NoReturn

from session.commands.output.printed_width import columns
from session.commands.output.standard_streams import ready, say, unheard
from session.machine.refusal import DISK, INTERRUPTED, Refusal
from session.version import VERSION

#: Commands in the order of help. Each module has HELP, EXAMPLE, `arguments(parser)` and `run(args) -> int`,
#: and imports what it needs only when it runs: `--help` must not wait for a screen library.
COMMANDS: Final = (
    "new",
    "edit",
    "retire",
    "start",
    "resume",
    "demo",
    "practice",
    "plan",
    "even",
    "advise",
    "recipes",
    "check",
    "history",
    "show",
    "cut",
    "scan",
    "templates",
    "retooth",
    "keys",
    "till",
    "completion",
)


#: Set by the script of `toothline completion` while a shell waits for the words that could stand next.
ASKED_BY_SHELL: Final = "_ARGCOMPLETE"

#: A medium that is full, broken, over its quota or not to be written to, be it only the file that stdout goes to.
_WILL_NOT_TAKE: Final = frozenset({errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EROFS, errno.EFBIG})


class _Help(argparse.HelpFormatter):
    """Help as wide as all other words: told, as argparse makes one for each argument, and loads what packs archives
    to ask for a terminal's width.
    """

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=columns() - 2)


class _Parser(argparse.ArgumentParser):
    def __init__(self, **how: Any) -> None:
        super().__init__(formatter_class=_Help, **how)

    def error(self, message: str) -> NoReturn:
        raise Refusal(f"{message}; see {self.prog} --help")


def main(arguments: Sequence[str]) -> int:
    """Run the command that ``arguments`` ask for and give the exit status."""
    ready()
    try:
        return _outcome(arguments)
    finally:
        unheard()


def _outcome(arguments: Sequence[str]) -> int:
    try:
        code = _run(arguments)
        sys.stdout.flush()  # a full disk may only show here
        return code
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        return 0  # whoever read our output has gone (`| head`); that is no fault
    except Exception as error:
        return _tell(error)


def _run(arguments: Sequence[str]) -> int:
    if ASKED_BY_SHELL in os.environ:
        import_module("session.commands.completion").complete(_parser(COMMANDS))
    try:
        args = _parser(_asked(arguments)).parse_args(arguments)
    except SystemExit:
        return 0  # --help and --version; wrong usage is a Refusal
    module = import_module(f"session.commands.{args.command or 'till'}")
    code: int = module.run(args)
    return code


def _tell(error: Exception) -> int:
    if isinstance(error, OSError) and error.errno in _WILL_NOT_TAKE:
        error = Refusal(f"what was to be written would not be taken: {error.strerror}", DISK)
    if not isinstance(error, Refusal):
        if os.environ.get("TOOTHLINE_TRACE"):
            raise error
        say(
            f"a fault of the program: {type(error).__name__}: {error} "
            "(all marks made are on disk; TOOTHLINE_TRACE=1 shows where it happened)"
        )
        return 1
    for line in error.lines:
        say(line)
    return error.code


def _asked(arguments: Sequence[str]) -> Sequence[str]:
    """The commands that ``arguments`` can be about, as far as the first of them tells: only these are loaded."""
    first = arguments[0] if arguments else ""
    return () if first == "--version" else (first,) if first in COMMANDS else COMMANDS


def _parser(names: Sequence[str]) -> argparse.ArgumentParser:
    parser = _Parser(
        prog="toothline",
        description="Guides you through sharpening a western hand saw by hand, tooth by tooth, at the bench.",
        epilog="Without a command it opens the till: your saws, an interrupted sharpening on top. "
        "Example: toothline demo",
    )
    parser.add_argument("--version", action="version", version=f"toothline {VERSION}")
    _till_option(parser, default=None)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    for name in names:
        module = import_module(f"session.commands.{name}")
        sub = commands.add_parser(
            name,
            help=module.HELP,
            description=module.HELP[0].upper() + module.HELP[1:] + ".",
            epilog=f"Example: {module.EXAMPLE}",
        )
        # The same option before and after the command; absent here, it must not undo the one before.
        _till_option(sub, default=argparse.SUPPRESS)
        module.arguments(sub)
    return parser


def _till_option(parser: argparse.ArgumentParser, default: str | None) -> None:
    parser.add_argument(
        "--till",
        metavar="DIR",
        default=default,
        help="the folder with your saws and logs (else TOOTHLINE_TILL, else your user data folder)",
    )
