"""Killed at any moment, as by a power cut: what the screen showed as done is on disk, and the place is found again."""

from __future__ import annotations

import random
import re
import time
from typing import Any

import pytest

from first_row import HEAD
from soak_table import tried

POINTS = 12

#: The walk of the small saw as the printed order has it (set before filing: NOYES, KING, ROSS, MTS), written down
#: by hand: stage, side, and the place as the screen names it. Tooth 1 leans away with the handle on the right.
WALK = [
    *[
        ("look over", 0, step)
        for step in (
            *(
                "bright points",
                "last cut",
                "all round",
                "plate",
                "handle",
                "crack",
                "hard teeth",
                "sizes",
                "high teeth",
            ),
            *("low teeth", "broken teeth", "line", "over the set", "points", "lean", "file", "plan"),
        )
    ],
    *[("level", 0, place) for place in ("pass 1", "flats")],
    *[("set", 1, str(tooth)) for tooth in range(1, POINTS + 1, 2)],
    *[("set", 2, str(tooth)) for tooth in range(2, POINTS + 1, 2)],
    ("set", 0, "measure"),
    *[("file", 1, str(tooth)) for tooth in range(1, POINTS + 1, 2)],
    *[("file", 2, str(tooth)) for tooth in range(2, POINTS + 1, 2)],
    ("dress", 1, "pass 1"),
    ("dress", 2, "pass 1"),
    *[("prove", 0, step) for step in ("sight", "needle", "trial cut")],
    *[("close", 0, step) for step in ("left out", "filings", "wipe", "put by")],
]


def place_of(mark: dict[str, Any]) -> tuple[str, int, str]:
    number = f"pass {mark['number']}" if "number" in mark else ""
    return mark["stage"], mark.get("side", 0), str(mark.get("tooth", "") or number or mark.get("step", ""))


def first_open(log: Any) -> tuple[str, int, str] | None:
    """The first place of the walk that no standing mark says is done or left out."""
    behind = {place_of(mark) for mark in log.standing() if mark["did"] in ("done", "left out")}
    assert behind <= set(WALK), behind - set(WALK)
    return next((place for place in WALK if place not in behind), None)


def shown_as_done(note: str, log: Any) -> bool:
    """Whether the log bears out what the screen's last words claim."""
    last = log.marks[-40:]
    if found := re.fullmatch(r"Marked (?:gullet|tooth) (\d+)(?: \((\d) strokes?\))?\.", note):
        return any(m["did"] == "done" and m.get("tooth") == int(found[1]) for m in last)
    if found := re.fullmatch(r"Marked (.+)\.", note):
        return any(m["did"] == "done" and place_of(m)[2] == found[1] for m in last) or found[1].startswith(
            "the saw is "
        )
    if found := re.fullmatch(r"Took back: .+\.", note):
        return any(m["did"] == "took back" for m in last)
    if found := re.fullmatch(r"Turned\. Side (\d) is in hand\.", note):
        return any(m["did"] == "turned" and m["side"] == int(found[1]) for m in last)
    if found := re.fullmatch(r"Understood: (.+)\.", note):
        return any(m["did"] == "acknowledged" and m["what"] == found[1] for m in last)
    return True


def counted_as_done(screen: list[str], log: Any) -> bool:
    """Whether what the screen counts in this stage and side is what the log counts, or counted a few marks ago.

    A few, because a mark is on disk before the screen shows it, and one may be a taking back.
    """
    row = next((row for row in screen if "NOW " in row and " done" in row), "")
    found = re.search(r"(\d+) of \d+ done", row)
    head = HEAD.search(screen[0])
    assert found is not None, "\n".join(screen)
    assert head is not None, "\n".join(screen)
    # Looking at the flats is counted by itself, after the passes.
    # Before the saw is round, what is counted is of the side that comes.
    here = (head[1].strip().lower(), int(head[3] or head[2] or 0), "NOW flats" in row)
    return int(found[1]) in [behind_in(log.before(later), here) for later in range(6)]


def behind_in(log: Any, here: tuple[str, int, bool]) -> int:
    """Places of a stage and side (and of the flats or all but them) that are done or left out."""
    behind = {place_of(mark) for mark in log.standing() if mark["did"] in ("done", "left out")}
    return sum((*place[:2], place[2] == "flats") == here for place in behind)


def kill_at_random(shed: Any, make: Any, reader: Any, times: int, seed: int) -> int:
    """Kill the program ``times`` times, going on after each; how many marks the last log holds."""
    chance = random.Random(seed)
    saw = shed.hang_up(points=POINTS)
    someone = make(shed.open("start", saw))
    someone.terminal.wait("NOW ")
    # Into the set, where every key marks a tooth.
    someone.go_on(lambda here: here.stage()[0] == "set" and here.at_work())
    for _ in range(times):
        tried()
        for _ in range(chance.randrange(3)):
            someone.step()
        _press_and_kill(someone, chance)
        log = reader(newest(shed))
        assert shown_as_done(someone.note(), log), someone.terminal.text()
        if "NOW " in someone.terminal.text() and not someone.terminal.in_frame():
            assert counted_as_done(someone.terminal.rows(), log), someone.terminal.text()
        place = first_open(log)
        if log.marks[-1]["did"] == "finished":
            someone = make(shed.open("start", saw))
            someone.terminal.wait("NOW ")
            someone.go_on(lambda here: here.stage()[0] == "set" and here.at_work())
            continue
        someone = make(shed.open("resume"))
        if place is None:
            someone.terminal.wait("Find the place on the saw")
            assert "Is this what comes next" in someone.terminal.text() or "the end" in someone.terminal.text()
        else:
            someone.wait_for_place()
            assert (*someone.stage(), someone.now()) == place, someone.terminal.text()
        someone.step()
        again = reader(newest(shed))
        # Nothing that was on disk is gone, and a torn end was at most the one mark being written.
        assert again.marks[: len(log.marks)] == log.marks
        assert again.rest == b""
    someone.terminal.kill()
    return len(reader(newest(shed)).marks)


def _press_and_kill(someone: Any, chance: random.Random) -> None:
    """A few keys at once, and the end at some moment of their being dealt with."""
    sent = {"Space": " ", "Esc": "\x1b", "⌫": "\x7f"}
    key = someone.boxes()[0][0]
    keys = sent.get(key, key) * chance.randint(1, 3)
    if chance.random() < 0.3:
        keys += "\x7f"
    someone.terminal.send(keys)
    until = time.monotonic() + chance.uniform(0.0, 0.09)
    while (left := until - time.monotonic()) > 0:
        someone.terminal.read(left)
    someone.terminal.kill()


def newest(shed: Any) -> Any:
    return max(shed.till.glob("logs/*/*.toml"), key=lambda path: path.stat().st_mtime_ns)


@pytest.mark.wide
def test_no_mark_shown_is_missing_and_the_place_is_right(shed: Any, person: Any, reader: Any) -> None:
    assert kill_at_random(shed, person, reader, times=3, seed=2) > 20


@pytest.mark.soak("killed at a terminal, at any moment")
@pytest.mark.parametrize("seed", range(10, 20))
def test_three_hundred_kills(seed: int, shed: Any, person: Any, reader: Any) -> None:
    assert kill_at_random(shed, person, reader, times=30, seed=seed) > 20
