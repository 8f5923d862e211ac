"""Large letters and arrows of square points, for words that are read from two meters.

Each point is one cell wide and half a cell high, drawn with half blocks, so that a word takes three rows; in plain
ASCII, which has no half cells, a point is a whole cell and a word takes five.
"""

from __future__ import annotations

from typing import Final

from session.pictures.picture_rows import PictureError, Role, Rows, Run

#: Points from top to bottom of every letter.
HIGH: Final = 5

_LETTERS: Final = """
A .#. #.# ### #.# #.#
B ##. #.# ##. #.# ##.
C .## #.. #.. #.. .##
D ##. #.# #.# #.# ##.
E ### #.. ##. #.. ###
F ### #.. ##. #.. #..
G .## #.. #.# #.# .##
H #.# #.# ### #.# #.#
I ### .#. .#. .#. ###
J ..# ..# ..# #.# .#.
K #.# #.# ##. #.# #.#
L #.. #.. #.. #.. ###
M #...# ##.## #.#.# #...# #...#
N #..# ##.# #.## #..# #..#
O .##. #..# #..# #..# .##.
P ##. #.# ##. #.. #..
Q .##. #..# #..# #.#. .#.#
R ##. #.# ##. #.# #.#
S .## #.. .#. ..# ##.
T ### .#. .#. .#. .#.
U #.# #.# #.# #.# ###
V #.# #.# #.# #.# .#.
W #...# #...# #.#.# ##.## #...#
X #.# #.# .#. #.# #.#
Y #.# #.# .#. .#. .#.
Z ### ..# .#. #.. ###
0 ### #.# #.# #.# ###
1 .#. ##. .#. .#. ###
2 ##. ..# .#. #.. ###
3 ##. ..# .#. ..# ##.
4 #.# #.# ### ..# ..#
5 ### #.. ##. ..# ##.
6 .## #.. ### #.# ###
7 ### ..# .#. .#. .#.
8 ### #.# ### #.# ###
9 ### #.# ### ..# ##.
/ ..# ..# .#. #.. #..
- ... ... ### ... ...
, .. .. .. .# #.
. . . . . #
: . # . # .
"""

_POINTS: Final = {line[0]: tuple(line[2:].split(" ")) for line in _LETTERS.strip("\n").split("\n")} | {
    " ": ("..",) * HIGH
}

#: The way that a hand pushes, seen from above by whoever stands at the lower edge.
_ARROWS: Final[dict[str, tuple[str, ...]]] = {
    "up": ("...#...", "..###..", ".#####.", "...#...", "...#...", "...#...", "...#...", "...#..."),
    "up left": ("#####..", "####...", "#####..", "##.###.", "#...###", ".....##", "......#", "......."),
    "left": ("..#....", ".##....", "#######", ".##....", "..#...."),
}


def spelled(text: str) -> list[str]:
    """``text`` as rows of points, "#" for ink; capitals and small letters are the same. Raises PictureError for a
    character that has no large letter."""
    letters = text.upper()
    strange = sorted(set(letters) - set(_POINTS))
    if strange:
        raise PictureError(f'no large letter for "{strange[0]}": allowed are A to Z, digits and {"/-,.:"}')
    return [".".join(_POINTS[letter][row] for letter in letters) for row in range(HIGH)]


def arrow(way: str) -> list[str]:
    """An arrow as rows of points: "up", "left", "right", "up left" or "up right". Raises PictureError for another."""
    mirrored = way.replace("right", "left")
    if mirrored not in _ARROWS:
        raise PictureError(f'no arrow "{way}": allowed are up, left, right, up left and up right')
    art = _ARROWS[mirrored]
    while art and not art[-1].strip("."):
        art = art[:-1]
    return [row if mirrored == way else row[::-1] for row in art]


def plate(text: str, points_to: str) -> list[str]:
    """``text`` cut out of a filled plate whose end points to the "left" or the "right", as rows of points.

    What is cut out of a plate is never taken for a number that stands by itself.
    """
    inside = [f"##{row.translate(str.maketrans('#.', '.#'))}##" for row in spelled(text)]
    whole = "#" * len(inside[0])
    body = [whole, *inside, whole]
    middle = len(body) // 2
    tips = [middle - abs(row - middle) for row in range(len(body))]
    longest = max(tips)
    pointing = (("#" * tip).ljust(longest, ".") for tip in tips)
    if points_to == "right":
        return [line + end for line, end in zip(body, pointing, strict=True)]
    return [end[::-1] + line for line, end in zip(body, pointing, strict=True)]


def pointed(points: list[str], role: Role, *, factor: int = 1, ascii: bool = False) -> Rows:
    """Rows of points as a picture, each point ``factor`` cells wide."""
    wide = ["".join(point * factor for point in row) for row in points for _ in range(factor)]
    if ascii:
        return tuple((Run(row.replace(".", " "), role),) for row in wide)
    if len(wide) % 2:
        wide.append("." * len(wide[0]))
    halves = {"##": "█", "#.": "▀", ".#": "▄", "..": " "}
    pairs = zip(wide[::2], wide[1::2], strict=True)
    return tuple((Run("".join(halves[a + b] for a, b in zip(top, low, strict=True)), role),) for top, low in pairs)
