"""Every press at every kind of moment of a sharpening, from the desk's own table, and a disk that dies under it.

A new act, a new question or a new answer is swept by itself: nothing here names one.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from session.advice.saw_records import SawRecords
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.desk.key_table import ACTS
from session.desk.question import Question
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.machine.disk import Disk
from session.rehearsal.desk_run import DeskRun
from session.rehearsal.filer import Filer
from session.rehearsal.hand_habits import Habit
from session.sentences.offers import Act
from session.trade.file_choice import FileOwned
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk.mark import Mark
from session.walk.work_plan import Plan

START = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)

#: Typed answers of every form that a step may want; those that a question takes are pressed.
TYPED = (
    *("0.047 in", "1.2 mm, 1.25 mm", "straight, clean", "none", "4, 1/8 in", "2, 4-6", "6 in slim, corner 2"),
    *("My own file", "12", "3", "8 in 25 mm", "12 in, 3/4 in, 40 strokes, 1 mm right", "good", "for no reason"),
)

#: A silence after which the place is asked for again, in seconds.
SILENCE_S = 50_000.0

#: What lies in the drawer, so that the files of one's own are asked for at the look over.
DRAWER = SawRecords(
    owned=tuple(
        FileOwned(name, parse_length(face), None, (0, 0, 0)) for name, face in (("Slim", "0.3 in"), ("Pin", "4 mm"))
    )
)

#: Answers that are gone into when one opens the next question.
DEEPEST = 3


class Unsynced(Disk):
    """A disk that does not wait for the medium: that the power goes is tried elsewhere."""

    def fsync(self, fd: int) -> None:
        pass

    def fsync_dir(self, path: Path) -> None:
        pass


class Killed(BaseException):
    """The program is no more; nothing that it still tries reaches the disk."""


class MortalDisk(Unsynced):
    """Counts the calls that write, and ends the program at the ``at``-th of them (from 1; 0 for none).

    how: "before" or "after" the call; "half", in the middle of a write; "refused", where it goes on living.
    """

    def __init__(self, at: int = 0, how: str = "before") -> None:
        self.at, self.how = at, how
        self.calls = 0
        self.dead = False
        self.opened: list[int] = []

    def _writes(self, act: Callable[[], Any], half: Callable[[], Any] | None = None) -> Any:
        self._lives()
        self.calls += 1
        if self.calls != self.at:
            return act()
        if self.how == "refused":
            raise OSError(errno.EIO, "made to fail")
        self.dead = True
        if self.how == "after":
            act()
        elif self.how == "half" and half is not None:
            half()
        raise Killed

    def _lives(self) -> None:
        if self.dead:
            raise Killed

    def open(self, path: Path, flags: int) -> int:
        self._lives()
        fd = super().open(path, flags)
        self.opened.append(fd)
        return fd

    def write(self, fd: int, data: bytes) -> int:
        write = super().write
        return int(self._writes(lambda: write(fd, data), lambda: write(fd, data[: len(data) // 2])))

    def fsync(self, fd: int) -> None:
        self._writes(lambda: None)

    def truncate(self, fd: int, size: int) -> None:
        self._writes(lambda: super(MortalDisk, self).truncate(fd, size))

    def unlink(self, path: Path) -> None:
        self._writes(lambda: super(MortalDisk, self).unlink(path))

    def stat(self, path: Path) -> os.stat_result:
        self._lives()
        return super().stat(path)

    def fstat(self, fd: int) -> os.stat_result:
        self._lives()
        return super().fstat(fd)

    def close_all(self) -> None:
        """What the system does for a program that ended."""
        for fd in self.opened:
            with suppress(OSError):
                os.close(fd)


@dataclass(frozen=True)
class Moment:
    """A place in a walk: its saw and plan, the log up to it, and what is asked there."""

    saw: Saw
    plan: Plan
    log: bytes
    asked: str


@dataclass(frozen=True)
class Press:
    """One act with its digit and the answers to what it opens. silent: after a long silence."""

    act: Act
    digit: int = 0
    answers: tuple[str, ...] = ()
    silent: bool = False

    def __str__(self) -> str:
        told = "".join(f" › {answer}" for answer in self.answers)
        return f"{'after a silence ' * self.silent}{self.act}{self.digit or ''}{told}"


def moments(saw: Saw, plan: Plan, folder: Path, seed: int, *, strip: bool = False) -> list[Moment]:
    """One moment of each kind that a simulated filer comes to, from the start of a sharpening to its end."""
    clock = SetClock(START)
    header = {"session": {"started": START, "saw": saw.name}}
    with Journal.create(folder, header, started=START, disk=Unsynced()) as journal:
        desk = Desk(Sitting(saw, plan, journal, clock), records=lambda: DRAWER)
        run = DeskRun(desk, clock, Filer(saw, seed, habit=Habit.STEADY, strip=strip))
        found: dict[str, Moment] = {}
        going = True
        while going:
            kind = _kind(desk)
            if kind not in found:
                found[kind] = Moment(saw, plan, journal.path.read_bytes(), kind)
            going = run.step()
    return list(found.values())


def _kind(desk: Desk) -> str:
    now, state = desk.moment.front, desk.sitting.state
    last = state.marks[-1].did if state.marks else "nothing"
    place = now.place
    where = f"{place.stage} {place.kind} {place.step}{' strip' if place.on_strip else ''}" if place is not None else ""
    offered = ",".join(offer.act for offer in desk.moment.offers)
    return f"{now.ask} {now.name} {where} [{offered}] after {last}"


@dataclass
class Sat:
    """A desk at a moment, its log on a disk that may die."""

    moment: Moment
    path: Path
    disk: MortalDisk = field(default_factory=MortalDisk)

    def __post_init__(self) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        self.path.write_bytes(self.moment.log)
        at, self.disk.at = self.disk.at, 0
        self.journal = Journal.open(self.path, disk=self.disk)
        self.clock = SetClock(START)
        sitting = Sitting(self.moment.saw, self.moment.plan, self.journal, self.clock)
        if sitting.state.marks:
            self.clock.moment = sitting.state.marks[-1].at
        self.desk = Desk(sitting, guard_s=0.0, records=lambda: DRAWER)
        self.desk.touched()
        # The opening is not what is tried.
        self.disk.calls, self.disk.at = 0, at

    @property
    def shown(self) -> tuple[Mark, ...]:
        """The marks of the state: all that a screen could show as done."""
        return tuple(self.desk.sitting.state.marks)

    def press(self, press: Press) -> Reply:
        """Make ``press``; where it begins a countdown, let that come to its end."""
        self.clock.pass_s(SILENCE_S if press.silent else 5.0)
        reply = self.desk.act(press.act, press.digit)
        for answer in press.answers:
            question = self.opened(reply)
            if question is None or question.then is None:
                break  # the disk refused before anything was asked
            reply = question.then(answer)
        if self.desk.countdown.seconds is not None:
            self.clock.pass_s(self.desk.countdown.seconds)
            reply = self.desk.tick() or reply
        return reply

    def opened(self, reply: Reply) -> Question | None:
        """What ``reply`` asks; None when it asks nothing that marks anything."""
        if reply.opens is None or reply.opens in (QuestionKind.TILL, QuestionKind.LEAVE):
            return None
        question = questions(self.desk, reply.opens, {})
        return question if question.then is not None else None

    def end(self) -> None:
        """The program ends, killed or not."""
        with suppress(Killed):
            self.journal.close()
        self.disk.close_all()
        self.path.with_name(self.path.name + ".lock").unlink(missing_ok=True)


def presses(moment: Moment, path: Path) -> Iterator[Press]:
    """Every press that writes something at ``moment``: of each act, with each digit, answer and answer's answer."""
    for row in ACTS:
        for digit in range(10) if row.act is Act.STROKES else (0,):
            yield from _with_answers(moment, path, Press(row.act, digit))
        silent = Press(row.act, 1 if row.act is Act.STROKES else 0, silent=True)
        yield from _with_answers(moment, path, silent)


def _with_answers(moment: Moment, path: Path, press: Press) -> Iterator[Press]:
    sat = Sat(moment, path)
    try:
        reply = sat.press(press)
        writes = sat.disk.calls > 0
        question = sat.opened(reply)
        answers = _answers(question) if question is not None and len(press.answers) < DEEPEST else []
    finally:
        sat.end()
    if writes:
        yield press
    for answer in answers:
        yield from _with_answers(moment, path, Press(press.act, press.digit, (*press.answers, answer), press.silent))


def _answers(question: Question) -> list[str]:
    typed = [] if question.hint is None else [text for text in TYPED if question.check(text) is None]
    return list(dict.fromkeys([*question.choices, *typed]))
