"""The laws of the advice: what more that is seen may change, and what it may not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from enum import Enum
from typing import Any, Final

from hypothesis import example, given
from hypothesis import strategies as st

from made_saws import panel_saw
from named_works import works
from observed import over
from session.advice.decision import decide
from session.advice.plausibility import DEEPEST_HOLLOW
from session.advice.saw_records import SawRecords
from session.advice.stops import Advised
from session.advice.work import Piece, What, steel_mm
from session.trade.lengths import Length, parse_length
from session.trade.observation import Crack, Seen
from session.trade.saw import Cut, Leans, Saw
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.trade.tooth import shallowest_mm

SAW: Final = panel_saw(fleam=25.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
RIP: Final = replace(SAW, cut=Cut.RIP, kind="rip", fleam=0.0, rake=4.0)


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


def less_steel(one: Advised, other: Advised) -> None:
    """``one`` takes no more steel than ``other``; from a retoothing on, none is counted that a file would take."""
    assert other.whats == (What.RETOOTH,) or steel_mm(one.work) <= steel_mm(other.work) + 1e-9


def never_less(one: Advised, other: Advised) -> None:
    """``other`` asks for at least as much as ``one``, in kind and in steel."""
    assert cost(one)[0] <= cost(other)[0] or cost(one)[0] <= 1
    less_steel(one, other)


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
@example(SAW, Seen(line=LineShape.HOLLOW, line_gap=Length.of(3.0), over_points=over(0.0), last_cut=Cutting.ROUGH))
def test_more_bright_points_never_give_less_work(saw: Saw, seen: Seen) -> None:
    seen = replace(seen, last_cut=Cutting.SLOW if seen.last_cut is None else seen.last_cut, cut=None)
    none, some, most = (decide(saw, replace(seen, bright=bright)) for bright in Bright)
    less_steel(none, some)
    less_steel(some, most)


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
    # A tooth told high or low is not broken as well: told so, it is asked again, and its height counts for nothing.
    whole = {*(seen.high or ()), *(seen.low or ())}
    rows = (range(2, 2 + 3 * count, 3) for count in (many, many + 5))
    fewer, more = (replace(seen, broken=tuple(tooth for tooth in row if tooth not in whole)) for row in rows)
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
