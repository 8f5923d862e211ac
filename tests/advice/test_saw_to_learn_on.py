"""Which saw to learn on: said to a first-timer whose saw asks for reshaping, and to nobody else."""

from __future__ import annotations

from pathlib import Path

import pytest

from made_saws import panel_saw
from session.advice.decision import TO_LEARN_ON, decide
from session.advice.saw_advice import saw_records
from session.advice.saw_records import SawRecords
from session.advice.work import What
from session.till.till_folder import Till
from session.trade.observation import Seen
from session.trade.seen_words import Bright, Sizes

WRECK = Seen(sizes=Sizes.ALTERNATE, bright=Bright.MOST)
KEPT = Seen(sizes=Sizes.EVEN, bright=Bright.MOST)


@pytest.mark.parametrize(
    ("seen", "first_time", "said"), [(WRECK, True, True), (WRECK, False, False), (KEPT, True, False)]
)
def test_said_where_a_first_saw_asks_for_reshaping(seen: Seen, first_time: bool, said: bool) -> None:
    advised = decide(panel_saw(), seen, SawRecords(first_time=first_time))
    assert (What.RESHAPE in advised.whats) is (seen is WRECK)
    assert (TO_LEARN_ON in advised.notes) is said


def test_it_takes_nothing_from_the_advice() -> None:
    first, again = (decide(panel_saw(), WRECK, SawRecords(first_time=first)) for first in (True, False))
    assert first.work == again.work
    assert not first.stop


def test_a_till_where_nothing_was_finished_is_a_first_timers(tmp_path: Path) -> None:
    assert saw_records(Till(tmp_path), "Loft saw").first_time
