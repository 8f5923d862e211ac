"""`toothline keys`: what a press is called, what it means, how fast it repeats, and how the test is left."""

from __future__ import annotations

import os
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from pathlib import Path

import pexpect
import pytest
from textual import events
from textual.pilot import Pilot

from at_the_terminal import drawn_rows, rest, send
from called_here import call_here
from session.bench.screens.key_test import KeyTestApp, Presses
from session.desk.key_table import ROWS, USUAL_KEYS, key_complaints, keymap
from session.files.settings import Settings
from session.machine.clock import SetClock
from session.sentences.offers import Act


def set_clock() -> SetClock:
    return SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))


class Foot:
    """Someone with a pedal at the key test: presses, and reads the screen."""

    def __init__(self, app: KeyTestApp, pilot: Pilot[int], clock: SetClock) -> None:
        self.app, self.pilot, self.clock = app, pilot, clock

    async def press(self, *keys: str, after_s: float = 0.5) -> None:
        for key in keys:
            self.clock.pass_s(after_s)
            send(self.app, events.Key(key, key if len(key) == 1 else None))
            await rest(self.pilot)

    def rows(self) -> list[str]:
        return [strip.text.strip() for strip in drawn_rows(self.app)]

    def newest(self) -> str:
        """The press on top of the list, wrapped rows joined."""
        text = " ".join(self.rows())
        return text.partition("see the word BELL.")[2].strip()


@asynccontextmanager
async def foot(settings: Settings | None = None, complaints: tuple[str, ...] = ()) -> AsyncIterator[Foot]:
    clock = set_clock()
    app = KeyTestApp(settings or Settings(), clock, complaints=complaints, environment={})
    async with app.run_test(size=(80, 24)) as pilot:
        await rest(pilot)
        yield Foot(app, pilot, clock)


@pytest.mark.parametrize("act", list(USUAL_KEYS))
async def test_each_usual_key_is_named_with_what_it_means(act: Act) -> None:
    for key in USUAL_KEYS[act]:
        async with foot() as someone:
            await someone.press(key)
            assert someone.newest().startswith(f"{key} = {act}: {ROWS[act].told}")


@pytest.mark.parametrize("key", ["tab", "shift+tab", "ctrl+p", "ctrl+q", "volumeup", "ctrl+c", "up", "z"])
async def test_any_other_key_is_shown_and_does_nothing(key: str) -> None:
    async with foot() as someone:
        await someone.press(key)
        assert someone.newest().startswith(f"{key} = ")
        assert ("nothing at the bench" in someone.newest()) == (key not in ("ctrl+q", "ctrl+c"))
        assert someone.app.is_running


async def test_a_remapped_key_is_told_as_ones_own_and_the_usual_meaning_is_gone() -> None:
    settings = Settings(keys={"done": ("b", "f9"), "nonsense": ("w",)})
    async with foot(settings) as someone:
        await someone.press("f9")
        assert someone.newest().startswith(f"f9 = done: {ROWS[Act.DONE].told} (your settings)")
        await someone.press("b")
        assert "= done: " in someone.newest().partition("b, 500 ms after the one before")[2]
        await someone.press("space")
        assert someone.newest().startswith("space, 500 ms after the one before = nothing at the bench")


async def test_a_pedal_that_repeats_is_seen() -> None:
    async with foot(Settings(guard_ms=300)) as someone:
        await someone.press("pagedown")
        await someone.press("pagedown", after_s=0.034)
        expected = "pagedown, 34 ms after the one before, IGNORED: it repeats too soon = done: "
        assert someone.newest().startswith(expected)
        await someone.press("pagedown", after_s=0.301)
        assert someone.newest().startswith("pagedown, 301 ms after the one before = done: ")


async def test_the_bell_is_heard_and_seen_until_the_next_key(monkeypatch: pytest.MonkeyPatch) -> None:
    async with foot() as someone:
        rung = []
        monkeypatch.setattr(someone.app, "bell", lambda: rung.append(1))
        told = "Press x: you should hear a bell and see the word BELL."
        assert told in someone.rows()
        await someone.press("x")
        assert rung == [1]
        assert f"BELL. {told}" in someone.rows()
        await someone.press("space")
        assert rung == [1]
        assert told in someone.rows()


@pytest.mark.parametrize("key", ["q", "ctrl+c"])
async def test_two_presses_leave_and_one_says_so(key: str) -> None:
    async with foot() as someone:
        await someone.press(key)
        assert f"Once more {key} leaves." in someone.rows()
        await someone.press("space", key)
        assert someone.app.is_running
        await someone.press(key)
        assert someone.app.return_value == 0


async def test_two_different_leaving_keys_do_not_leave() -> None:
    async with foot() as someone:
        await someone.press("q", "ctrl+c", "q")
        assert someone.app.is_running


async def test_a_pedal_that_sends_a_mouse_button_is_shown() -> None:
    async with foot() as someone:
        await someone.pilot.click(offset=(10, 12))
        await rest(someone.pilot)
        assert someone.newest().startswith("mouse button 1 = nothing at the bench")


async def test_more_presses_than_rows_keep_the_newest_and_the_way_out_on_screen() -> None:
    async with foot() as someone:
        await someone.press(*["z"] * 60, "pageup")
        assert someone.newest().startswith("pageup, 500 ms after the one before = look back: ")
        assert someone.rows()[-1] == "q twice, or Ctrl+C twice, leaves. Nothing is marked here."


async def test_complaints_of_the_settings_are_shown() -> None:
    async with foot(complaints=key_complaints({"non[/]sense": ("x",)})) as someone:
        assert any('"non[/]sense" is no act; allowed: "done"' in row for row in someone.rows())


def test_a_name_that_is_no_act_changes_no_key() -> None:
    assert keymap({"nonsense": ("space",)}) == USUAL_KEYS
    assert key_complaints({"done": ("x",)}) == ()


@pytest.mark.parametrize("digit", list("0123456789"))
def test_a_digit_counts_strokes(digit: str) -> None:
    pressed = Presses(USUAL_KEYS, set_clock(), 0.3).read(digit)
    assert (pressed.act, pressed.remapped, pressed.after_s) == (Act.STROKES, False, None)


def test_only_keys_that_move_on_are_guarded() -> None:
    clock = set_clock()
    presses = Presses(USUAL_KEYS, clock, 0.3)
    ignored = []
    for key in ("pageup", "pageup", "space", "full_stop", "space", "y", "1"):
        ignored.append(presses.read(key).ignored)
        clock.pass_s(0.1)
    assert ignored == [False, False, False, False, True, True, True]


PROGRAM = [sys.executable, "-m", "session"]
ENVIRONMENT = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}


@pytest.mark.parametrize("term", ["xterm-256color", "dumb"])
def test_without_a_terminal_it_says_so_in_one_line(tmp_path: Path, term: str) -> None:
    done = call_here(tmp_path, "keys", "--till", tmp_path, environment={**ENVIRONMENT, "TERM": term})
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"toothline: toothline keys needs a terminal")
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.wide
def test_at_a_terminal_it_opens_with_the_tills_keys_and_leaves_by_two_presses(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text('[keys]\nflag = ["w"]\n', encoding="utf-8")
    child = pexpect.spawn(
        PROGRAM[0],
        [*PROGRAM[1:], "keys", "--till", str(tmp_path)],
        env={**ENVIRONMENT, "TERM": "xterm-256color"},
        timeout=30,
        dimensions=(24, 80),
    )
    child.expect_exact(b"twice, leaves")
    child.send("w")
    child.expect_exact(b"flag this place")
    child.send("q")
    child.expect_exact(b"Once more")
    child.send("q")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["settings.toml"]


def test_a_change_that_leaves_an_act_without_a_key_is_refused_and_told() -> None:
    robbed = {"pause": ("y",)}
    assert keymap(robbed) == USUAL_KEYS
    assert 'leaves "agree" without a key' in key_complaints(robbed)[0]
    both = {"pause": ("y",), "agree": ("j",)}
    assert keymap(both)[Act.PAUSE] == ("y",)
    assert keymap(both)[Act.AGREE] == ("j",)
    assert key_complaints(both) == ()


def test_digits_count_strokes_and_mean_nothing_else() -> None:
    assert keymap({"done": ("1",)}) == USUAL_KEYS
    assert '"1" counts strokes' in key_complaints({"done": ("1",)})[0]
