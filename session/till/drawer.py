"""The drawer of a till: the files owned with what its records add, and how many teeth a corner may file."""

from __future__ import annotations

from collections.abc import Iterable

from session.files.owned_files import load_files_owned
from session.files.settings import load_settings
from session.till.corner_ledger import FileWear, files_worn, finished_in
from session.till.past_sharpening import Sharpening
from session.till.till_folder import Till
from session.till.till_names import FILES_OWNED, SETTINGS
from session.trade.file_life import TEETH_PER_CORNER
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Drawer:
    """What is in it.

    worn: each file of files.toml in its order, with the teeth of the records. limit: teeth a corner, of the settings.
    complaints: the slips of the settings, one line each.
    """

    worn: tuple[FileWear, ...] = ()
    limit: int = TEETH_PER_CORNER
    complaints: tuple[str, ...] = ()


def drawer_of(till: Till, finished: Iterable[Sharpening] | None = None) -> Drawer:
    """The drawer of ``till``; an empty one when it lists no file. Raises Refusal with each error of files.toml.

    finished: the finished sharpenings of all its saws where they are known already; else its records are read.
    """
    owned = load_files_owned(till.path / FILES_OWNED)
    if not owned:
        # Without a file there is no corner to count for, and a slip in the settings is no matter here.
        return Drawer()
    settings, complaints = load_settings(till.path / SETTINGS)
    return Drawer(
        files_worn(owned, finished_in(till) if finished is None else finished), settings.corner_teeth, tuple(complaints)
    )
