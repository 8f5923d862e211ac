"""The names that a till itself gives: its files, and its folders. No saw is called by one of them."""

from __future__ import annotations

from typing import Final

#: Its files beside the recipes: settings, the files that one owns, and the scale of a scanner.
SETTINGS: Final = "settings.toml"
FILES_OWNED: Final = "files.toml"
SCANNER: Final = "scanner.toml"

#: Its folders with one more for each saw: the sharpenings, the trial cuts, the lines that scans measured.
LOGS: Final = "logs"
CUTS: Final = "cuts"
LINES: Final = "lines"

#: The folder with the forms that were begun, and that with the recipes of retired saws.
DRAFTS: Final = "drafts"
RETIRED: Final = "retired"

#: The hidden folder in which the files of a backup are laid ready before they are moved in.
IMPORTING: Final = ".import"

#: Its files that are no saws.
NOT_SAWS: Final = frozenset({SETTINGS, FILES_OWNED, SCANNER})

#: The folders of a till: a file of such a name would be in the way of all that belongs into it.
FOLDERS: Final = frozenset({LOGS, CUTS, LINES, DRAFTS, RETIRED})
