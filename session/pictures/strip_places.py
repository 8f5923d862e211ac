"""The places of a flat against its mark on the strip, a row for each key, as seen with the handle on the right."""

from __future__ import annotations

from typing import Final

from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.trade.strip_readings import quarters_by_key, reading_words

#: Cells of a quarter of the flat, of the flat with the cell in its middle, and of the whole row of flat and mark.
_QUARTER: Final = 2
_FLAT: Final = 4 * _QUARTER + 1
_REACH: Final = _FLAT + 8 * _QUARTER

#: Where the drawing begins beside its key, and the words beside the drawing, in cells.
_LEFT: Final = 3
_WORDS: Final = _LEFT + _REACH + 2

#: How far off its mark in a narrow room, by quarters without their sign.
_SHORT: Final = ("on", "1/4", "1/2", "3/4", "all")

#: By rows there are for it, least last, which keys are drawn.
_KEYS: Final = {9: range(1, 10), 5: range(1, 10, 2)}


def strip_places_rows(height: int) -> int:
    """Rows that the picture takes of ``height``: with a caption where there is room, 0 where there is none at all."""
    most = max((count for count in _KEYS if count <= height), default=0)
    return most + 1 if most and most < height else most


def strip_places(width: int, height: int, *, ascii: bool = False) -> Rows:
    """A row for each key with the flat as it lies then, and the mark; ``height`` rows from 5 on.

    In less than ten rows only every second key is drawn, with a caption in a row of its own. Raises PictureError for
    a room of less than 5 rows.
    """
    check_room(width, height)
    keys = next((keys for count, keys in _KEYS.items() if count <= height), None)
    if keys is None:
        raise PictureError(f"places on the strip in {height} rows: allowed are 5 and more")
    sheet = Sheet(width, height)
    flat, mark = ("=", "|") if ascii else ("▀", "│")
    middle = _LEFT + _REACH // 2
    for row, key in enumerate(keys):
        quarters = quarters_by_key(key)
        assert quarters is not None
        sheet.put(0, row, str(key), Role.STRONG)
        # The toe is on the left: a flat that lies toward it begins further left.
        begins = middle - _FLAT // 2 - quarters * _QUARTER
        sheet.put(begins, row, flat * _FLAT, Role.FLAT)
        sheet.put(middle, row, mark, Role.LABEL)
        words = first_that_fits(max(0, width - _WORDS), (reading_words(quarters), _SHORT[abs(quarters)], ""))
        sheet.put(_WORDS, row, words, Role.LABEL)
    if height > len(keys):
        back, forth = "<>" if ascii else "◀▶"
        sheet.put(_LEFT, len(keys), f"{back} toe", Role.LABEL)
        sheet.put(middle - 1, len(keys), "mark", Role.LABEL)
        sheet.put(_LEFT + _REACH - 6, len(keys), f"heel {forth}", Role.LABEL)
    return sheet.rows()
