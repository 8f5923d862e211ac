"""The pictures of the steps, measured: what lies on what, what stands higher, and that every step has one."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_cells import cells, column_tops, slope
from law_budget import examples
from made_saws import panel_saw
from session.pictures.bent_tooth import setting
from session.pictures.calipers import calipers
from session.pictures.chalk_marks import chalk_marks
from session.pictures.cuts_compared import GRAINS, TRIAL_CUTS, WAYS, cuts
from session.pictures.file_corners import file_corners
from session.pictures.odd_teeth import cracked, odd_tooth, tooth_sizes
from session.pictures.picture_rows import PictureError, Role, Rows, plain
from session.pictures.points_in_light import bright_points, flats_in_light, hard_teeth
from session.pictures.step_pictures import step_picture, step_rows
from session.pictures.stone_flat import dressing, turned_over
from session.pictures.straight_edge import line_gap, line_shapes
from session.pictures.trough import needle, trough
from session.trade.tooth import tooth_of
from session.walk.known_teeth import Known
from session.walk.stages import FACTS, Stage

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


def test_every_step_that_is_done_with_the_hands_has_a_picture() -> None:
    saw = panel_saw(fleam=25.0)
    steel = tooth_of(saw.at(1))
    steps = [(stage, step) for stage, facts in FACTS.items() for step in facts.steps]
    without = {(stage, step) for stage, step in steps if step_picture(stage, step, saw, steel) is None}
    # What is read on screen; the lean has the view from above.
    read = {(Stage.LOOK_OVER, "plan"), (Stage.LOOK_OVER, "lean"), (Stage.CLOSE, "left out")}
    assert without == read
    for stage, step in set(steps) - without:
        drawn = step_picture(stage, step, saw, steel)
        assert drawn is not None
        rows = step_rows(step, saw.points, 30, 12)
        lines = plain(drawn(30, rows, ascii=False))
        assert {len(line) for line in lines} == {30}
        # Labeled, and with something drawn.
        assert any(word.isalpha() and len(word) > 2 for line in lines for word in line.split())
        assert sum(not char.isascii() for line in lines for char in line) > 15


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


def test_a_needle_has_no_trough_where_there_is_no_fleam() -> None:
    saw = panel_saw(fleam=0.0)
    assert step_picture(Stage.PROVE, "needle", saw, tooth_of(saw.at(1))) is None


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
    dark = cells(rows, Role.PLAIN)
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
    assert plain(rows)[-1].split() == ["even", "uneven"]


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


def test_the_file_seen_from_its_tang_is_equilateral_and_its_first_corner_is_below() -> None:
    rows = file_corners(WIDTH, HEIGHT, face="8.4 mm")
    file = cells(rows, Role.FILE)
    wide = [sum(y == row for _, y in file) for row in sorted({y for _, y in file})]
    tops = {2 * row: float(count) for row, count in enumerate(wide[1:-1])}
    # Both sides lean 30 degrees from upright, so that it narrows by 2 tan 30 a unit.
    assert slope(tops) == pytest.approx(-2 * math.tan(math.radians(30)), abs=0.15)
    lines = plain(rows)
    assert lines[0].split() == ["3", next(word for word in lines[0].split() if "▄" in word or "▒" in word), "2"]
    assert any("1 works" in line for line in lines[-4:])
    assert "8.4 mm" in lines[-1]


def test_a_line_without_a_tooth_and_an_impossible_side_are_refused() -> None:
    with pytest.raises(PictureError, match="0 teeth"):
        chalk_marks(0, str, 40, 10)
    with pytest.raises(PictureError, match="side 3"):
        dressing(3, True, 40, 10)
    with pytest.raises(PictureError, match="set -1"):
        calipers(2.6, 0.9, -1, 0.4, 40, 10)
    with pytest.raises(PictureError, match="leave no tooth"):
        odd_tooth(Known.LOW, -50, 40, 40, 10)
