"""A progressive saw at the bench: the guide block is named where its rake changes, places stand where they are."""

from __future__ import annotations

from typing import Any

import pytest

from bench_shed import Shed
from session.files.recipe import load_recipe
from session.log.sitting import Sitting
from session.walk.front_question import Ask
from session.walk.work_plan import make_plan

RECIPE = """\
format = 1
[saw]
name = "Boat-shed long rip"
kind = "rip"
cut = "rip"
toothed_length = "60 mm"
plate_thickness = "1 mm"
[teeth]
pitch = "4 mm"
rake = 4
[[teeth.zone]]
begins = "40 mm"
pitch = "2 mm"
rake = -2
"""


def sitting(shed: Shed) -> Sitting:
    """A sharpening at the first gullet of side 1."""
    shed.till.path.mkdir(parents=True)
    path = shed.till.path / "saw.toml"
    path.write_text(RECIPE, encoding="utf-8")
    recipe = load_recipe(path)
    begun = Sitting.start(shed.till.log_folder("boat-shed-long-rip"), recipe, make_plan(recipe.saw), shed.clock)

    def there(one: Any) -> bool:
        return one.state.place.stage == "file" and one.state.front.ask is Ask.WORK

    return shed.answered(begun, there)


@pytest.mark.wide
async def test_the_block_and_the_distance_follow_the_zones(shed: Shed, size: tuple[int, int]) -> None:
    named = {}
    async with shed.program(sitting(shed), size=size) as person:
        while "FILE" in person.rows()[0]:
            if person.at_work():
                tooth = person.places().split("NOW ")[1].split()[0]
                side = person.rows()[0].partition("side ")[2][0]
                words = person.words()
                rake = words.partition("Rake here: ")[2].partition("°")[0]
                named[side, tooth] = rake, f"Guide block at rake {rake}° from here on; then file this gullet." in words
                if tooth in ("11", "13"):
                    assert f"{40 + 2 * (int(tooth) - 11)} mm, heel to tooth {tooth}" in words
            first = person.boxes()[0][0]
            await person.press({"Space": "space"}.get(first, first))
    changed = {where for where, (_, told) in named.items() if told}
    assert changed == {("1", "1"), ("1", "11"), ("2", "2"), ("2", "12")}
    assert {tooth for (_, tooth), (rake, _) in named.items() if rake == "-2"} == {str(n) for n in range(11, 22)}
    assert {tooth for (_, tooth), (rake, _) in named.items() if rake == "4"} == {str(n) for n in range(1, 11)}
