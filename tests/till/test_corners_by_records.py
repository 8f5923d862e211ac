"""Teeth filed by each corner: from the list of files owned and from the finished sharpenings that name one."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.log.log_bytes import LogStanding
from session.log.summary import Summary
from session.till.corner_ledger import corners_used, files_worn
from session.till.past_sharpening import Sharpening
from session.trade.file_choice import FileOwned
from session.trade.lengths import parse_length
from session.walk.corner_work import CornerWork


def owned(name: str, *corners: int) -> FileOwned:
    a, b, c = corners or (0, 0, 0)
    return FileOwned(name, parse_length("0.27 in"), None, (a, b, c))


def filed(
    gullets: int,
    name: str | None = None,
    corner: int | None = None,
    state: LogStanding = LogStanding.FINISHED,
    strokes: tuple[int, int] = (0, 0),
) -> Sharpening:
    counted, all_strokes = strokes
    work = CornerWork(file=name or "", corner=corner, gullets=gullets, counted=counted, strokes=all_strokes)
    worked = (work,) if gullets else ()
    measured = {"file": (name, None), "file corner": (corner, None)}
    return Sharpening(
        path=Path("log.toml"),
        header={},
        state=state,
        odd="",
        summary=Summary(
            done={"file": gullets} if gullets else {},
            measured={what: told for what, told in measured.items() if told[0] is not None},  # type: ignore[misc]
            files=worked,
        ),
    )


def test_the_records_are_added_to_the_list() -> None:
    records = [
        filed(155, "Small taper", 2),
        filed(80, "small  TAPER", 2),
        filed(60, "Small taper", 1),
        filed(30, "Small taper"),
        filed(500, "Loft taper", 3),
        filed(155),
        filed(155, "Small taper", 1, LogStanding.INTERRUPTED),
        filed(20, "Small taper"),
    ]
    small, large = files_worn([owned("Small taper", 620, 155, 0), owned("Loft  taper")], records)
    assert small.file.corners == (680, 390, 0)
    assert small.recorded == (60, 235, 0)
    assert (small.sharpenings, small.untold) == (5, 50)
    assert large.file.corners == large.recorded == (0, 0, 500)
    assert files_worn([], records) == ()


def test_by_file_and_corner() -> None:
    records = [filed(10, "B", 2), filed(5, "a", 1), filed(7, "A", 1), filed(3, "B"), filed(4), filed(0, "C", 1)]
    assert corners_used(records) == (
        CornerWork(file="A", corner=1, gullets=12),
        CornerWork(file="B", corner=2, gullets=10),
        CornerWork(file="B", gullets=3),
        CornerWork(gullets=4),
    )
    assert corners_used([]) == ()


RECORDS = st.lists(
    st.tuples(st.integers(0, 200), st.sampled_from([None, "a", "A ", "b"]), st.sampled_from([None, 1, 2, 3])),
    max_size=9,
)


@given(RECORDS, st.tuples(*[st.integers(0, 900)] * 3))
def test_no_gullet_is_lost_or_counted_twice(
    told: list[tuple[int, str | None, int | None]], corners: tuple[int, int, int]
) -> None:
    records = [filed(*one) for one in told]
    worn = files_worn([owned("a", *corners), owned("b")], records)
    for one, name in zip(worn, "ab", strict=True):
        mine = sum(gullets for gullets, called, _ in told if (called or "").strip().lower() == name)
        assert sum(one.recorded) + one.untold == mine
    assert sum(worn[0].file.corners) == sum(corners) + sum(worn[0].recorded)
    assert sum(used.gullets for used in corners_used(records)) == sum(gullets for gullets, _, _ in told)


def test_a_corner_wears_by_its_strokes_where_they_were_counted() -> None:
    records = [filed(10, "a", 1, strokes=(4, 40)), filed(20, "a", 1, strokes=(20, 20))]
    (worn,) = files_worn([owned("a")], records)
    # Six gullets of which nobody counted anything, and sixty strokes as of thirty teeth of two.
    assert worn.recorded == (36, 0, 0)
    assert corners_used(records) == (CornerWork(file="a", corner=1, gullets=30, counted=24, strokes=60),)


def test_a_file_changed_in_the_middle_wears_with_the_other_one_for_its_own_part_only() -> None:
    works = (CornerWork(file="a", corner=1, gullets=30), CornerWork(file="b", corner=3, gullets=7))
    record = replace(filed(37, "b", 3), summary=replace(filed(37, "b", 3).summary, files=works))
    one, other = files_worn([owned("a"), owned("b")], [record])
    assert (one.recorded, other.recorded) == ((30, 0, 0), (0, 0, 7))
    assert (one.sharpenings, other.sharpenings) == (1, 1)
    assert record.only_file is None


@pytest.mark.parametrize("name", ["", "   ", "x" * 500])
def test_odd_names_in_a_log_match_nothing(name: str) -> None:
    (worn,) = files_worn([owned("a")], [filed(10, name, 1)])
    assert worn.sharpenings == 0
