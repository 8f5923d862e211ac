"""Opening a screen styles each of its widgets once; another theme styles all of them anew."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from textual.color import Color
from textual.css.stylesheet import Stylesheet
from textual.dom import DOMNode
from textual.widget import Widget

from bench_shed import Shed
from session.bench.themes import THEMES
from session.files.settings import Settings


@pytest.fixture
def styled(monkeypatch: pytest.MonkeyPatch) -> Counter[DOMNode]:
    """How often each widget was styled."""
    counted: Counter[DOMNode] = Counter()
    apply = Stylesheet.apply

    def counting(sheet: Stylesheet, node: DOMNode, **how: Any) -> None:
        if isinstance(node, Widget):
            counted[node] += 1
        apply(sheet, node, **how)

    monkeypatch.setattr(Stylesheet, "apply", counting)
    return counted


@pytest.mark.wide
async def test_each_widget_is_styled_once_as_its_screen_opens(
    shed: Shed, styled: Counter[DOMNode], size: tuple[int, int]
) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        bench = list(person.app.screen.walk_children(with_self=True))
        assert len(bench) > 15
        assert {styled[widget] for widget in bench} == {1}
        await person.press("question_mark")
        assert person.app.screen not in bench
        # Its body is styled again, as it takes the keys.
        assert styled[person.app.screen] == 1


async def test_the_style_sheet_is_parsed_once_with_the_colors_of_the_start(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    anew: list[Stylesheet] = []
    reparse = Stylesheet.reparse

    def parsed_anew(sheet: Stylesheet) -> None:
        anew.append(sheet)
        reparse(sheet)

    monkeypatch.setattr(Stylesheet, "reparse", parsed_anew)
    async with shed.program(shed.at("file", side=1), settings=Settings(theme="bench-light")) as person:
        assert anew == []
        wanted = next(theme.background for theme in THEMES if theme.name == "bench-light")
        assert person.app.screen.styles.background == Color.parse(wanted or "")
        person.app.theme = "bench-contrast"
        await person.press("y")
        assert len(anew) == 1
        assert person.app.screen.styles.background == Color.parse("#000000")


async def test_a_screen_seen_again_is_styled_for_the_theme_of_now(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        bench = person.app.screen
        await person.press("question_mark")
        before = bench.styles.background
        person.app.theme = "bench-light"
        await person.press("escape")
        assert person.app.screen is bench
        assert bench.styles.background != before
