"""The till: leaving it takes two presses as well (bench rule 21)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from session.machine.refusal import Refusal
from session.till.till_folder import Till


@pytest.mark.parametrize("key", ["q", "ctrl+q", "ctrl+c"])
async def test_rule_21_no_single_key_leaves_the_till(shed: Any, key: str) -> None:
    shed.hang_up()
    async with shed.program() as person:
        await person.press(key)
        assert not person.left()
        assert "q again leaves" in person.words()
        await person.press(key)
        assert person.left()
        assert person.app.return_code == 0


async def test_rule_21_any_other_key_takes_leaving_the_till_back(shed: Any) -> None:
    shed.hang_up()
    async with shed.program() as person:
        await person.press("q", "down", "q")
        assert not person.left()
        assert "q again leaves" in person.words()


async def test_a_till_whose_logs_cannot_be_listed_says_so_and_still_opens(shed: Any, monkeypatch: Any) -> None:
    def refuse(till: Till) -> list[Path]:
        raise Refusal("logs: cannot be looked into", 4)

    shed.hang_up()
    monkeypatch.setattr(Till, "log_folders", refuse)
    async with shed.program() as person:
        assert "cannot be looked into" in person.words()
        assert "Boat-shed sash saw" in person.words()
