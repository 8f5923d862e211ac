"""How many dots of a scanner a millimeter takes, against the scanner's own word: ``scanner.toml`` in the till.

Written by ``toothline scan --calibrate``; a person may write it too, or take it away.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any, Final

from session.files.checked_file import CheckedFile, is_absent
from session.files.checked_tables import Table, holds
from session.value_class import dataclass

#: A scale is never off by more, as a share: beyond it the picture's own dots per inch are wrong.
MOST_OFF: Final = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class ScannerScale:
    """along: dots of the picture's rows in a millimeter, by those that the file says; down: of its columns. Beside each
    its relative standard uncertainty, and the day. None where that way was never measured."""

    along: float | None = None
    se_along: float | None = None
    along_on: date | None = None
    down: float | None = None
    se_down: float | None = None
    down_on: date | None = None

    def to_dict(self) -> dict[str, Any]:
        """The keys of the file; what was never measured is left out."""
        told = {name: getattr(self, name) for name in ScannerModel.key_names() if name not in ("format", "program")}
        return {name: value for name, value in told.items() if value is not None}


def _share() -> Any:
    return holds(None, ge=1.0 - MOST_OFF, le=1.0 + MOST_OFF, description="0.97 to 1.03")


def _unsure() -> Any:
    return holds(None, ge=0.0, le=0.01, description="0 to 0.01")


class ScannerModel(Table):
    """The keys of the file."""

    format: int = holds(1, ge=1, le=1, description="1, the only format there is so far")
    program: str = holds("", max_length=80, description="a text")
    along: float | None = _share()
    se_along: float | None = _unsure()
    along_on: date | None = holds(None, description="a date")
    down: float | None = _share()
    se_down: float | None = _unsure()
    down_on: date | None = holds(None, description="a date")


def read_scanner(path: Path) -> ScannerScale:
    """The file at ``path``; nothing measured where there is none. Raises Refusal with each error, its line and what is
    allowed."""
    if is_absent(path):
        return ScannerScale()
    file = CheckedFile.read(ScannerModel, path)
    for way in ("along", "down"):
        if (f"se_{way}" in file.values) is not (way in file.values):
            file.found.append(((way,), f"and se_{way} go together; allowed: both, or neither"))
    model = file.sound()
    given = (name for name in ScannerModel.key_names() if name not in ("format", "program"))
    return ScannerScale(**{name: getattr(model, name) for name in given})
