"""Inspections by which a teacher from outside tried the advice: what is to be done, and what to be said."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import pytest

from made_saws import panel_saw
from observed import dull, over, sharp, told
from session.advice.decision import decide
from session.trade.lengths import parse_length
from session.trade.observation import Crack, Seen
from session.trade.saw import Cut, Leans, Saw
from session.trade.seen_words import Bright, Cutting, Grain, LineShape, Plate, Sizes, Toward

PANEL: Final = panel_saw(fleam=20.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
RIP: Final = replace(PANEL, cut=Cut.RIP, kind="rip", fleam=0.0, rake=4.0)
TODAY: Final = date(2026, 11, 26)


@dataclass(frozen=True)
class Case:
    """What was seen, the work in order, what has to be asked for, and words that have to be said or must not be."""

    name: str
    seen: Seen
    work: tuple[str, ...]
    looks: tuple[str, ...] = ()
    says: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    saw: Saw = PANEL
    more: tuple[str, ...] | None = None
    less: tuple[str, ...] | None = None


LEVEL: Final = ("level", "file", "dress")
ROUNDS: Final = ("level", "reshape", "level again", "file", "dress")
TIMBER: Final = {"last_cut": Cutting.BINDS, "cut": Grain.ALONG}
CHECKED: Final = {"line": LineShape.STRAIGHT, "sizes": Sizes.EVEN, "high": (), "low": (), "broken": ()}

CASES: Final = (
    Case(
        "one high tooth of a sharp saw",
        sharp(last_cut=Cutting.JUMPS, high=(60,), over_points=over(6, 6, 6)),
        LEVEL,
        says=("toward 60 in gullets 59 and 60", "A sharp tooth without a flat is left alone"),
        less=("nothing",),
        more=(),
    ),
    Case(
        "two high teeth side by side",
        sharp(last_cut=Cutting.JUMPS, high=(60, 61), over_points=over(6, 6)),
        LEVEL,
        says=("toward 60 in gullet 59, toward 61 in gullet 61, straight between them", "they agree"),
    ),
    Case(
        "alternate sizes do not hide a hollow",
        dull(sizes=Sizes.ALTERNATE, line=LineShape.HOLLOW, line_gap=parse_length("1/16 in")),
        ("level", "reshape", "level again", "set", "file", "dress"),
        says=("hollow by 1/16 in", "big and small teeth by turns", "most points shine"),
        saw=replace(PANEL, points=130),
    ),
    Case(
        "a hollow deeper than a tooth",
        dull(line=LineShape.HOLLOW, line_gap=parse_length("1/4 in")),
        ("retooth",),
        says=("deeper than its teeth",),
    ),
    Case(
        "a hollow deeper than a tooth on a saw that cuts well",
        Seen(bright=Bright.SOME, last_cut=Cutting.GOOD, line=LineShape.HOLLOW, line_gap=parse_length("1/4 in")),
        ("touch up",),
    ),
    Case(
        "hollow by nothing is straight",
        dull(line=LineShape.HOLLOW, line_gap=parse_length("0 mm"), over_points=over(6)),
        LEVEL,
        never=("hollow",),
    ),
    Case("a gap of no shape", dull(line_gap=parse_length("1/16 in")), LEVEL, looks=("line",)),
    Case(
        "a rip saw with much set binds in wet wood",
        sharp(**TIMBER, wood="wet", over_points=over(17, 17)),
        ("technique", "wax"),
        saw=replace(RIP, set_per_side=parse_length("0.012 in"), least_per_side=parse_length("0.006 in")),
    ),
    Case(
        "a crosscut saw with much set binds in dry wood",
        sharp(last_cut=Cutting.BINDS, wood="dry hardwood", over_points=over(12)),
        ("technique",),
        says=("wedge",),
    ),
    Case(
        "a saw that binds is never made narrower, uneven or not",
        sharp(last_cut=Cutting.BINDS, wood="dry hardwood", over_points=over(8, 11, 9)),
        ("technique",),
    ),
    Case(
        "wet wood has use for more set than the recipe's wood",
        sharp(last_cut=Cutting.UNTRIED, wood="wet", over_points=over(12)),
        ("nothing",),
        looks=("last_cut",),
    ),
    Case(
        "a bent plate before a leveling",
        dull(plate=frozenset({Plate.BENT}), over_points=over(6)),
        ("straighten plate", *LEVEL),
        says=("The plate is bent", "No line is leveled true"),
        never=("kinked",),
    ),
    Case(
        "a bent plate that binds",
        Seen(bright=Bright.SOME, plate=frozenset({Plate.BENT}), last_cut=Cutting.BINDS),
        ("straighten plate",),
        says=("The plate is bent", "No filing helps"),
        never=("kinked",),
    ),
    Case(
        "a bent plate that cuts well",
        Seen(bright=Bright.NONE, plate=frozenset({Plate.BENT}), last_cut=Cutting.GOOD),
        ("nothing",),
        says=("cuts well with it",),
    ),
    Case(
        "one tooth high and broken",
        sharp(last_cut=Cutting.JUMPS, high=(60,), broken=(60,), over_points=over(6, 6)),
        ("nothing",),
        looks=("high",),
        says=("cannot be high and broken at once",),
    ),
    Case(
        "one tooth high and broken, another high",
        sharp(last_cut=Cutting.JUMPS, high=(21, 60), low=(60,), broken=(60,), over_points=over(6, 6)),
        LEVEL,
        looks=("high",),
        says=("Tooth 21 stands high",),
        never=("Leave tooth 60 alone until",),
    ),
    Case(
        "unset, with six thou of set",
        sharp(last_cut=Cutting.UNTRIED, first_leans=Leans.UNSET, over_points=over(6, 6, 6)),
        ("nothing",),
        looks=("first_leans",),
        says=("6.0 thou of set a side",),
    ),
    Case(
        "a recipe unset, with six thou of set",
        dull(over_points=over(6, 6)),
        LEVEL,
        saw=replace(PANEL, first_leans=Leans.UNSET),
    ),
    Case(
        "six points in an inch and the line as the recipe says",
        Seen(points_in_an_inch=6, points_in_line=155, bright=Bright.SOME, last_cut=Cutting.GOOD),
        ("touch up",),
        looks=("points_in_an_inch",),
        never=("another saw",),
    ),
    Case(
        "eight points in an inch and the line not as the recipe says",
        Seen(points_in_an_inch=8, points_in_line=180, bright=Bright.SOME, last_cut=Cutting.GOOD),
        ("touch up",),
        looks=("points_in_line",),
    ),
    Case(
        "two counts that bear each other out",
        Seen(points_in_an_inch=7.2, points_in_line=140, bright=Bright.SOME, last_cut=Cutting.GOOD),
        ("mend recipe", "touch up"),
        says=("length / 139 = 0.158 in",),
        never=(" mm",),
    ),
    Case(
        "seven points in an inch alone",
        dull(points_in_an_inch=7, over_points=over(6)),
        ("mend recipe", *LEVEL),
        looks=("points_in_line",),
        says=("count the whole line as well",),
    ),
    Case(
        "two of three thou, sharp and untried",
        sharp(last_cut=Cutting.UNTRIED, over_points=over(2, 2)),
        ("nothing",),
        looks=("last_cut",),
        says=("2.0 thou a side, under the least of 3.0 thou",),
        more=("set",),
    ),
    Case(
        "never set, sharp and untried",
        sharp(last_cut=Cutting.UNTRIED),
        ("nothing",),
        looks=("last_cut",),
        more=("set",),
        saw=replace(PANEL, first_leans=Leans.UNSET),
    ),
    Case(
        "never set, some bright, binds in dry wood",
        replace(sharp(last_cut=Cutting.BINDS, wood="dry hardwood", over_points=over(0.2)), bright=Bright.SOME),
        ("set",),
        says=("Some points shine",),
        saw=replace(PANEL, first_leans=Leans.UNSET),
    ),
    Case(
        "rough with little set",
        sharp(last_cut=Cutting.ROUGH, cut=Grain.ALONG, over_points=over(0.8, 0.8, 0.8)),
        ("technique",),
        says=("why it cuts rough",),
        saw=RIP,
    ),
    Case(
        "some bright, rough, set over",
        Seen(bright=Bright.SOME, last_cut=Cutting.ROUGH, cut=Grain.ACROSS, over_points=over(12, 12)),
        ("stone both",),
        says=("Some points shine: that can wait",),
        more=("touch up", "stone both"),
    ),
    Case(
        "some bright, wanders to the left",
        replace(sharp(last_cut=Cutting.WANDERS, wanders_to=Toward.LEFT, over_points=over(6, 6)), bright=Bright.SOME),
        ("stone left",),
    ),
    Case(
        "most bright, wanders to the left",
        replace(sharp(last_cut=Cutting.WANDERS, wanders_to=Toward.LEFT, over_points=over(6, 6)), bright=Bright.MOST),
        LEVEL,
        says=("It wandered to the left", "stone that side once if it still does"),
    ),
    Case(
        "big and small teeth, wanders to the left",
        sharp(last_cut=Cutting.WANDERS, wanders_to=Toward.LEFT, sizes=Sizes.ALTERNATE, over_points=over(6, 6)),
        ROUNDS,
        says=("Big and small teeth by turns", "It wandered to the left"),
    ),
    Case(
        "slow, and everything looked at",
        sharp(last_cut=Cutting.SLOW, cut=Grain.ALONG, wood="dry softwood", over_points=over(6, 6), **CHECKED),
        ("technique",),
        says=("nothing else that was looked at tells why it cuts slowly",),
        saw=RIP,
        more=(),
    ),
    Case(
        "jumps, and everything looked at",
        sharp(last_cut=Cutting.JUMPS, cut=Grain.ACROSS, over_points=over(6, 6), **CHECKED),
        ("technique",),
        says=("tells why it jumps",),
        more=(),
    ),
    Case(
        "stoned on one side: then there is no more to do",
        sharp(last_cut=Cutting.WANDERS, wanders_to=Toward.RIGHT, over_points=over(6, 6, 6)),
        ("stone right",),
        more=(),
        less=("nothing",),
    ),
    Case(
        "one slip in four widths",
        dull(over_points=over(6, 6, -2.5, 6)),
        LEVEL,
        looks=("over_points",),
        never=("set a side",),
    ),
    Case(
        "sharpened yesterday",
        dull(last_sharpened=date(2026, 11, 25)),
        LEVEL,
        looks=("last_sharpened",),
    ),
    Case(
        "a narrow plate is told one thing",
        dull(plate=frozenset({Plate.NARROW}), sizes=Sizes.ALTERNATE, line=LineShape.CROWNED, over_points=over(6)),
        LEVEL,
        says=("Big and small teeth by turns", "little steel is left", "Keep the crown"),
        never=("file them to one size",),
        more=(),
    ),
    Case(
        "idle teeth are named once",
        sharp(last_cut=Cutting.SLOW, cut=Grain.ALONG, over_points=over(6, 6)),
        ("nothing",),
        says=("Short teeth are idle",),
        saw=RIP,
    ),
    Case("one low tooth", Seen(low=(10,)), ("touch up",), says=("until the line comes down to it (HASL",)),
    Case("two low teeth", Seen(low=(10, 30)), ("touch up",), says=("until the line comes down to them (HASL",)),
    Case(
        "five broken in a row", Seen(broken=(40, 41, 42, 43, 44)), ("retooth",), says=("5 teeth in a row are broken",)
    ),
    Case(
        "a stop says nothing of filing",
        Seen(crack=Crack(12), broken=(3, 9), low=(4,)),
        ("out of use",),
        never=("lean",),
    ),
    Case("a figure is asked again by name", sharp(over_points=over(500)), ("nothing",), never=("over_points",)),
    Case(
        "a gap in mm on a saw in inches",
        dull(line=LineShape.HOLLOW, line_gap=parse_length("1.6 mm")),
        ("level", "reshape", "level again", "set", "file", "dress"),
        says=("hollow by 1.6 mm, more than the 0.", "mm of one go"),
        never=("thou of one go",),
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda one: one.name)
def test_an_inspection_is_answered(case: Case) -> None:
    found = decide(case.saw, case.seen, today=TODAY)
    assert found.whats == case.work
    assert set(case.looks) <= set(found.looks)
    words = told(found)
    for one in case.says:
        assert words.count(one) >= 1
    for one in case.never:
        assert one not in words
    for expected, choice in ((case.more, found.more), (case.less, found.less)):
        assert expected is None or tuple(one.what for one in choice) == expected
    for done in (*found.work, *found.less, *found.more):
        named = done.source.split("; ")
        assert len(named) == len(set(named))


def test_what_stands_more_than_once_among_the_looks_is_said_once() -> None:
    (one,) = decide(RIP, sharp(last_cut=Cutting.SLOW, cut=Grain.ALONG, over_points=over(6, 6))).work
    assert one.reason.count("Short teeth are idle") == 1
