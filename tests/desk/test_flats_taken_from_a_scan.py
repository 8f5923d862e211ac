"""A scan made after the leveling is offered at the look at the flats: taken, refused, or changed tooth by tooth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shutil import rmtree

import pytest

from own_plan import keep_plan
from session.advice.saw_advice import saw_records
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.scanned_file import KeptScan
from session.files.supplied import find_recipe
from session.log.log_reader import read_log
from session.log.sitting import Sitting
from session.log.summary import summary_of
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.sentences.step_words import SCAN_AFTER
from session.till.kept_scans import write_scan
from session.till.known_saws import saw_named
from session.till.till_folder import Till
from session.till.till_names import LINES
from session.trade.grades import SHARES
from session.trade.scanned_line import ScannedLine, ToothState, line_of_teeth
from session.walk.front_question import Ask
from session.walk.measurables import ANOTHER_PASS, BY_THE_SCAN, GOOD, GRADE_THEM
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan
from told_line import told_line

LOOK = Place(Stage.LEVEL, step="flats")
FLAT_MM = 0.1
Odd = Mapping[int, tuple[ToothState, float]]


def moved(line: ScannedLine, aside: Mapping[int, float]) -> ScannedLine:
    teeth = [
        replace(one, place_mm=one.place_mm + by, a_mm=one.a_mm + by, b_mm=one.b_mm + by)
        if (by := aside.get(one.tooth, 0.0)) and one.a_mm is not None and one.b_mm is not None
        else one
        for one in line.teeth
    ]
    return line_of_teeth(teeth, 0.0, 0.02, 0.002)


def offered(bench: ScanningBench) -> list[str]:
    return [f"{'p' if one.act is Act.SET_PLACE else ''} {one.word}".strip() for one in bench.desk.moment.said.offers]


class ScanningBench:
    """A desk in front of the look at the flats of a carcass saw, over a till that scans are kept in."""

    def __init__(self, folder: Path) -> None:
        self.recipe, self.till = load_recipe(find_recipe("carcass", [])), Till(folder)
        self.saw = self.recipe.saw
        self.clock = SetClock(datetime(2026, 11, 26, 9, 0, tzinfo=UTC))
        plan = make_plan(self.saw, leave_out=frozenset({Stage.SET, Stage.RESHAPE}))
        self.sitting = Sitting.start(folder / "logs", self.recipe, plan, self.clock)
        self.desk = self.opened()

    def opened(self) -> Desk:
        name = self.saw.name
        return Desk(keep_plan(self.sitting), guard_s=0.0, idle_s=9e9, records=lambda: saw_records(self.till, name))

    def act(self, act: Act, digit: int = 0) -> Reply:
        self.clock.pass_s(60.0)
        return self.desk.act(act, digit)

    def to(self, wanted: Place | Stage) -> ScanningBench:
        """Answer what is asked, the way that goes on, until ``wanted`` is in hand."""
        for _ in range(2000):
            state = self.sitting.state
            place = state.place
            if place is not None and state.front.ask is Ask.WORK and wanted in (place, place.stage):
                return self
            flats = place == LOOK and state.front.ask is Ask.WORK
            reply = self.choose(GOOD) if flats else self.act(Act.AGREE if state.front.ask.holds else Act.DONE)
            assert not reply.refused, reply
        raise AssertionError("never came there")

    def scan(
        self,
        ago_s: float = 0.0,
        count: int = 0,
        odd: Odd | None = None,
        flat_mm: float = FLAT_MM,
        aside: Mapping[int, float] | None = None,
    ) -> None:
        """Keep a scan of the saw, read so many seconds ago; aside: by how many mm teeth stand toward the toe."""
        line: ScannedLine = moved(
            told_line(count or self.saw.points, self.saw.pitch_mm, odd, flat_mm=flat_mm), aside or {}
        )
        self.clock.pass_s(60.0)
        at, name = self.clock.now() - timedelta(seconds=ago_s), self.saw.name
        write_scan(self.till, saw_named(self.till, name), KeptScan(at=at, saw=name, line=line))
        self.desk.told_more()

    def choose(self, choice: str) -> Reply:
        return self.act(Act.STROKES, self.choices.index(choice) + 1)

    @property
    def choices(self) -> tuple[str, ...]:
        return self.desk.moment.said.choices

    @property
    def lines(self) -> tuple[str, ...]:
        return self.desk.moment.said.lines


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[ScanningBench]:
    there = ScanningBench(tmp_path / "till")
    yield there
    there.sitting.close()


def test_a_scan_of_before_the_pass_is_named_and_not_offered(bench: ScanningBench) -> None:
    bench.scan(ago_s=3600.0)
    bench.to(LOOK)
    assert BY_THE_SCAN not in bench.choices
    (said,) = [line for line in bench.lines if line.startswith("The scan of")]
    assert "is not used: the last pass came after it" in said
    assert said.endswith("; scan again now.")


def test_one_read_while_the_bench_waits_is_offered_with_its_time_and_the_digits_before_it_stay(
    bench: ScanningBench,
) -> None:
    bench.to(LOOK)
    before = bench.choices
    assert any("“toothline scan” measures it" in line for line in bench.lines)
    bench.scan()
    assert bench.choices == (*before, BY_THE_SCAN)
    flats = bench.saw.points
    assert any(line.startswith("Scanned at 09:") and f"{flats} flats measured." in line for line in bench.lines)
    bench.choose(GRADE_THEM)
    assert bench.desk.moment.said.numeral == "1", "refused, each flat is graded as ever"
    bench.act(Act.TAKE_BACK)
    bench.choose(ANOTHER_PASS)
    bench.act(Act.DONE)
    assert bench.sitting.state.place == LOOK
    assert BY_THE_SCAN not in bench.choices, "the pass came after it"


def test_taken_the_marks_alone_hold_it_and_the_till_may_lose_the_scan(bench: ScanningBench) -> None:
    bench.to(LOOK)
    bench.scan(odd={5: (ToothState.LOW, 0.3)})
    reply = bench.choose(BY_THE_SCAN)
    assert f"{bench.saw.points - 1} flats measured, 1 without" in reply.note
    assert bench.sitting.state.place == LOOK
    share = bench.sitting.state.tally.flats_of(1)[1]
    assert share == pytest.approx(FLAT_MM / bench.saw.pitch_mm, abs=1e-5)
    assert bench.sitting.state.tally.flats_of(1)[5] == 0.0
    rmtree(bench.till.path / LINES)
    log = read_log(bench.sitting.journal.path)
    again = State.replay(bench.sitting.plan, log.marks)
    assert (again.tally, again.place) == (bench.sitting.state.tally, bench.sitting.state.place)
    line = summary_of(log).line
    assert (line.by_scan, line.on_strip, line.low) == (bench.saw.points, 0, (5,))
    of = f"Worst spacing error by the scan, of {bench.saw.points - 1} teeth:"
    assert any(line.startswith(of) for line in bench.lines)
    bench.to(Stage.FILE)
    assert bench.desk.moment.leaning is not None
    assert bench.desk.moment.leaning.placed


def test_unseen_teeth_come_in_hand_one_by_one_with_the_reason(bench: ScanningBench) -> None:
    bench.to(LOOK)
    bench.scan(odd={7: (ToothState.NOT_SEEN, 0.0), 20: (ToothState.BROKEN, 1.0)})
    assert "to grade by eye: teeth 7, 20" in bench.choose(BY_THE_SCAN).note
    assert bench.desk.moment.said.numeral == "7"
    assert bench.desk.moment.said.instruction.startswith("Not told by the scan: grade this tooth's flat")
    bench.act(Act.STROKES, 3)
    assert bench.desk.moment.said.numeral == "20"
    bench.act(Act.STROKES, 1)
    assert bench.sitting.state.place == LOOK
    assert bench.sitting.state.tally.flats_of(1)[7] == SHARES[3]


def test_a_flat_told_anew_keeps_the_place_that_the_scan_told_and_no_tooth_drops_out(bench: ScanningBench) -> None:
    bench.to(LOOK)
    bench.scan(aside={12: 0.4})
    bench.choose(BY_THE_SCAN)
    (before,) = [line for line in bench.lines if line.startswith("Worst spacing error by the scan")]
    assert "p one anew" in offered(bench)
    question = questions(bench.desk, QuestionKind.SET_PLACE, {})
    assert question.then is not None
    question.then("12")
    told = bench.desk.moment.said.instruction
    assert told.startswith("The scan says ")
    assert told.endswith(" wide: grade this tooth's flat anew, 0 to 5.")
    share = SHARES[3]
    bench.act(Act.STROKES, 3)
    level = bench.sitting.state.tally.rounds[1]
    assert (12 in level.scanned, 12 in level.placed, len(level.told)) == (False, True, bench.saw.points)
    off = bench.sitting.state.marks[-1].off
    assert off == pytest.approx(0.4 / bench.saw.pitch_mm, abs=0.01)
    assert level.told[12] == pytest.approx(4 * (off or 0.0) / share)
    (after,) = [line for line in bench.lines if line.startswith("Worst spacing error by the scan")]
    assert after.partition(" with")[0] == before.partition(" with")[0], "a glance at its width moves no point"
    assert read_log(bench.sitting.journal.path).marks[-1].off == off
    assert summary_of(read_log(bench.sitting.journal.path)).line.on_strip == 0


def test_any_tooth_is_told_anew_alone_and_one_key_takes_all_of_it_back(bench: ScanningBench) -> None:
    bench.to(LOOK)
    bench.scan()
    bench.choose(BY_THE_SCAN)
    assert bench.act(Act.SET_PLACE).opens is QuestionKind.SET_PLACE
    question = questions(bench.desk, QuestionKind.SET_PLACE, {})
    assert question.check is not None
    assert "told no flat of that tooth" in (question.check("999") or "")
    assert question.check("12") is None
    assert question.then is not None
    question.then("12")
    assert bench.desk.moment.said.numeral == "12"
    bench.act(Act.STROKES, 4)
    assert bench.sitting.state.place == LOOK
    assert bench.sitting.state.tally.flats_of(1)[12] == SHARES[4]
    assert len(bench.sitting.state.tally.rounds[1].scanned) == bench.saw.points - 1
    bench.act(Act.TAKE_BACK)
    assert bench.desk.moment.said.numeral == "12"
    assert "Not looked at again: done tooth 12" in bench.act(Act.TAKE_BACK).note
    assert bench.act(Act.TAKE_BACK).note == "Took back: the flats of the scan, all of them."
    assert dict(bench.sitting.state.tally.flats_of(1)) == {}
    assert (bench.sitting.state.place, bench.choices[-1]) == (LOOK, BY_THE_SCAN)


def test_a_flat_that_the_eye_told_beside_the_scan_is_told_anew_as_well_and_the_one_in_hand_will_do(
    bench: ScanningBench,
) -> None:
    bench.to(LOOK)
    bench.scan(odd={7: (ToothState.NOT_SEEN, 0.0), 20: (ToothState.NOT_SEEN, 0.0)})
    bench.choose(BY_THE_SCAN)
    bench.act(Act.STROKES, 3)
    bench.desk = bench.opened()
    assert bench.act(Act.DIFFER).opens is QuestionKind.SET_PLACE, "begun again, the place is found on the saw first"
    question = questions(bench.desk, QuestionKind.SET_PLACE, {})
    assert question.check is not None
    assert question.then is not None
    assert question.check("20") is None
    assert "allowed: one that was told, or 20, the one in hand" in (question.check("999") or "")
    assert question.check("7") is None
    question.then("7")
    assert (bench.desk.moment.said.numeral, bench.sitting.state.front.ask) == ("7", Ask.WORK)
    bench.act(Act.STROKES, 2)
    assert bench.desk.moment.said.numeral == "20", "nothing else was taken back"
    assert bench.sitting.state.tally.flats_of(1)[7] == SHARES[2]
    assert len(bench.sitting.state.tally.rounds[1].scanned) == bench.saw.points - 2


@pytest.mark.parametrize(
    ("count", "flat_mm", "why"), [(40, FLAT_MM, "it shows 40 teeth, this line has"), (0, 0.0, "it shows no flats")]
)
def test_one_of_other_teeth_or_of_sharp_points_is_not_used_and_says_why(
    bench: ScanningBench, count: int, flat_mm: float, why: str
) -> None:
    bench.to(LOOK)
    bench.scan(count=count, flat_mm=flat_mm)
    assert BY_THE_SCAN not in bench.choices
    assert any(line.startswith("The scan of 09:") and why in line for line in bench.lines)


def test_where_the_newest_is_not_used_one_before_it_that_was_made_after_the_pass_is(bench: ScanningBench) -> None:
    bench.scan(odd={9: (ToothState.LOW, 0.3)})  # before the pass
    bench.to(LOOK)
    bench.scan(odd={5: (ToothState.LOW, 0.3)})
    bench.scan(count=40)
    assert bench.choices[-1] == BY_THE_SCAN
    (said,) = [line for line in bench.lines if line.startswith("Scanned at 09:")]
    assert "is not used: it shows 40 teeth, this line has" in said
    bench.choose(BY_THE_SCAN)
    flats = bench.sitting.state.tally.flats_of(1)
    assert (flats[5], flats[9] > 0.0) == (0.0, True)
    bench.act(Act.TAKE_BACK)
    bench.choose(ANOTHER_PASS)
    bench.act(Act.DONE)
    assert BY_THE_SCAN not in bench.choices, "the pass came after both"


def test_a_bench_opened_anew_at_the_flats_offers_it_too(bench: ScanningBench) -> None:
    bench.to(LOOK)
    bench.scan()
    bench.desk = bench.opened()
    assert bench.choices[-1] == BY_THE_SCAN


@pytest.mark.wide
def test_where_it_was_scanned_before_the_close_asks_for_a_scan_after(bench: ScanningBench) -> None:
    bench.to(LOOK)
    bench.scan()
    bench.choose(BY_THE_SCAN)
    bench.to(Place(Stage.CLOSE, step="left out"))
    assert SCAN_AFTER in bench.lines
