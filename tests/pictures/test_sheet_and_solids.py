"""A sheet cuts what passes its edges, and a filled shape is put on it a text at a time."""

from __future__ import annotations

from collections import Counter

import pytest

from session.pictures.filled_shapes import Solid
from session.pictures.picture_rows import Role, plain
from session.pictures.sheet import Sheet


@pytest.mark.parametrize(
    ("x", "shown"),
    [(-4, "    "), (-3, "    "), (-2, "c   "), (0, "abc "), (2, "  ab"), (3, "   a"), (4, "    "), (9, "    ")],
)
def test_a_text_is_cut_at_both_edges(x: int, shown: str) -> None:
    sheet = Sheet(4, 1)
    sheet.put(x, 0, "abc", Role.STEEL)
    sheet.put(x, 1, "abc", Role.FILE)
    assert plain(sheet.rows()) == [shown]
    roles = {run.role for run in sheet.rows()[0] if run.text.strip()}
    assert roles == ({Role.STEEL} if shown.strip() else set())


@pytest.mark.parametrize("ascii", [False, True])
def test_a_shape_is_put_on_the_sheet_a_text_a_row_and_leaves_its_gaps(
    ascii: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    puts = Counter[int]()
    put = Sheet.put

    def counted(sheet: Sheet, x: int, y: int, text: str, role: Role) -> None:
        puts[y] += 1
        put(sheet, x, y, text, role)

    monkeypatch.setattr(Sheet, "put", counted)
    solid, sheet = Solid(9, 2), Sheet(9, 2)
    for left in (1.0, 6.0):
        solid.fill([(left, 0.0), (left + 2.0, 0.0), (left + 2.0, 4.0), (left, 4.0)])
    sheet.put(4, 0, "x", Role.LABEL)
    solid.draw(sheet, Role.STEEL, ascii=ascii)
    full = "##" if ascii else "██"
    assert plain(sheet.rows()) == [f" {full} x {full} ", f" {full}   {full} "]
    assert puts == {0: 3, 1: 2}
