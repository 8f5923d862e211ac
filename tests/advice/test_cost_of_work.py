"""What work costs in steel: by the bite that was learned, else the usual one; a touch up costs less than a leveling."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_teeth import PANEL
from made_saws import panel_saw
from session.advice.cut_remedies import cut_remedies
from session.advice.decision import decide
from session.advice.saw_advice import records_of
from session.advice.saw_records import SawRecords
from session.advice.work import Piece, What, filing_mm, passes_mm, steel_mm, stroke_mm, touch_up_mm
from session.log.log_bytes import LogStanding
from session.log.summary import Summary
from session.till.known_saws import KnownSaw
from session.till.learned_bite import learned_bite
from session.till.past_sharpening import Sharpening
from session.till.saw_history import SawHistory
from session.trade.lengths import Length
from session.trade.observation import Seen
from session.trade.seen_words import Bright, Cutting
from session.trade.strokes import DEFAULT_BITE, LEAST_BITE_MM3, LIGHT_MM, MOST_BITE_MM3, Bite
from session.walk.state import State
from session.walk.work_plan import make_plan

SAW = panel_saw(set_per_side=Length.of(0.15), dressing_passes=1)
DULL = Seen(bright=Bright.SOME, last_cut=Cutting.SLOW)
BITES = st.floats(LEAST_BITE_MM3, MOST_BITE_MM3).map(lambda mm3: Bite(mm3, mm3, mm3, 40))


def of_kind(work: tuple[Piece, ...], what: What) -> float:
    return sum(one.steel_mm or 0.0 for one in work if one.what is what)


@given(bite=st.none() | BITES, pitch=st.floats(1.2, 9.0), plate=st.floats(0.4, 1.6), passes=st.integers(1, 4))
def test_a_touch_up_costs_less_than_any_leveling_and_its_filing(
    bite: Bite | None, pitch: float, plate: float, passes: int
) -> None:
    saw = panel_saw(pitch_mm=pitch, plate=Length.of(plate))
    leveled = passes_mm(passes)
    filed = filing_mm(saw, leveled, bite)
    assert 0.0 < touch_up_mm(saw, bite) < leveled + filed
    assert filed > 0.0
    # No gullet gets less than one stroke, and the line never comes down by less than what was leveled off.
    assert leveled + filed >= max(stroke_mm(saw, bite), leveled) - 1e-12


@given(bite=st.none() | BITES, one=st.floats(0.0, 0.5), other=st.floats(0.0, 0.5))
def test_more_leveling_never_costs_less(bite: Bite | None, one: float, other: float) -> None:
    less, more = (mm + filing_mm(SAW, mm, bite) for mm in sorted((one, other)))
    assert less <= more + 1e-12


def test_before_the_records_teach_it_the_cost_is_that_of_a_light_sharpening() -> None:
    # One pass and two, with the filing of their flats, lie to either side of a light sharpening's (from memory).
    one, two = (passes_mm(n) + filing_mm(SAW, passes_mm(n)) for n in (1, 2))
    assert one < LIGHT_MM < two
    assert stroke_mm(SAW, DEFAULT_BITE) == stroke_mm(SAW)


def test_advice_costs_by_the_bite_of_the_records() -> None:
    plain = decide(SAW, DULL)
    assert plain.whats[:2] == (What.LEVEL, What.FILE)
    bite = Bite(0.3, 0.25, 0.4, 80)
    taught = decide(SAW, DULL, SawRecords(bite=bite))
    # What the line comes down by for so much steel of each gullet, drawn for flats too small to matter.
    off = 0.3 * PANEL.came_down(1e-7) / PANEL.steel(1e-7)
    assert of_kind(taught.work, What.FILE) == pytest.approx(off - passes_mm(1), rel=1e-4)
    assert of_kind(taught.less, What.TOUCH_UP) == pytest.approx(2 / 3 * off, rel=1e-4)
    assert of_kind(taught.less, What.TOUCH_UP) > of_kind(plain.less, What.TOUCH_UP)
    for advised in (plain, taught):
        assert steel_mm(advised.less) < steel_mm(advised.work)


def test_a_saws_history_hands_its_bite_on() -> None:
    bite = Bite(0.2, 0.1, 0.3, 60)
    summary = Summary(bite=bite, last=datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
    past = Sharpening(path=Path("log.toml"), header={}, state=LogStanding.FINISHED, odd="", summary=summary)
    told = SawHistory(saw=KnownSaw("netloft-panel-saw", "Netloft panel saw"), sharpenings=(past,))
    assert told.finished
    # Its range is that of days, as of all that records teach (session/till/learned_bite.py).
    handed = records_of(told).bite
    assert handed is not None
    assert handed == learned_bite((past,))
    assert handed.mm3 == bite.mm3


def test_a_remedy_costs_by_the_bite_and_a_light_stroke_less_than_a_leveling() -> None:
    state = State.start(make_plan(SAW))
    costs = []
    for bite in (None, Bite(0.3, 0.25, 0.4, 80)):
        told = {one.steel: one.words for one in cut_remedies(state, SAW, "slow", bite)}
        costs.append([float(told[rank].split("about ")[1].split(" ")[0]) for rank in (3, 4)])
    for touched, leveled in costs:
        assert touched < leveled
    assert costs[0] < costs[1]
