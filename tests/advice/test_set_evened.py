"""An uneven set: what is filed in the same sitting, when setting comes before the stone, and what no hand evens."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import pytest

from made_saws import panel_saw
from observed import dull, over, told
from session.advice.decision import decide
from session.advice.set_by_flats import set_after_passes
from session.advice.work import What
from session.trade.lengths import Length, parse_length
from session.trade.observation import Seen
from session.trade.saw import Saw
from session.trade.seen_words import Bright, Cutting, Sizes, Toward

SAW: Final = panel_saw(fleam=20.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
COARSE: Final = replace(SAW, set_per_side=parse_length("0.010 in"), least_per_side=parse_length("0.005 in"))

#: The least and the most of it alone need setting; the other is enough to be stoned even.
LEAN: Final = over(2, 7, 5, 8, 6)
AMPLE: Final = over(8, 11, 9, 8, 10)


@pytest.mark.parametrize(
    ("widths", "work"), [(LEAN, ("level", "set", "file", "stone both")), (AMPLE, ("level", "file", "stone both"))]
)
def test_what_is_dull_is_filed_in_the_sitting_that_evens_the_set(
    widths: tuple[Length, ...], work: tuple[str, ...]
) -> None:
    seen = Seen(bright=Bright.SOME, last_cut=Cutting.JUMPS, over_points=widths, high=(), sizes=Sizes.EVEN)
    found = decide(SAW, seen)
    assert found.whats == work
    assert "in one sitting" in told(found)
    # A sharp saw is not filed for its set, and what is dull waits where the set is even.
    assert What.FILE not in decide(SAW, replace(seen, bright=Bright.NONE)).whats
    assert decide(SAW, replace(seen, over_points=over(12, 12), last_cut=Cutting.ROUGH)).whats == ("stone both",)


def test_teeth_filed_to_one_size_are_set_anew_where_their_set_is_uneven() -> None:
    seen = dull(sizes=Sizes.ALTERNATE, over_points=AMPLE)
    assert decide(SAW, seen).whats == ("level", "reshape", "level again", "set", "file", "stone both")
    assert decide(SAW, replace(seen, over_points=over(9, 9, 9))).whats == (
        "level",
        "reshape",
        "level again",
        "file",
        "stone both",
    )


def test_sides_that_differ_are_not_stoned_alike_where_the_line_is_filed_anyway() -> None:
    """A width tells the sum of both sides: what made the cut wander stays when both lose the same."""
    seen = dull(last_cut=Cutting.WANDERS, wanders_to=Toward.LEFT, over_points=AMPLE)
    assert decide(SAW, seen).whats == ("level", "set", "file", "stone both")
    assert decide(SAW, replace(seen, last_cut=Cutting.SLOW)).whats == ("level", "file", "stone both")
    # Of a sharp saw no tooth is bent for it.
    assert decide(SAW, replace(seen, bright=Bright.NONE)).whats != ("set", "stone both")


@pytest.mark.parametrize(
    ("saw", "thou", "evened"),
    # A hand that sets 10 thou leaves 1.5 thou between its fullest and its leanest place (judgment), of 6 thou 0.9.
    [(COARSE, 1.4, False), (COARSE, 1.6, True), (SAW, 0.8, False), (SAW, 1.0, True)],
)
def test_what_setting_anew_would_leave_again_is_evened_only_where_a_cut_told_of_it(
    saw: Saw, thou: float, evened: bool
) -> None:
    assert saw.set_per_side is not None
    middle = saw.set_per_side.mm / 0.0254
    seen = dull(over_points=over(middle - thou / 2, middle, middle + thou / 2))
    assert (What.STONE_BOTH in decide(saw, seen).whats) is evened
    rough = replace(seen, bright=Bright.NONE, last_cut=Cutting.ROUGH)
    assert "even the least is enough" in told(decide(saw, rough))


def test_setting_after_passes_is_judged_by_their_number() -> None:
    """Of 3.2 thou two passes and the filing leave the 3 that are needed, six do not."""
    seen = dull(over_points=over(3.2))
    work = (What.FILE, What.DRESS)
    assert set_after_passes(SAW, seen, 2, work) is None
    found = set_after_passes(SAW, seen, 6, work)
    assert found is not None
    assert found[0].startswith("After 6 passes: today's work leaves")
    # Where it cut well with the little that it had, nobody bends a tooth.
    assert set_after_passes(SAW, replace(seen, last_cut=Cutting.GOOD), 6, work) is None
    assert set_after_passes(SAW, replace(seen, over_points=()), 6, work) is None
