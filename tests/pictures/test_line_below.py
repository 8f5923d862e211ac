"""What stands under the strip where there is room: the grade of each flat, the strokes of each gullet, the legend."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from session.pictures.line_below import line_below, signs_told
from session.pictures.line_strip import strip
from session.pictures.picture_rows import plain
from session.trade.grades import SHARES
from session.walk.known_teeth import NONE_KNOWN, KnownTeeth
from session.walk.line_states import LineStanding
from session.walk.place import Standing


def standing(teeth: int, grades: dict[int, int], strokes: dict[int, int]) -> LineStanding:
    return LineStanding(
        teeth=(Standing.AHEAD,) * teeth,
        hand=1,
        flagged=(),
        known=NONE_KNOWN,
        reaches=((1, teeth),),
        flats={tooth: SHARES[grade] for tooth, grade in grades.items()},
        strokes=strokes,
    )


@pytest.mark.parametrize("height", [1, 2, 3])
def test_in_few_rows_it_is_the_strip_alone(height: int) -> None:
    line = standing(64, {5: 3}, {5: 2})
    assert line_below(line, 1, 80, height) == strip(line.teeth, 1, line.reaches, 1, 80, height=height)


@settings(max_examples=60, deadline=None)
@given(
    teeth=st.integers(2, 80),
    grades=st.dictionaries(st.integers(1, 80), st.integers(0, 5)),
    strokes=st.dictionaries(st.integers(1, 80), st.integers(1, 12)),
    side=st.sampled_from((1, 2)),
    ascii_only=st.booleans(),
)
def test_each_digit_stands_under_its_tooth(
    teeth: int, grades: dict[int, int], strokes: dict[int, int], side: int, ascii_only: bool
) -> None:
    grades = {tooth: grade for tooth, grade in grades.items() if tooth <= teeth}
    strokes = {tooth: count for tooth, count in strokes.items() if tooth <= teeth}
    rows = plain(line_below(standing(teeth, grades, strokes), side, 120, 6, ascii=ascii_only))
    assert {len(row) for row in rows} == {120}
    # Where each tooth stands is read off a line on which it alone is done.
    columns = {}
    for tooth in {*grades, *strokes}:
        states = [None] * teeth
        states[tooth - 1] = Standing.DONE  # type: ignore[call-overload]
        row = plain(strip(states, None, ((1, teeth),), side, 120, ascii=ascii_only))[1]
        columns[tooth] = row.index("#" if ascii_only else "■")
    told = {"grade": grades, "strokes": strokes}
    shown = {name: row for row in rows[3:-1] for name in told if name in row}
    assert set(shown) == {name for name, given in told.items() if given}
    for name, row in shown.items():
        digits = {x: char for x, char in enumerate(row) if char in "0123456789+"}
        assert digits == {columns[k]: str(n) if n < 10 else "+" for k, n in told[name].items()}
    assert rows[-1].split()[-3:] == ["shift", "the", "saw"], "of teeth nothing is known but their flats"


def test_the_legend_says_what_is_known_of_teeth_once_it_is_known() -> None:
    line = replace(standing(20, {}, {}), known=KnownTeeth(low=frozenset({4})))
    legend = plain(line_below(line, 1, 120, 6))[-1]
    assert "L low" in legend
    assert "broken" not in legend
    assert "H high" not in legend


def test_of_teeth_that_share_a_cell_the_most_is_told() -> None:
    rows = plain(line_below(standing(400, {1: 1, 2: 4, 3: 2}, {}), 2, 120, 6))
    digits = [char for char in rows[3] if char.isdigit()]
    assert max(digits) == "4"
    assert "4" in digits


def test_a_gullet_where_nobody_counted_has_no_digit() -> None:
    rows = plain(line_below(standing(20, {}, {3: 0, 5: 2}), 1, 120, 6))
    assert [char for char in rows[3] if char.isdigit()] == ["2"]


def test_the_signs_on_the_line_are_told_where_it_has_no_legend_the_least_known_first() -> None:
    worked = (Standing.DONE, Standing.LEFT_OUT, Standing.IN_HAND, Standing.AHEAD)
    line = replace(
        standing(4, {}, {}),
        teeth=worked,
        hand=3,
        flagged=(1,),
        known=KnownTeeth(low=frozenset({4})),
        reaches=((1, 2), (3, 4)),
    )
    whole = "L low  × left out  ! flag  │ shift  · not yet  ◆ in hand  ■ done"
    assert signs_told(line, len(whole)) == whole
    assert signs_told(line, len(whole) - 1) == whole.removesuffix("  ■ done")
    assert signs_told(line, 4) == ""
    told = signs_told(line, 80, ascii=True)
    assert told == "L low  x left out  ! flag  | shift  . not yet  @ in hand  # done"
    drawn = "".join(plain(strip(worked, 3, line.reaches, 1, 40, flags={1}, known=line.known, ascii=True)))
    assert all(part[0] in drawn for part in told.split("  ")), "each sign as it stands on the line"


def test_of_a_line_on_which_nothing_is_worked_no_sign_is_told_but_what_is_known() -> None:
    line = replace(standing(4, {}, {}), hand=None)
    assert signs_told(line, 80) == ""
    assert signs_told(replace(line, known=KnownTeeth(broken=frozenset({2}))), 80) == "▂ broken"
