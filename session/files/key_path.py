"""A key's way down from the top of a document, by which a finding tells what it concerns."""

from __future__ import annotations

from typing import Final

#: Names of tables and keys, places in arrays.
KeyPath = tuple[str | int, ...]

#: Deeper keys go without a line of their own, so that a hostile text costs no memory.
DEEPEST: Final = 12
