"""The TOML files that hold the program's words, each read once."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any, Final

#: As files, like the recipes: what would also read them out of an archive takes a twentieth of `plan` to be loaded.
_HERE: Final = Path(__file__).parent


class NoEntryError(ValueError):
    """A name that a data file does not have; the message lists the names it has."""


@cache
def table(name: str) -> dict[str, Any]:
    """The whole of the data file ``name`` (without its ending). Shared between callers: not to be changed."""
    text = (_HERE / f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def entry(file: str, *path: str) -> dict[str, Any]:
    """The table at ``path`` in the data file. Raises NoEntryError naming what is allowed there."""
    here: dict[str, Any] = table(file)
    for name in path:
        if not isinstance(here.get(name), dict):
            allowed = ", ".join(key for key, value in here.items() if isinstance(value, dict))
            raise NoEntryError(f'{file}: there is no "{name}"; allowed: {allowed}')
        here = here[name]
    return here


def cited(sources: list[str]) -> str:
    """The sources of an entry in one text: "KING 64; ROSS p. 9"."""
    return "; ".join(sources)
