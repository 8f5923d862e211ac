"""Each page of the form for one's own saw as text, at 80×24: a rip saw's, and the fleam of a crosscut saw."""

from __future__ import annotations

import pytest

from bench_shed import Shed
from golden_bench import Golden

SIZE = (80, 24)

#: What is pressed on each page of a dovetail saw, in the order of the pages.
DOVETAIL = {
    "units": ("enter",),
    "name": (*"Boat-shed dovetail", "enter"),
    "start from": ("enter",),
    "kind": ("8",),
    "cut": ("1",),
    "toothed length": (*"10", "enter"),
    "teeth": (*"15", "enter"),
    **dict.fromkeys(("points in all", "plate", "over the points", "set, each side", "rake", "fleam"), ("enter",)),
    **dict.fromkeys(("tooth 1 leans", "file's face", "held at once", "wood", "hang it up"), ("enter",)),
}


@pytest.mark.wide
async def test_the_pages_of_a_rip_saw(shed: Shed, golden: Golden) -> None:
    async with shed.program(size=SIZE) as person:
        await person.press("n")
        for page, keys in DOVETAIL.items():
            assert f"▶{page}" in person.text()
            golden(f"form-{page.replace(' ', '-').replace(',', '').replace(chr(39), '')}.txt", _shown(person.rows()))
            await person.press(*("space" if key == " " else key for key in keys))
        assert "Hung up:" in person.text()


@pytest.mark.wide
async def test_a_crosscut_saw_is_asked_its_fleam(shed: Shed, golden: Golden) -> None:
    async with shed.program(size=SIZE) as person:
        await person.press("n", "enter", *"Hand", "enter", "enter", "4", "2", *["down"] * 7)
        golden("form-fleam-crosscut.txt", _shown(person.rows()))


def _shown(rows: list[str]) -> str:
    return "\n".join(row.rstrip() for row in rows) + "\n"
