"""The close-up measured from its characters: flanks, file, flats and the mirror image of the other side."""

from __future__ import annotations

import math
import unicodedata
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drawn_cells import area, cells, column_tops, slope
from law_budget import examples
from session.pictures.gullet_closeup import Gullet, closeup, flats_left
from session.pictures.picture_rows import PictureError, Role, plain
from session.pictures.sheet import MIRRORED
from session.trade.saw import End
from session.trade.tooth import tooth

WIDTH, HEIGHT = 80, 24


def _gullet(rake: float, fleam: float = 0.0, side: int = 2, share: float = 0.0, lean: End | None = None) -> Gullet:
    shape = tooth(3.6, rake, fleam)
    return Gullet(
        tooth=47,
        teeth=155,
        front_deg=shape.front_deg,
        back_deg=shape.back_deg,
        rake=rake,
        side=side,
        flats=flats_left(share, (), range(40, 56)),
        lean=lean,
    )


@pytest.mark.parametrize("rake", [0, 4, 10, 15, 25, 30, 40])
def test_the_flanks_lean_as_the_angles_say_within_a_cell(rake: float) -> None:
    # Fronts from upright to past the peg tooth; SLOJD, FIT, GOR and NOYES print these faces.
    rows = closeup(_gullet(rake), WIDTH, HEIGHT)
    steel = {at: area(char) for at, char in cells(rows, Role.STEEL).items()}
    rows_of_gullet = [y for y in range(HEIGHT) if steel.get((WIDTH // 2 - 20, y), 0) or steel.get((WIDTH // 2, y), 0)]
    foot_row = max(y for _, y in cells(rows, Role.FILE))
    lowest = [x for x, y in cells(rows, Role.FILE) if y == foot_row]
    foot_x = round(sum(lowest) / len(lowest) + 0.5)
    tips = min(y for x, y in steel if steel[x, y] >= 0.5)
    assert rows_of_gullet
    assert foot_row - tips >= 4
    full_rows = range(tips + 1, foot_row)
    # Empty room between the gullet's bottom line and each flank, row by row.
    edges = []
    for y in full_rows:
        left = foot_x - 0.0
        x = foot_x - 1
        while x > 0 and steel.get((x, y), 0) < 1:
            left -= 1 - steel.get((x, y), 0)
            x -= 1
        right = foot_x + 0.0
        x = foot_x
        while x < WIDTH - 1 and steel.get((x, y), 0) < 1:
            right += 1 - steel.get((x, y), 0)
            x += 1
        edges.append((left, right))
    rise = 2 * (len(edges) - 1)
    assert abs((edges[-1][0] - edges[0][0]) - rise * math.tan(math.radians(rake))) <= 1
    assert abs((edges[0][1] - edges[-1][1]) - rise * math.tan(math.radians(60 - rake))) <= 1


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("rake", [0, 5, 10, 12, 15, 25])
def test_the_top_of_the_file_is_tilted_by_30_less_the_rake(rake: float, side: int) -> None:
    # Tilt of the file's top face = 30 - rake (derived), with FIT's level top for the peg tooth.
    tops = column_tops(closeup(_gullet(rake, side=side), WIDTH, HEIGHT), Role.FILE)
    face = {x: tops[x] for x in sorted(tops)[3:-3]}
    assert len(face) > 10
    # No further off than one cell over its whole width.
    fall = slope(face) * len(face)
    assert abs((fall if side == 2 else -fall) - len(face) * math.tan(math.radians(30 - rake))) <= 1


def test_the_peg_tooth_has_its_file_level() -> None:
    # FIT: equal front and back when the top face of the file is level.
    tops = column_tops(closeup(_gullet(30), WIDTH, HEIGHT), Role.FILE)
    assert len({tops[x] for x in sorted(tops)[2:-2]}) == 1


@examples(60)
@given(
    rake=st.floats(-10, 40),
    fleam=st.floats(0, 40),
    share=st.floats(0, 0.4),
    width=st.integers(36, 120),
    height=st.integers(10, 40),
    lean=st.sampled_from((End.HEEL, End.TOE, None)),
)
def test_side_one_is_the_mirror_image_of_side_two(
    rake: float, fleam: float, share: float, width: int, height: int, lean: End | None
) -> None:
    gullet = _gullet(rake, fleam, 1, share, lean)
    one, two = (plain(closeup(replace(gullet, side=side), width, height))[1:-2] for side in (1, 2))
    assert [line[::-1].translate(MIRRORED) for line in one] == two


def test_the_mirror_table_agrees_with_the_names_of_the_characters() -> None:
    for code, image in MIRRORED.items():
        assert image.translate(MIRRORED) == chr(code)
        name = unicodedata.name(chr(code))
        if "QUADRANT" in name or "HALF BLOCK" in name:
            corners = [part.strip() for part in name.removeprefix("QUADRANT ").split(" AND ")]
            swapped = {c.replace("LEFT", "?").replace("RIGHT", "LEFT").replace("?", "RIGHT") for c in corners}
            assert {
                part.strip() for part in unicodedata.name(image).removeprefix("QUADRANT ").split(" AND ")
            } == swapped


@pytest.mark.parametrize(("side", "order"), [(1, ("49", "48", "47", "46")), (2, ("46", "47", "48", "49"))])
def test_teeth_are_numbered_from_the_heel_as_the_person_sees_it(side: int, order: tuple[str, ...]) -> None:
    lines = plain(closeup(_gullet(15, 25, side), 50, 13))
    found = [word for word in lines[-2].replace("█", " ").split() if word in order]
    assert tuple(found) == order
    toe, heel = lines[-1].index("toe"), lines[-1].index("heel")
    assert (toe < heel) == (side == 1)
    assert (lines[-1].index("back of 48") < lines[-1].index("front of 47")) == (side == 1)


@pytest.mark.parametrize(
    ("side", "lean", "arrow"),
    [(1, End.TOE, "◀"), (1, End.HEEL, "▶"), (2, End.TOE, "▶"), (2, End.HEEL, "◀")],
)
def test_the_arrow_points_where_that_end_of_the_saw_is(side: int, lean: End, arrow: str) -> None:
    lines = plain(closeup(_gullet(15, 25, side, lean=lean), 50, 13))
    assert arrow in lines[0]
    assert f"press to the {lean}" in lines[0]
    assert (arrow == "◀") == (lines[-1].index("heel" if lean is End.HEEL else "toe") < 10)


@pytest.mark.parametrize("height", [5, 6, 7, 8])
@pytest.mark.parametrize("width", [30, 50, 76])
@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("lean", list(End))
def test_the_lean_is_shown_in_a_low_room_too(height: int, width: int, side: int, lean: End) -> None:
    line = plain(closeup(_gullet(15, 25, side, lean=lean), width, height))[0].strip()
    to_left = (lean is End.TOE) == (side == 1)
    assert line.startswith("◀══ ") if to_left else line.endswith(" ══▶")


@pytest.mark.parametrize("ascii", [False, True])
def test_the_arrow_of_the_lean_is_named_where_words_have_no_room_beside_the_file(ascii: bool) -> None:
    # The room of an 80-column screen: left of the file alone the way of the file stands in words just over it.
    rows = plain(closeup(_gullet(15.0, 25.0, side=1, share=0.16, lean=End.HEEL), 24, 8, ascii=ascii))
    assert rows[0].rstrip().endswith("==>" if ascii else "══▶")
    assert "press" in rows[0] + rows[1]


def test_flats_shrink_by_half_from_each_side_and_go() -> None:
    # KING, MTS: half of each tooth's filing from each side.
    widths = []
    for filed in ((), range(1, 155, 2), range(1, 155)):
        gullet = replace(_gullet(15), flats=flats_left(0.3, filed, range(40, 56)))
        widths.append(len(cells(closeup(gullet, WIDTH, HEIGHT), Role.FLAT)))
    assert widths[0] > widths[1] > widths[2] == 0


@settings(deadline=None)
@given(st.floats(0, 0.9), st.sets(st.integers(0, 12)), st.integers(1, 12))
def test_a_flat_loses_its_front_to_its_own_gullet_and_its_back_to_the_one_behind(
    share: float, filed: set[int], k: int
) -> None:
    behind, ahead = flats_left(share, filed, range(1, 13))[k]
    assert ahead == (0 if k in filed else share / 2)
    assert behind == (0 if k - 1 in filed else share / 2)


@examples(60)
@given(rake=st.floats(0, 30), share=st.floats(0.02, 0.4))
def test_flats_are_to_scale(rake: float, share: float) -> None:
    rows = closeup(_gullet(rake, share=share), WIDTH, HEIGHT)
    numbers = plain(rows)[-2]
    pitch = numbers.index(" 48 ") - numbers.index(" 47 ")
    flats = [x for x, _ in cells(rows, Role.FLAT) if abs(x - numbers.index(" 47 ") - 2) < pitch / 2]
    assume(flats)
    # Cells are marked as soon as the flat touches them, so it may look up to two cells wider.
    assert share * pitch - 2 <= len(flats) <= share * pitch + 3


@pytest.mark.parametrize("side", [1, 2])
def test_both_ends_of_the_line_are_drawn_as_ends(side: int) -> None:
    for k, name in ((1, "front of 1"), (155, "front of 155")):
        gullet = replace(_gullet(15, 25, side), tooth=k)
        lines = plain(closeup(gullet, 60, 14))
        assert name in lines[-1]
        assert ("toe end" in lines[-1]) == (k == 155)
        assert " 156 " not in lines[-2]
        assert " 0 " not in lines[-2]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"tooth": 0}, "allowed are 1 to 155"),
        ({"tooth": 156}, "allowed are 1 to 155"),
        ({"side": 0}, "side 0"),
        ({"front_deg": math.nan}, "front angle"),
        ({"back_deg": 90.0}, "back angle"),
        ({"front_deg": -40.0, "back_deg": 40.0}, "leave no tooth"),
        ({"flats": {47: (0.5, 0.0)}}, "flat of tooth 47"),
        ({"flats": {47: (math.nan, 0.0)}}, "flat of tooth 47"),
    ],
)
def test_what_cannot_be_drawn_is_refused(change: dict[str, object], message: str) -> None:
    with pytest.raises(PictureError, match=message):
        closeup(replace(_gullet(15), **change), 50, 13)  # type: ignore[arg-type]
