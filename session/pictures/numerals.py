"""Large numerals, read from the saw: glyphs of 5, 7 and 9 rows drawn for this program.

A cell of a terminal is about twice as high as wide, so upright strokes are two or three cells wide
and level strokes one row high. A glyph of 5 rows is the least that is read from 3 m (NUREG-0700 gives
16 minutes of arc as the minimum, 20 to 22 as preferred).
"""

from __future__ import annotations

from typing import Final

from session.pictures.picture_rows import PictureError, Role, Rows, Run

#: Heights of the glyph tables, rows, largest first.
SIZES: Final = (9, 7, 5)

_DIGITS: Final = "0123456789"

_FIVE: Final = """
 #### |  ##  | #### | #### |##  ##|######| #### |######| #### | ####
##  ##| ###  |##  ##|    ##|##  ##|##    |##    |    ##|##  ##|##  ##
##  ##|  ##  |   ## |  ### |######|##### |##### |   ## | #### | #####
##  ##|  ##  | ##   |    ##|    ##|    ##|##  ##|  ##  |##  ##|    ##
 #### |######|######|#### |    ##|##### | #### |  ##  | #### | ####
"""

_SEVEN: Final = """
 ##### |  ###  | ##### | ##### |##   ##|#######| ##### |#######| ##### | #####
##   ##| ####  |##   ##|##   ##|##   ##|##     |##   ##|     ##|##   ##|##   ##
##   ##|   ##  |     ##|     ##|##   ##|##     |##     |    ## |##   ##|##   ##
##   ##|   ##  |   ### |  #### |#######|###### |###### |    ## | ##### | ######
##   ##|   ##  | ###   |     ##|     ##|     ##|##   ##|   ##  |##   ##|     ##
##   ##|   ##  |##     |##   ##|     ##|##   ##|##   ##|   ##  |##   ##|##   ##
 ##### |###### |#######| ##### |     ##| ##### | ##### |   ##  | ##### | #####
"""

_NINE: Final = """
 ####### |  ####   | ####### | ####### |###   ###|#########| ####### |#########| ####### | #######
###   ###| #####   |###   ###|###   ###|###   ###|###      |###   ###|###   ###|###   ###|###   ###
###   ###|   ###   |      ###|      ###|###   ###|###      |###      |      ###|###   ###|###   ###
###   ###|   ###   |      ###|      ###|###   ###|###      |###      |     ### |###   ###|###   ###
###   ###|   ###   |    #### |   ##### |#########|######## |######## |    ###  | ####### | ########
###   ###|   ###   |  ####   |      ###|      ###|      ###|###   ###|    ###  |###   ###|      ###
###   ###|   ###   |####     |      ###|      ###|      ###|###   ###|   ###   |###   ###|      ###
###   ###|   ###   |###      |###   ###|      ###|###   ###|###   ###|   ###   |###   ###|###   ###
 ####### |#########|#########| ####### |      ###| ####### | ####### |   ###   | ####### | #######
"""

#: Cells of a digit, cells between characters, by height.
_MEASURES: Final = {5: (6, 1), 7: (7, 2), 9: (9, 2)}


def _table(art: str, height: int) -> dict[str, tuple[str, ...]]:
    cells, _ = _MEASURES[height]
    lines = [line.split("|") for line in art.strip("\n").split("\n")]
    glyphs = {digit: tuple(line[n].ljust(cells) for line in lines) for n, digit in enumerate(_DIGITS)}
    # The slash falls by less than one cell a row, the dash is as wide as half a digit: neither looks like a 1.
    thick, slant = (3 if height == 9 else 2), height // 2 + 1
    glyphs["/"] = tuple(
        (" " * ((height - 1 - row) * slant // height) + "#" * thick).ljust(slant + thick - 1) for row in range(height)
    )
    dash = cells // 2 + 1
    glyphs["-"] = tuple(("#" if row == height // 2 else " ") * dash for row in range(height))
    glyphs[" "] = (" " * (cells // 2),) * height
    return glyphs


_GLYPHS: Final = {size: _table(art, size) for size, art in ((5, _FIVE), (7, _SEVEN), (9, _NINE))}


def numeral(text: str, rows: int, *, ascii: bool = False, role: Role = Role.NUMERAL) -> Rows:
    """``text`` in large numerals, ``rows`` high (5, 7 or 9).

    Allowed characters are the digits, "/", "-" and a space. Raises PictureError for any other and for
    another height.
    """
    if rows not in _GLYPHS:
        raise PictureError(f"numerals of {rows} rows: allowed are 5, 7 and 9")
    table = _GLYPHS[rows]
    strange = sorted(set(text) - set(table))
    if strange:
        raise PictureError(f'no large numeral for "{strange[0]}": allowed are digits, "/", "-" and a space')
    gap = " " * _MEASURES[rows][1]
    ink = "#" if ascii else "█"
    lines = (gap.join(table[char][row] for char in text).replace("#", ink) for row in range(rows))
    return tuple((Run(line, role),) for line in lines)


def numeral_width(text: str, rows: int) -> int:
    """Cells that ``text`` takes in numerals of ``rows`` rows; raises as ``numeral`` does."""
    return len(numeral(text, rows)[0][0].text)


def best_rows(room_width: int, room_height: int, text: str) -> int:
    """The largest of 9, 7 and 5 rows in which ``text`` fits the room; 0 when none fits."""
    for rows in SIZES:
        if rows <= room_height and numeral_width(text, rows) <= room_width:
            return rows
    return 0
