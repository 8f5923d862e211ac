"""A sheet of cells that a picture is drawn on before it becomes rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from session.pictures.picture_rows import Role, Rows, check_room, row_of

if TYPE_CHECKING:
    from session.pictures.materials import Material

_PAIRS: Final = (
    "▌▐",
    "▖▗",
    "▘▝",
    "▙▟",
    "▛▜",
    "▚▞",
    "/\\",
    "()",
    "[]",
    "<>",
    "◀▶",
    "←→",
    "╭╮",
    "╰╯",
    "┌┐",
    "└┘",
    "├┤",
    "╱╲",
)


#: Each drawing character and its image in a mirror that stands upright beside it.
MIRRORED: Final = {ord(pair[side]): pair[1 - side] for pair in _PAIRS for side in (0, 1)}


class Sheet:
    """``width`` × ``height`` cells, each a character and a role; everything outside is cut off."""

    def __init__(self, width: int, height: int) -> None:
        check_room(width, height)
        self.width, self.height = width, height
        self._chars = [[" "] * width for _ in range(height)]
        self._roles = [[Role.PLAIN] * width for _ in range(height)]

    def put(self, x: int, y: int, text: str, role: Role) -> None:
        """Write ``text`` from column ``x`` of row ``y`` on."""
        if not 0 <= y < self.height or x >= self.width:
            return
        first, shown = max(0, x), text[max(0, -x) : self.width - x]
        until = first + len(shown)
        self._chars[y][first:until] = shown
        self._roles[y][first:until] = [role] * len(shown)

    def put_centered(self, x: float, y: int, text: str, role: Role) -> None:
        """Write ``text`` with its middle at ``x``, moved inward where it would pass the sheet's edge."""
        left = round(x - len(text) / 2)
        self.put(max(0, min(left, self.width - len(text))), y, text, role)

    def put_rows(self, x: int, y: int, rows: Rows) -> None:
        """Lay another picture on this one with its upper left corner at column ``x``, row ``y``."""
        for down, row in enumerate(rows):
            at = x
            for run in row:
                self.put(at, y + down, run.text, run.role)
                at += len(run.text)

    def texture(self, x: int, y: int, material: Material, *, ascii: bool = False) -> None:
        """Turn what stands at (x, y), unless that is a space, into ``material``."""
        if self.char(x, y) != " ":
            self.put(x, y, material.cell(ascii=ascii), material.role)

    def char(self, x: int, y: int) -> str:
        """The character at column ``x`` of row ``y``; a space outside the sheet."""
        return self._chars[y][x] if 0 <= y < self.height and 0 <= x < self.width else " "

    def flip(self) -> None:
        """Turn the sheet into its mirror image, left for right, character by character."""
        self._chars = [list("".join(reversed(line)).translate(MIRRORED)) for line in self._chars]
        self._roles = [line[::-1] for line in self._roles]

    def rows(self) -> Rows:
        """The sheet as a picture."""
        return tuple(row_of(chars, roles) for chars, roles in zip(self._chars, self._roles, strict=True))
