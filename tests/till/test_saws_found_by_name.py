"""A saw of a till, found by any name that a person may call it by."""

from __future__ import annotations

from pathlib import Path

import pytest

from made_history import (
    DAY0,
    SLUG,
    filed,
    write_log,
)
from session.files.supplied import supplied_folder
from session.machine.refusal import Refusal
from session.till.known_saws import find_saw, known_saws
from session.till.till_folder import Till


@pytest.mark.parametrize(
    "text", ["Crosscut panel saw", "crosscut-panel-saw", "CROSSCUT panel_saw", "panel-by-the-door"]
)
def test_a_saw_is_found_by_any_of_its_names(text: str, tmp_path: Path) -> None:
    values = (supplied_folder("recipes") / "crosscut-panel.toml").read_text()
    name = next(line for line in values.splitlines() if line.startswith("name"))
    (tmp_path / "panel-by-the-door.toml").write_text(values.replace(name, 'name = "Crosscut panel saw"'))
    assert find_saw(known_saws([Till(tmp_path)]), text).slug == SLUG
    assert [saw.slug for saw in known_saws([Till(tmp_path)])] == [SLUG]


def test_an_unknown_saw_is_told_those_near_it(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="holds none yet"):
        find_saw(known_saws([Till(tmp_path)]), "panel")
    write_log(tmp_path, DAY0, filed(1))
    with pytest.raises(Refusal, match=f"near it: {SLUG}"):
        find_saw(known_saws([Till(tmp_path)]), "crosscut panell saw")
    with pytest.raises(Refusal, match=f"known: {SLUG}") as refused:
        find_saw(known_saws([Till(tmp_path)]), "\x1b[2J../../etc")
    assert str(refused.value).isprintable()
