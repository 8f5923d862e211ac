"""A figure that can hardly be is asked again, by name, and nothing is begun on the strength of it."""

from __future__ import annotations

from typing import Final

from made_saws import panel_saw
from observed import dull, over
from session.advice.decision import decide
from session.advice.plausibility import DEEPEST_HOLLOW
from session.advice.work import What
from session.trade.lengths import Length, parse_length
from session.trade.observation import Look, Seen
from session.trade.seen_words import LineShape
from session.trade.tooth import shallowest_mm

PANEL: Final = panel_saw(fleam=20.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))


def test_the_slip_is_named_and_the_other_widths_are_kept() -> None:
    seen = dull(over_points=over(2, 2, -2.5, 2))
    found = decide(PANEL, seen)
    (doubt,) = found.doubts
    assert doubt.seen == str(seen.over_points[2])
    assert "the others hold" in doubt.why
    # 2 thou a side is under the least once today's work is done: the three that hold say so.
    assert What.SET in found.whats
    most = decide(PANEL, dull(over_points=over(-2.5, -2.5, 2)))
    assert What.SET not in most.whats
    assert most.doubts[0].rest is None


def test_a_hollow_beyond_belief_is_asked_again_and_not_retoothed() -> None:
    deep = Length.of(1.1 * DEEPEST_HOLLOW * shallowest_mm(PANEL))
    found = decide(PANEL, dull(line=LineShape.HOLLOW, line_gap=deep))
    assert Look.LINE_GAP in found.looks
    assert not found.stop


def test_a_tooth_told_high_and_broken_is_asked_again_before_any_steel() -> None:
    high = Seen(high=(2,))
    assert What.LEVEL in decide(PANEL, high).whats
    found = decide(PANEL, Seen(high=(2,), broken=(2, 5, 8)))
    assert found.whats == (What.NOTHING,)
    assert found.looks[0] is Look.HIGH
    assert "cannot be high and broken at once" in found.doubts[0].why
    # The teeth that are one thing only are believed.
    assert What.LEVEL in decide(PANEL, Seen(high=(2, 40), broken=(2, 5, 8))).whats
