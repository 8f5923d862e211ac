"""The files one owns: ``files.toml`` in the till, written by the person, read and never written by the program.

format = 1
[[file]]
name = "Small taper by the window"
face = "0.27 in"             # measured with calipers across one face
corner_radius = "0.004 in"   # if known
teeth_filed = [620, 155, 0]  # by each of its three corners, before the records began

``teeth_filed`` bears no date. It counts what each corner filed before the records began, or outside of them; what
finished sharpenings tell of this file by its name is added to it (session/till/corner_ledger.py).
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Final

from session.files.checked_file import CheckedFile, is_absent
from session.files.checked_tables import CheckedBy, Table, holds
from session.files.complaints import Complaint
from session.files.recipe_tables import LONGEST_NAME, Face
from session.files.written_lengths import length_check
from session.machine.clean_text import clean
from session.trade.file_choice import FileOwned
from session.trade.lengths import Length
from session.trade.trade_error import TradeError

#: More files than any drawer holds; a longer list is a slip.
MOST_FILES: Final = 200

#: More teeth than one corner can file in a lifetime of files: a slip of the pen (our own limit).
MOST_TEETH: Final = 1_000_000


_NAME_ALLOWED: Final = f"a text of 1 to {LONGEST_NAME} characters"


def _name(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError(f"not a text; allowed: {_NAME_ALLOWED}")
    name = " ".join(clean(value).split())
    if not 1 <= len(name) <= LONGEST_NAME:
        raise ValueError(f"{len(name)} characters that can be shown; allowed: {_NAME_ALLOWED}")
    return name


_Teeth = Annotated[int, holds(ge=0, le=MOST_TEETH)]


class OwnedTable(Table):
    """``[[file]]``: one file, as measured and as far as its corners are known to be worn."""

    name: Annotated[str, CheckedBy(_name)] = holds(description=_NAME_ALLOWED)
    face: Face = holds(description='a length such as "0.27 in"')
    corner_radius: Annotated[Length, CheckedBy(length_check("0.004 in"))] | None = holds(
        None, description='a length such as "0.004 in"'
    )
    teeth_filed: list[_Teeth] = holds(
        make=lambda: [0, 0, 0],
        min_length=3,
        max_length=3,
        description=f"three whole numbers from 0 to {MOST_TEETH:,}, one for each corner",
    )


class FilesOwnedModel(Table):
    """The whole list of files."""

    format: int = holds(1, ge=1, le=1, description="1, the only format there is so far")
    file: list[OwnedTable] = holds(
        make=list, max_length=MOST_FILES, description=f"tables [[file]], at most {MOST_FILES}"
    )


def load_files_owned(path: Path) -> tuple[FileOwned, ...]:
    """The files listed in ``path``, in its order; none when there is no such file.

    Raises Refusal with ``FILE:LINE: key: what is wrong; what is allowed`` for each error.
    """
    if is_absent(path):
        return ()
    file = CheckedFile.read(FilesOwnedModel, path)
    owned: list[FileOwned] = []
    if file.model is not None:
        file.found += _gather(file.model, owned)
    file.sound()
    return tuple(owned)


def _gather(model: FilesOwnedModel, owned: list[FileOwned]) -> Iterator[Complaint]:
    """Fill ``owned``; what is wrong between the keys of a file, or between two files, is complained of."""
    taken: dict[str, int] = {}
    for number, one in enumerate(model.file):
        first = taken.setdefault(one.name.casefold(), number)
        if first != number:
            yield ("file", number, "name"), f'"{one.name}" is the name of file {first + 1} too; allowed: another name'
        a, b, c = one.teeth_filed
        try:
            owned.append(FileOwned(one.name, one.face, one.corner_radius, (a, b, c)))
        except TradeError as problem:
            # All but the radius has been judged above.
            yield ("file", number, "corner_radius"), str(problem)
