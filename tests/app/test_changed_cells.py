"""What the terminal is sent: the cells that changed and hardly more, so that it shows what the screen has."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from typing import Any
from unittest.mock import patch

import pyte
import pytest
from rich.color import ColorSystem
from rich.style import Style
from textual.app import App
from textual.geometry import Region
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget

from at_the_terminal import drawn_rows
from bench_person import Person
from bench_shed import Shed, works_at
from session.bench.widgets.drawing import Drawing
from session.bench.widgets.kept_lines import KeptLines
from session.walk.stages import Stage

_CONTROL = re.compile(r"\x1b\[[0-9;?]*[a-zA-Z]")


class Sent:
    """All that was sent to a terminal, and that terminal."""

    def __init__(self, size: tuple[int, int]) -> None:
        self.screen = pyte.Screen(*size)
        self._stream = pyte.Stream(self.screen)
        self.last = ""
        #: While what is to be sent is worked out.
        self.asks = False

    def take(self, text: str) -> None:
        self.last += text
        self._stream.feed(text)

    def looks(self) -> list[list[Any]]:
        return [[self.screen.buffer[y][x] for x in range(self.screen.columns)] for y in range(self.screen.lines)]


def drawn_whole(person: Person, size: tuple[int, int]) -> list[list[Any]]:
    """The screen as Textual draws it whole, with no line that was kept."""
    whole = Sent(size)
    with patch.object(KeptLines, "render_lines", Widget.render_lines):
        rows = drawn_rows(person.app)
    for y, strip in enumerate(rows):
        whole.take(f"\x1b[{y + 1};1H{strip.render(person.app.console)}")
    return whole.looks()


@pytest.fixture(autouse=True)
def draw_once() -> None:
    """Each change is drawn here, as there is a terminal to take it."""


@pytest.fixture
def sent(size: tuple[int, int], monkeypatch: pytest.MonkeyPatch) -> Sent:
    """A terminal in place of the one that a test has none of."""
    terminal = Sent(size)

    def display(app: App[Any], _: Screen[Any], update: Any) -> None:
        if update is not None:
            terminal.asks = True
            terminal.take(update.render_segments(app.console))
            terminal.asks = False

    def rendered(cls: type[Strip], style: Style, text: str, color_system: ColorSystem) -> str:
        ansi = cls.render_ansi(style, color_system)
        return f"\x1b[{ansi}m{text}\x1b[0m" if ansi else text

    monkeypatch.setattr(App, "_display", display)
    # A style keeps what it was rendered to, be it for the terminal of another test that had other colors.
    monkeypatch.setattr(Strip, "render_style", classmethod(rendered))
    return terminal


KEYS = ("2", "space", "f", "backspace", "3", "escape", "escape", "y", "question_mark", "escape", "2", "l", "escape")


@pytest.mark.wide
@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("Boat-shed sash saw", (80, 24)),
        ("Boat-shed 鋸 saw", (80, 24)),
        ("Boat-shed e\\u0301 saw", (80, 24)),
        ("Boat-shed 鋸 saw", (120, 36)),
    ],
)
async def test_the_terminal_shows_what_the_screen_has_after_every_key(
    shed: Shed, sent: Sent, size: tuple[int, int], name: str
) -> None:
    async with shed.program(shed.at("file", side=1, name=name), size=size) as person:
        assert sent.looks() == drawn_whole(person, size)
        for key in KEYS:
            await person.press(key, after_s=1)
            assert sent.looks() == drawn_whole(person, size), key


async def test_a_mark_sends_the_cells_that_changed_and_few_more(shed: Shed, sent: Sent, size: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", side=1, done=2, points=60, without=(Stage.SET,)), size=size) as person:
        before = sent.looks()
        sent.last = ""
        await person.press("2", after_s=4)
        pairs = zip(before, sent.looks(), strict=True)
        changed = sum(was != now for old, new in pairs for was, now in zip(old, new, strict=True))
        assert changed > 20
        # A few cells that stayed lie between two that changed, and are gone along.
        assert changed <= len(_CONTROL.sub("", sent.last)) <= 1.3 * changed
        assert len(_CONTROL.findall(sent.last)) <= changed


async def test_what_lies_below_an_opaque_screen_sends_nothing_however_late_it_is_laid_out(
    shed: Shed, sent: Sent, size: tuple[int, int]
) -> None:
    shed.at("file", side=1).close()
    async with shed.program(size=size) as person:
        await person.press("enter")
        assert "NOW 1 " in person.places()
        sent.last = ""
        # The till, and below it Textual's own first screen.
        below = person.app.screen_stack[:-1]
        assert len(below) == 2
        for screen in below:
            screen.refresh(layout=True)
            await person.settle()
            screen._on_timer_update()
            await person.settle()
        assert sent.last == ""
        await person.press("q", "h")
        assert "the till at" in person.rows()[0]
        assert sent.looks() == drawn_whole(person, size)


async def test_a_screen_drawn_anew_is_sent_whole(shed: Shed, sent: Sent, size: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        # As after a stop: nobody knows what another program has left there.
        sent.screen.reset()
        sent.screen.set_mode(pyte.modes.LNM)
        person.app.refresh()
        await person.settle()
        assert sent.looks() == drawn_whole(person, size)


async def test_a_mark_lays_nothing_out_anew_and_draws_only_rows_that_changed(
    shed: Shed, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    layouts, drawn = Counter[str](), Counter[str | None]()
    lay_out, draw = Screen._refresh_layout, Drawing.render_line

    def laid_out(screen: Screen[Any], *args: Any, **how: Any) -> None:
        layouts[type(screen).__name__] += 1
        lay_out(screen, *args, **how)

    def line_drawn(drawing: Drawing, y: int) -> Strip:
        drawn[drawing.id] += 1
        return draw(drawing, y)

    monkeypatch.setattr(Screen, "_refresh_layout", laid_out)
    monkeypatch.setattr(Drawing, "render_line", line_drawn)
    async with shed.program(shed.at("file", side=1, done=2, points=60, without=(Stage.SET,)), size=size) as person:
        await person.press("2", after_s=4)
        assert person.rows()
        layouts.clear()
        drawn.clear()
        await person.press("2", after_s=4)
        assert person.rows()
        assert not layouts
        rows = {drawing.id: drawing.size.height for drawing in person.app.screen.query(Drawing)}
        # The sign at the edge stays as it is, and the frame of what else is drawn.
        assert set(drawn) == {"number", "panel", "line"}
        assert all(count <= rows[name] for name, count in drawn.items())
        assert drawn["number"] < rows["number"]


async def test_a_mark_is_drawn_at_once_and_asks_no_widget_that_stayed(
    shed: Shed, sent: Sent, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    passes, asked = Counter[str](), Counter[str | None]()
    refresh = Screen._compositor_refresh

    def drawn_by_textual(screen: Screen[Any]) -> None:
        passes[type(screen).__name__] += 1
        refresh(screen)

    def counted(render: Callable[[Any, Region], list[Strip]]) -> Callable[[Any, Region], list[Strip]]:
        def rendered(widget: Widget, crop: Region) -> list[Strip]:
            asked[widget.id or type(widget).__name__] += sent.asks
            return render(widget, crop)

        return rendered

    monkeypatch.setattr(Screen, "_compositor_refresh", drawn_by_textual)
    monkeypatch.setattr(Widget, "render_lines", counted(Widget.render_lines))
    monkeypatch.setattr(KeptLines, "render_lines", counted(KeptLines.render_lines))
    async with shed.program(shed.at("file", side=1, done=2, points=60, without=(Stage.SET,)), size=size) as person:
        await person.press("2", after_s=4)
        passes.clear()
        asked.clear()
        await person.press("2", after_s=4)
        assert not passes
        # Neither the heads, nor the sign at the edge, nor the boxes, nor what holds them.
        assert +asked == Counter(("number", "panel", "line", "places", "instruction", "note"))
        assert sent.looks() == drawn_whole(person, size)


async def test_what_takes_the_room_of_another_is_drawn_once_it_has_it(
    shed: Shed, sent: Sent, size: tuple[int, int]
) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        shown = person.app.screen.query("#number")
        assert [number.display for number in shown] == [True]
        # A step has a name and no number.
        await shed.brought(person, works_at("close"))
        assert [number.display for number in shown] == [False]
        assert sent.looks() == drawn_whole(person, size)


async def test_a_press_that_opens_a_sheet_shows_nothing_before_it(
    shed: Shed, sent: Sent, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        await person.press("2", after_s=4)
        told: list[str] = []
        monkeypatch.setattr(sent, "take", told.append)
        await person.press("q")
        first = next(text for text in told if text)
        assert "Leave the bench?" in first
