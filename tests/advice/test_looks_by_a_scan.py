"""What a scan says of each look: only what it measured, nothing that a sharpening has changed since."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from session.advice.measured_looks import MeasuredLooks, age, sizes_of
from session.trade.scanned_line import ScannedLine, ToothState, line_of_teeth
from session.trade.seen_words import Sizes
from session.walk.measurables import Measurable
from told_line import told_line

AT = datetime(2026, 3, 9, 18, 5, tzinfo=UTC)
ODD = {4: (ToothState.LOW, 0.2), 9: (ToothState.HIGH, -0.15), 15: (ToothState.BROKEN, 1.5)}


def moved(line: ScannedLine, by: dict[int, float]) -> ScannedLine:
    teeth = [replace(tooth, place_mm=tooth.place_mm + by.get(tooth.tooth, 0.0)) for tooth in line.teeth]
    return line_of_teeth(teeth, 0.0, 0.02, 0.002)


def test_each_look_has_the_answer_that_was_measured() -> None:
    looks = MeasuredLooks(AT, told_line(30, 3.6, ODD, gap_mm=-0.4))
    told = {what: looks.offered(what, "mm") for what in Measurable}
    assert {what: answer for what, answer in told.items() if answer} == {
        Measurable.ALL_ROUND: "something",
        Measurable.POINTS: "30",
        Measurable.HIGH_TEETH: "9",
        Measurable.LOW_TEETH: "4",
        Measurable.BROKEN_TEETH: "15",
        Measurable.SIZES: "even",
        Measurable.LINE: "hollow",
        Measurable.LINE_GAP: "0.4 mm",
    }
    assert looks.offered(Measurable.LINE_GAP, "in").endswith(" in")


def test_what_was_filed_since_is_not_offered_and_nothing_odd_is_not_fine() -> None:
    filed = MeasuredLooks(AT, told_line(30, 3.6, ODD), filed_since=True)
    assert [what for what in Measurable if filed.offered(what, "mm")] == [
        what for what in Measurable if what in (Measurable.POINTS, Measurable.BROKEN_TEETH)
    ]
    fine = MeasuredLooks(AT, told_line(30, 3.6))
    assert fine.offered(Measurable.ALL_ROUND, "mm") == "", "a scan has seen no plate and no handle"
    assert fine.offered(Measurable.LOW_TEETH, "mm") == "none"


def test_teeth_that_were_not_seen_are_told_beside_those_that_were() -> None:
    looks = MeasuredLooks(AT, told_line(30, 3.6, {7: (ToothState.NOT_SEEN, 0.0)}))
    told = looks.told(Measurable.LOW_TEETH, "mm", date(2026, 3, 12))
    assert told == "Measured by a scan 3 days ago: none; not seen: 7."


@pytest.mark.parametrize(
    ("today", "words"),
    [
        (date(2026, 3, 9), "today"),
        (date(2026, 3, 10), "1 day ago"),
        (date(2026, 3, 1), "today"),
        (None, "on 2026-03-09"),
    ],
)
def test_how_old_it_is(today: date | None, words: str) -> None:
    assert age(AT, today) == words


def test_sizes_are_those_of_the_spaces() -> None:
    line = told_line(30, 3.6)
    assert sizes_of(line) is Sizes.EVEN
    assert sizes_of(moved(line, {12: 0.5})) is Sizes.HERE_AND_THERE
    assert sizes_of(moved(line, dict.fromkeys(range(2, 31, 2), 0.15))) is Sizes.ALTERNATE
