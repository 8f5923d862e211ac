"""A picture that is chosen and not drawn yet, so that words are fitted to it first."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.pictures.picture_rows import Rows
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Picture:
    """How many rows the picture takes, and how it is drawn."""

    rows: int
    draw: Callable[[], Rows]


NO_PICTURE: Final = Picture(0, tuple)
