from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.saw import Cut
from session.trade.set_rules import BACKED, JUDGMENT, MEMORY, WOODS, set_advice

kinds = st.sampled_from(["rip", "half rip", "hand", "panel", "other", *sorted(BACKED)])


@given(kinds, st.sampled_from(list(Cut)), st.sampled_from(WOODS), st.floats(0.4, 1.5), st.floats(1.0, 12.0))
def test_every_proposal_is_ordered_inside_print_and_says_where_it_is_from(
    kind: str, cut: Cut, wood: str, plate: float, pitch: float
) -> None:
    advice = set_advice(kind, cut, wood, plate, pitch)
    assert 0.0 < advice.least_mm < advice.low_mm < advice.high_mm
    low, high = advice.printed_spread_mm
    assert low <= advice.low_mm
    assert advice.high_mm <= high
    assert advice.source in (MEMORY, JUDGMENT)
    assert all(rule.source and rule.says for rule in advice.rules)


@given(kinds, st.sampled_from(list(Cut)), st.floats(0.4, 1.5), st.floats(1.0, 12.0))
def test_wetter_and_softer_wood_is_never_given_less(kind: str, cut: Cut, plate: float, pitch: float) -> None:
    # the direction on which KING, FIT, GRIF, MTS, HOLTZ, SPON and NOYES agree
    hard, soft, wet = (set_advice(kind, cut, wood, plate, pitch) for wood in WOODS)
    assert hard.low_mm <= soft.low_mm <= wet.low_mm
    assert hard.high_mm <= soft.high_mm <= wet.high_mm
    assert hard.least_mm <= soft.least_mm <= wet.least_mm


def test_a_back_saw_gets_less_than_a_hand_saw() -> None:  # NOYES, GRIF art. 14
    back = set_advice("dovetail", Cut.RIP, "dry hardwood", 0.559, 1.8)
    hand = set_advice("hand", Cut.CROSSCUT, "dry hardwood", 1.067, 3.6)
    assert back.high_mm < hand.high_mm
    assert any("NOYES" in rule.source for rule in back.rules)
    assert not any("GRIF art. 14" in rule.source for rule in hand.rules)


def test_a_coarse_rip_saw_gets_more_than_a_crosscut() -> None:  # KING
    rip = set_advice("rip", Cut.RIP, "dry hardwood", 1.245, 25.4 / 4.5)
    cross = set_advice("hand", Cut.CROSSCUT, "dry hardwood", 1.067, 25.4 / 4.5)
    assert rip.low_mm > cross.low_mm


def test_remembered_rules_are_marked_so() -> None:
    rules = set_advice("panel", Cut.CROSSCUT, "dry softwood", 0.889, 3.6).rules
    assert {rule.source for rule in rules if rule.from_memory} == {"from memory"}
    assert sum(rule.from_memory for rule in rules) == 3


def test_unknown_wood_is_refused() -> None:
    with pytest.raises(ValueError, match="allowed: dry hardwood, dry softwood, green or wet"):
        set_advice("panel", Cut.CROSSCUT, "cheese", 0.889, 3.6)
