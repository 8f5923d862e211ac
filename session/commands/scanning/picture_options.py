"""What the command line says of pictures: their files, how fine they are, their first teeth; and what reads them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from session.machine.clean_text import clean
from session.machine.refusal import Refusal

#: What is installed with toothline[scan], by the names that it is imported by.
LIBRARIES: Final = ("numpy", "contourpy", "PIL")


@contextmanager
def picture_libraries() -> Iterator[None]:
    """What is imported in it needs libraries for pictures. Raises Refusal that says how to get them."""
    try:
        yield
    except ImportError as missing:
        if missing.name is None or missing.name.partition(".")[0] not in LIBRARIES:
            raise
        raise Refusal(
            "scan needs libraries for pictures that are not installed; install them by: pip install 'toothline[scan]'"
        ) from None


def picture_path(name: str) -> Path:
    """The file of a picture. Raises Refusal for what is no file's name."""
    if "\0" in name or not name:
        raise Refusal("IMAGE: not a file's name; write the picture's file")
    return Path(name)


def dots_per_inch(text: str | None) -> float | None:
    """What ``--dpi`` says; None where it was not given. Raises Refusal."""
    if text is None:
        return None
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 1.0 <= value <= 100_000.0:
        raise Refusal(f'--dpi: "{clean(text)[:20]}" is no number of dots per inch; allowed: such as 1200')
    return value


def first_teeth(texts: Sequence[str] | None) -> list[int] | None:
    """What ``--first`` says, a tooth for each picture; None where it was not given. Raises Refusal."""
    return None if texts is None else [_tooth(text) for text in texts]


def _tooth(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:9]) <= 3000 and len(text) < 9):
        raise Refusal(f'--first: "{clean(text)[:20]}" is no tooth\'s number; allowed: 1 to 3,000')
    return int(text)
