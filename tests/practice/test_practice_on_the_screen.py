"""The practice on the screen: its keys are the bench's, nothing is cut off, two presses leave, nothing is written."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from textual.screen import Screen
from textual.widget import Widget

from bench_shed import Shed
from called_here import call_here
from session.bench.app import BenchApp
from session.bench.screens.till_screen import TillScreen
from session.bench.widgets.touch_bar import TouchBar
from session.bench.widgets.words import Words
from session.desk.key_table import keymap
from session.files.settings import Settings
from session.machine.clock import SetClock
from session.practice.lesson import LessonAsks
from session.practice.lesson_words import page_of
from session.practice.practice_app import PracticeApp
from session.practice.practice_line import TEETH
from session.practice.practice_screen import PracticeScreen
from session.sentences.offers import Act


def clock() -> SetClock:
    return SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))


def shown(app: BenchApp) -> type[Screen[Any]]:
    return type(app.screen)


def told(screen: PracticeScreen, name: str) -> str:
    return str(screen.query_one(f"#{name}", Words).content)


def whole(screen: PracticeScreen) -> None:
    """Every word has its rows, and every widget its place on the screen."""
    for widget in screen.query(Widget):
        if widget.display and widget.region.area:
            assert widget.region.bottom <= screen.size.height, widget.id
    assert screen.query_one(TouchBar).region.height == 3
    for words in screen.query(Words):
        if words.display and words.region.area and words.id not in ("saw", "stage"):
            room = words.content_size
            assert words.get_content_height(room, screen.size, room.width) <= room.height, str(words.content)


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
async def test_the_screen_says_it_all_at_each_kind_of_moment(size: tuple[int, int]) -> None:
    time = clock()
    app = PracticeApp(Settings(keys={"more": ("x",)}), time, environment={})
    async with app.run_test(size=size) as pilot:
        screen = app.screen
        assert isinstance(screen, PracticeScreen)
        lesson = screen.lesson

        async def press(*keys: str) -> None:
            for key in keys:
                time.pass_s(1)
                await pilot.press(key)
            whole(screen)

        def on(until: LessonAsks) -> None:
            """Come near by the lesson alone: each moment was shown once already."""
            while lesson.asks is not until:
                lesson.act(
                    Act.STROKES if lesson.asks in (LessonAsks.LEAN, LessonAsks.GUIDE, LessonAsks.FIRST) else Act.DONE, 2
                )

        for tooth in range(1, TEETH):
            lesson.act(Act.STROKES, lesson.line.grade(tooth))
        await press("3")
        assert "gullet of 9" in page_of(lesson).of
        await press("2", "9", "9")
        assert told(screen, "came").startswith("Too far. Tooth")
        await press("backspace")
        assert "never gives back steel" in told(screen, "came")
        standing = lesson.line.plate.tooth(1).front
        await press("x")
        assert lesson.line.plate.tooth(1).front < standing
        await press("space")
        assert lesson.gullet == 3
        await pilot.press("space")
        assert "ignored" in told(screen, "came")
        on(LessonAsks.GUIDE)
        await press("1")
        assert "The trap" in told(screen, "came")
        assert "◀ handle" in told(screen, "stage")
        await press("2", "1")
        assert "The trap" in told(screen, "came")
        on(LessonAsks.END)
        await press("l")
        assert "What was learned" in told(screen, "lesson")
        await press("q")
        assert "q again leaves" in told(screen, "came")
        await press("l")
        for _ in range(2):
            await pilot.press("q")
    assert app.return_code == 0


async def test_a_touched_box_does_what_its_key_does_and_a_small_window_asks_for_room() -> None:
    time = clock()
    app = PracticeApp(Settings(), time, environment={})
    async with app.run_test(size=(80, 24)) as pilot:
        screen = app.screen
        assert isinstance(screen, PracticeScreen)
        await pilot.click(TouchBar, offset=(3, 1))
        assert screen.lesson.learned.grades == [(1, screen.lesson.line.grade(1))]
        await pilot.resize_terminal(70, 20)
        time.pass_s(1)
        await pilot.press("4")
        assert "needs 80 columns" in told(screen, "small")
        assert len(screen.lesson.learned.grades) == 1


async def test_in_ascii_nothing_else_is_shown() -> None:
    app = PracticeApp(Settings(drawing="ascii"), clock(), environment={"NO_COLOR": "1"})
    async with app.run_test(size=(80, 24)) as pilot:
        for key in ("4", "2", "2", "q"):
            await pilot.press(key)
        shown = [segment.text for strip in app.screen._compositor.render_strips() for segment in strip]
        assert "".join(shown).isascii()


async def test_the_demo_offers_it_from_its_till_and_comes_back_there(shed_here: Shed) -> None:
    time, settings = clock(), Settings()
    shed_here.hang_up()
    files = sorted(shed_here.till.path.rglob("*"))

    def practice() -> PracticeScreen:
        return PracticeScreen(keymap(settings.keys), time, 0.3)

    app = BenchApp(shed_here.till, settings, time, practice=practice, environment={})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        foot = app.screen.query_one("#till-foot", Words)
        assert "p practice" in str(foot.content)
        assert len(str(foot.content)) <= foot.content_region.width, "how to leave is not cut off"
        await pilot.press("p")
        assert shown(app) is PracticeScreen
        await pilot.press("4", "q", "q")
        await pilot.pause()
        assert shown(app) is TillScreen
        await pilot.press("q", "q")
    assert sorted(shed_here.till.path.rglob("*")) == files


async def test_elsewhere_the_till_does_not_offer_it(shed_here: Shed) -> None:
    app = BenchApp(shed_here.till, Settings(), clock(), environment={})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p")
        assert isinstance(app.screen, TillScreen)
        assert "practice" not in str(app.screen.query_one("#till-foot", Words).content)


@pytest.fixture
def shed_here(tmp_path: Path) -> Shed:
    return Shed(tmp_path / "till")


def test_without_a_terminal_it_goes_line_by_line_and_writes_nothing(tmp_path: Path) -> None:
    done = call_here(tmp_path, "practice", "--till", tmp_path / "till", environment={})
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"LEVEL, side 1 of 2: How wide is the flat?" in done.stdout
    assert list(tmp_path.iterdir()) == []
