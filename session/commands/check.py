"""`toothline check FILE…`: are these recipes, logs and other files of a till in order?"""

from __future__ import annotations

import argparse
import sys
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from session.commands.output.printed_width import wrapped_lines
from session.commands.output.standard_streams import say
from session.machine.refusal import BAD_INPUT

HELP = "check recipes, logs, trial cuts, measured and scanned lines, what was seen, files.toml and settings.toml"
EXAMPLE = "toothline check my-saw.toml"


class FileKind(StrEnum):
    """The kinds of files that a person writes or finds in a till."""

    RECIPE = "recipe"
    LOG = "log"
    CUT = "trial cut"
    FILES = "list of files"
    SETTINGS = "settings"
    FLATS = "measured line"
    SEEN = "what was seen"
    SCAN = "scanned line"


#: Tables and lists that no recipe has; [file] of a recipe is a table, [[file]] a list of them.
_LISTED: Final = ("flats", "widths")
_OF_A_RECIPE: Final = ("saw", "teeth")

#: What a file is usually called, for one whose tables do not tell.
_NAMED: Final = {"files.toml": FileKind.FILES, "settings.toml": FileKind.SETTINGS, "seen.toml": FileKind.SEEN}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "files",
        metavar="FILE",
        nargs="+",
        help="a saw by its name, which means its recipe; or a recipe, a log, a trial cut, a measured or scanned line, "
        "what was seen of a saw, a list of files or settings; its tables tell which; a log is read to its last mark, "
        "where history reads a finished one at its two ends only",
    )


def run(args: argparse.Namespace) -> int:
    """Check every file; all errors of all files are told."""
    return max(_check(_meant(name, args)) for name in args.files)


def _meant(name: str, args: argparse.Namespace) -> Path:
    """The file of that name; else, of what looks like no file's name, the recipe of the saw that is called so."""
    path = Path(name)
    if "\0" in name or path.suffix or len(path.parts) != 1 or path.is_absolute() or _is_there(path):
        return path
    from session.files.supplied import find_recipe
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, waits=say))
    return find_recipe(name, till.saws(), till.retired())


def _check(path: Path) -> int:
    kind = kind_of(path)
    return _check_log(path) if kind is FileKind.LOG else _check_written(path, kind)


def _check_written(path: Path, kind: FileKind) -> int:
    """Check a file that a person writes, with the loader of its kind."""
    from session.commands.output.plain_data import write
    from session.machine.untrusted_text import shown

    errors, warnings, words = _read(path, kind)
    for error in errors:
        print(error, file=sys.stderr)
    for warning in warnings:
        say(warning)
    if errors:
        return BAD_INPUT
    write(wrapped_lines([f"{shown(path)}: {words}"]))
    return 0


def _read(path: Path, kind: FileKind) -> tuple[tuple[str, ...], tuple[str, ...], str]:
    """What is wrong with the file, what is unusual in it, and what it is, in words; each error one line.

    Whoever checks one kind of file does not wait for what reads the others.
    """
    from session.machine.refusal import Refusal
    from session.texts.wording import times

    try:
        match kind:
            case FileKind.CUT:
                from session.files.cut_file import read_cut

                cut = read_cut(path)
                told = f"a trial cut in order: {cut.length} in {times(cut.strokes, 'stroke')}"
                unlikely = cut.trial(0.0).unlikely
                return (), () if unlikely is None else (unlikely,), told
            case FileKind.FILES:
                from session.files.owned_files import load_files_owned

                owned = load_files_owned(path)
                return (), (), f"a list of files in order: {times(len(owned), 'file')}"
            case FileKind.SETTINGS:
                from session.bench.themes import theme_complaints
                from session.desk.key_table import key_complaints
                from session.files.settings import load_settings

                settings, complaints = load_settings(path)
                told_of = (*key_complaints(settings.keys), *theme_complaints(settings.theme))
                return (*complaints, *told_of), (), "settings in order"
            case FileKind.FLATS:
                from session.files.flats_file import load_flats

                return (), (), f"a measured line in order: {len(load_flats(path).line.flats)} teeth"
            case FileKind.SCAN:
                from session.files.scanned_file import read_scan

                return (), (), f"a scanned line in order: {read_scan(path).line.count} teeth"
            case FileKind.SEEN:
                from session.files.seen_file import load_seen
                from session.trade.observation import Look, Seen

                seen = load_seen(path)
                known = sum(getattr(seen, look) != getattr(Seen(), look) for look in Look)
                return (), (), f"what was seen of a saw, in order: {times(known, 'look')}"
            case _:
                from session.files.recipe import load_recipe

                recipe = load_recipe(path)
                told = f"a recipe in order: {recipe.saw.name}, {recipe.saw.points} points"
                return (), recipe.warnings, told
    except Refusal as wrong:
        return wrong.lines, (), ""


def _check_log(path: Path) -> int:
    """Check every mark of a log, and whether one that is not finished could be gone on with."""
    from session.commands.output.plain_data import write
    from session.log.log_bytes import LogStanding
    from session.log.log_reader import read_log
    from session.log.sitting import told
    from session.machine.untrusted_text import shown
    from session.texts.wording import times

    log = read_log(path)
    wrong = str(log.odd or "")
    if log.state is LogStanding.INTERRUPTED:
        try:
            told(log.header)
        except ValueError as missing:
            wrong = str(missing)
    if wrong:
        say(f"{shown(path)}: {wrong}")
        return BAD_INPUT
    torn = f", {times(log.torn_bytes, 'torn byte')} at its end" if log.torn_bytes else ""
    write(wrapped_lines([f"{shown(path)}: a log in order: {log.state}, {times(len(log.marks), 'mark')}{torn}"]))
    return 0


def kind_of(path: Path) -> FileKind:
    """The kind of the file at ``path``. Never raises.

    A file that cannot be read, or whose tables do not tell, goes by its usual name, else counts as a recipe: its
    own loader then says what is wrong.
    """
    from session.files.flats_file import LONGEST_LINE
    from session.log.log_reader import is_log
    from session.machine.untrusted_text import ReadingError, parse, read_text

    if is_log(path):
        return FileKind.LOG
    # A list of files or settings that is not there is in order for its loader; whoever asks wants to hear of it.
    usual = _NAMED.get(path.name, FileKind.RECIPE) if _is_there(path) else FileKind.RECIPE
    try:
        values = parse(read_text(path), LONGEST_LINE)
    except ReadingError:
        return usual
    return _by_tables(values) or usual


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


def _by_tables(values: dict[str, Any]) -> FileKind | None:
    from session.files.settings import SETTINGS
    from session.trade.observation import Look

    if any(isinstance(values.get(name), dict) for name in _OF_A_RECIPE):
        return FileKind.RECIPE
    if isinstance(values.get("cut"), dict):
        return FileKind.CUT
    if isinstance(values.get("scan"), dict):
        return FileKind.SCAN
    if isinstance(values.get("file"), list):
        return FileKind.FILES
    if any(name in values for name in _LISTED):
        return FileKind.FLATS
    if any(name in values for name in SETTINGS):
        return FileKind.SETTINGS
    return FileKind.SEEN if any(look in values for look in Look) else None
