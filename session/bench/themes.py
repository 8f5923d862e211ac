"""Colors: our own themes, and none at all where the person's terminal or NO_COLOR asks for that.

Contrast of each pair is measured by a test from these values (WCAG 2.2: 4.5:1 for text, 3:1 for state).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from textual.app import App
from textual.theme import BUILTIN_THEMES, Theme

from session.machine.clean_text import clean

USUAL: Final = "bench-dark"

#: The terminal's own color, whatever it is.
_OWN: Final = "ansi_default"

_STATES: Final = ("now", "done", "left-out", "ahead", "other", "steel", "flat", "file", "quiet")


def _theme(
    name: str, *, dark: bool, ground: str, text: str, raised: str, accent: str, alarm: str, **states: str
) -> Theme:
    assert set(states) == {state.replace("-", "_") for state in _STATES}
    return Theme(
        name=name,
        dark=dark,
        primary=accent,
        secondary=states["done"],
        warning=alarm,
        error=alarm,
        success=states["done"],
        accent=accent,
        foreground=text,
        background=ground,
        surface=ground,
        panel=raised,
        variables={f"ink-{key.replace('_', '-')}": value for key, value in states.items()},
    )


THEMES: Final = (
    _theme(
        "bench-dark",
        dark=True,
        ground="#14171a",
        text="#ece8df",
        raised="#23292e",
        accent="#f2c14e",
        alarm="#ff9d6c",
        now="#f2c14e",
        done="#7cc6a4",
        left_out="#ff9d6c",
        ahead="#9aa3aa",
        other="#737c83",
        steel="#a9b4bc",
        flat="#ffffff",
        file="#d9a86c",
        quiet="#b4bcc2",
    ),
    _theme(
        "bench-light",
        dark=False,
        ground="#f7f4ec",
        text="#1c1f22",
        raised="#e6e1d4",
        accent="#7a4a00",
        alarm="#a1260d",
        now="#7a4a00",
        done="#0f6145",
        left_out="#a1260d",
        ahead="#5f6a72",
        other="#757e85",
        steel="#5f6a72",
        flat="#1c1f22",
        file="#7d4e16",
        quiet="#4d555b",
    ),
    _theme(
        "bench-contrast",
        dark=True,
        ground="#000000",
        text="#ffffff",
        raised="#000000",
        accent="#ffff00",
        alarm="#ffb000",
        now="#ffff00",
        done="#00ff90",
        left_out="#ffb000",
        ahead="#c0c0c0",
        other="#909090",
        steel="#ffffff",
        flat="#ffff00",
        file="#00e0ff",
        quiet="#ffffff",
    ),
)


_TEXTUALS: Final = ("ansi", "block-cursor", "input-cursor", "input-selection", "screen-selection")

#: No colors at all: everything in the terminal's own two, and the cursor underlined: reversed they would look the same.
PLAIN: Final = Theme(
    name="bench-plain",
    ansi=True,
    primary=_OWN,
    secondary=_OWN,
    warning=_OWN,
    error=_OWN,
    success=_OWN,
    accent=_OWN,
    foreground=_OWN,
    background=_OWN,
    surface=_OWN,
    panel=_OWN,
    boost=_OWN,
    variables={
        **{f"ink-{state}": _OWN for state in _STATES},
        # What Textual's own styles name in a theme of terminal colors.
        **{f"{part}-{ground}": _OWN for part in _TEXTUALS for ground in ("foreground", "background")},
        "border-blurred": _OWN,
        "block-cursor-text-style": "bold",
        "input-cursor-text-style": "underline",
    },
)


def without_color(environment: Mapping[str, str]) -> str | None:
    """The theme to use where color is not wanted (NO_COLOR set and not empty), or None."""
    return PLAIN.name if environment.get("NO_COLOR") else None


def wear_theme(app: App[int], wanted: str | None) -> None:
    """Let ``app`` know our themes and wear the one ``wanted``, the usual one where there is none of that name."""
    for theme in (*THEMES, PLAIN):
        app.register_theme(theme)
    app.theme = wanted if wanted is not None and wanted in app.available_themes else USUAL


def theme_complaints(wanted: str | None) -> tuple[str, ...]:
    """One line for a theme that is none, which leaves the usual one; those of Textual work, but none is promised."""
    ours = [theme.name for theme in THEMES]
    if wanted is None or wanted in ours or wanted in BUILTIN_THEMES:
        return ()
    return (f'settings.toml: theme: "{clean(wanted)[:40]}" is no theme; allowed: {", ".join(ours)}',)


def inks_for(theme: Theme) -> dict[str, str]:
    """Colors of our own names that go with ``theme``, whoever made it."""
    if theme.ansi:
        return {f"ink-{state}": _OWN for state in _STATES}
    ours = next(one for one in THEMES if one.dark == theme.dark)
    return dict(ours.variables)
