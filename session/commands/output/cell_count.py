"""How many cells a text takes on a terminal."""

from __future__ import annotations

import re
from typing import Final

#: Signs of one cell each: Latin letters, and the dashes, dots and quotes that go with them.
_OF_ONE_CELL: Final = re.compile("[ -~\u00a0-\u00ac\u00ae-\u02ff\u2010-\u2027]*")


def cell_count(text: str) -> int:
    """The cells of ``text``; of wider letters, and such as take none, the library that draws the screen knows.

    >>> cell_count("rake 8° – 12°"), cell_count("鋸")
    (13, 2)
    """
    if _OF_ONE_CELL.fullmatch(text):
        return len(text)
    # Few texts need it, and it takes as long to be loaded as a table to be laid out.
    from rich.cells import cell_len

    return cell_len(text)
