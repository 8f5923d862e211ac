"""One whole sharpening of a crosscut saw at a real terminal, killed twice on the way."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

SOAK = pytest.mark.soak("a whole sharpening at a terminal")

#: A small saw that is shifted in its vise, and supplied crosscut recipes, with their points: counted by hand from
#: length and pitch (GEOMETRY.md, pitch and count).
SAWS = [
    pytest.param("", 15, id="small"),
    pytest.param("green-wood", 105, id="green-wood", marks=SOAK),
    pytest.param("crosscut-panel", 155, id="crosscut-panel", marks=SOAK),
]


def of_side(points: int) -> dict[int, list[int]]:
    """The gullets filed from each side: those whose tooth leans away from the filer there (GEOMETRY.md).

    Tooth 1 of these saws leans away with the handle on the right, which is side 1.
    """
    return {1: list(range(1, points + 1, 2)), 2: list(range(2, points + 1, 2))}


class Bench:
    """Works on, and keeps count by hand of every gullet that the screen said was marked."""

    def __init__(self, shed: Any, make: Callable[[Any], Any], reader: Callable[[Path], Any], points: int) -> None:
        self.shed, self.make, self.reader, self.points = shed, make, reader, points
        self.filed: list[tuple[int, int, int | None]] = []
        self.person: Any = None

    def sit_down(self, *arguments: str) -> None:
        self.person = self.make(self.shed.open(*arguments))
        self.person.terminal.wait("NOW ")

    def step(self) -> None:
        """One key; in a gullet now and then a digit, as the screen offers, for the strokes."""
        stage, side = self.person.stage()
        if stage == "file" and self.person.at_work():
            assert ("1–9", "strokes") in self.person.boxes()
            assert f"gullet of {self.points}" in self.person.terminal.text()
            gullet = int(self.person.now())
            strokes = 1 + gullet % 3 if gullet % 3 else None
            self.person.press(" " if strokes is None else str(strokes))
            counted = "" if strokes is None else f" ({strokes} strokes)"
            # Where the room of the numerals comes or goes, a press is answered in more than one frame.
            marked = f"Marked gullet {gullet}{counted}"
            told = (f"{marked}.", f"{marked}, the back of tooth 1 with it.")
            self.person.terminal.wait(lambda _: self.person.note() in told)
            self.filed.append((side, gullet, strokes))
        else:
            self.person.step()

    def until(self, holds: Callable[[], bool], limit: int = 700) -> None:
        for _ in range(limit):
            if holds():
                return
            self.step()
        raise AssertionError(self.person.terminal.text())

    def cut_short(self) -> None:
        """Kill the program, begin again, and see that the place is the one that the saw says."""
        self.person.terminal.kill()
        marked = [(m["side"], m["tooth"], m.get("strokes")) for m in self.reader(self.shed.log()).marks if _filed(m)]
        assert marked == self.filed
        side, last, _ = self.filed[-1]
        self.sit_down("resume")
        self.person.wait_for_place()
        screen = self.person.terminal.text()
        assert "Find the place on the saw" in screen
        assert f"is gullet {last + 2} next?" in screen
        assert self.person.now() == str(last + 2)
        assert self.person.stage() == ("file", side)
        self.person.press(" ")
        assert self.person.now() == str(last + 2), "the advance key alone passes the confirmation"
        assert self.person.boxes()[0] == ("y", "yes, here")
        self.person.step()
        assert f"gullet {last + 2} is next" in self.person.note()


def _filed(mark: dict[str, Any]) -> bool:
    return (mark["did"], mark.get("stage")) == ("done", "file")


@pytest.mark.wide
@pytest.mark.parametrize(("recipe", "points"), SAWS)
def test_every_gullet_of_both_sides_is_filed_once_though_the_program_is_killed_twice(
    recipe: str, points: int, shed: Any, person: Any, reader: Any
) -> None:
    gullets = of_side(points)
    bench = Bench(shed, person, reader, points)
    bench.sit_down("start", recipe or shed.hang_up(points))
    bench.until(lambda: len(bench.filed) == len(gullets[1]) // 2)
    assert bench.filed[-1][0] == 1
    bench.cut_short()
    bench.until(lambda: len(bench.filed) == len(gullets[1]) + len(gullets[2]) // 2)
    assert bench.filed[-1][0] == 2
    bench.cut_short()
    bench.until(lambda: "The record is closed" in bench.person.terminal.text())
    for key in ("q", "q"):
        bench.person.terminal.send(key)
        bench.person.terminal.wait(lambda here: "Leave the bench?" in here.text() or here.ended)
    assert bench.person.terminal.end() == 0
    assert bench.person.terminal.modes_left_on() == []

    log = reader(shed.log())
    assert log.rest == b""
    assert log.header["plan"]["points"] == points
    for side in (1, 2):
        assert [m["tooth"] for m in log.standing() if _filed(m) and m["side"] == side] == gullets[side]
    assert [(m["side"], m["tooth"], m.get("strokes")) for m in log.marks if _filed(m)] == bench.filed
    assert sum(m["did"] == "took back" or m["did"] == "left out" for m in log.marks) == 0
    _turned_between_sides(log.marks)
    assert [m["did"] for m in log.marks].count("finished") == 1
    assert log.marks[-1]["did"] == "finished"
    # Both restarts are told, each confirmed against the saw before any other mark.
    restarts = [n for n, m in enumerate(log.marks) if m["did"] == "resumed"]
    assert len(restarts) == 2
    assert [log.marks[n + 1]["did"] for n in restarts] == ["confirmed", "confirmed"]
    assert _set_from_both_sides(log.marks) == Counter(range(1, points + 1))


def _turned_between_sides(marks: list[dict[str, Any]]) -> None:
    """The saw stands as each mark says it does: handle right at first, then as it was last turned."""
    side, in_file = 1, []
    for mark in marks:
        if mark["did"] == "turned":
            assert mark["side"] != side, f"turned to the side it stood at: {mark}"
            side = mark["side"]
            in_file.append((mark["stage"], side))
        elif mark["did"] in ("done", "shifted") and mark.get("side"):
            assert mark["side"] == side, f"worked from a side that the saw was not turned to: {mark}"
    turns = [key for key, _ in itertools.groupby(in_file)]
    assert [side for stage, side in turns if stage == "file"] == [1, 2]


def _set_from_both_sides(marks: list[dict[str, Any]]) -> Counter[int]:
    return Counter(m["tooth"] for m in marks if m["did"] == "done" and m["stage"] == "set" and "tooth" in m)
