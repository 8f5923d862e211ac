"""Only signs that common monospace fonts hold are shown, and the README says which fonts were looked at."""

from __future__ import annotations

import tomllib
from pathlib import Path

from session.pictures.gallery import gallery
from session.pictures.picture_rows import plain

ROOT = Path(__file__).parents[2]
FONTS = tomllib.loads((Path(__file__).parent / "fonts.toml").read_text("utf-8"))


def shown() -> set[str]:
    """Every character beyond ASCII in a picture, or on a screen that was looked at and found good."""
    found = {char for rows in gallery().values() for line in plain(rows) for char in line}
    for golden in (ROOT / "tests" / "app" / "goldens").glob("*.txt"):
        found.update(golden.read_text("utf-8"))
    return {char for char in found if not char.isascii()}


def test_every_sign_shown_was_looked_for_in_the_fonts() -> None:
    found = shown()
    assert "▒" in found
    assert sorted(found - set(FONTS["signs"]) - set(FONTS["beside_words"])) == []


def test_the_fonts_named_first_hold_all_and_the_others_are_named_as_lacking_some() -> None:
    by_font = {name.rsplit(" ", 1)[0]: set(lacks) & set(FONTS["signs"]) for name, lacks in FONTS["lacks"].items()}
    words = " ".join((ROOT / "README.md").read_text("utf-8").split())
    told = words[words.index("block and line characters that") : words.index("draws with plain characters")]
    holding, lacking = told.split("For a font with fewer")
    assert {name for name, lacks in by_font.items() if not lacks} == {name for name in by_font if name in holding}
    assert {name for name, lacks in by_font.items() if lacks} == {name for name in by_font if name in lacking}
    assert len(by_font) == 10


def test_no_sign_is_braille() -> None:
    assert not any(0x2800 <= ord(sign) <= 0x28FF for sign in shown() | set(FONTS["signs"]))
