"""How saws are called: the name written in a recipe, and names compared whatever their capitals, spaces and hyphens."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Final, TypeVar

from session.machine.clean_text import clean
from session.machine.untrusted_text import ReadingError, parse, read_text

T = TypeVar("T")

#: Of a name that fits nothing, so many characters are repeated.
LONGEST_SHOWN: Final = 60


def plain_name(name: str) -> str:
    """``name`` in small letters, with hyphens for all but letters and digits: alike for names that are called alike."""
    return re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", name).casefold()).strip("-")


def begun_by(text: str, saws: Sequence[T], names: Callable[[T], Iterable[str]]) -> list[T]:
    """Those of ``saws`` with a name that begins as ``text`` does, whatever the capitals, spaces and hyphens.

    >>> begun_by("Boat", ["boat-shed tenon", "netloft panel", "Boatswain"], lambda name: [name])
    ['boat-shed tenon', 'Boatswain']
    """
    wanted = plain_name(text)
    if not wanted:
        return []
    return [saw for saw in saws if any(plain_name(name).startswith(wanted) for name in names(saw))]


def name_inside(recipe: Path) -> str:
    """The name written in a recipe; empty when it cannot be read, which is for loading it to say."""
    return names_inside(recipe)[0]


def names_inside(recipe: Path) -> tuple[str, ...]:
    """The name written in a recipe, empty when it cannot be read, and the names that the saw had before."""
    try:
        table = parse(read_text(recipe)).get("saw")
    except ReadingError:
        return ("",)
    name, formerly = (table.get("name"), table.get("formerly")) if isinstance(table, dict) else (None, None)
    before = formerly if isinstance(formerly, list) else []
    told = [" ".join(clean(one).split()) for one in before if isinstance(one, str)]
    return (" ".join(clean(name).split()) if isinstance(name, str) else "", *told)
