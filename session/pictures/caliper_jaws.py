"""The two jaws of a caliper in section, and the arrows that close them."""

from __future__ import annotations

from session.pictures.materials import TOOL
from session.pictures.picture_rows import Role
from session.pictures.sheet import Sheet


def draw_jaws(sheet: Sheet, left: int, right: int, jaw: int, rows: range, closes: int, *, ascii: bool) -> None:
    """Jaws ``jaw`` cells wide from columns ``left`` and ``right`` on, in ``rows``; closes: the row of the arrows."""
    for row in rows:
        for x in (left, right):
            sheet.put(x, row, TOOL.cell(ascii=ascii) * jaw, TOOL.role)
    push, pull = ("->", "<-") if ascii else ("═▶", "◀═")
    sheet.put(left - 3, closes, push, Role.ARROW)
    sheet.put(right + jaw + 1, closes, pull, Role.ARROW)
