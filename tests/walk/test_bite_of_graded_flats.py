"""The bite that a walk teaches: from graded flats and counted strokes, and from nothing else."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_teeth import OLD_GRADES, square_filed
from made_saws import small_saw
from session.trade.lengths import Length
from session.trade.saw import Cut
from session.trade.strokes import DEFAULT_BITE, LEARN_FROM, LEAST_BITE_MM3, MOST_BITE_MM3, Bite
from session.walk.graded_flats import bite_here, leaning, usable_flats
from session.walk.known_bites import KnownBites
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

TEETH = 12
SAW = small_saw(TEETH, 3.0, cut=Cut.RIP, rake=5.0, fleam=0.0, vise_jaw=Length.of(300.0, "mm"), sides=1)
BEGUN = datetime(2025, 2, 1, 8, 0, tzinfo=UTC)
KEPT = Bite(0.2, 0.15, 0.3, 25)


def leveled(number: int = 1) -> dict[str, Any]:
    return {"did": Did.DONE, "stage": Stage.LEVEL, "number": number}


def graded(grades: list[int]) -> list[dict[str, Any]]:
    return [
        {"did": Did.DONE, "stage": Stage.LEVEL, "tooth": n, "value": g, "unit": "grade"}
        for n, g in enumerate(grades, 1)
    ]


def filed(strokes: list[int], by: str = "key") -> list[dict[str, Any]]:
    return [
        {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": n, "strokes": count, "by": by}
        for n, count in enumerate(strokes, 1)
    ]


def walked(*fields: dict[str, Any]) -> State:
    marks = [Mark(seq=n, at=BEGUN + timedelta(seconds=9 * n), **one) for n, one in enumerate(fields, 1)]
    return State.replay(make_plan(SAW), marks)


def volume_mm3(grade: int) -> float:
    """Steel of a gullet between two flats of this grade on an even line, by what is drawn of it."""
    return square_filed(3.0, 5.0, SAW.plate.mm).steel(OLD_GRADES[grade])


@pytest.mark.parametrize(("grade", "strokes"), [(1, 2), (2, 2), (3, 4), (4, 9)])
def test_an_even_line_teaches_the_steel_of_a_gullet_over_its_strokes(grade: int, strokes: int) -> None:
    state = walked(leveled(), *graded([grade] * TEETH), *filed([strokes] * (TEETH - 1)))
    bite = bite_here(state, SAW)
    assert bite.mm3 == pytest.approx(volume_mm3(grade) / strokes)
    assert bite.gullets == TEETH - 1
    # Counts are whole: what n strokes took, half of the time n ± 1/4 would have.
    assert bite.low_mm3 == pytest.approx(volume_mm3(grade) / (strokes + 0.25))
    assert bite.high_mm3 == pytest.approx(volume_mm3(grade) / (strokes - 0.25))


@given(
    st.lists(st.integers(0, 4), min_size=TEETH, max_size=TEETH),
    st.lists(st.integers(1, 9), min_size=TEETH, max_size=TEETH),
)
def test_the_middle_lies_in_its_spread_and_fewer_gullets_teach_nothing(grades: list[int], strokes: list[int]) -> None:
    state = walked(leveled(), *graded(grades), *filed(strokes))
    plan = leaning(state, SAW, usable_flats(state, Stage.FILE))
    bite = bite_here(state, SAW, known=KEPT)
    gave = 0 if plan is None else sum(v > 0 for v in plan.volumes_mm3)
    if gave < LEARN_FROM or max(strokes) == 1:
        assert bite is KEPT
    else:
        assert LEAST_BITE_MM3 <= bite.low_mm3 < bite.mm3 < bite.high_mm3 <= MOST_BITE_MM3
        assert bite.gullets <= gave


@given(st.lists(st.integers(1, 4), min_size=TEETH, max_size=TEETH), st.integers(3, 4))
def test_more_strokes_for_the_same_steel_are_a_smaller_bite(grades: list[int], strokes: int) -> None:
    twice = bite_here(walked(leveled(), *graded(grades), *filed([2] * TEETH)), SAW)
    often = bite_here(walked(leveled(), *graded(grades), *filed([strokes] * TEETH)), SAW)
    assert often.mm3 * strokes == pytest.approx(twice.mm3 * 2)


def test_one_stroke_everywhere_teaches_nothing_as_the_advance_key_claims_it_by_itself() -> None:
    ones = [1] * (TEETH - 1)
    assert bite_here(walked(leveled(), *graded([2] * TEETH), *filed(ones)), SAW, known=KEPT) is KEPT
    counted = bite_here(walked(leveled(), *graded([2] * TEETH), *filed([*ones[1:], 2])), SAW, known=KEPT)
    assert counted.gullets == TEETH - 1
    assert counted.mm3 == pytest.approx(volume_mm3(2))


def test_without_grades_or_strokes_nothing_is_learned() -> None:
    assert bite_here(walked(leveled(), *filed([2] * TEETH)), SAW, known=KEPT) is KEPT
    assert bite_here(walked(leveled(), *graded([2] * TEETH)), SAW) is DEFAULT_BITE
    assert bite_here(walked(leveled(), *graded([2] * TEETH), *filed([2] * 4)), SAW) is DEFAULT_BITE


def test_a_timer_counts_no_strokes() -> None:
    assert bite_here(walked(leveled(), *graded([2] * TEETH), *filed([2] * TEETH, by="timer")), SAW) is DEFAULT_BITE


def test_flats_that_a_later_pass_widened_teach_nothing() -> None:
    fields = [leveled(), *graded([2] * TEETH), leveled(2), *filed([2] * TEETH)]
    assert bite_here(walked(*fields), SAW) is DEFAULT_BITE


def test_a_slip_of_the_key_teaches_nothing() -> None:
    strokes = [2] * 8 + [10**15] * 3
    bite = bite_here(walked(leveled(), *graded([2] * TEETH), *filed(strokes)), SAW)
    assert bite.gullets == 8
    assert bite.mm3 == pytest.approx(volume_mm3(2) / 2)


def test_a_line_counted_longer_than_the_recipe_has_it_is_learned_from_whole() -> None:
    shorter = replace(SAW, points=TEETH - 3)
    state = walked(leveled(), *graded([2] * TEETH), *filed([2] * (TEETH - 1)))
    assert bite_here(state, shorter) == bite_here(state, SAW)


def test_a_file_is_known_by_its_name_whatever_the_capitals() -> None:
    known = KnownBites(DEFAULT_BITE, {"loft taper": KEPT})
    assert known.of("Loft  TAPER ") is KEPT
    assert known.of("another") is known.of(None) is DEFAULT_BITE
