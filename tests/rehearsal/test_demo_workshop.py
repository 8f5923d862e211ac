"""The demo folder: recipes in order, a line that can be evened, and saws that can all be sharpened to the end."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from plate_truth import worst_flat_mm
from session.files.flats_file import load_flats
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder, supplied_recipes
from session.rehearsal.plate import SEEN_MM
from session.till.saw_file_name import slug
from session.trade.evening import plan_evening
from session.walk.stages import Stage

DEMO = supplied_folder("demo")
SAWS = sorted(DEMO.glob("*.toml"))


@pytest.fixture(params=SAWS, ids=lambda path: path.stem)
def file(request: pytest.FixtureRequest) -> Path:
    return Path(request.param)


def test_there_are_saws_of_both_cuts_and_units() -> None:
    saws = [load_recipe(path).saw for path in SAWS]
    assert {saw.cut.value for saw in saws} == {"rip", "crosscut"}
    assert {saw.unit for saw in saws} == {"in", "mm"}
    assert {saw.sides for saw in saws} == {1, 2}


def test_a_recipe_is_in_order_and_named_as_its_file(file: Path) -> None:
    recipe = load_recipe(file)
    assert recipe.warnings == ()
    assert slug(recipe.saw.name) == file.stem


def test_the_file_says_where_its_figures_come_from(file: Path) -> None:
    head = file.read_text(encoding="utf-8").split("format = 1")[0]
    assert "from memory" in head
    assert "invented" in head


def test_the_saw_of_the_unattended_demo_is_short() -> None:
    assert 60 <= load_recipe(DEMO / "netloft-panel-saw.toml").saw.points <= 90


@pytest.mark.wide
def test_each_saw_is_sharpened_to_the_end(file: Path, walk_through: Callable[..., Any]) -> None:
    walk = walk_through(load_recipe(file).saw, 1)
    assert walk.state.finished
    assert walk.filer.differed == []
    assert worst_flat_mm(walk.filer.plate) <= SEEN_MM


@pytest.mark.wide
def test_the_long_saw_is_shifted_in_the_vise(walk_through: Callable[..., Any]) -> None:
    walk = walk_through(load_recipe(DEMO / "oar-loft-crosscut-saw.toml").saw, 1)
    assert len(walk.state.plan.reaches) == 3
    shifted = [mark for mark in walk.state.marks if mark.did == "shifted" and mark.stage is Stage.FILE]
    assert len(shifted) >= 4


def test_the_uneven_line_is_uneven_and_evened() -> None:
    measured = load_flats(DEMO / "lines" / "flats.toml")
    plan = plan_evening(measured.line, measured.depth.mm, measured.plate.mm)
    assert plan.worst_before_mm is not None
    assert plan.worst_after_mm is not None
    assert plan.worst_after_mm < plan.worst_before_mm
    assert plan.low == (20,)
    assert plan.extra_leveling_mm


def test_no_saw_of_the_workshop_has_the_name_of_a_supplied_one() -> None:
    supplied = [(load_recipe(path).saw, path) for path in supplied_recipes()]
    called = {name for saw, path in supplied for name in (slug(saw.name), path.stem)}
    assert called.isdisjoint({name for path in SAWS for name in (slug(load_recipe(path).saw.name), path.stem)})
    # A supplied saw is called by what it is; a place has the saw that hangs there.
    kinds = {word for saw, _ in supplied for word in (*saw.kind.split(), *str(saw.cut).split())}
    for saw, _ in supplied:
        assert set(saw.name.lower().split()) <= kinds | {"saw", "coarse", "fine", "progressive", "green", "wood"}


def test_the_guide_to_the_demo_names_every_file() -> None:
    text = (DEMO / "README.md").read_text(encoding="utf-8")
    for path in (*SAWS, DEMO / "lines" / "flats.toml"):
        assert path.name in text
