from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.log.journal import Journal
from session.log.log_reader import read_ends, read_log
from session.log.mark_block import encode
from session.log.summary import Summary, closing, from_last, summarize, summary_of
from session.machine.untrusted_text import LONGEST_LINE
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage

Filing = Callable[..., Mark]


def a_walk(filing: Filing, begun: datetime) -> list[Mark]:
    return [
        filing(1, did=Did.MEASURED, stage=Stage.LOOK_OVER, side=None, tooth=None, what="set", value=6.0, unit="thou"),
        filing(2, tooth=1, strokes=2),
        filing(3, tooth=3, strokes=3),
        filing(4, did=Did.TOOK_BACK, of=3, stage=None),
        filing(5, tooth=3, strokes=4),
        filing(6, did=Did.LEFT_OUT, tooth=5, strokes=None, reason="broken"),
        filing(7, did=Did.FLAGGED, tooth=5, strokes=None),
        filing(8, did=Did.PAUSED, tooth=None),
        filing(9, did=Did.RESUMED, tooth=None, at=begun + timedelta(hours=5)),
        filing(10, stage=Stage.SET, tooth=2, strokes=None, at=begun + timedelta(hours=5, seconds=60)),
    ]


def test_what_was_taken_back_counts_nowhere(filing: Filing, begun: datetime) -> None:
    told = summarize(Account.of(a_walk(filing, begun)))
    assert told.done == {"file": 2, "set": 1}
    assert told.strokes == {"file": 6}
    assert told.all_strokes == 6
    assert (told.marks, told.left_out, told.flagged, told.taken_back) == (10, 1, 1, 1)
    assert told.measured == {"set": (6.0, "thou")}
    # 63 s up to the pause, 60 s after resuming.
    assert told.minutes == 2.1, "123 s are 2.05 minutes: half up"


def test_a_place_done_twice_counts_once(filing: Filing) -> None:
    told = summarize(Account.of([filing(1, tooth=1, strokes=2), filing(2, tooth=1, strokes=5)]))
    assert (told.done, told.strokes) == ({"file": 1}, {"file": 5})


def test_measuring_after_setting_is_no_tooth_set(filing: Filing) -> None:
    step: dict[str, Any] = {"stage": Stage.SET, "side": None, "tooth": None, "step": "measure", "strokes": None}
    over = filing(1, **step | {"did": Did.MEASURED, "what": "over the points after", "value": 1.2, "unit": "mm"})
    measure = filing(2, **step)
    told = summarize(Account.of([over, measure]))
    assert told.done == {}
    assert told.measured == {"over the points after": (1.2, "mm")}
    bent = filing(3, stage=Stage.SET, side=1, tooth=5, strokes=None)
    told = summarize(Account.of([over, measure, bent]))
    assert told.done == {"set": 1}
    assert told.measured == {}, "a tooth bent since: what was measured does not stand there any more"


@pytest.mark.parametrize(("stage", "reason"), [(Stage.LOOK_OVER, "not looked at"), (Stage.PROVE, "not answered")])
def test_a_step_passed_without_its_answer_is_not_done(filing: Filing, stage: Stage, reason: str) -> None:
    step: dict[str, Any] = {"stage": stage, "side": None, "tooth": None, "strokes": None}
    marks = [filing(1, **step, step="line"), *(filing(n, **step, step=f"look {n}", reason=reason) for n in (2, 3))]
    told = Account.of(marks)
    assert summarize(told).done == {str(stage): 1}
    assert told.tally.stages[stage].passed == 3, "the walk goes on behind them all the same"
    assert summarize(Account.of(marks[1:])).done == {}


@pytest.mark.parametrize(("counts", "middle"), [((2, 4, None, None), 3.0), ((2, None, None), None), ((1, 1), None)])
def test_a_middle_count_is_told_where_half_of_the_gullets_were_counted(
    filing: Filing, counts: tuple[int | None, ...], middle: float | None
) -> None:
    told = summarize(Account.of([filing(n, strokes=count) for n, count in enumerate(counts, 1)]))
    assert told.line.strokes_each == middle
    assert told.to_dict()["line"].get("strokes_each") == middle


def test_a_corner_goes_with_its_file(filing: Filing) -> None:
    names = (("file", "6 in slim"), ("file corner", 2), ("file", "loft taper"))
    marks = [filing(n, did=Did.MEASURED, what=what, value=value) for n, (what, value) in enumerate(names, 1)]
    assert summarize(Account.of(marks[:2])).measured == {"file": ("6 in slim", None), "file corner": (2, None)}
    assert summarize(Account.of(marks)).measured == {"file": ("loft taper", None)}


def test_no_marks_make_an_empty_summary() -> None:
    told = summarize(Account.of([]))
    assert (told.marks, told.first, told.minutes, told.lines()) == (0, None, 0.0, ["No mark was made."])


def test_a_finished_log_is_summarized_from_its_last_block(
    tmp_path: Path, log_header: dict[str, Any], filing: Filing, begun: datetime
) -> None:
    marks = a_walk(filing, begun)
    end = closing(Account.of(marks), Mark(seq=11, at=begun + timedelta(hours=5, seconds=70), did=Did.FINISHED))
    with Journal.create(tmp_path, log_header, started=begun) as journal:
        for mark in (*marks, end):
            journal.append(mark)
    told = summary_of(read_log(journal.path))
    assert from_last(read_ends(journal.path).last) == told.to_dict()
    assert told.to_dict()["measured"] == {"set": {"value": 6.0, "unit": "thou"}}
    assert from_last(marks[-1]) is None
    assert from_last(None) is None


def test_the_summary_goes_out_as_json_and_as_lines(filing: Filing, begun: datetime) -> None:
    told = summarize(Account.of(a_walk(filing, begun)))
    assert json.loads(json.dumps(told.to_dict(), default=str))["strokes"] == {"file": 6}
    lines = told.lines()
    assert "file: 2 done, 6 strokes" in lines
    assert "set: 6.0 thou" in lines
    assert "left out: 1" in lines
    assert not any("\n" in line for line in lines)


def test_the_faults_of_earlier_cuts_go_out_and_come_back_and_need_not_be_there(filing: Filing) -> None:
    def cut(seq: int, number: int, how: str) -> Mark:
        return filing(seq, did=Did.MEASURED, what="trial cut", value=how, round=number)

    marks = [cut(1, 1, "binds"), cut(2, 2, "rough"), cut(3, 2, "wanders"), cut(4, 3, "good")]
    told = summarize(Account.of(marks))
    assert told.faults == ("binds", "wanders"), "what a cut was called last holds"
    assert Summary.from_dict(told.to_dict()).faults == told.faults
    assert "trial cuts before the last: binds, wanders" in told.lines()
    mended = summarize(Account.of([*marks, filing(5, did=Did.TOOK_BACK, of=1)]))
    assert mended.faults == ("wanders",)
    assert "faults" not in summarize(Account.of(marks[:1])).to_dict()
    assert Summary.from_dict({}).faults == ()


@pytest.mark.parametrize(
    ("letters", "kept"), [(100, {"measured", "line"}), (LONGEST_LINE - 1000, {"measured"}), (LONGEST_LINE, set())]
)
def test_a_summary_too_long_for_a_line_lets_go_of_the_line_first_and_of_what_was_measured_last(
    filing: Filing, letters: int, kept: set[str]
) -> None:
    out = [filing(n, tooth=n, did=Did.LEFT_OUT, strokes=None, reason="x" * 60) for n in range(1, 21)]
    said = filing(21, did=Did.MEASURED, what="note", value="y" * letters)
    end = closing(Account.of([*out, said]), filing(22, did=Did.FINISHED))
    told = from_last(end)
    assert told is not None
    assert told.keys() & {"measured", "line"} == kept
    assert told.get("short", False) is (len(kept) < 2)
    assert (told["marks"], told["left_out"]) == (22, 20), "the counts always stay"
    assert encode(end)[1] == end
