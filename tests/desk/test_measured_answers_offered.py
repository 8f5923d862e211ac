"""What a scan measured stands first among the answers to a look, with its age; it is taken or changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from session.advice.saw_advice import saw_records
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.scanned_file import KeptScan
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.till.kept_scans import write_scan
from session.till.known_saws import saw_named
from session.till.till_folder import Till
from session.trade.scanned_line import ScannedLine, ToothState
from session.walk.front_question import Ask
from session.walk.measurables import Measurable
from session.walk.work_plan import make_plan
from told_line import told_line

NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
ODD_OF_TWENTY = {12: (ToothState.LOW, 0.2)}
ODD = {12: (ToothState.LOW, 0.2), 40: (ToothState.BROKEN, 1.5), 41: (ToothState.BROKEN, 1.5)}


class MeasuredBench:
    """A desk at the looks, over a till with a line measured three days ago."""

    def __init__(self, folder: Path, line: ScannedLine) -> None:
        found, till = load_recipe(find_recipe("crosscut-panel", [])), Till(folder)
        self.till = till
        name = found.saw.name
        write_scan(till, saw_named(till, name), KeptScan(at=NOW - timedelta(days=3), saw=name, line=line))
        self.clock = SetClock(NOW)
        self.sitting = Sitting.start(folder / "logs", found, make_plan(found.saw), self.clock)
        self.desk = Desk(self.sitting, guard_s=0.0, idle_s=9e9, records=lambda: saw_records(till, name))

    def keep(self, line: ScannedLine, days: int) -> None:
        """Another line measured so many days ago; the bench is opened anew with it."""
        name = self.sitting.saw.name
        scan = KeptScan(at=NOW - timedelta(days=days), saw=name, line=line)
        write_scan(self.till, saw_named(self.till, name), scan)
        self.desk = Desk(self.sitting, guard_s=0.0, idle_s=9e9, records=lambda: saw_records(self.till, name))

    def act(self, act: Act, digit: int = 0) -> Reply:
        self.clock.pass_s(5.0)
        return self.desk.act(act, digit)

    def at(self, step: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """What is said and what can be chosen at a look; those before it are passed over."""
        for _ in range(60):
            front = self.desk.moment.front
            if front.ask is Ask.WORK and front.place is not None and front.place.step == step:
                return self.desk.moment.said.lines, self.desk.moment.said.choices
            if front.ask is Ask.WORK and front.place is not None and front.place.step == "all round":
                self.act(Act.STROKES, self.desk.moment.said.choices.index("something") + 1)
            else:
                self.act(Act.AGREE if front.ask.holds else Act.DONE)
        raise AssertionError(f"never came to {step}")

    def told(self, what: Measurable) -> object:
        return self.sitting.state.measured[what].value


@pytest.fixture
def measured_bench(tmp_path: Path) -> Iterator[Callable[[ScannedLine], MeasuredBench]]:
    open_ones: list[MeasuredBench] = []

    def begin(line: ScannedLine) -> MeasuredBench:
        open_ones.append(MeasuredBench(tmp_path / f"till{len(open_ones)}", line))
        return open_ones[-1]

    yield begin
    for one in open_ones:
        one.sitting.close()


Begin = Callable[[ScannedLine], MeasuredBench]


def test_low_and_broken_teeth_are_offered_with_their_age_and_taken_by_one_press(measured_bench: Begin) -> None:
    there = measured_bench(told_line(155, 3.63, ODD, gap_mm=0.3))
    lines, choices = there.at("all round")
    assert lines[0] == "Measured by a scan 3 days ago: something, low 12, broken 40, 41."
    assert choices[0] == "something"
    lines, choices = there.at("low teeth")
    assert lines[0] == "Measured by a scan 3 days ago: 12."
    assert choices[0] == "12"
    assert Measurable.LOW_TEETH not in there.sitting.state.measured, "offered, and not taken by itself"
    assert not there.act(Act.STROKES, 1).refused
    assert there.told(Measurable.LOW_TEETH) == "12"
    _, choices = there.at("broken teeth")
    assert choices[0] == "40, 41"
    there.act(Act.ANSWER)
    question = questions(there.desk, QuestionKind.ANSWER, {})
    assert question.choices == (), "a number typed is a tooth, and picks nothing"
    assert question.then is not None
    question.then("41")
    assert there.told(Measurable.BROKEN_TEETH) == "41"
    lines, choices = there.at("line")
    assert lines[0] == "Measured by a scan 3 days ago: crowned by 0.30 ± 0.02 mm."
    assert choices == ("crowned", "straight", "hollow")
    there.act(Act.STROKES, 1)
    assert there.told(Measurable.LINE) == "crowned"


def test_the_count_is_offered_and_a_line_that_cannot_be_this_saws_is_not(measured_bench: Begin) -> None:
    there = measured_bench(told_line(154, 3.63))
    lines, choices = there.at("points")
    assert "Expected: 155 by the recipe." in lines
    assert choices == ("154",)
    there.act(Act.STROKES, 1)
    assert there.told(Measurable.POINTS) == 154
    other = measured_bench(told_line(20, 3.63, ODD_OF_TWENTY))
    lines, _ = other.at("all round")
    assert not any("scan" in line for line in lines)
    lines, choices = other.at("points")
    assert choices == (), "nothing is offered that would be refused"
    assert lines[0] == (
        "The scan of 2026-11-22 is not used: it shows 20 teeth where the recipe has 155 points, at the recipe's "
        "spacing."
    )


def test_an_older_scan_of_this_line_steps_in_and_both_are_named(measured_bench: Begin) -> None:
    there = measured_bench(told_line(20, 3.63))
    there.keep(told_line(155, 3.63, ODD), days=5)
    lines, choices = there.at("points")
    assert lines[0] == "Measured by a scan 5 days ago: 155."
    assert lines[1].endswith("An older one is used, of 2026-11-20 09:00, 5 days ago.")
    assert choices == ("155",)
    again = measured_bench(told_line(20, 3.63))
    again.keep(told_line(155, 3.63, ODD), days=5)
    lines, choices = again.at("low teeth")
    assert lines[0] == "Measured by a scan 5 days ago: 12."
    assert choices[0] == "12"
    # Neither is: nothing is offered, and it is said.
    bad = measured_bench(told_line(20, 3.63))
    bad.keep(told_line(30, 3.63), days=5)
    lines, choices = bad.at("points")
    assert lines[0].endswith("None is used: no other is of this line.")
    assert choices == ()
