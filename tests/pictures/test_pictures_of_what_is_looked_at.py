"""The pictures of what is judged by eye, measured: the line, odd teeth, points in the light, the trough and the cut."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_cells import cells, column_tops
from law_budget import examples
from session.pictures.cuts_compared import GRAINS, TRIAL_CUTS, WAYS, cuts
from session.pictures.odd_teeth import cracked, odd_tooth, tooth_sizes
from session.pictures.picture_rows import Role, Rows, plain
from session.pictures.points_in_light import bright_points, flats_in_light, hard_teeth
from session.pictures.straight_edge import line_gap, line_shapes
from session.pictures.trough import needle, trough
from session.walk.known_teeth import Known

ANGLES = (16.47, 47.81)

WIDTH, HEIGHT = 60, 19


def middle_of(columns: list[int]) -> float:
    return sum(columns) / len(columns) + 0.5


def peaks(rows: Rows, *roles: Role) -> list[float]:
    """The tops of the teeth, from the left, in units from above: where a column stands higher than those beside it."""
    tops = column_tops(rows, *roles)
    columns = sorted(tops)
    runs: list[float] = []
    for x in columns[1:-1]:
        reach = [tops[at] for at in columns if abs(at - x) <= 3]
        if tops[x] == min(reach) and (not runs or tops[x] != runs[-1] or tops[x - 1] > tops[x]):
            runs.append(tops[x])
    return runs


@pytest.mark.parametrize(("width", "height"), [(28, 11), (60, 18)])
def test_flats_are_looked_at_under_a_lamp_with_no_file_on_them(width: int, height: int) -> None:
    rows = flats_in_light(*ANGLES, width, height)
    shining = {x for (x, y), char in cells(rows, *Role).items() if char == "▓"}
    assert shining
    assert not any(abs(x - width / 2) < width / 12 for x in shining), "the one in the middle is low"
    assert not any("▒" in line or "▶" in line or "◀" in line for line in plain(rows)), "no file, and no push"
    words = " ".join(plain(rows))
    assert "lamp" in words
    assert "no flat" in words


def test_a_straight_line_touches_all_along_a_crowned_one_in_the_middle_a_hollow_one_at_its_ends() -> None:
    rows = line_shapes(WIDTH, 22)
    edges = [y for y, line in enumerate(plain(rows)) if "░" * 20 in line]
    assert len(edges) == 3
    words = [line.split()[0] for line in plain(rows) if line[:1].isalpha()]
    assert [word for word in words if word != "light"] == ["straight", "crowned", "hollow"]
    gaps = []
    for edge, below in pairwise([*edges, 22]):
        tops = column_tops(rows[edge + 1 : below], Role.STEEL)
        columns = sorted(tops)
        # The highest of a few columns is the point of a tooth.
        first, middle, last = (
            min(tops[x] for x in columns[at : at + 4]) for at in (0, len(columns) // 2 - 2, len(columns) - 4)
        )
        gaps.append((max(first, last), middle))
    (straight_end, straight_middle), (crowned_end, crowned_middle), (hollow_end, hollow_middle) = gaps
    assert straight_end <= 0.5 >= straight_middle
    assert crowned_middle <= 0.5
    assert crowned_end > 3
    assert hollow_end <= 1.5
    assert hollow_middle > 3


def test_the_slip_fills_the_widest_gap() -> None:
    rows = line_gap(40, 14)
    slip = cells(rows, Role.FLAT)
    tops = column_tops(rows, Role.STEEL)
    deepest = max(tops.values())
    middle = sorted({x for x, _ in slip})
    assert {x - 20 for x in middle} == {-1, 0}
    assert min(y for _, y in slip) == 1
    assert abs(2 * (max(y for _, y in slip) + 1) - deepest) <= 2
    assert all(tops[x] >= deepest - 2 for x in middle)


@pytest.mark.parametrize("kind", list(Known))
def test_the_odd_tooth_stands_in_the_middle_and_is_as_it_is_called(kind: Known) -> None:
    rows = odd_tooth(kind, *ANGLES, WIDTH, HEIGHT)
    tops = column_tops(rows, Role.STEEL)
    middle = min(tops[x] for x in range(WIDTH // 2 - 4, WIDTH // 2 + 5))
    others = min(tops[x] for x in tops if abs(x - WIDTH / 2) > 10)
    assert (middle < others) == (kind is Known.HIGH)
    assert (middle > others) == (kind in (Known.LOW, Known.BROKEN))
    assert kind in plain(rows)[-1]
    edge = cells(rows, Role.BLOCK)
    assert bool(edge) == (kind is not Known.BROKEN)
    if kind is Known.LOW:
        low = max(y for _, y in edge)
        # It lies on the others, and light shows over this one.
        assert abs(2 * (low + 1) - others) <= 0.5
        assert middle - 2 * (low + 1) > 1
    if kind is Known.HIGH:
        under = {x: max(y for at, y in edge if at == x) for x, _ in edge}
        # It is tipped: lower at one end than at the other, and over the points everywhere.
        assert under[min(under)] - under[max(under)] >= 2
        assert all(2 * under[x] <= tops.get(x, math.inf) for x in under)


def test_a_stump_is_flat_and_far_below_its_neighbors() -> None:
    rows = odd_tooth(Known.BROKEN, *ANGLES, WIDTH, HEIGHT)
    tops = column_tops(rows, Role.STEEL)
    stump = [tops[x] for x in range(WIDTH // 2 - 2, WIDTH // 2 + 3)]
    assert len(set(stump)) == 1
    assert stump[0] > min(tops.values()) + 2


def test_sizes_are_even_above_and_by_turns_below() -> None:
    rows = tooth_sizes(*ANGLES, WIDTH, 20)
    captions = [y for y, line in enumerate(plain(rows)) if line.strip().startswith(("even", "big"))]
    even, odd = rows[: captions[0]], rows[captions[0] + 1 : captions[1]]
    same = peaks(even, Role.STEEL, Role.FLAT)
    assert max(same) - min(same) <= 0.25
    tall = peaks(odd, Role.STEEL, Role.FLAT)
    assert max(tall) - min(tall) > 1.5
    assert cells(odd, Role.FLAT)
    assert not cells(even, Role.FLAT)


def test_a_dull_point_shines_under_the_window_and_a_sharp_one_does_not() -> None:
    rows = bright_points(*ANGLES, WIDTH, HEIGHT)
    lines = plain(rows)
    shines = {x for (x, y), char in cells(rows, Role.FLAT).items() if char == "▓"}
    dull, sharp = lines[-1].index("dull"), lines[-1].index("sharp")
    assert shines
    assert all(abs(x - (dull + 6)) < 8 for x in shines)
    assert abs(lines[1].index("|") - middle_of([*shines])) <= 1.5
    assert abs(sharp - dull) > 15


def test_hard_tips_are_dark_to_half_their_depth_and_the_file_lies_on_the_one_at_the_heel() -> None:
    rows = hard_teeth(*ANGLES, WIDTH, HEIGHT)
    dark = cells(rows, Role.FRAME)
    steel = cells(rows, Role.STEEL)
    file = cells(rows, Role.FILE)
    rows_dark = {y for _, y in dark}
    assert max(rows_dark) < max(y for _, y in steel) - 3
    assert max(y for _, y in file) + 1 == min(rows_dark)
    # The heel is on the right.
    assert min(x for x, _ in file) > WIDTH / 2


@given(st.floats(-5, 30), st.integers(30, 90), st.integers(10, 30))
@examples(40)
def test_a_crack_begins_at_the_bottom_of_a_gullet(rake: float, width: int, height: int) -> None:
    rows = cracked(rake, 60 - rake, width, height)
    crack = cells(rows, Role.LEFT_OUT)
    x, y = min(crack, key=lambda at: at[1])
    tops = column_tops(rows, Role.STEEL, Role.LEFT_OUT)
    near = {at: top for at, top in tops.items() if abs(at - x) <= 6}
    lowest = max(near.values())
    assert abs(2 * y - lowest) <= 2
    assert min(abs(at - x) for at, top in near.items() if top == lowest) <= 2


@pytest.mark.parametrize("fleam", [0.0, 25.0])
def test_an_even_trough_has_points_of_one_height_and_an_uneven_one_has_not(fleam: float) -> None:
    rows = trough(fleam, WIDTH, HEIGHT)
    tops = column_tops(rows, Role.STEEL)
    heights = []
    for half in ([x for x in tops if x < WIDTH / 2], [x for x in tops if x >= WIDTH / 2]):
        middle = (min(half) + max(half)) / 2
        heights.append([min(tops[x] for x in half if (x < middle) == first) for first in (True, False)])
    assert abs(heights[0][0] - heights[0][1]) <= 0.5
    assert heights[1][1] - heights[1][0] > 2
    assert plain(rows)[-1].split() == ["even", "rows", "uneven", "rows"]


def test_nothing_stands_in_the_needles_way() -> None:
    rows = needle(25, WIDTH, HEIGHT)
    steel = cells(rows, Role.STEEL)
    way = [y for y, line in enumerate(plain(rows)) if "═" * 20 in line]
    assert way == [2]
    assert not [at for at in steel if at[1] == 2]
    assert {y for _, y in steel} >= {1, 3}
    eye = [at for at, char in cells(rows, Role.BLOCK).items() if char == "●"]
    tops = column_tops(rows[5:], Role.STEEL)
    deepest = max(top for x, top in tops.items() if abs(x - WIDTH / 2) <= 2)
    # It rests in the bottom of the trough.
    assert all(abs(x + 0.5 - WIDTH / 2) <= 1 for x, _ in eye)
    assert all(0 <= deepest - 2 * (y - 5 + 1) <= 2 for _, y in eye)


def kerf(line: str, left: int, right: int) -> list[int]:
    return [x for x in range(left, right) if line[x] == " "]


def test_a_good_cut_keeps_its_line_a_wandering_one_leaves_it_and_one_that_binds_has_closed() -> None:
    lines = plain(cuts(TRIAL_CUTS, WIDTH, HEIGHT))[:-1]
    boards = [(0, 19), (20, 39), (40, 59)]
    marked = [next(x for x in range(*board) if lines[0][x] == "·") for board in boards]
    good = [kerf(line, *boards[0]) for line in lines[5:-1]]
    assert all(abs(middle_of(row) - 0.5 - marked[0]) <= 1 for row in good)
    wander = [middle_of(kerf(line, *boards[1])) - marked[1] for line in lines[5:-1]]
    assert wander == sorted(wander)
    assert wander[0] < -3 < -1 < wander[-1]
    assert not any(kerf(line, *boards[2]) for line in lines)
    assert sum("▶█◀" in line for line in lines) >= 3


def test_left_and_right_are_those_of_the_person_who_saws() -> None:
    lines = plain(cuts(WAYS, WIDTH, HEIGHT))
    boards = [(0, 29), (30, 59)]
    # The person stands at the lower edge, where the cut begins.
    assert lines[-2].count("▲▲") == 2
    off = []
    for left, right in boards:
        begins = lines[-2].index("▲▲", left)
        far = next(line for line in lines if kerf(line, left, right))
        off.append(kerf(far, left, right)[0] - begins)
    assert off[0] < -3
    assert off[1] > 3
    assert lines[-1].split() == ["left", "right"]


def test_grain_runs_against_one_cut_and_with_the_other() -> None:
    lines = plain(cuts(GRAINS, WIDTH, HEIGHT))
    assert "─" in lines[3][:29]
    assert "│" not in lines[3][:29]
    assert "│" in lines[3][30:]
    assert "─" not in lines[3][30:]
