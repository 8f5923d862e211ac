"""The names that a file sync or a file manager gives to a second version of a file: the first version's, and more."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

#: The name that this program gave a log or a cut (session/machine/new_file.py), wherever it stands in a longer one.
_OURS: Final = re.compile(r"\d{4}-\d\d-\d\dT\d\d-\d\d-\d\d-[0-9a-f]{6}(?:-(?:[2-9]|[1-9]\d\d?)(?![0-9A-Za-z]))?")

#: One addition at the end of a name: of "saw (conflict)", "saw (1)", "saw (laptop's conflicted copy 2026-03-07)",
#: "saw.sync-conflict-20260307-101500-N2X", "saw_conflict-20260307", "saw - Copy". No part of it can match in two ways:
#: a name may come from anywhere, and looking at it must not take long.
_ADDED: Final = r"""[ ._-]*+ \( (?: \d{1,3} | [^()]*? (?:conflict|copy) [^()]*+ ) \) \Z
      | [ ._-]++ (?:sync-)? conflict [^()]*+ \Z
      | [ ._-]++ copy (?:[ ]\d{1,3})? \Z"""

#: No name without any of these in it is a second version's: the patterns are compiled for none but such a name.
_HINTS: Final = ("(", "conf", "copy")

#: More additions than this has no name.
_MOST_ADDED: Final = 4

_BEFORE: Final = r"(?:copy|copy \(\d{1,3}\)) of (?P<name>.+)"

#: Signs that the folder of a saw is named with (session/till/saw_file_name.py).
_GIVEN: Final = re.compile(r"[a-z0-9-]+")


def first_name(stem: str) -> str:
    """The name, without its suffix, of the file that a file called ``stem`` is a second version of; else ``stem``.

    >>> first_name("2026-03-07T09-00-00-a1b2c3 (conflict)"), first_name("netloft-panel-saw (1)"), first_name("sash")
    ('2026-03-07T09-00-00-a1b2c3', 'netloft-panel-saw', 'sash')
    """
    if ours := _OURS.search(stem):
        return ours[0]
    if not any(hint in stem.lower() for hint in _HINTS):
        return stem
    added_to = re.compile(_ADDED, re.IGNORECASE | re.VERBOSE)
    for _ in range(_MOST_ADDED):
        if (added := added_to.search(stem)) is None or added.start() == 0:
            break
        stem = stem[: added.start()]
    before = re.fullmatch(_BEFORE, stem, re.IGNORECASE)
    return stem if before is None else before["name"]


def first_folder(folder: str, among: Collection[str]) -> str:
    """The one of the saws' folders ``among`` which ``folder`` is a second version of; else ``folder``.

    A name that this program may have given is a saw's own, whatever it ends in.
    """
    first = first_name(folder)
    return first if first in among and not _GIVEN.fullmatch(folder) else folder
