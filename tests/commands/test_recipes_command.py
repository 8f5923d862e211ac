"""`toothline recipes`: one line a recipe, and who stands behind the short names in them."""

from __future__ import annotations

import re

import pytest

from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_recipes


def lines(capsys: pytest.CaptureFixture[str], *arguments: str) -> list[str]:
    capsys.readouterr()
    assert main(["recipes", *arguments]) == 0
    return capsys.readouterr().out.splitlines()


def test_each_recipe_is_one_line_with_its_cut_count_and_length(capsys: pytest.CaptureFixture[str]) -> None:
    for line, file in zip(lines(capsys), supplied_recipes(), strict=True):
        saw = load_recipe(file).saw
        assert line.split()[0] == file.stem
        assert f"{saw.cut}, {saw.count_as}, {saw.toothed_length}, rake {saw.rake:g}°" in line
        assert ("fleam" in line) == (saw.fleam > 0)


def test_every_short_name_in_a_recipe_is_explained(capsys: pytest.CaptureFixture[str]) -> None:
    told = dict(re.split(r"  +", line, maxsplit=1) for line in lines(capsys, "--sources"))
    assert all(words for words in told.values())
    for file in supplied_recipes():
        text = file.read_text(encoding="utf-8")
        assert "toothline recipes --sources" in text
        assert set(re.findall(r"\b[A-Z]{3,}\d*\b", text)) <= told.keys()
        assert {words for words in ("from memory", "judgment") if words in text} <= told.keys()
