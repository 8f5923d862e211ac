"""Contrast of every theme, computed from its own colors (WCAG 2.2, 1.4.3 and 1.4.11; bench rule 7)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.color import Color
from textual.theme import Theme

import session.bench
from session.bench.themes import THEMES, without_color

STYLE = Path(session.bench.__file__).with_name("style.tcss").read_text(encoding="utf-8")

TEXT = 4.5
STATE = 3.0

#: Colors that only ever draw shapes and large characters, never running text.
SHAPES = {"steel", "flat", "file", "ahead", "other"}


def luminance(color: Color) -> float:
    """Relative luminance as WCAG 2.2 defines it."""

    def channel(value: int) -> float:
        share = value / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    return 0.2126 * channel(color.r) + 0.7152 * channel(color.g) + 0.0722 * channel(color.b)


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(Color.parse(one)), luminance(Color.parse(other))), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_measure_itself() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # a published WCAG example pair


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_text_and_states_stand_out_from_every_ground(theme: Theme) -> None:
    grounds = {"background": theme.background, "panel": theme.panel}
    text = {"foreground": theme.foreground, "primary": theme.primary, "warning": theme.warning}
    inks = {name.removeprefix("ink-"): color for name, color in theme.variables.items() if name.startswith("ink-")}
    assert set(inks) > SHAPES
    poor = []
    for ground_name, ground in grounds.items():
        for name, color in {**text, **inks}.items():
            assert ground is not None
            assert color is not None
            needed = STATE if name in SHAPES else TEXT
            if contrast(color, ground) < needed:
                poor.append(f"{name} on {ground_name}: {contrast(color, ground):.2f} < {needed}")
    assert poor == []


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_on_the_line_what_is_done_stands_out_most_and_the_other_side_least(theme: Theme) -> None:
    assert theme.background is not None
    ground = theme.background
    other, ahead, done = (contrast(theme.variables[f"ink-{state}"], ground) for state in ("other", "ahead", "done"))
    assert other < ahead < done
    assert re.search(r"\.ink--ahead \{[^}]*bold", STYLE) is None


def test_the_style_sheet_uses_only_colors_that_are_measured_here() -> None:
    used = set(re.findall(r"\$([a-z-]+)", STYLE))
    measured = {"background", "foreground", "panel", "primary", "warning"}
    measured |= {name for theme in THEMES for name in theme.variables}
    assert used <= measured


def test_nothing_is_dim() -> None:
    assert "dim" not in re.findall(r"text-style:\s*([^;]+);", STYLE)
    assert "opacity" not in STYLE


@pytest.mark.parametrize(("value", "plain"), [("1", True), ("yes", True), ("", False), (None, False)])
def test_no_color_is_honored_when_set_and_not_empty(value: str | None, plain: bool) -> None:
    environment = {} if value is None else {"NO_COLOR": value}
    assert (without_color(environment) is not None) is plain
