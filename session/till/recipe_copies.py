"""Copies of a saw's recipe, or of the settings, as a file sync leaves them beside the first: named, and not used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from session.files.saw_names import name_inside
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.machine.untrusted_text import ReadingError, read_text
from session.till.copy_names import first_name


def recipe_copies(files: Iterable[Path], never_saws: Iterable[str]) -> Iterator[tuple[Path, str]]:
    """Those of the ``files`` of one folder that are second versions of another, each with a sentence without its path.

    A recipe that names another saw than the first version does is that saw's own. never_saws: names of files that are
    no recipes, and whose second versions are none either.
    """
    there = {path.stem: path for path in files}
    others = {Path(name).stem: name for name in never_saws}
    for stem, path in there.items():
        first = first_name(stem)
        if first == stem:
            continue
        if first in others:
            yield path, f"a second version of {others[first]}, which alone is read; take over what is wanted of it"
        elif first in there and name_inside(path) in ("", name_inside(there[first])):
            yield path, _words(path, there[first])


def _words(path: Path, first: Path) -> str:
    name = clean(first.name)
    if _text(path) == _text(first):
        return f"a copy of {name}, letter for letter; that one counts, this one may be taken away"
    return f"a second version of {name}; that one counts: take over what is wanted of this one, then take it away"


def _text(path: Path) -> str:
    try:
        return read_text(path)
    except (ReadingError, Refusal) as wrong:
        return f"{path}: {wrong}"
