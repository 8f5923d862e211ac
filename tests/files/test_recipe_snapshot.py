"""The snapshot of a recipe that a log header keeps, read back."""

from __future__ import annotations

from pathlib import Path

import pytest

from session.files.recipe import load_recipe, recipe_from_values
from session.files.supplied import find_recipe
from session.machine.refusal import Refusal


def test_a_snapshot_reads_back_to_the_same_saw() -> None:
    recipe = load_recipe(find_recipe("crosscut-panel", []))
    again = recipe_from_values(recipe.values, "logs/x.toml")
    assert again.saw == recipe.saw
    assert again.saw.vise_jaw.text == recipe.saw.vise_jaw.text
    assert again.values == recipe.values
    assert again.source == Path("logs/x.toml")


def test_a_snapshot_of_a_later_version_loads_with_a_word() -> None:
    values = load_recipe(find_recipe("crosscut-panel", [])).values
    later = recipe_from_values({**values, "teeth": {**values["teeth"], "zones": [1]}, "notes": "x"})
    assert later.saw == recipe_from_values(values).saw
    assert [warning.split(":")[0] for warning in later.warnings] == ["teeth.zones", "notes"]


def test_a_bad_snapshot_names_the_log() -> None:
    with pytest.raises(Refusal) as caught:
        recipe_from_values({"format": 1, "teeth": {"rake": "x"}}, "logs/x.toml")
    assert caught.value.lines[0] == "logs/x.toml: saw: is missing; write a table [saw]"
    assert any(error.startswith('logs/x.toml: teeth.rake: "x" is not a number') for error in caught.value.lines)
