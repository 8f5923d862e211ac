"""The recipes and the demo workshop that come with the program, and finding a recipe by its name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final, Literal

import session
from session.files.saw_names import LONGEST_SHOWN, begun_by, name_inside, plain_name
from session.machine.clean_text import clean
from session.machine.refusal import Refusal

_PACKAGE: Final = Path(session.__file__).resolve().parent

#: The saw that the demo sharpens when nobody chooses one: short, so that the whole walk is played in seconds.
DEMO_SAW: Final = "netloft-panel-saw.toml"

#: What stands before the name of a saw that no one owns.
SUPPLIED: Final = "supplied:"


def supplied_folder(which: Literal["recipes", "demo"]) -> Path:
    """The folder of supplied recipes or of the demo workshop, installed or in a checkout.

    Raises Refusal when the installation lacks it.
    """
    installed = _PACKAGE / "supplied" / which
    if installed.is_dir():
        return installed
    checkout = _PACKAGE.parent / which
    # Beside an installed package lie other people's folders; only a checkout has our project file too.
    if (_PACKAGE.parent / "pyproject.toml").is_file() and checkout.is_dir():
        return checkout
    raise Refusal(f"the supplied folder {which} is missing from this installation; install the program again")


def supplied_recipes() -> list[Path]:
    """The supplied recipe files, sorted by name."""
    return sorted(supplied_folder("recipes").glob("*.toml"))


def find_recipe(name_or_path: str, till_saws: Sequence[Path], retired: Sequence[Path] = ()) -> Path:
    """The recipe file that a person means: a file, a saw of the till, or a supplied recipe, in this order.

    A saw is named by its file's name, with or without ".toml", by the name written in it, or by a beginning that no
    other of the till has, whatever the capitals, spaces and hyphens; a whole name goes before a beginning, and a
    beginning of one's own saw before the whole name of a supplied one: `resume` and `edit` mean one's own by it too.
    "supplied: dovetail", as the till has it, means a supplied one. Raises Refusal for an unknown or ambiguous name, and
    for that of a saw whose recipe is among the ``retired``.
    """
    shown = clean(name_or_path)[:LONGEST_SHOWN]
    if "\0" in name_or_path:
        raise Refusal(f'"{shown}" is not a name; allowed: a recipe file, or the name of a saw')
    path = Path(name_or_path)
    meant_as_path = path.suffix == ".toml" or len(path.parts) > 1 or path.is_absolute()
    if _is_there(path) and (meant_as_path or not path.is_dir()):
        return path
    if beside := [file for file in till_saws if file.name == name_or_path]:
        return beside[0]
    if meant_as_path:
        raise Refusal(f"{shown}: no such file; allowed: a recipe file, or the name of a saw")
    if name_or_path.startswith(SUPPLIED):
        name_or_path, till_saws = name_or_path.removeprefix(SUPPLIED), ()
    wanted = plain_name(name_or_path)
    supplied = supplied_recipes()
    for files in (till_saws, supplied):
        for names in (_by_file_name, name_inside):
            found = [file for file in files if wanted and plain_name(names(file)) == wanted]
            if found:
                return _only(found, f'"{shown}" is the name of several saws')
        if begun := begun_by(name_or_path, files, lambda file: (file.stem, name_inside(file))):
            return _only(begun, f'the names of several saws begin with "{shown}"')
    if aside := begun_by(name_or_path, retired, lambda file: (file.stem, name_inside(file))):
        name = clean(aside[0].stem)
        raise Refusal(f"{name} is retired; toothline retire {name} --back hangs it up again")
    raise Refusal(_unknown(shown, wanted, [*till_saws, *supplied]))


def _only(found: Sequence[Path], otherwise: str) -> Path:
    if len(found) == 1:
        return found[0]
    raise Refusal(f"{otherwise}; allowed: one of {', '.join(clean(file.stem) for file in found)}")


def _by_file_name(file: Path) -> str:
    return file.stem


def _is_there(path: Path) -> bool:
    """Whether the name is there, be it a link to nothing or to itself: reading it says what is wrong."""
    try:
        path.lstat()
    except (OSError, ValueError):
        return False
    return True


def _unknown(shown: str, wanted: str, files: Iterable[Path]) -> str:
    from difflib import get_close_matches

    names: dict[str, str] = {}
    for file in files:
        for name in (_by_file_name(file), name_inside(file)):
            if plain_name(name):
                names.setdefault(plain_name(name), clean(file.stem))
    close = [names[name] for name in get_close_matches(wanted[:200], names, n=5, cutoff=0.5)]
    near = ", ".join(dict.fromkeys(close))
    known = ", ".join(dict.fromkeys(names.values()))
    return f'no saw is named "{shown}"; ' + (f"near it: {near}" if near else f"known: {known}")
