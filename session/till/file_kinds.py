"""Which kind of file of ours a file is, by the tables in it."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from session.files.flats_file import LONGEST_LINE
from session.files.settings import SETTINGS
from session.log.log_reader import is_log
from session.machine.toml_text import ReadingError, parse, read_text


class FileKind(StrEnum):
    """The kinds of files that a person writes or finds in a till."""

    RECIPE = "recipe"
    LOG = "log"
    CUT = "trial cut"
    FILES = "list of files"
    SETTINGS = "settings"
    FLATS = "measured line"


#: Tables and lists that no recipe has; [file] of a recipe is a table, [[file]] a list of them.
_LISTED: Final = ("flats", "widths")
_OF_A_RECIPE: Final = ("saw", "teeth")

#: What a file in a till is called, for one whose tables do not tell.
_NAMED: Final = {"files.toml": FileKind.FILES, "settings.toml": FileKind.SETTINGS}


def kind_of(path: Path) -> FileKind:
    """The kind of the file at ``path``. Never raises.

    A file that cannot be read, or whose tables do not tell, goes by its name in a till, else counts as a recipe: its
    own loader then says what is wrong.
    """
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
    if any(isinstance(values.get(name), dict) for name in _OF_A_RECIPE):
        return FileKind.RECIPE
    if isinstance(values.get("cut"), dict):
        return FileKind.CUT
    if isinstance(values.get("file"), list):
        return FileKind.FILES
    if any(name in values for name in _LISTED):
        return FileKind.FLATS
    return FileKind.SETTINGS if any(name in values for name in SETTINGS) else None
