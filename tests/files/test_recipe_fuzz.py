"""Whatever is in a recipe, it loads or gives Refusal; and what loads is a saw that can be worked on."""

from __future__ import annotations

import math
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unicodedata import bidirectional, category

import pytest
import tomli_w
from hypothesis import example, given, settings
from hypothesis import strategies as st

from law_budget import examples
from session.files.recipe import Recipe, load_recipe, recipe_from_values
from session.files.recipe_tables import FileTable, RecipeModel, SawTable, SetTable, TeethTable, WorkTable
from session.files.settings import Settings, load_settings
from session.machine.refusal import Refusal
from session.trade.reaches import reaches
from session.trade.tooth import tooth_of
from soak_table import tried

LENGTHS = st.builds(
    lambda amount, unit: f"{amount} {unit}",
    st.one_of(
        st.integers(-5, 4000), st.floats(0, 100).map(lambda value: round(value, 4)), st.just("3 1/2"), st.just("1e3")
    ),
    st.sampled_from(["in", "mm", "thou", "cm", "m", "", "ft", '"']),
)
WORDS = st.sampled_from(
    [
        *("rip", "crosscut", "panel", "dovetail", "away", "unset", "set first", "file first", "heel", "toe", "handle"),
        *("dry hardwood", "green or wet", "", "\x1b[0m", "[/]", "n" * 200),
    ]
)
ANY = st.recursive(
    st.one_of(
        LENGTHS, WORDS, st.integers(), st.integers(-2, 50), st.floats(), st.booleans(), st.text(max_size=8), st.dates()
    ),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=4,
)
TURNS = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
TABLES = {"saw": SawTable, "teeth": TeethTable, "set": SetTable, "file": FileTable, "work": WorkTable}


def table_of(model: type[Any]) -> st.SearchStrategy[dict[str, Any]]:
    return st.dictionaries(st.sampled_from(list(model.key_names())) | st.text(max_size=5), ANY, max_size=8)


WILD = st.fixed_dictionaries(
    {"format": st.just(1) | ANY},
    optional={name: table_of(model) | ANY for name, model in TABLES.items()} | {"other": ANY},
)
SOUND = st.fixed_dictionaries(
    {
        "format": st.just(1),
        "saw": st.fixed_dictionaries(
            {
                "name": st.text(min_size=1, max_size=20),
                "kind": st.sampled_from(["rip", "panel", "other"]),
                "cut": st.sampled_from(["rip", "crosscut"]),
                "toothed_length": LENGTHS,
                "plate_gauge": st.integers(1, 36),
            }
        ),
        "teeth": st.fixed_dictionaries(
            {"rake": st.floats(-15, 45), "points_per_inch": st.floats(1.5, 80)},
            optional={"fleam": st.floats(0, 45), "slope": st.floats(-30, 30)},
        ),
    },
    optional={
        "set": st.fixed_dictionaries(
            {}, optional={"per_side": LENGTHS, "least_per_side": LENGTHS, "bent_share": st.floats(0, 1)}
        ),
        "file": st.fixed_dictionaries({}, optional={"face": LENGTHS}),
        "work": st.fixed_dictionaries(
            {},
            optional={
                "sides": st.integers(1, 2),
                "vise_jaw": LENGTHS,
                "file_points": st.sampled_from(["toe", "handle"]),
            },
        ),
    },
)


def harmless(text: str) -> bool:
    """One line without a sign that a terminal or a reader's eye would follow."""
    return not any(category(sign) in ("Cc", "Cs", "Zl", "Zp") or bidirectional(sign) in TURNS for sign in text)


def check(recipe: Recipe) -> None:
    """A recipe that loaded can be computed with, shown, and kept in a log."""
    saw = recipe.saw
    assert 2 <= saw.points <= 3000
    assert saw.pitch_mm > 0
    assert tooth_of(saw).depth_mm > 0
    assert reaches(saw.points, saw.pitch_mm, saw.vise_jaw.mm)[-1][1] == saw.points
    assert all(math.isfinite(value) for value in (saw.rake, saw.fleam, saw.slope, saw.bent_share, saw.plate.mm))
    assert harmless(saw.name)
    assert recipe_from_values(recipe.values).saw == saw
    with TemporaryDirectory() as folder:
        file = Path(folder) / "again.toml"
        file.write_text(tomli_w.dumps(recipe.values), encoding="utf-8")
        assert load_recipe(file).saw == saw


def try_values(values: dict[str, Any]) -> bool:
    tried()
    errors: tuple[str, ...] = ()
    try:
        recipe = recipe_from_values(values)
    except Refusal as problem:
        errors = problem.lines or ("nothing was said",)
    else:
        check(recipe)
    assert all(error.startswith("recipe: ") and harmless(error) for error in errors), errors
    return not errors


@examples(80)
@given(WILD)
@example(
    {"format": 1, "saw": {"name": []}, "teeth": {"pitch": {}, "rake": [], "fleam": {}}, "set": 1, "work": {"sides": 1}}
)
def test_wild_structures(values: dict[str, Any]) -> None:
    try_values(values)


@examples(80)
@given(SOUND)
def test_nearly_sound_structures(values: dict[str, Any]) -> None:
    try_values(values)


@examples(60)
@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes(data: bytes) -> None:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "saw.toml"
        file.write_bytes(data)
        with pytest.raises(Refusal) as caught:
            load_recipe(file)
        assert all(error.startswith(str(file)) and harmless(error) for error in caught.value.lines)
        found, complaints = load_settings(file)
        assert isinstance(found, Settings)
        assert all(harmless(one) for one in complaints)
        assert [one.name for one in Path(folder).iterdir()] == ["saw.toml"]


@examples(60)
@given(
    st.dictionaries(
        st.sampled_from([*Settings.__slots__, "x"]),
        ANY | st.dictionaries(st.text(max_size=4), ANY, max_size=3),
        max_size=6,
    )
)
def test_any_settings_give_settings(values: dict[str, Any]) -> None:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "settings.toml"
        file.write_text(tomli_w.dumps(values), encoding="utf-8")
        found, complaints = load_settings(file)
    assert 0 <= found.guard_ms <= 5000
    assert 5 <= found.check_spacing <= 60
    assert found.units in ("saw", "in", "mm")
    assert found.guidance in ("taught", "brief", "bare")
    assert all(keys for keys in found.keys.values())
    used = [key for keys in found.keys.values() for key in keys]
    assert len(used) == len(set(used))
    assert all(harmless(one) for one in complaints)


def test_the_fuzz_reaches_recipes_that_load() -> None:
    teeth = {"rake": 15.0, "points_per_inch": 8.0}
    saw = {"name": "n", "kind": "panel", "cut": "rip", "toothed_length": "22 in", "plate_gauge": 20}
    assert try_values({"format": 1, "saw": saw, "teeth": teeth})
    assert set(TABLES) | {"format"} == set(RecipeModel.key_names())


@pytest.mark.soak("a recipe of any values")
@settings(max_examples=10_000)
@given(WILD | SOUND)
def test_soak_structures(values: dict[str, Any]) -> None:
    try_values(values)


@pytest.mark.soak("a recipe of any bytes")
@settings(max_examples=10_000)
@given(st.binary(max_size=400))
def test_soak_bytes(data: bytes) -> None:
    tried()
    with TemporaryDirectory() as folder:
        file = Path(folder) / "saw.toml"
        file.write_bytes(data)
        with pytest.raises(Refusal):
            load_recipe(file)
        assert [one.name for one in Path(folder).iterdir()] == ["saw.toml"]
