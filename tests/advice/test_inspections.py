"""The twenty-five inspections and what a careful teacher would have done, through the real command; and the laws."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import INSPECTIONS, Inspection
from made_saws import panel_saw
from named_works import works
from session.advice.decision import decide
from session.advice.plausibility import DEEPEST_HOLLOW
from session.advice.saw_records import SawRecords
from session.advice.stops import Advised
from session.advice.work import FREE, Piece, What, steel_mm
from session.cli import main
from session.trade.lengths import Length, parse_length
from session.trade.observation import (
    Bright,
    Crack,
    Cutting,
    Grain,
    Handle,
    LineShape,
    Plate,
    Seen,
    Sizes,
    Toward,
)
from session.trade.saw import Cut, Leans, Saw
from session.trade.tooth import shallowest_mm


def advised(inspection: Inspection, folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What `toothline advise --json` says of an inspection."""
    recipe, seen = folder / "saw.toml", folder / "seen.toml"
    recipe.write_text(inspection.recipe, encoding="utf-8")
    seen.write_text(inspection.seen, encoding="utf-8")
    arguments = ["--till", str(folder / "till"), "advise", str(recipe), "--seen", str(seen), "--json"]
    assert main(arguments) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize("inspection", INSPECTIONS, ids=lambda one: f"case {one.number}")
def test_an_inspection_is_answered_as_a_careful_teacher_would(
    inspection: Inspection, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = advised(inspection, tmp_path, capsys)
    assert [one["what"] for one in found["work"]] == list(inspection.work)
    assert found["stop"] is inspection.stop
    assert set(inspection.looks) <= set(found["looks"])
    told = " ".join([*(one["reason"] for one in found["work"]), *found["notes"]])
    for words in inspection.told:
        assert words in told
    for one in (*found["work"], *found["less"], *found["more"]):
        assert works(one["source"])
        assert one["steel_thou"] is None or one["steel_thou"] >= 0


def test_the_table_for_a_person_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (inspection,) = [one for one in INSPECTIONS if one.number == "2"]
    advised(inspection, tmp_path, capsys)
    arguments = ["advise", str(tmp_path / "saw.toml"), "--seen", str(tmp_path / "seen.toml")]
    assert main(["--till", str(tmp_path / "till"), *arguments]) == 0
    told = capsys.readouterr().out
    for words in ("level", "0.8 thou", "KING 64", "Less than that: touch up", "More than that", "you decide"):
        assert words in told


def test_without_observations_the_two_looks_that_settle_most_are_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--till", str(tmp_path), "advise", "crosscut-panel", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["looks"] == ["bright", "last_cut"]
    assert [one["what"] for one in found["work"]] == ["touch up"]


SAW: Final = panel_saw(fleam=25.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
RIP: Final = replace(SAW, cut=Cut.RIP, kind="rip", fleam=0.0, rake=4.0)


def over(*thou: float) -> tuple[Length, ...]:
    """Widths over the points of the plate of 35 thou with so much set a side."""
    return tuple(Length.of((35.0 + 2 * one) * 0.0254, "in") for one in thou)


def maybe(words: type[Enum]) -> st.SearchStrategy[Any]:
    return st.none() | st.sampled_from(list(words))


def plates() -> st.SearchStrategy[frozenset[Plate] | None]:
    shape = st.sampled_from([frozenset(), {Plate.STRAIGHT}, {Plate.BENT}, {Plate.KINKED}])
    face = st.sampled_from([frozenset(), {Plate.CLEAN}, {Plate.RUSTY}, {Plate.GUMMED}])
    return st.none() | st.builds(lambda one, other: frozenset(one) | frozenset(other), shape, face)


TEETH: Final = st.none() | st.lists(st.integers(1, 155), max_size=3, unique=True).map(lambda many: tuple(sorted(many)))
ALL_SEEN: Final = st.builds(
    Seen,
    first_leans=maybe(Leans),
    plate=plates(),
    crack=st.none() | st.just(Crack(40)),
    hard_teeth=st.none() | st.booleans(),
    handle=maybe(Handle),
    line=maybe(LineShape),
    line_gap=st.none() | st.floats(0.05, 4.0).map(Length.of),
    sizes=maybe(Sizes),
    high=TEETH,
    low=TEETH,
    broken=TEETH,
    bright=maybe(Bright),
    over_points=st.lists(st.floats(0.0, 15.0), max_size=5).map(lambda many: over(*many)),
    last_cut=maybe(Cutting),
    wanders_to=maybe(Toward),
    cut=maybe(Grain),
    wood=st.sampled_from([None, "dry hardwood", "dry softwood", "green or wet", "pear"]),
)
SAWS: Final = st.sampled_from([SAW, RIP, replace(SAW, first_leans=Leans.UNSET), replace(SAW, fleam=0.0)])


def cost(found: Advised) -> tuple[int, float]:
    """The kind of work that costs most steel, in judgment's order, and the steel itself."""
    rank = {What.RETOOTH: 8, What.OUT_OF_USE: 8, What.RESHAPE: 6, What.LEVEL: 5, What.TOUCH_UP: 4, What.SET: 3}
    rank |= {What.STONE_BOTH: 2, What.STONE_LEFT: 2, What.STONE_RIGHT: 2, What.NOTHING: 0}
    return max(rank.get(what, 1) for what in found.whats), steel_mm(found.work)


def never_less(one: Advised, other: Advised) -> None:
    """``other`` asks for at least as much as ``one``, in kind and in steel."""
    assert cost(one)[0] <= cost(other)[0] or cost(one)[0] <= 1
    # From a retoothing on, no steel is counted that a file would take.
    assert other.whats == (What.RETOOTH,) or cost(one)[1] <= cost(other)[1] + 1e-9


@given(SAWS, ALL_SEEN)
def test_every_piece_of_advice_has_a_reason_and_says_who_says_so(saw: Saw, seen: Seen) -> None:
    found = decide(saw, seen)
    assert found.work
    for one in (*found.work, *found.less, *found.more):
        assert one.reason.endswith(".")
        assert works(one.source)
    assert len(found.looks) <= max(2, len(found.doubts))
    assert len(set(found.whats)) == len(found.whats)


@given(SAWS, ALL_SEEN)
def test_nothing_is_advised_for_a_saw_that_is_sharp_and_cuts_well(saw: Saw, seen: Seen) -> None:
    fine_plate = frozenset({Plate.STRAIGHT, Plate.CLEAN})
    seen = replace(
        seen,
        bright=Bright.NONE,
        last_cut=Cutting.GOOD,
        first_leans=None,
        handle=Handle.TIGHT,
        plate=fine_plate,
        crack=None,
        broken=(),
    )
    found = decide(saw, seen)
    if not found.doubts:
        assert found.whats == (What.NOTHING,)


@given(ALL_SEEN)
def test_a_rip_saw_is_never_told_of_fleam(seen: Seen) -> None:
    found = decide(RIP, seen)
    told = " ".join([*(one.reason for one in (*found.work, *found.less, *found.more)), *found.notes])
    assert "fleam" not in told


@given(SAWS, ALL_SEEN, st.randoms())
def test_the_order_of_answers_changes_nothing(saw: Saw, seen: Seen, random: Any) -> None:
    widths = list(seen.over_points)
    random.shuffle(widths)
    assert decide(saw, replace(seen, over_points=tuple(widths))) == decide(saw, seen)


@given(SAWS, ALL_SEEN)
def test_more_bright_points_never_give_less_work(saw: Saw, seen: Seen) -> None:
    seen = replace(seen, last_cut=Cutting.SLOW if seen.last_cut is None else seen.last_cut, cut=None)
    none, some, most = (decide(saw, replace(seen, bright=bright)) for bright in Bright)
    assert steel_mm(none.work) <= steel_mm(some.work) + 1e-9
    assert steel_mm(some.work) <= steel_mm(most.work) + 1e-9


@given(SAWS, ALL_SEEN, st.floats(0.01, 1.0), st.floats(0.01, 1.0))
def test_a_deeper_hollow_never_gives_less_work(saw: Saw, seen: Seen, one: float, other: float) -> None:
    # As shares of the deepest hollow that is believed; a deeper one is asked again first, and gives no work.
    shallow, deep = (share * DEEPEST_HOLLOW * shallowest_mm(saw) for share in sorted((one, other)))
    seen = replace(seen, line=LineShape.HOLLOW)
    never_less(*(decide(saw, replace(seen, line_gap=Length.of(mm))) for mm in (shallow, deep)))


FAULTS: Final[dict[str, dict[str, Any]]] = {
    "big and small teeth": {"sizes": Sizes.ALTERNATE},
    "teeth here and there": {"sizes": Sizes.HERE_AND_THERE},
    "a high tooth": {"high": (21,), "low": None, "broken": None},
    "low teeth": {"low": tuple(range(40, 60)), "high": None, "broken": None},
    "a hollow": {"line": LineShape.HOLLOW, "line_gap": Length.of(0.5)},
    "a deep hollow": {"line": LineShape.HOLLOW, "line_gap": Length.of(1.5)},
}


@given(SAWS, ALL_SEEN, st.sampled_from(sorted(FAULTS)), st.sampled_from(sorted(FAULTS)))
def test_a_further_fault_never_lessens_the_work(saw: Saw, seen: Seen, one: str, other: str) -> None:
    none: dict[str, Any] = {"sizes": None, "high": None, "low": None, "line": None, "line_gap": None}
    single = replace(seen, **none | FAULTS[one])
    both = replace(seen, **none | FAULTS[one] | {key: at for key, at in FAULTS[other].items() if at is not None})
    # A fault of the same thing takes the place of the first: then the two are one.
    if not set(FAULTS[one]) & {key for key, at in FAULTS[other].items() if at is not None} - {"high", "low", "broken"}:
        never_less(decide(saw, single), decide(saw, both))


def gullets(work: Iterable[Piece]) -> int:
    return sum(one.places for one in work if one.what in (What.SET, What.TOUCH_UP, What.RESHAPE, What.FILE))


def minutes(work: Iterable[Piece]) -> float:
    return sum(one.minutes or 0.0 for one in work)


@given(SAWS, ALL_SEEN, st.none() | st.floats(0.0, 2.0))
def test_less_costs_no_more_and_more_no_less_than_what_is_advised(saw: Saw, seen: Seen, left: float | None) -> None:
    found = decide(saw, seen, SawRecords(limit_mm=left))
    if found.stop:
        return
    for less, more in ((found.less, found.work), (found.work, found.more)):
        if less and more:
            assert steel_mm(less) <= steel_mm(more) + 1e-9
            assert gullets(less) <= gullets(more)
            assert minutes(less) <= minutes(more) + 1e-9
            assert [one.what for one in less] != [one.what for one in more]
    if left is not None:
        assert all(steel_mm(work) <= left + 1e-9 for work in (found.work, found.less, found.more))


@given(SAWS, ALL_SEEN)
def test_a_sharp_saw_is_never_touched_up(saw: Saw, seen: Seen) -> None:
    found = decide(saw, replace(seen, bright=Bright.NONE))
    assert all(one.what is not What.TOUCH_UP for one in (*found.work, *found.less, *found.more))


@given(SAWS, ALL_SEEN)
def test_a_saw_that_binds_is_never_made_narrower(saw: Saw, seen: Seen) -> None:
    found = decide(saw, replace(seen, last_cut=Cutting.BINDS))
    stones = {What.STONE_LEFT, What.STONE_RIGHT, What.STONE_BOTH}
    assert stones.isdisjoint(one.what for one in (*found.work, *found.less, *found.more))


@given(SAWS, ALL_SEEN)
def test_a_plate_that_is_not_straight_is_never_passed_over(saw: Saw, seen: Seen) -> None:
    found = decide(saw, replace(seen, plate=frozenset({Plate.BENT})))
    told = " ".join([*(one.reason for one in found.work), *found.notes])
    assert found.stop or What.STRAIGHTEN in found.whats or "not straight" in told
    assert "kinked" not in told


@given(ALL_SEEN, st.integers(0, 40))
def test_more_broken_teeth_never_give_less_work(seen: Seen, many: int) -> None:
    fewer, more = (replace(seen, broken=tuple(range(2, 2 + 3 * count, 3))) for count in (many, many + 5))
    # From a retoothing on, no steel is counted that a file would take.
    assert cost(decide(SAW, fewer))[0] <= cost(decide(SAW, more))[0]


@given(ALL_SEEN, st.floats(0.0, 12.0), st.floats(0.0, 12.0))
def test_less_set_never_makes_setting_less_due_for_a_saw_that_binds(seen: Seen, one: float, other: float) -> None:
    less, more = sorted((one, other))
    seen = replace(seen, last_cut=Cutting.BINDS, crack=None, hard_teeth=False, broken=(), first_leans=None, plate=None)
    low, high = (What.SET in decide(SAW, replace(seen, over_points=over(thou))).whats for thou in (less, more))
    assert low >= high


#: For each look, what it may find; the worst of them bounds what may be advised without it.
FINDS: Final[dict[str, tuple[Any, ...]]] = {
    "bright": tuple(Bright),
    "last_cut": tuple(Cutting),
    "handle": tuple(Handle),
    "line": tuple(LineShape),
    "sizes": tuple(Sizes),
    "high": ((), (21,)),
    "low": ((), tuple(range(10, 30, 2))),
    "cut": tuple(Grain),
    "plate": tuple(frozenset({one}) for one in (Plate.STRAIGHT, Plate.BENT, Plate.CLEAN, Plate.GUMMED)),
    "wanders_to": tuple(Toward),
    "over_points": (over(0.0), over(2.0), over(6.0), over(12.0), over(3.0, 9.0)),
    "line_gap": tuple(Length.of(mm) for mm in (0.1, 0.9, 1.5, 3.0)),
}


@given(SAWS, ALL_SEEN, st.sampled_from(sorted(FINDS)))
def test_not_looking_never_takes_more_steel_than_the_worst_that_could_be_seen(saw: Saw, seen: Seen, key: str) -> None:
    nothing: dict[str, Any] = {key: () if key == "over_points" else None}
    unknown = decide(saw, replace(seen, **nothing))
    known = [decide(saw, replace(seen, **{key: found})) for found in FINDS[key]]
    assert steel_mm(unknown.work) <= max(steel_mm(one.work) for one in known) + 1e-9


@dataclass(frozen=True)
class Figure:
    """A figure that cannot be, and how it is seen."""

    seen: Seen
    look: str
    expected: str


@pytest.mark.parametrize(
    "figure",
    [
        Figure(Seen(over_points=over(500.0)), "over_points", "0.047 in"),
        Figure(Seen(over_points=over(-1.0)), "over_points", "0.035 in"),
        Figure(Seen(points_in_line=640), "points_in_line", "155"),
        Figure(Seen(points_in_an_inch=40.0), "points_in_an_inch", "8"),
        Figure(Seen(high=(300,)), "high", "155"),
        Figure(Seen(broken=(0,)), "broken", "155"),
    ],
    ids=lambda figure: figure.look,
)
def test_a_figure_that_cannot_be_is_asked_again_beside_what_is_expected(figure: Figure) -> None:
    found = decide(SAW, figure.seen)
    (doubt,) = found.doubts
    assert found.looks[0] == doubt.look == figure.look
    assert figure.expected in doubt.expected
    assert not found.stop
    assert FREE.issuperset(found.whats)


@pytest.mark.parametrize(
    ("seen", "expected"),
    [
        (Seen(hard_teeth=True), "out of use"),
        (Seen(broken=(10, 11, 12)), "retooth"),
        (Seen(points_in_line=232), "mend recipe"),
        (Seen(crack=Crack(None, None), bright=Bright.NONE, last_cut=Cutting.GOOD), "out of use"),
    ],
)
def test_what_stops_the_work_stops_it_whatever_else_was_seen(seen: Seen, expected: str) -> None:
    for more in (seen, replace(seen, sizes=Sizes.ALTERNATE, line=LineShape.HOLLOW, over_points=over(1.0))):
        found = decide(SAW, more)
        assert found.stop
        assert found.whats == (expected,)


@pytest.mark.parametrize(
    ("change", "work"),
    [
        (lambda seen: replace(seen, over_points=over(2, 7, 5, 8, 6)), ("set", "stone both")),
        (lambda seen: replace(seen, over_points=over(8, 11, 9, 8, 10)), ("stone both",)),
        (lambda seen: replace(seen, wanders_to=Toward.LEFT, over_points=over(6, 6, 6)), ("stone left",)),
        (lambda seen: replace(seen, handle=Handle.LOOSE), ("tighten handle",)),
        (lambda seen: replace(seen, plate=None, handle=None), ("technique",)),
    ],
)
def test_a_cut_that_wanders_is_answered_by_what_was_seen(change: Callable[[Seen], Seen], work: tuple[str, ...]) -> None:
    seen = Seen(
        bright=Bright.NONE,
        last_cut=Cutting.WANDERS,
        plate=frozenset({Plate.STRAIGHT, Plate.CLEAN}),
        handle=Handle.TIGHT,
        high=(),
        sizes=Sizes.EVEN,
    )
    assert decide(SAW, change(seen)).whats == work


def test_the_set_is_judged_by_what_todays_own_work_leaves() -> None:
    """Leveling by 0.04 mm takes 6/45 of that off the set, the stone a quarter thou: 3.2 is on the limit, 2.6 under."""
    dull = Seen(bright=Bright.MOST, last_cut=Cutting.SLOW)
    assert What.SET not in decide(SAW, replace(dull, over_points=over(3.2))).whats
    assert What.SET in decide(SAW, replace(dull, over_points=over(2.6))).whats
    # The same set, when nothing is filed today, is not short by more than the caliper can be wrong.
    sharp = Seen(bright=Bright.NONE, last_cut=Cutting.ROUGH, over_points=over(2.6))
    assert What.SET not in decide(SAW, sharp).whats


def test_dry_hard_wood_asks_for_less_set() -> None:
    soft = replace(SAW, wood="dry softwood", least_per_side=parse_length("0.005 in"))
    seen = Seen(bright=Bright.MOST, last_cut=Cutting.SLOW, over_points=over(4.0))
    assert What.SET in decide(soft, seen).whats
    assert What.SET not in decide(soft, replace(seen, wood="dry hardwood")).whats
