"""Bench rules 24 and 27: nothing shows as done that is not on disk, and a second program is refused."""

from __future__ import annotations

import errno
import os
import tomllib
from typing import Any

import pytest

from bench_shed import Shed
from session.bench.screens import till_screen
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.disk import Disk


class FailingDisk(Disk):
    """The machine's disk, until ``how`` says which call goes wrong: "write", "half a write", "fsync"."""

    def __init__(self) -> None:
        self.how = ""
        self.writes = self.syncs = 0

    def write(self, fd: int, data: bytes) -> int:
        self.writes += 1
        if self.how == "write":
            raise OSError(errno.ENOSPC, "no room")
        return super().write(fd, data[: len(data) // 2] if self.how == "half a write" else data)

    def fsync(self, fd: int) -> None:
        self.syncs += 1
        if self.how == "fsync":
            raise OSError(errno.EIO, "fault")
        super().fsync(fd)


WHY = {"write": "the disk is full", "half a write": "the disk is full", "fsync": "the disk reports a fault"}


def on(shed: Shed, disk: Disk, **at: Any) -> Sitting:
    """A sitting at side 1 whose log is on ``disk``."""
    first = shed.at("file", side=1, done=4, **at)
    first.close()
    journal = Journal.open(first.journal.path, disk=disk)
    return Sitting(first.saw, first.plan, journal, shed.clock)


@pytest.mark.parametrize(("how", "size"), [*((how, (80, 24)) for how in WHY), ("fsync", (120, 36))])
async def test_rule_24_a_failed_write_stops_the_walk_says_why_and_what_to_note_by_hand(
    shed: Shed, size: tuple[int, int], how: str
) -> None:
    disk = FailingDisk()
    async with shed.program(on(shed, disk), size=size) as person:
        await person.press("space")
        before = person.marks_on_disk()
        disk.how = how
        await person.press("3")
        words = person.words()
        assert WHY[how] in words
        assert "Note by hand: done gullet 11 (3 strokes)" in words
        assert "NOW 11 " in person.places()
        assert person.large("11")
        assert "A yes reads the log again" in words
        assert person.boxes() == [("y", "read again"), ("q", "leave")]
        calls = disk.writes, disk.syncs
        await person.press("space", "enter", "backspace", "full_stop", "l", "p", "escape", "5")
        assert (disk.writes, disk.syncs) == calls, "a failed fsync is never tried again as if it could succeed"
        assert "Note by hand: done gullet 11 (3 strokes)" in person.words()
        disk.how = ""
        assert person.marks_on_disk() == before


@pytest.mark.parametrize("how", WHY)
async def test_rule_24_y_reads_the_log_again_and_believes_only_that(shed: Shed, how: str) -> None:
    disk = FailingDisk()
    async with shed.program(on(shed, disk)) as person:
        await person.press("space")
        before = person.marks_on_disk()
        disk.how = how
        await person.press("3")
        disk.how = ""
        await person.press("y")
        assert "Find the place on the saw" in person.panel()
        assert "Next: gullet 11, its tooth 30 mm from the heel." in person.panel()
        assert person.marks_on_disk()[: len(before)] == before
        assert [mark["did"] for mark in person.marks_on_disk()[len(before) :]] == ["resumed"]
        await person.press("2", "3")
        assert (person.last()["did"], person.last()["tooth"], person.last()["strokes"]) == ("done", 11, 3)


async def test_rule_24_a_disk_that_goes_on_failing_is_told_each_time(shed: Shed) -> None:
    disk = FailingDisk()
    async with shed.program(on(shed, disk)) as person:
        before = person.marks_on_disk()
        disk.how = "fsync"
        await person.press("space")
        for _ in range(3):
            await person.press("y")
            assert WHY["fsync"] in person.words()
            assert "done gullet 9" in person.words(), "the place to note by hand stays on screen"
        disk.how = ""
        await person.press("y")
        assert person.marks_on_disk()[: len(before)] == before


async def test_rule_24_a_log_taken_away_is_told_too(shed: Shed) -> None:
    sitting = shed.at("file", side=1, done=4)
    async with shed.program(sitting) as person:
        kept = person.log.with_suffix(".kept")
        person.log.rename(kept)
        await person.press("space")
        assert "Note by hand: done gullet 9." in person.words()
        assert "NOW 9 " in person.places()
        await person.press("y")
        assert "NOW 9 " in person.places()
        kept.rename(person.log)
        await person.press("y")
        assert "Next: gullet 9," in person.panel()


async def test_rule_24_leaving_is_possible_while_the_disk_fails_and_claims_nothing(shed: Shed) -> None:
    disk = FailingDisk()
    async with shed.program(on(shed, disk)) as person:
        disk.how = "write"
        await person.press("space", "q")
        assert "All is saved" not in person.words()
        assert WHY["write"] in person.words()
        await person.press("q")
        assert person.left()


async def test_rule_27_a_second_program_is_refused_and_told_who_holds_it(shed: Shed, size: tuple[int, int]) -> None:
    sitting = shed.at("file", side=1, done=4)
    before = sitting.journal.path.read_bytes()
    async with shed.program(size=size) as person:
        assert "INTERRUPTED" in person.text()
        await person.press("space")
        assert "Toothline · the till" in person.text()
        assert f"held by process {os.getpid()} on " in person.words()
        assert " since 20" in person.words()
        assert "toothline show" in person.words()
        assert sitting.journal.path.read_bytes() == before
        sitting.close()
        await person.press("space")
        assert "Find the place on the saw" in person.panel()
    marks = tomllib.loads(sitting.journal.path.read_text(encoding="utf-8"))["mark"]
    assert marks[-1]["what"] == "restart"


async def test_rule_27_that_another_holds_it_is_said_only_as_long_as_it_does(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(till_screen, "LOOKS_S", 0.01)
    sitting = shed.at("file", side=1, done=4)
    async with shed.program() as person:
        await person.press("space")
        assert "held by process" in person.words()
        sitting.close()
        while "held by process" in person.words():
            await person.settle()
        assert "Nobody else has it open any more: Enter goes on with it." in person.words()
        await person.press("enter")
        assert "Find the place on the saw" in person.panel()


async def test_rule_27_a_finished_bench_lets_go_of_the_log(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        log = person.log
        await person.press("q", "h")
        assert "Toothline · the till" in person.text()
        with Journal.open(log) as journal:
            assert journal.marks
