"""The pictures of tools laid on the saw, measured: what caliper, anvil, chalk, stone and file each touch."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_cells import cells, slope
from law_budget import examples
from session.pictures.bent_tooth import setting
from session.pictures.calipers import calipers
from session.pictures.chalk_marks import chalk_marks
from session.pictures.file_corners import file_corners
from session.pictures.picture_rows import Role, plain
from session.pictures.stone_flat import dressing, turned_over

WIDTH, HEIGHT = 60, 19


@pytest.mark.parametrize("per_side", [0.1, 0.25, 0.5])
def test_each_jaw_touches_the_point_that_stands_out_most(per_side: float) -> None:
    rows = calipers(2.86, 0.9, per_side, 0.4, WIDTH, HEIGHT, over="1.4 mm", plate="0.9 mm")
    beam = 1
    steel = cells(rows, Role.STEEL, Role.PLAIN)
    jaws = {x for x, y in cells(rows, Role.BLOCK) if y == beam + 2}
    left = max(x for x in jaws if x < WIDTH / 2)
    right = min(x for x in jaws if x > WIDTH / 2)
    points = {x for x, y in steel if y == beam + 1}
    assert 0 <= min(points) - left - 1 <= 1
    assert 0 <= right - max(points) - 1 <= 1
    assert "1.4 mm" in plain(rows)[0]
    assert "plate 0.9 mm" in plain(rows)[-1]


def test_the_width_over_the_points_is_to_scale_where_it_can_be_seen() -> None:
    rows = calipers(2.86, 0.9, 0.5, 0.4, WIDTH, HEIGHT)
    steel = cells(rows, Role.STEEL, Role.PLAIN)
    foot = max(y for _, y in steel)
    plate = len({x for x, y in cells(rows, Role.STEEL) if y == foot})
    over = {x for x, y in steel if y == 2}
    assert abs((max(over) - min(over) + 1) / plate - (0.9 + 2 * 0.5) / 0.9) <= 2.5 / plate


@pytest.mark.parametrize("leans_away", [True, False])
@pytest.mark.parametrize("share", [0.3, 0.4, 0.5])
def test_the_anvil_lies_along_the_plate_below_the_bend_and_the_plunger_stands_before_the_point(
    share: float, leans_away: bool
) -> None:
    rows = setting(2.86, 0.9, 0.3, share, WIDTH, 26, leans_away=leans_away)
    steel, tool = cells(rows, Role.STEEL), cells(rows, Role.BLOCK)
    lines = plain(rows)
    assert (lines[-3:][1].index("away") > 0) if leans_away else "toward" in lines[-2]
    anvil_word = next(y for y, line in enumerate(lines) if "anvil" in line)
    plunger_word = next(y for y, line in enumerate(lines) if "plunger" in line)
    assert (lines[anvil_word].index("anvil") > WIDTH / 2) == leans_away
    assert (lines[plunger_word].index("plunger") < WIDTH / 2) == leans_away
    far = {x for x, _ in tool if (x > WIDTH / 2) == leans_away}
    touching = 0
    for y in sorted({y for _, y in tool}):
        in_row = [x for x, at in tool if at == y and x in far]
        plate = [x for x, at in steel if at == y]
        if in_row and plate:
            gap = min(in_row) - max(plate) if leans_away else min(plate) - max(in_row)
            assert gap <= 2
            touching += 1
    assert touching >= 6
    arrow = next(line for line in lines if ("══▶" if leans_away else "◀══") in line)
    assert lines.index(arrow) < anvil_word


@examples(40)
@given(st.integers(2, 300), st.integers(40, 120))
def test_chalk_stands_at_each_twentieth_point_with_its_place(teeth: int, width: int) -> None:
    told: list[int] = []

    def on_rule(tooth: int) -> str:
        told.append(tooth)
        return f"{tooth} mm"

    height = 5 + teeth // 20 + 1
    rows = chalk_marks(teeth, on_rule, width, height)
    wanted = [*dict.fromkeys([*range(20, teeth + 1, 20), teeth])]
    assert sorted(set(told)) == wanted
    marks = sorted({x for x, y in cells(rows, Role.FLAT) if y == 3}, reverse=True)
    room = width - 4
    expected = {room - 1 - (count - 1) * (room - 1) / (teeth - 1) for count in wanted}
    assert all(min(abs(x - at) for at in expected) <= 0.5 for x in marks)
    assert all(min(abs(x - at) for x in marks) <= 0.5 for at in expected)
    table = [line.split()[:2] for line in plain(rows)[5:]]
    assert [row for row in table if row] == [[str(count), str(count)] for count in wanted]


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("to_toe", [True, False])
def test_the_stone_goes_along_the_teeth_and_the_points_stand_over_the_edge(side: int, to_toe: bool) -> None:
    rows = dressing(side, to_toe, WIDTH, 14)
    lines = plain(rows)
    assert ("◀" in lines[0]) == (to_toe == (side == 1))
    assert ("▶" in lines[0]) != ("◀" in lines[0])
    stone = cells(rows, Role.FILE)
    teeth = {y for (_, y), char in cells(rows, Role.STEEL).items() if char == "▲"}
    assert teeth <= {y for _, y in stone}
    bench = cells(rows, Role.VISE)
    tip = next(x for (x, y), char in cells(rows, Role.STEEL).items() if char == "▶" and y > 5)
    assert max(x for x, _ in bench) < tip
    # The stone lies on the plate and over its points; the plate lies on the bench.
    top = min(y for _, y in bench)
    assert {y for x, y in stone if y > 5} == {top - 2}
    assert tip in {x for x, y in stone if y == top - 2}
    assert not any("jaw" in line or "vise" in line for line in lines)


def test_a_saw_turned_over_to_dress_has_its_handle_on_the_other_hand_and_its_points_away() -> None:
    rows = turned_over(1, WIDTH, 8)
    grips = sorted({x for x, _ in cells(rows, Role.HANDLE)})
    halves = [x for x in grips if x < WIDTH / 2], [x for x in grips if x > WIDTH / 2]
    assert min(halves[0]) > 15
    assert max(halves[1]) < 45
    assert plain(rows)[1].count("points away from you") == 2
    assert not any("jaw" in line for line in plain(rows))


def test_the_file_seen_from_its_tang_is_equilateral_and_its_first_corner_is_below() -> None:
    rows = file_corners(WIDTH, HEIGHT, face="8.4 mm")
    file = cells(rows, Role.FILE)
    wide = [sum(y == row for _, y in file) for row in sorted({y for _, y in file})]
    tops = {2 * row: float(count) for row, count in enumerate(wide[1:-1])}
    # Both sides lean 30 degrees from upright, so that it narrows by 2 tan 30 a unit.
    assert slope(tops) == pytest.approx(-2 * math.tan(math.radians(30)), abs=0.15)
    lines = plain(rows)
    assert lines[1].split() == ["3", next(word for word in lines[1].split() if "█" in word or "▒" in word), "2"]
    assert any("1 in the gullet" in line for line in lines[-4:])
    # A face is named and measured from corner to corner.
    face = lines[0].strip()
    assert re.fullmatch(r"◀─* face 8\.4 mm ─*▶", face)
    assert len(face) == pytest.approx(len(lines[1].split()[1]), abs=1)
