"""High teeth: the gullets beside them, each counted once, and where to lean in them."""

from __future__ import annotations

from typing import Final

from made_saws import panel_saw
from observed import over, sharp
from session.advice.decision import decide
from session.advice.high_teeth import gullets_beside, lean_words
from session.advice.work import What
from session.trade.lengths import parse_length
from session.trade.seen_words import Cutting

PANEL: Final = panel_saw(fleam=20.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))


def test_gullets_of_high_teeth() -> None:
    assert gullets_beside((60, 61)) == (59, 60, 61)
    assert gullets_beside((1, 9)) == (1, 8, 9)
    assert lean_words((21,)) == "lean toward 21 in gullets 20 and 21; straight in all others"
    assert lean_words((1,), alone=True) == "lean toward 1 in gullet 1"
    many = lean_words((5, 10, 20, 30, 40))
    assert many.count("toward") == 3
    assert "and so for 2 more" in many


def test_the_filing_of_high_teeth_counts_their_gullets_once() -> None:
    for high, gullets in (((60,), 2), ((60, 61), 3), ((60, 61, 62), 4), ((60, 80), 4)):
        work = decide(PANEL, sharp(last_cut=Cutting.JUMPS, high=high, over_points=over(6, 6))).work
        assert [one.places for one in work if one.what is What.FILE] == [gullets]
