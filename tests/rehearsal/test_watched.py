"""The filer watched on the real screen: whoever watches changes the pace and leaves, and makes no mark."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual import events

from bench_shed import Shed
from called_here import call_here
from session.bench.widgets.words import Words
from session.cli import main
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.rehearsal.watched_bench import QUICKEST, SLOWEST, WatchedBench


@pytest.fixture
def sitting(tmp_path: Path) -> Sitting:
    return Shed(tmp_path / "till").sitting()


async def test_only_the_filers_keys_make_marks(sitting: Sitting, tmp_path: Path) -> None:
    clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
    app = WatchedBench(Shed(tmp_path / "till").till, Settings(), clock, sitting=sitting, speed=20.0, environment={})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()

        def note() -> str:
            return str(app.screen.query_one("#note", Words).content)

        before = len(sitting.state.marks)
        await pilot.press("y", "5", "backspace")
        assert len(sitting.state.marks) == before
        await pilot.press("space")
        assert app.held
        assert note().startswith("Watched, held")
        await pilot.press("space", "plus")
        assert (app.held, app.speed) == (False, 30.0)
        assert "30 times as quick" in note()
        for speed, key, furthest in ((1.2, "minus", SLOWEST), (900.0, "plus", QUICKEST)):
            app.speed = speed
            await pilot.press(key)
            assert app.speed == furthest
        event = events.Key("y", "y")
        event.set_sender(app)
        app.filer_presses(event)
        app.post_message(event)
        await pilot.pause()
        await app.let_pass(0.5)
        assert len(sitting.state.marks) == before + 1
        app.tell(ended=True)
        assert note() == "The sharpening is done. q leaves."
        await pilot.press("q")
        # Nobody waits for a pace that nobody watches.
        await app.let_pass(1e9)
    assert app.gone
    assert app.return_code == 0


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["0.5"], "allowed: 1 (as quick as a person) to 1000"),
        (["nan"], "allowed: 1 (as quick as a person) to 1000"),
        (["20", "--unattended"], "leave --unattended away"),
        (["20", "--to", "somewhere"], "leave --to away"),
        (["20", "--lay-out", "somewhere"], "leave one away"),
    ],
)
def test_what_does_not_go_together_is_refused(
    more: list[str], told: str, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["demo", "--watch", *more]) == 2
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_it_needs_a_terminal(tmp_path: Path) -> None:
    done = call_here(tmp_path, "demo", "--watch", environment={"TERM": "xterm"})
    assert done.returncode == 2
    assert b"toothline demo --watch needs a terminal" in done.stderr
