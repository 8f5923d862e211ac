"""Trial cuts made between sharpenings: one small file each, ``<till>/cuts/<saw>/<time>.toml``, never rewritten.

Lengths stay as the person wrote them. A key that this version does not know is left alone, for a later one wrote it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final, Literal, Self

import tomli_w
from pydantic import AwareDatetime, Field, ValidationError

from session.files.complaints import complaints, key_in_words
from session.files.line_numbers import key_lines, line_of
from session.files.recipe_tables import Table
from session.machine.clean_text import clean
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import free_names, make_folder, place_file
from session.machine.toml_text import ReadingError, parse, read_text, shown
from session.till.known_saws import KnownSaw
from session.till.till_folder import Till
from session.trade.lengths import Length, parse_length
from session.trade.trial_cut import CutError, TrialCut
from session.version import VERSION

FORMAT: Final = 1
LONGEST_NOTE: Final = 400
MOST_STROKES: Final = 99_999

#: Longest cut and thickest board, mm: a slip of the key beyond it (our own limit).
MOST_MM: Final = 10_000.0

To = Literal["left", "right"]


class CutFileError(ValueError):
    """A trial cut that cannot be, or a file that holds none; the message says where, what and what is allowed."""


class CutNotWritten(ValueError):
    """The disk would not take a trial cut."""

    code = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedCut:
    """One trial cut as a person recorded it.

    at: when, with its offset. length, thickness: of the cut and of the board. strokes: 1 or more.
    wander, to: how far it left the line and to which side of the person sawing; None for a straight cut.
    wood: as the recipe or the person calls it. note: own words.
    """

    at: datetime
    saw: str
    length: Length
    thickness: Length
    strokes: int
    wander: Length | None = None
    to: To | None = None
    wood: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise CutFileError("at is without its offset; allowed: a date and time such as 2026-03-07T18:00:00+01:00")
        if (self.wander is not None and self.wander.mm > 0) != (self.to is not None):
            raise CutFileError('a wander needs its side, and a side its wander; allowed: both, such as 1 mm to "right"')
        if not 1 <= self.strokes <= MOST_STROKES:
            raise CutFileError(f"{self.strokes} strokes; allowed: 1 to {MOST_STROKES:,}")
        for what, length in (("length", self.length), ("thickness", self.thickness)):
            if not 0 < length.mm <= MOST_MM:
                raise CutFileError(f"{what} {length}; allowed: above 0, up to {MOST_MM / 1000:g} m")
        self.trial(0.0)

    def trial(self, days: float) -> TrialCut:
        """The cut as the arithmetic takes it, ``days`` (0 or more) after the sharpening. Raises CutFileError."""
        signed = 0.0 if self.wander is None else math.copysign(self.wander.mm, -1.0 if self.to == "left" else 1.0)
        try:
            return TrialCut(
                length_mm=self.length.mm,
                thickness_mm=self.thickness.mm,
                strokes=self.strokes,
                wander_mm=signed,
                days=days,
                wood=self.wood,
            )
        except CutError as wrong:
            raise CutFileError(str(wrong)) from None

    def to_dict(self) -> dict[str, Any]:
        """The keys of the file's ``[cut]`` table; what was not told is left out."""
        values: dict[str, Any] = {
            "at": self.at,
            "saw": clean(self.saw),
            "length": self.length.text,
            "thickness": self.thickness.text,
            "strokes": self.strokes,
        }
        if self.wander is not None:
            values["wander"] = self.wander.text
        told = {"to": self.to, "wood": clean(self.wood), "note": clean(self.note)}
        return values | {name: text for name, text in told.items() if text}

    @classmethod
    def from_model(cls, model: _CutTable) -> Self:
        """The cut of a checked file. Raises CutFileError or LengthError."""
        return cls(
            at=model.at,
            saw=clean(model.saw),
            length=parse_length(clean(model.length)),
            thickness=parse_length(clean(model.thickness)),
            strokes=model.strokes,
            wander=None if model.wander is None else parse_length(clean(model.wander)),
            to=model.to,
            wood=clean(model.wood),
            note=clean(model.note),
        )


@dataclass(frozen=True, slots=True)
class CutFile:
    """A file of the folder of cuts: the cut in it, or why there is none."""

    path: Path
    cut: RecordedCut | None
    wrong: str = ""


class _CutTable(Table):
    at: AwareDatetime = Field(description="a date and time with its offset, such as 2026-03-07T18:00:00+01:00")
    saw: str = Field("", max_length=400, description="a text")
    length: str = Field(description='a length such as "12 in"')
    thickness: str = Field(description='a length such as "3/4 in"')
    strokes: int = Field(ge=1, le=MOST_STROKES, description=f"a whole number from 1 to {MOST_STROKES:,}")
    wander: str | None = Field(None, description='a length such as "1 mm"')
    to: To | None = Field(None, description='one of "left", "right"')
    wood: str = Field("", max_length=400, description="a text")
    note: str = Field("", max_length=4_000, description="a text")


def write_cut(till: Till, saw: KnownSaw, cut: RecordedCut, *, disk: Disk = REAL) -> Path:
    """Write ``cut`` into a new file of ``till`` and give its path; no file is ever overwritten.

    Raises CutNotWritten when the disk will not take it; then no file was made.
    """
    head = {"format": FORMAT, "program": f"toothline {VERSION}", "cut": cut.to_dict()}
    data = tomli_w.dumps(head).encode("utf-8")
    folder = till.path / "cuts" / saw.slug
    try:
        make_folder(folder, disk)
        for path in free_names(folder, cut.at, data):
            try:
                # Two programs that record at once must not make the same temporary file.
                lock = LogLock.take(path, disk)
            except LockHeld:
                continue
            try:
                if place_file(path, data, disk):
                    return path
            finally:
                lock.release()
    except OSError as problem:
        raise CutNotWritten(f"{shown(folder)}: the cut was not written: {why(problem)}") from None
    raise CutNotWritten(f"{shown(folder)}: the cut was not written: every name is taken")


def read_cut(path: Path) -> RecordedCut:
    """The cut in the file at ``path``. Raises CutFileError with ``FILE:LINE: key: what is wrong; what is allowed``."""
    where = shown(path)
    try:
        text = read_text(path)
        values = parse(text)
    except ReadingError as problem:
        raise CutFileError(problem.at(where)) from None
    lines = key_lines(text)
    number, table = values.get("format"), values.get("cut")
    if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= FORMAT:
        raise CutFileError(f"{where}: format: not one that this version knows; allowed: {FORMAT}")
    if not isinstance(table, dict):
        raise CutFileError(f"{where}: cut: is missing; write a table [cut]")
    try:
        return RecordedCut.from_model(
            _CutTable.model_validate({key: value for key, value in table.items() if key in _CutTable.model_fields})
        )
    except ValidationError as problems:
        path_in, words = next(complaints(_CutTable, problems))
        line = line_of(lines, ("cut", *path_in))
        raise CutFileError(clean(f"{where}:{line}: {key_in_words(('cut', *path_in))}: {words}")) from None
    except (ValueError, OverflowError) as wrong:
        raise CutFileError(clean(f"{where}: {wrong}")) from None


def cuts(till: Till, slug: str) -> Iterator[CutFile]:
    """The cuts of the saw with this slug, by file name. One that cannot be read says why; never raises."""
    folder = till.path / "cuts" / slug
    try:
        names = sorted(entry for entry in folder.iterdir() if entry.suffix == ".toml" and entry.name[:1] != ".")
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError as problem:
        yield CutFile(folder, None, f"{shown(folder)}: cannot be read: {why(problem)}")
        return
    for path in names:
        try:
            yield CutFile(path, read_cut(path))
        except CutFileError as wrong:
            yield CutFile(path, None, str(wrong))
