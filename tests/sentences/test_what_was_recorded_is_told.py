"""Looking back tells what stands in the record: the grade of a flat, the strokes of a gullet, not only "done"."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from session.sentences.mark_words import told
from session.trade.grades import GRADE, OLD_GRADE, WORDS
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage

AT = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


def mark(**fields: object) -> Mark:
    return Mark(seq=1, at=AT, **{"did": Did.DONE, **fields})  # type: ignore[arg-type]


@pytest.mark.parametrize("grade", range(len(WORDS)))
def test_a_graded_flat_is_told_with_its_grade_and_what_that_looks_like(grade: int) -> None:
    graded = mark(stage=Stage.LEVEL, tooth=12, value=grade, unit=GRADE)
    assert told(graded) == f"done tooth 12 (grade {grade}, {WORDS[grade]})"
    assert told(graded, short=True) == f"done 12 (grade {grade})"


def test_a_grade_of_an_older_log_has_no_words_of_todays_scale() -> None:
    assert told(mark(stage=Stage.LEVEL, tooth=12, value=4, unit=OLD_GRADE)) == "done tooth 12 (grade 4)"


def test_what_passes_a_row_of_places_is_told_short() -> None:
    passed = mark(stage=Stage.LOOK_OVER, step="bright points", reason="not answered")
    assert told(passed, short=True) == "skipped bright points, no answer"
    chosen = mark(did=Did.MEASURED, stage=Stage.LOOK_OVER, what="chosen", entered="level, set, file, dress")
    assert told(chosen) == "chose level, set, file, dress"


def test_a_gullet_is_told_with_its_strokes_and_a_tooth_that_was_set_without() -> None:
    assert told(mark(stage=Stage.FILE, tooth=12, side=1, strokes=3)) == "done gullet 12 (3 strokes)"
    assert told(mark(stage=Stage.SET, tooth=12, side=1)) == "done tooth 12"


def test_a_check_is_told_by_what_was_counted_which_a_place_set_by_hand_moves_beyond_it() -> None:
    check = mark(did=Did.CHECKED, stage=Stage.FILE, tooth=135, side=1, value=153, unit="tooth")
    assert told(check) == "checked gullet 153"
    assert told(check, short=True) == "checked 153"
    assert told(mark(did=Did.CHECKED, stage=Stage.FILE, tooth=135, side=1)) == "checked gullet 135"


def test_what_was_passed_is_named_where_it_is_read_what_was_left_out() -> None:
    walk = [mark(stage=Stage.PROVE, step=step, reason="not answered") for step in ("sight", "needle")]
    # This one was measured, and answered by leaving it as it is.
    walk.append(mark(stage=Stage.SET, step="measure", reason="Leave the set as it is."))
    account = Account.of(replace(one, seq=number) for number, one in enumerate(walk, 1))
    assert account.passed_steps() == {Stage.PROVE: ["sight", "needle"]}
