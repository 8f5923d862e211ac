"""Killed before, in and after each call that writes, at every press there is: what was shown as done is on disk.

The presses come from the desk's own table of acts, at every kind of moment that a simulated filer meets, with every
digit, every answer to what an act asks, after a silence, and taken back again.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from made_saws import small_saw
from press_sweep import Killed, Moment, MortalDisk, Press, Sat, moments, presses
from random_walks import onward
from session.desk.key_table import ACTS, Group, of_group
from session.log.log_reader import read_log
from session.sentences.offers import Act
from session.trade.lengths import Length
from session.trade.saw import Cut, Leans
from session.walk.mark import Mark
from session.walk.rules import why_not
from session.walk.state import State
from session.walk.work_plan import make_plan
from soak_table import tried

HOWS = ("before", "half", "after", "refused")

#: Presses of the default run, out of all.
FEW = 20

_SET = Length.of(0.15)
SASH = small_saw(12, 3.0, set_per_side=_SET, least_per_side=Length.of(0.08), vise_jaw=Length.of(20.0))
RIP = small_saw(9, 5.0, cut=Cut.RIP, fleam=0.0, rake=2.0, sides=1, first_leans=Leans.UNSET, set_per_side=_SET)

#: The walks whose moments are swept: the saw, the filer's seed, whether it has a printed strip.
WALKS = ((SASH, 1, False), (SASH, 4, True), (RIP, 2, False))


@pytest.fixture(scope="module")
def met(tmp_path_factory: pytest.TempPathFactory) -> list[Moment]:
    """Every kind of moment of the walks."""
    found: dict[str, Moment] = {}
    for saw, seed, strip in WALKS:
        for moment in moments(saw, make_plan(saw, check_spacing=5), tmp_path_factory.mktemp("walk"), seed, strip=strip):
            found.setdefault(moment.asked, moment)
    return list(found.values())


def held(moment: Moment, press: Press, path: Path, *, back: bool) -> Iterator[str]:
    """What does not hold when the program is killed in ``press``, or in taking it back; one line for each."""
    last = Press(Act.TAKE_BACK) if back else press
    sound = Sat(moment, path)
    if back:
        sound.press(press)
    before, begun = sound.shown, sound.disk.calls
    sound.press(last)
    after, calls = sound.shown, sound.disk.calls
    sound.end()
    for at in range(begun + 1, calls + 1):
        for how in HOWS:
            tried()
            sat = Sat(moment, path, MortalDisk(at, how))
            reply = None
            try:
                if back:
                    sat.press(press)
                reply = sat.press(last)
            except Killed:
                pass
            shown = sat.shown
            sat.end()
            log = read_log(path)
            where = f"{moment.asked}: {'take back of ' * back}{press}: {how} call {at} of {calls}"
            if log.odd is not None:
                yield f"{where}: {log.odd}"
            if log.marks[: len(shown)] != shown:
                yield f"{where}: {len(shown)} marks shown, {len(log.marks)} on disk"
            if shown[: len(before)] != before or log.marks != after[: len(log.marks)]:
                yield f"{where}: other marks than those of the press"
            if how == "refused" and (reply is None or not reply.refused):
                yield f"{where}: it says “{reply.note if reply else ''}”, and the disk refused"
            if len(before) < len(log.marks) < len(after) and not goes_on(moment, log.marks):
                yield f"{where}: half of it made, and the walk comes to no end"


def goes_on(moment: Moment, marks: tuple[Mark, ...]) -> bool:
    """Whether a walk left in the middle of an act can be gone on with to its end."""
    state = State.replay(moment.plan, marks)
    at = marks[-1].at
    for _ in range(1_000):
        if state.finished:
            return True
        at += timedelta(seconds=5)
        mark = next(onward(state, at))
        if why_not(state, mark) is not None:
            return False
        state = state.after(mark)
    return False


def all_presses(met: list[Moment], path: Path) -> list[tuple[Moment, Press]]:
    return [(moment, press) for moment in met for press in presses(moment, path)]


@pytest.mark.wide
@pytest.mark.usefixtures("quick_decoding")
def test_a_few_presses_killed_at_each_call(met: list[Moment], tmp_path: Path) -> None:
    chance = random.Random(7)
    path = tmp_path / "log.toml"
    some = [(moment, press) for moment in chance.sample(met, 6) for press in presses(moment, path)]
    wrong = [one for moment, press in chance.sample(some, FEW) for one in held(moment, press, path, back=False)]
    assert wrong == []


@pytest.mark.soak("killed at each call of each press")
@pytest.mark.usefixtures("quick_decoding")
@pytest.mark.parametrize("back", [False, True], ids=["pressed", "taken back"])
def test_every_press_killed_at_each_call(met: list[Moment], tmp_path: Path, back: bool) -> None:
    path = tmp_path / "log.toml"
    wrong = [one for moment, press in all_presses(met, path) for one in held(moment, press, path, back=back)]
    assert wrong == []


@pytest.mark.soak("killed at each call of each press")
@pytest.mark.usefixtures("quick_decoding")
def test_the_sweep_presses_every_act_that_marks_something(met: list[Moment], tmp_path: Path) -> None:
    pressed = {press.act for _, press in all_presses(met, tmp_path / "log.toml") if not press.silent}
    shows = of_group(Group.SHOW, Group.LEAVE)
    assert {row.act for row in ACTS} - pressed - shows == set()
