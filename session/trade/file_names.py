"""How the files of a drawer are told apart: each by its name, and the corners of one by their numbers."""

from __future__ import annotations

from typing import Final

CORNERS: Final = (1, 2, 3)


def called(name: str) -> str:
    """A file's name as two of them are compared: whatever the capitals and blanks."""
    return " ".join(name.split()).casefold()


def corner_in(value: object) -> int | None:
    """The corner that ``value`` is, 1 to 3; None for anything else."""
    return value if isinstance(value, int) and not isinstance(value, bool) and value in CORNERS else None
