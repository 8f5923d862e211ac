"""A picture read cell by cell: what shows each role, and how much of a cell it fills, by its characters' names."""

from __future__ import annotations

import unicodedata

from session.pictures.picture_rows import Role, Rows

_EIGHTHS = {
    "ONE EIGHTH": 1,
    "ONE QUARTER": 2,
    "THREE EIGHTHS": 3,
    "FIVE EIGHTHS": 5,
    "THREE QUARTERS": 6,
    "SEVEN EIGHTHS": 7,
}
_CORNERS = ("UPPER LEFT", "UPPER RIGHT", "LOWER LEFT", "LOWER RIGHT")

Cell = tuple[int, int]


def cells(rows: Rows, *roles: Role) -> dict[Cell, str]:
    """The characters of these roles that are not spaces, by column and row."""
    found: dict[Cell, str] = {}
    for y, row in enumerate(rows):
        text = [(char, run.role) for run in row for char in run.text]
        found.update({(x, y): char for x, (char, role) in enumerate(text) if role in roles and char != " "})
    return found


def area(char: str) -> float:
    """Share of a cell that a block character fills; a shade fills all of it."""
    name = unicodedata.name(char)
    if name == "FULL BLOCK" or name.endswith("SHADE"):
        return 1.0
    if name.endswith("HALF BLOCK"):
        return 0.5
    if name.startswith("QUADRANT"):
        return sum(name.count(corner) for corner in _CORNERS) / 4
    return next(eighths / 8 for words, eighths in _EIGHTHS.items() if words in name)


def left_half(char: str) -> float:
    """Share of a cell that the left half of a block character fills, 0 to a half."""
    name = unicodedata.name(char)
    if name == "LEFT HALF BLOCK":
        return 0.5
    if name == "RIGHT HALF BLOCK":
        return 0.0
    if name.startswith("QUADRANT"):
        return sum(name.count(corner) for corner in _CORNERS if corner.endswith("LEFT")) / 4
    return area(char) / 2


def samples(rows: Rows, *roles: Role) -> list[tuple[float, float, float]]:
    """Both halves of each cell of these roles: the middle of each, in units, and how much of it is filled, 0 to 1.

    A cell is one unit wide and two high.
    """
    found = []
    for (x, y), char in cells(rows, *roles).items():
        left = 2 * left_half(char)
        right = 2 * area(char) - left
        found += [(x + 0.25, 2 * y + 1.0, left), (x + 0.75, 2 * y + 1.0, right)]
    return [sample for sample in found if sample[2] > 0]


def column_tops(rows: Rows, *roles: Role) -> dict[int, float]:
    """How high each column is filled, as the place of its top in units from above; gaps below it do not count."""
    found: dict[int, float] = {}
    for (x, y), char in sorted(cells(rows, *roles).items(), key=lambda cell: (cell[0][0], cell[0][1])):
        found.setdefault(x, 2 * (y + 1 - area(char)))
    return found


def slope(points: dict[int, float]) -> float:
    """The slope of the straight line that lies best through points given by their columns: units down a unit right."""
    middle_x, middle_y = sum(points) / len(points), sum(points.values()) / len(points)
    across = sum((x - middle_x) ** 2 for x in points)
    return sum((x - middle_x) * (y - middle_y) for x, y in points.items()) / across
