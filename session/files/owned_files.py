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

from pydantic import Field, PlainValidator, ValidationError

from session.files.complaints import Complaint, complaints, key_in_words
from session.files.line_numbers import key_lines, line_of
from session.files.recipe_tables import LONGEST_NAME, Face, Table
from session.machine.clean_text import clean
from session.machine.toml_text import ReadingError, parse, read_text, shown
from session.trade.file_choice import FileError, FileOwned
from session.trade.lengths import Length, parse_length

#: More files than any drawer holds; a longer list is a slip.
MOST_FILES: Final = 200

#: More errors than this help nobody.
MOST_ERRORS: Final = 50

#: More teeth than one corner can file in a lifetime of files: a slip of the pen (our own limit).
MOST_TEETH: Final = 1_000_000


class FilesOwnedError(ValueError):
    """A list of files that cannot be used. ``errors`` are all that is wrong with it, one line each."""

    def __init__(self, errors: tuple[str, ...]) -> None:
        super().__init__("\n".join(errors))
        self.errors = errors


def load_files_owned(path: Path) -> tuple[FileOwned, ...]:
    """The files listed in ``path``, in its order; none when there is no such file.

    Raises FilesOwnedError with ``FILE:LINE: key: what is wrong; what is allowed`` for each error.
    """
    try:
        path.lstat()
    except FileNotFoundError:
        return ()
    except (OSError, ValueError):
        pass  # reading says why
    where = shown(path)
    try:
        text = read_text(path)
        values = parse(text)
    except ReadingError as problem:
        raise FilesOwnedError((problem.at(where),)) from None
    found: list[Complaint] = []
    owned: list[FileOwned] = []
    try:
        model = _Files.model_validate(values)
    except ValidationError as problems:
        found.extend(complaints(_Files, problems))
    else:
        found.extend(_gather(model, owned))
    if not found:
        return tuple(owned)
    lines = key_lines(text)
    told = sorted(((line_of(lines, key), key, wrong) for key, wrong in found), key=lambda one: one[0])
    errors = [clean(f"{where}:{line}: {key_in_words(key)}: {wrong}") for line, key, wrong in told[:MOST_ERRORS]]
    if len(told) > MOST_ERRORS:
        errors.append(f"{where}: and {len(told) - MOST_ERRORS:,} more errors")
    raise FilesOwnedError(tuple(errors))


_NAME_ALLOWED: Final = f"a text of 1 to {LONGEST_NAME} characters"


def _name(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError(f"not a text; allowed: {_NAME_ALLOWED}")
    name = " ".join(clean(value).split())
    if not 1 <= len(name) <= LONGEST_NAME:
        raise ValueError(f"{len(name)} characters that can be shown; allowed: {_NAME_ALLOWED}")
    return name


def _radius(value: object) -> Length:
    if not isinstance(value, str):
        raise ValueError('not a text with a unit, such as "0.004 in"; allowed units: mm, cm, m, in or thou')
    return parse_length(clean(value))


_Teeth = Annotated[int, Field(ge=0, le=MOST_TEETH)]


class _File(Table):
    name: Annotated[str, PlainValidator(_name)] = Field(description=_NAME_ALLOWED)
    face: Face = Field(description='a length such as "0.27 in"')
    corner_radius: Annotated[Length, PlainValidator(_radius)] | None = Field(
        None, description='a length such as "0.004 in"'
    )
    teeth_filed: list[_Teeth] = Field(
        default_factory=lambda: [0, 0, 0],
        min_length=3,
        max_length=3,
        description=f"three whole numbers from 0 to {MOST_TEETH:,}, one for each corner",
    )


class _Files(Table):
    format: int = Field(1, ge=1, le=1, description="1, the only format there is so far")
    file: list[_File] = Field(
        default_factory=list, max_length=MOST_FILES, description=f"tables [[file]], at most {MOST_FILES}"
    )


def _gather(model: _Files, owned: list[FileOwned]) -> Iterator[Complaint]:
    """Fill ``owned``; what is wrong between the keys of a file, or between two files, is complained of."""
    taken: dict[str, int] = {}
    for number, one in enumerate(model.file):
        first = taken.setdefault(one.name.casefold(), number)
        if first != number:
            yield ("file", number, "name"), f'"{one.name}" is the name of file {first + 1} too; allowed: another name'
        a, b, c = one.teeth_filed
        try:
            owned.append(FileOwned(one.name, one.face, one.corner_radius, (a, b, c)))
        except FileError as problem:
            # All but the radius has been judged above.
            yield ("file", number, "corner_radius"), str(problem)
