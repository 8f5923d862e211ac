"""The strip of the line: nothing that matters may vanish, and nothing may show as done that is not."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.pictures.line_strip import ASCII_GLYPHS, GLYPHS, known_legend, legend, strip
from session.pictures.picture_rows import PictureError, Role, Rows, plain
from session.trade.reaches import reaches
from session.walk.known_teeth import Known, KnownTeeth
from session.walk.place import Standing

KINDS = [Standing.AHEAD, Standing.DONE, Standing.LEFT_OUT, None]


@st.composite
def lines(draw: st.DrawFn) -> tuple[list[Standing | None], int]:
    """A line of 2 to 3000 teeth, mostly in runs, and the tooth in hand."""
    states: list[Standing | None] = []
    for state, length in draw(st.lists(st.tuples(st.sampled_from(KINDS), st.integers(1, 400)), min_size=1, max_size=9)):
        states += [state] * length
    states = states[:3000] if len(states) > 1 else states * 2
    for k in draw(st.lists(st.integers(0, len(states) - 1), max_size=3)):
        states[k] = Standing.LEFT_OUT
    here = draw(st.integers(1, len(states)))
    states[here - 1] = Standing.IN_HAND
    return states, here


def _teeth(rows: Rows, side: int) -> str:
    """The characters of the teeth alone, the heel first."""
    lines = plain(rows)
    text = lines[0 if len(lines) == 1 else 1]
    # What is left over of the room lies past the toe.
    if side == 1:
        return text.lstrip()[len("toe ") : -len(" ▐█▌ heel")][::-1]
    return text.rstrip()[len("heel ▐█▌ ") : -len(" toe")]


@examples(120)
@given(lines(), st.integers(40, 200), st.sampled_from((1, 2)), st.booleans(), st.integers(1, 3), st.integers(20, 600))
def test_in_hand_and_left_out_never_vanish(
    line: tuple[list[Standing | None], int], width: int, side: int, ascii_only: bool, height: int, jaw: int
) -> None:
    states, here = line
    glyphs = ASCII_GLYPHS if ascii_only else GLYPHS
    held = reaches(len(states), 1.0, float(jaw))
    rows = strip(states, here, held, side, width, height=height, ascii=ascii_only)
    shown = _teeth(rows, side)
    assert shown.count(glyphs.now) + shown.count(glyphs.both) == 1
    assert (Standing.LEFT_OUT in states) == (glyphs.left_out in shown or glyphs.both in shown)
    if Standing.DONE not in states:
        assert glyphs.done not in shown
    if Standing.AHEAD in states and glyphs.ahead not in shown:
        # Then every place not yet worked shares its cell with something that must not vanish.
        assert glyphs.now in shown or glyphs.both in shown


@examples(80)
@given(lines(), st.integers(40, 200), st.integers(20, 600))
def test_a_cell_is_done_only_when_all_of_its_places_are(
    line: tuple[list[Standing | None], int], width: int, jaw: int
) -> None:
    states, here = line
    held = reaches(len(states), 1.0, float(jaw))
    all_done = _teeth(strip([Standing.DONE] * len(states), None, held, 2, width), 2)
    shown = _teeth(strip(states, here, held, 2, width), 2)
    for k, state in enumerate(states):
        if state is Standing.AHEAD:
            alone: list[Standing | None] = [None] * len(states)
            alone[k] = Standing.AHEAD
            cell = _teeth(strip(alone, None, held, 2, width), 2).index(GLYPHS.ahead)
            assert all_done[cell] == GLYPHS.done
            assert shown[cell] != GLYPHS.done
            break


@examples(80)
@given(lines(), st.integers(40, 200), st.integers(20, 600))
def test_side_two_is_the_mirror_image_of_side_one(
    line: tuple[list[Standing | None], int], width: int, jaw: int
) -> None:
    states, here = line
    held = reaches(len(states), 1.0, float(jaw))
    assert _teeth(strip(states, here, held, 1, width), 1) == _teeth(strip(states, here, held, 2, width), 2)


@examples(60)
@given(st.integers(2, 3000), st.integers(40, 200), st.integers(20, 600), st.data())
def test_the_place_in_hand_moves_from_the_heel_to_the_toe(
    teeth: int, width: int, jaw: int, data: st.DataObject
) -> None:
    near = data.draw(st.integers(1, teeth - 1))
    far = data.draw(st.integers(near + 1, teeth))
    held = reaches(teeth, 1.0, float(jaw))
    cells = []
    for here in (near, far):
        states: list[Standing | None] = [Standing.AHEAD] * teeth
        states[here - 1] = Standing.IN_HAND
        cells.append(_teeth(strip(states, here, held, 2, width), 2).index(GLYPHS.now))
    assert cells[0] <= cells[1]
    room = width - len("heel ▐█▌ ") - len(" toe")
    if teeth > room:
        assert abs(cells[1] / room - (far - 0.5) / teeth) < 0.12


@examples(60)
@given(st.integers(2, 300), st.integers(60, 200), st.integers(20, 300))
def test_every_break_between_reaches_stands_between_its_teeth(teeth: int, width: int, jaw: int) -> None:
    held = reaches(teeth, 1.0, float(jaw))
    shown = _teeth(strip([Standing.AHEAD] * teeth, None, held, 2, width), 2)
    room = width - len("heel ▐█▌ ") - len(" toe")
    if len(held) * 4 > room:
        assert GLYPHS.reach not in shown
        return
    assert shown.count(GLYPHS.reach) == len(held) - 1
    for first, last in held:
        states: list[Standing | None] = [None] * teeth
        states[first - 1 : last] = [Standing.DONE] * (last - first + 1)
        parts = _teeth(strip(states, None, held, 2, width), 2).split(GLYPHS.reach)
        assert sum(GLYPHS.done in part for part in parts) == 1


@examples(60)
@given(st.integers(2, 3000), st.integers(40, 200), st.data())
def test_one_tooth_left_out_among_many_done_shows_in_its_cell(teeth: int, width: int, data: st.DataObject) -> None:
    out = data.draw(st.integers(1, teeth))
    states: list[Standing | None] = [Standing.DONE] * teeth
    states[out - 1] = Standing.LEFT_OUT
    assert _teeth(strip(states, None, (), 2, width), 2).count(GLYPHS.left_out) == 1
    beside = out - 1 if out > 1 else 2
    states[beside - 1] = Standing.IN_HAND
    shown = _teeth(strip(states, beside, (), 2, width), 2)
    assert sorted(set(shown) & {GLYPHS.left_out, GLYPHS.now, GLYPHS.both}) in (
        sorted([GLYPHS.left_out, GLYPHS.now]),
        [GLYPHS.both],
    )


def test_where_a_cell_is_wide_enough_each_tooth_has_its_own() -> None:
    states: list[Standing | None] = [Standing.DONE, Standing.LEFT_OUT, Standing.IN_HAND, Standing.AHEAD, None]
    shown = _teeth(strip(states, 3, (), 2, 60), 2)
    assert shown.replace(" ", "") == "■×◆·─"


def test_the_handle_is_where_the_person_sees_it() -> None:
    states: list[Standing | None] = [Standing.AHEAD] * 20
    right, left = (plain(strip(states, None, (), side, 60))[1] for side in (1, 2))
    assert right.lstrip().startswith("toe ")
    assert right.endswith(" ▐█▌ heel")
    assert left.startswith("heel ▐█▌ ")
    assert left.rstrip().endswith(" toe")


@examples(60)
@given(teeth=st.integers(2, 400), width=st.integers(40, 200), side=st.sampled_from((1, 2)))
def test_the_toe_stands_right_beside_the_last_tooth(teeth: int, width: int, side: int) -> None:
    states: list[Standing | None] = [Standing.AHEAD] * teeth
    shown = _teeth(strip(states, None, (), side, width), side)
    last_to_toe = len(shown) - 1 - shown.rindex(GLYPHS.ahead)
    step = len(shown) // teeth
    assert last_to_toe <= step // 2


@pytest.mark.parametrize("height", [1, 2, 3])
def test_a_flag_is_shown_in_every_height(height: int) -> None:
    states: list[Standing | None] = [Standing.DONE] * 200
    rows = strip(states, None, (), 1, 60, height=height, flags={77})
    assert sum(line.count("!") for line in plain(rows)) == 1


def test_the_numbers_name_the_tooth_in_hand_and_both_ends() -> None:
    states: list[Standing | None] = [Standing.AHEAD] * 155
    numbers = plain(strip(states, 47, ((1, 77), (78, 155)), 2, 78))[2].split()
    assert numbers == ["1", "47", "78", "155"]


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("tooth", [1, 2, 47, 99, 100, 101, 154, 155])
def test_each_number_stands_under_its_tooth_and_is_never_cut(tooth: int, side: int) -> None:
    """Where the line takes all the room, one number stands at the very edge."""
    for width in (20, 78, 200):
        states: list[Standing | None] = [Standing.AHEAD] * 155
        states[tooth - 1] = Standing.IN_HAND
        _, line, numbers = plain(strip(states, tooth, (), side, width))
        shown = numbers.split()
        assert str(tooth) in shown
        left = re.split(r"\b", f" {numbers}").index(str(tooth))
        start = len("".join(re.split(r"\b", f" {numbers}")[:left])) - 1
        at = line.index(GLYPHS.now)
        middle = start + (len(str(tooth)) - 1) // 2
        assert start <= at < start + len(str(tooth))
        assert at == middle or start in (0, width - len(str(tooth)))


@pytest.mark.parametrize(("flags", "above"), [((), GLYPHS.here), ((47,), GLYPHS.flag)])
def test_what_points_at_the_place_in_hand_stands_over_it_alone(flags: tuple[int, ...], above: str) -> None:
    states: list[Standing | None] = [Standing.DONE] * 155
    states[46] = Standing.IN_HAND
    pointer, line, _ = plain(strip(states, 47, (), 1, 160, flags=flags))
    assert pointer.strip() == above
    assert pointer.index(above) == line.index(GLYPHS.now)
    assert plain(strip([Standing.DONE] * 155, None, (), 1, 160))[0].strip() == ""


def test_roles_follow_the_states() -> None:
    rows = strip([Standing.DONE, Standing.LEFT_OUT, Standing.IN_HAND, Standing.AHEAD], 3, (), 2, 60)
    roles = {run.text.strip(): run.role for run in rows[1] if run.text.strip()}
    assert roles["■"] is Role.DONE
    assert roles["×"] is Role.LEFT_OUT
    assert roles["◆"] is Role.NOW
    assert roles["·"] is Role.AHEAD


def test_the_legend_names_every_character_of_the_line() -> None:
    for ascii_only, glyphs in ((False, GLYPHS), (True, ASCII_GLYPHS)):
        text = plain((legend(78, ascii=ascii_only),))[0]
        for char in (glyphs.ahead, glyphs.now, glyphs.done, glyphs.left_out, glyphs.both, glyphs.flag, glyphs.reach):
            assert f"{char} " in text
        assert len(text) == 78


@pytest.mark.parametrize(
    ("states", "here", "side", "message"),
    [([], None, 1, "allowed are 1 to"), ([None], 2, 1, "tooth 2 in hand"), ([None], None, 3, "side 3")],
)
def test_what_cannot_be_drawn_is_refused(
    states: list[Standing | None], here: int | None, side: int, message: str
) -> None:
    with pytest.raises(PictureError, match=message):
        strip(states, here, (), side, 60)


def test_breaks_are_shown_from_four_cells_a_reach_on() -> None:
    states: list[Standing | None] = [Standing.AHEAD] * 7
    # The handle's sign takes four cells, so that 12 leave 8 for two reaches, and 11 leave 7.
    shown = [plain(strip(states, None, ((1, 4), (5, 7)), 2, width))[1].count(GLYPHS.reach) for width in (12, 11)]
    assert shown == [1, 0]


@pytest.mark.parametrize("ascii_only", [False, True])
@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("width", [40, 78, 118])
def test_what_is_known_of_teeth_stands_over_them(width: int, side: int, ascii_only: bool) -> None:
    known = KnownTeeth(broken=frozenset({30}), low=frozenset({80}), high=frozenset({120}))
    glyphs = ASCII_GLYPHS if ascii_only else GLYPHS
    states = [Standing.AHEAD] * 155
    over, line = plain(strip(states, None, (), side, width, known=known, ascii=ascii_only))[:2]
    signs = [sign for sign in over if sign != " "]
    wanted = [glyphs.stump, glyphs.low, glyphs.high]
    assert signs == (wanted if side == 2 else wanted[::-1])
    assert glyphs.stump not in line, "the line itself stays that of the four states"


def test_the_flag_and_the_place_in_hand_are_shown_before_what_is_known() -> None:
    known = KnownTeeth(broken=frozenset({1, 2, 3}))
    rows = plain(strip([Standing.IN_HAND, Standing.AHEAD, Standing.AHEAD], 1, (), 2, 60, flags={2}, known=known))
    assert [sign for sign in rows[0] if sign != " "] == [GLYPHS.here, GLYPHS.flag, GLYPHS.stump]


def test_a_shared_cell_shows_the_stump_before_a_low_tooth() -> None:
    known = KnownTeeth(broken=frozenset({200}), low=frozenset(range(190, 210)))
    rows = plain(strip([Standing.AHEAD] * 3000, None, (), 2, 60, known=known))
    assert GLYPHS.stump in rows[0]


def test_the_legend_of_signs_names_those_that_are_there() -> None:
    assert plain((known_legend((Known.BROKEN, Known.HIGH), 60),))[0].strip() == "▂ broken  H high"
    assert plain((known_legend(tuple(Known), 60, ascii=True),))[0].strip() == "_ broken  L low  H high"
