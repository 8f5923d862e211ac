"""Fleam from above, the block and its turn, the bend, the file on the points, the vise: measured or read off."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_cells import cells, column_tops, samples, slope
from law_budget import examples
from session.pictures.bent_tooth import setting
from session.pictures.crossing_file import file_across
from session.pictures.from_above import above, leaning
from session.pictures.guide_block import block, file_in_block, turn
from session.pictures.level_file import flats, leveling
from session.pictures.picture_rows import PictureError, Role, Rows, plain
from session.pictures.sheet import MIRRORED
from session.pictures.vise import clamped, vise
from session.pictures.vise import turn as saw_turn
from session.trade.saw import FilePoints

ODD = range(1, 156, 2)


def _lean_deg(rows: Rows) -> float:
    """Main direction of the file from upright, degrees, above 0 when its top is to the right."""
    found = samples(rows, Role.FILE)
    weight = sum(filled for _, _, filled in found)
    x0, y0 = (sum(one[axis] * one[2] for one in found) / weight for axis in (0, 1))
    xx = sum(filled * (x - x0) ** 2 for x, _, filled in found)
    yy = sum(filled * (y - y0) ** 2 for _, y, filled in found)
    xy = sum(filled * (x - x0) * (y0 - y) for x, y, filled in found)
    return math.degrees(math.atan2(2 * xy, yy - xx)) / 2


@pytest.mark.parametrize("fleam", [0, 10, 20, 25, 30, 45])  # KING 20-30, compass saw 10; MTS, DREW, FIT, SHOP2 45
@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("points", list(FilePoints))
def test_the_file_crosses_the_plate_at_the_fleam_and_points_where_it_should(
    fleam: float, side: int, points: FilePoints
) -> None:
    rows = above(47, 155, fleam=fleam, side=side, file_points=points, away=ODD, width=90, height=21)
    # On side 1 the toe is on the left.
    to_left = (points is FilePoints.TOE) == (side == 1)
    assert abs(_lean_deg(rows) - (-fleam if to_left else fleam)) <= 2.5
    text = "\n".join(plain(rows))
    assert (f"fleam {fleam}°" in text) == (fleam > 0)
    assert (f"tip to the {points}" in text) == (fleam > 0)
    assert ("square across" in text) == (fleam == 0)


@pytest.mark.parametrize("side", [1, 2])
def test_teeth_that_lean_away_stand_above_the_plate_the_others_below(side: int) -> None:
    away = {k for k in range(1, 156) if k % 2 == side % 2}
    for rows in (
        above(47, 155, fleam=0, side=side, file_points=FilePoints.TOE, away=away, width=80, height=15),
        leaning(47, 155, side=side, away=away, width=80, height=7),
    ):
        lines = plain(rows)
        plate = next(y for y, line in enumerate(lines) if "██████" in line)
        words = "".join(lines[plate - 2]).split(), "".join(lines[plate + 2]).split()
        up, down = ({int(word) for word in part if word.isdigit()} for part in words)
        assert up
        assert down
        assert up <= away
        assert down.isdisjoint(away)
        assert {47, 48} & (up | down)


@pytest.mark.parametrize(("side", "first", "last"), [(1, "toe", "handle"), (2, "handle", "toe")])
def test_the_handle_stands_on_its_side_in_every_picture(side: int, first: str, last: str) -> None:
    pictures = (
        above(1, 20, fleam=20, side=side, file_points=FilePoints.TOE, away=ODD, width=60, height=13),
        vise(side, 60, 12),
    )
    for rows in pictures:
        caption = plain(rows)[-1].split()
        assert [word for word in caption if word.isalpha()] == [first, last]
    grip = [x for x, _ in cells(vise(side, 60, 12), Role.HANDLE)]
    assert (min(grip) > 30) == (side == 1)
    assert (max(grip) < 30) == (side == 2)


@examples(60)
@given(rake=st.floats(-15, 45), width=st.integers(12, 100), height=st.integers(6, 40), ascii_only=st.booleans())
def test_the_block_on_side_two_is_the_mirror_image_of_side_one(
    rake: float, width: int, height: int, ascii_only: bool
) -> None:
    captions = 3 if height >= 10 and width >= 26 else 2 if height >= 8 else 1
    one, two = (plain(block(rake, side, width, height, ascii=ascii_only))[:-captions] for side in (1, 2))
    assert [line[::-1].translate(MIRRORED) for line in one] == two


@given(st.floats(-15, 45), st.floats(1, 50))
def test_the_file_in_the_block_is_equilateral_and_rolled_by_the_rake(rake: float, radius: float) -> None:
    foot, toe_side, heel_side = sorted(file_in_block(rake, 0, 0, radius), key=lambda p: (p[1] < 0, p[0]))[:3]
    corners = file_in_block(rake, 0, 0, radius)
    sides = [math.dist(a, b) for a, b in pairwise([*corners, corners[0]])]
    assert max(sides) - min(sides) < 1e-9 * radius
    assert {foot, toe_side, heel_side} == set(corners)
    # The toe is on the right: the face at the heel runs up from the lower corner, `rake` back from plumb.
    low = corners[0]
    upper = sorted(corners[1:])
    lean_heel = math.degrees(math.atan2(low[0] - upper[0][0], low[1] - upper[0][1]))
    lean_toe = math.degrees(math.atan2(upper[1][0] - low[0], low[1] - upper[1][1]))
    assert lean_heel == pytest.approx(rake, abs=1e-6)
    assert lean_toe == pytest.approx(60 - rake, abs=1e-6)


@pytest.mark.parametrize("rake", [0, 10, 15, 25])
def test_the_drawn_block_shows_the_rake_within_a_cell(rake: float) -> None:
    # Under it the file is drawn once more, from its side.
    rows = block(rake, 2, 60, 24)[:-3]
    found = samples(rows, Role.FILE)
    tops = column_tops(rows, Role.FILE)
    top = {x: tops[x] for x in sorted(tops)[3:-3]}
    assert abs((slope(top) - math.tan(math.radians(30 - rake))) * len(top)) <= 1
    # The face at the heel, on the left here: where the file begins in each row.
    left: dict[int, float] = {}
    for x, y, filled in found:
        row = int(y // 2)
        left[row] = min(left.get(row, math.inf), x + 0.25 - filled / 2)
    begun = min(row for row in left if left[row] == min(left.values()))
    edge = {2 * row: left[row] for row in range(begun + 1, max(left))}
    assert abs((slope(edge) - math.tan(math.radians(rake))) * 2 * len(edge)) <= 1


@pytest.mark.parametrize("from_side", [1, 2])
def test_the_turn_shows_the_side_now_and_the_side_after(from_side: int) -> None:
    lines = plain(turn(15, from_side, 60, 12))
    after = 3 - from_side
    assert lines[0].index(f"side {from_side}") < 30 < lines[0].index(f"side {after}")
    half = [line[:27] for line in lines[1:]], [line[33:] for line in lines[1:]]
    for side, part in zip((from_side, after), half, strict=True):
        assert part == plain(block(15, side, 27, 11))


@pytest.mark.parametrize("from_side", [1, 2])
def test_the_turned_saw_has_its_handle_on_the_other_hand(from_side: int) -> None:
    rows = saw_turn(from_side, 60, 12)
    before, after = ("right", "left") if from_side == 1 else ("left", "right")
    lines = plain(rows)
    assert lines[0].index(f"handle {before}") < 30 < lines[0].index(f"handle {after}")
    grips = [[x % 33 for x, _ in cells(rows, Role.HANDLE) if x // 30 == half] for half in (0, 1)]
    for grip, hand in zip(grips, (before, after), strict=True):
        assert (min(grip) > 13) == (hand == "right")
        assert (max(grip) < 13) == (hand == "left")


@pytest.mark.parametrize("leans_away", [True, False])
@pytest.mark.parametrize("share", [0.3, 0.5, 0.67])  # points only; ROSS, MTS at most half; BS3159 two-thirds
def test_the_bend_begins_at_its_share_of_the_depth(share: float, leans_away: bool) -> None:
    depth, plate = 2.86, 0.9
    rows = setting(depth, plate, 0.3, share, 60, 24, leans_away=leans_away)
    steel = cells(rows, Role.STEEL)
    left = {y: min(x for x, row in steel if row == y) for y in {y for _, y in steel}}
    foot = left[max(left)]
    bent = [y for y, x in left.items() if x != foot]
    top = min(left)
    tooth_rows = plain(rows).index(next(line for line in plain(rows) if "gullet" in line)) - top
    assert abs((max(bent) + 1 - top) - share * tooth_rows) <= 3
    assert (left[top] > foot) == leans_away
    assert ("away from you" in plain(rows)[-2]) == leans_away


def test_a_bend_too_small_to_see_is_drawn_larger_and_says_so() -> None:
    small, large = (plain(setting(2.86, 0.9, mm, 0.4, 60, 24))[-1].strip() for mm in (0.05, 0.6))
    assert small == "bend drawn larger than it is"
    assert large == ""


@pytest.mark.parametrize("side", [1, 2])
def test_the_leveling_file_lies_on_the_points(side: int) -> None:
    rows = leveling(16.5, 47.8, side, 70, 12)
    file_rows = {y for _, y in cells(rows, Role.FILE)}
    flat_rows = {y for _, y in cells(rows, Role.FLAT)}
    steel_top = min(y for _, y in cells(rows, Role.STEEL))
    assert len(file_rows) == 1
    assert flat_rows == {max(file_rows) + 1} == {steel_top}
    assert "square to the plate" in plain(rows)[-1]


def test_flats_to_compare_grow_and_none_stands_low() -> None:
    named = (("none", 0.0), ("small", 0.1), ("wide", 0.3))
    rows = flats(named, 16.5, 47.8, 2, 60, 10)
    widths = [sum(20 * n <= x < 20 * n + 20 for x, _ in cells(rows, Role.FLAT)) for n in range(3)]
    assert widths[0] == 0 < widths[1] < widths[2]
    tops = [
        min(y for x, y in cells(rows, Role.STEEL) | cells(rows, Role.FLAT) if 20 * n <= x < 20 * n + 20)
        for n in range(2)
    ]
    assert tops[0] > tops[1]
    assert plain(rows)[-1].split() == ["none", "small", "wide"]


def test_the_saw_stands_low_in_the_vise() -> None:
    rows = vise(1, 60, 14, above_jaws="1/2 in")
    jaws = min(y for _, y in cells(rows, Role.VISE))
    teeth = min(y for _, y in cells(rows, Role.STEEL))
    assert jaws - teeth == 2
    assert "teeth 1/2 in above the jaws" in plain(rows)[0]  # HASL: about 1/2 in


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: above(0, 9, fleam=0, side=1, file_points=FilePoints.TOE, away=(), width=60, height=12), "tooth 0"),
        (lambda: above(1, 9, fleam=61, side=1, file_points=FilePoints.TOE, away=(), width=60, height=12), "fleam 61"),
        (
            lambda: above(1, 9, fleam=math.nan, side=1, file_points=FilePoints.TOE, away=(), width=9, height=9),
            "fleam nan",
        ),
        (lambda: leaning(10, 9, side=1, away=(), width=60), "tooth 10"),
        (lambda: block(61, 1, 60, 12), "rake 61"),
        (lambda: turn(math.nan, 1, 60, 12), "rake nan"),
        (lambda: setting(0, 1, 1, 0.4, 60, 12), "depth 0 mm"),
        (lambda: setting(1, math.inf, 1, 0.4, 60, 12), "plate thickness inf"),
        (lambda: setting(1, 1, -1, 0.4, 60, 12), "set -1"),
        (lambda: setting(1, 1, 1, 0, 60, 12), "bent share 0"),
        (lambda: leveling(-50, 40, 1, 60, 12), "leave no tooth"),
        (lambda: flats((), 15, 45, 1, 60, 12), "allowed are 1 to 9"),
        (lambda: flats((("all", 1.0),), 15, 45, 1, 60, 12), "allowed are 1 to 9"),
    ],
)
def test_what_cannot_be_drawn_is_refused(make, message: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(PictureError, match=message):
        make()


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("width", [38, 72])
def test_the_teeth_that_the_vise_holds_are_named_on_the_side_where_they_are(side: int, width: int) -> None:
    lines = plain(clamped(side, (33, 64), width, 11))
    jaws = next(line for line in lines if " 33 " in line)
    # The heel is where the handle is: on the right on side 1.
    assert (jaws.index(" 33 ") > jaws.index(" 64 ")) == (side == 1)
    assert any("between battens" in line for line in lines) == (width == 72)


def test_from_the_end_the_gullet_stands_above_the_battens_and_they_above_the_jaws() -> None:
    rows = clamped(1, (1, 32), 72, 12)
    lines = plain(rows)
    gullet = next(y for y, line in enumerate(lines) if "gullet▶" in line)
    batten = min(y for _, y in cells(rows, Role.BLOCK))
    jaw = min(y for x, y in cells(rows, Role.VISE) if x > 54)
    assert gullet < batten < jaw


@pytest.mark.parametrize("to_toe", [True, False])
@pytest.mark.parametrize("side", [1, 2])
def test_the_arrow_on_the_leveling_file_points_where_it_is_pushed(side: int, to_toe: bool) -> None:
    rows = leveling(16.5, 47.8, side, 70, 12, to_toe=to_toe)
    arrow = "".join(cells(rows, Role.ARROW).values())
    assert arrow == ("◀═══" if to_toe == (side == 1) else "═══▶")


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("points", list(FilePoints))
@pytest.mark.parametrize("fleam", [0, 10, 25, 45])
def test_in_a_small_room_the_file_alone_shows_its_angle_and_its_way(fleam: int, side: int, points: FilePoints) -> None:
    rows = file_across(fleam, side, points, 40, 24)
    to_left = (points is FilePoints.TOE) == (side == 1)
    assert abs(_lean_deg(rows) - (-fleam if to_left else fleam)) <= 2.5
    ((arrow, char),) = cells(rows, Role.ARROW).items()
    assert char == "▲"
    assert arrow[1] <= min(y for _, y in cells(rows, Role.FILE))
    handle = [x for x, _ in cells(rows, Role.HANDLE)]
    if fleam:
        assert (arrow[0] < 20) == to_left
        assert (sum(handle) / len(handle) > 20) == to_left
    assert ("square" in plain(rows)[-1]) == (not fleam)


@pytest.mark.parametrize("side", [1, 2])
def test_a_stump_leans_to_neither_side_and_is_named(side: int) -> None:
    away = set(range(side, 156, 2))
    for rows in (
        above(
            47, 155, fleam=25, side=side, file_points=FilePoints.TOE, away=away, stumps={46, 48}, width=90, height=15
        ),
        leaning(47, 155, side=side, away=away, stumps={46, 48}, width=90, height=7),
    ):
        lines = plain(rows)
        broken = cells(rows, Role.LEFT_OUT)
        plate = next(y for y, line in enumerate(lines) if "██████" in line)
        assert {y for _, y in broken} == {plate}
        assert set(broken.values()) == {"░"}
        columns = sorted(x for x, _ in broken)
        middles = [columns[: len(columns) // 2], columns[len(columns) // 2 :]]
        named = {name: at for line in lines for name in ("46", "48") if (at := line.find(f"stump {name}")) >= 0}
        assert set(named) == {"46", "48"}
        for run, at in zip(middles, sorted(named.values()), strict=True):
            assert abs(sum(run) / len(run) - (at + 3.5)) <= 1
            assert not [x for x, y in cells(rows, Role.STEEL) if y in (plate - 1, plate + 1) and x in run]


def test_the_block_goes_on_the_end_of_the_file_that_has_no_handle() -> None:
    row = plain(block(15, 1, 40, 14))[-3]
    handle, wood, tip = row.index("█"), row.index("░"), row.index("tip")
    assert handle < row.index("▒") < wood < tip
    # Near the tip and not in the middle.
    assert tip - wood < wood - handle


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("width", [26, 29, 36, 50, 90])
def test_the_tooth_in_hand_is_named_in_every_room_in_which_its_lean_is_shown(side: int, width: int) -> None:
    for tooth in (1, 2, 155):
        away = set(range(side, 156, 2))
        lines = plain(leaning(tooth, 155, side=side, away=away, width=width))
        assert str(tooth) in lines[0 if tooth in away else 4].split()
        assert "away" in lines[0]
        assert "toward" in lines[4]
