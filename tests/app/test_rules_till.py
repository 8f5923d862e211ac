"""The till: leaving it takes two presses as well (bench rule 21)."""

from __future__ import annotations

from typing import Any

import pytest


@pytest.mark.parametrize("key", ["q", "ctrl+q", "ctrl+c"])
async def test_rule_21_no_single_key_leaves_the_till(shed: Any, key: str) -> None:
    shed.hang_up()
    async with shed.program() as person:
        await person.press(key)
        assert not person.app._exit
        assert "q again leaves" in person.words()
        await person.press(key)
        assert person.app._exit
        assert person.app.return_code == 0


async def test_rule_21_any_other_key_takes_leaving_the_till_back(shed: Any) -> None:
    shed.hang_up()
    async with shed.program() as person:
        await person.press("q", "down", "q")
        assert not person.app._exit
        assert "q again leaves" in person.words()
