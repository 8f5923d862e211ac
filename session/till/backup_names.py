"""Names of what a backup brings: those of copies, made to fit the rule for paths, and those that cannot all be had."""

from __future__ import annotations

import hashlib
import unicodedata
from typing import Final

from session.machine.clean_text import clean

#: Bytes of the longest name of a file or folder: what any disk takes (255), less what locks and new files add to it.
LONGEST_NAME: Final = 200

#: Bytes that locks and new files add to a name while they are there.
ADDED_TO_A_NAME: Final = 255 - LONGEST_NAME


def fitting(stem: str, ending: str) -> str:
    """``stem`` + ``ending``; where that is too long, the stem is cut and gets eight signs of its own checksum.

    >>> fitting("netloft-panel-saw", ".before-2026-04-01T18-00-00")
    'netloft-panel-saw.before-2026-04-01T18-00-00'
    >>> len(fitting("s" * 200, " (backup copy).toml"))
    200
    """
    whole = stem.encode("utf-8")
    room = LONGEST_NAME - len(ending.encode("utf-8"))
    if len(whole) <= room:
        return stem + ending
    mark = f"~{hashlib.sha256(whole).hexdigest()[:8]}"
    return whole[: room - len(mark)].decode("utf-8", "ignore") + mark + ending


def beside(name: str) -> str:
    """The name of a backup's version of the file ``name`` that could not have its place: a copy, by any reader's rule.

    >>> beside("2026-03-07T09-00-00-a1b2c3.toml")
    '2026-03-07T09-00-00-a1b2c3 (backup copy).toml'
    """
    return _before_ending(name, " (backup copy)")


def numbered(name: str, number: int) -> str:
    """The ``number``-th name to try for ``name``: itself, then with -2, -3 … before its ending."""
    return name if number == 1 else _before_ending(name, f"-{number}")


def _before_ending(name: str, words: str) -> str:
    stem, dot, ending = name.partition(".toml")
    return fitting(stem, f"{words}{dot}{ending}") if len(ending) < LONGEST_NAME // 2 else fitting(name, words)


def caseless(name: str) -> str:
    """What a name or path is to a disk that does not tell capital letters from small ones."""
    return unicodedata.normalize("NFC", name).casefold()


class PathsTaken:
    """The paths of files met so far, and which further ones no folder can hold beside them."""

    def __init__(self) -> None:
        self._files: dict[str, str] = {}
        self._folders: dict[str, str] = {}

    def wrong(self, path: str) -> str | None:
        """Why the file ``path`` cannot be beside those before it, in words; None when it can, and now it is met too."""
        parts = caseless(path).split("/")
        above = ["/".join(parts[:depth]) for depth in range(1, len(parts))]
        key = "/".join(parts)
        if (other := self._files.get(key)) is not None:
            return f"the same name as {clean(other)[:200]}, but for capital letters; allowed: one of them"
        if (other := self._folders.get(key)) is not None:
            return f"a file, and a folder in the path of {clean(other)[:200]}; allowed: one of them"
        for folder in above:
            if (other := self._files.get(folder)) is not None:
                return f"in a folder of the name of the file {clean(other)[:200]}; allowed: one of them"
        self._files[key] = path
        for folder in above:
            self._folders.setdefault(folder, path)
        return None
