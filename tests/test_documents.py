"""The documents beside the code, held against it: keys, ranges, words, check values, and the names they give."""

from __future__ import annotations

import importlib
import json
import math
import re
import runpy
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic_core import ValidationError

import session
from session.files.checked_tables import Key, Table
from session.files.cut_file import CutTable, read_cut
from session.files.flats_file import FlatsModel, load_flats
from session.files.owned_files import OwnedTable, load_files_owned
from session.files.recipe import load_recipe
from session.files.recipe_tables import FileTable, SawTable, SetTable, TeethTable, WorkTable, ZoneTable
from session.files.scanned_file import ScannedToothTable, ScanTable, read_scan
from session.files.scanner_file import ScannerModel
from session.files.seen_file import SeenModel, load_seen
from session.files.settings import SettingsModel, load_settings
from session.files.sound_values import judged
from session.trade.lengths import Length
from session.trade.tooth import tooth
from session.walk.mark import KEYS, Did
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import Measurable
from session.walk.stages import Stage

ROOT = Path(session.__file__).parent
TESTS = Path(__file__).parent
FORMATS = (ROOT / "files" / "FORMATS.md").read_text(encoding="utf-8")
LOG = (ROOT / "log" / "FORMAT.md").read_text(encoding="utf-8")
GEOMETRY = (ROOT / "trade" / "GEOMETRY.md").read_text(encoding="utf-8")
DOCUMENTS = [*ROOT.parent.glob("*.md"), *ROOT.rglob("*.md"), *(ROOT.parent / "demo").glob("*.md")]

#: The section of FORMATS.md in which each table of a file is told.
TOLD_IN: list[tuple[str, type[Table]]] = [
    ("### `[saw]`", SawTable),
    ("### `[teeth]`", TeethTable),
    ("### `[[teeth.zone]]`", ZoneTable),
    ("### `[set]`", SetTable),
    ("### `[file]`", FileTable),
    ("### `[work]`", WorkTable),
    ("## The settings", SettingsModel),
    ("### `[[file]]`", OwnedTable),
    ("## A measured line", FlatsModel),
    ("## What was seen of a saw", SeenModel),
    ("### `[cut]`", CutTable),
    ("### `[scan]`", ScanTable),
    ("### `[[tooth]]`", ScannedToothTable),
    ("## The scanner", ScannerModel),
]


def section(text: str, heading: str) -> str:
    """The part of ``text`` under the heading that begins so, up to the next heading."""
    assert text.count(f"\n{heading}") == 1, heading
    return re.split(r"\n##+ ", text.partition(f"\n{heading}")[2])[0]


def rows(text: str) -> dict[str, list[str]]:
    """The rows of the tables in ``text`` by their first cell, without its code signs."""
    found = re.findall(r"^\| `([^`]+)` \| (.+) \|$", text, re.MULTILINE)
    assert len(found) == len(dict(found)), "a row stands there twice"
    return {key: rest.split(" | ") for key, rest in found}


def allowed(field: Key) -> str:
    """What an error about this key says is allowed."""
    try:
        judged(field, "9999 m")
    except ValidationError as wrong:
        if found := re.search(r"out of range; allowed: (.+?)(?: \[type|$)", str(wrong), re.MULTILINE):
            return found[1]
    return field.allowed or "nothing"


def usual(field: Key) -> str:
    """The usual value as the table has it."""
    value = field.usual
    if field.required:
        return "required"
    if value is None or value in ({}, [], ""):
        return "none"
    if isinstance(value, bool):
        return f"`{value}`".lower()
    return (
        f'`"{value}"`'
        if isinstance(value, str | Length)
        else f"`{value:g}`"
        if isinstance(value, float)
        else f"`{value}`"
    )


@pytest.mark.parametrize(("heading", "model"), TOLD_IN)
def test_every_key_of_a_file_is_told_with_its_range_and_its_usual_value(heading: str, model: type[Table]) -> None:
    told = rows(section(FORMATS, heading))
    assert set(told) == set(model.key_names())
    for key, field in model.all_keys().items():
        _, range_told, usual_told, example = told[key]
        assert allowed(field) in range_told, key
        assert usual_told == usual(field), key
        # The table's example is a value that the model takes.
        judged(field, tomllib.loads(f"k = {example.strip('`')}")["k"])


@pytest.mark.parametrize(
    ("kind", "load"),
    [
        ("recipe", load_recipe),
        ("settings", load_settings),
        ("files", load_files_owned),
        ("flats", load_flats),
        ("seen", load_seen),
        ("cut", read_cut),
        ("scan", read_scan),
    ],
)
def test_the_examples_of_whole_files_are_taken(kind: str, load: Callable[[Path], Any], tmp_path: Path) -> None:
    [text] = re.findall(rf"^```toml {kind}\n(.*?)^```$", FORMATS, re.MULTILINE | re.DOTALL)
    file = tmp_path / f"{kind}.toml"
    file.write_text(text, encoding="utf-8")
    loaded = load(file)
    complaints = loaded[1] if kind == "settings" else getattr(loaded, "warnings", ())
    assert complaints == ()


def test_every_key_and_word_of_a_mark_is_told() -> None:
    assert set(rows(section(LOG, "## A mark"))) == {*KEYS, "crc", *Did}


def test_every_stage_and_every_measurable_thing_is_told() -> None:
    assert {f"`{stage}`" for stage in Stage} <= set(re.findall(r"`[^`]+`", section(LOG, "### Stages")))
    told = rows(section(LOG, "### What can be measured"))
    assert set(told) == set(Measurable)
    for what, facts in MEASURABLES.items():
        assert all(f"`{choice}`" in told[what][0] for choice in facts.choices if choice not in facts.units), what
        assert all(unit in told[what][1] for unit in facts.units), what


def test_the_check_values_of_the_tooth_are_those_of_the_program() -> None:
    found = re.findall(r"^\| (\d+) \| (\d+) \| (\d+) \| ([\d.]+) \| ([\d.]+) \| ([\d.]+) \|$", GEOMETRY, re.MULTILINE)
    assert len(found) == 7
    for row in found:
        rake, fleam, slope, front, back, share = map(float, row)
        made = tooth(1.0, rake, fleam, slope)
        assert math.tan(math.radians(made.front_deg)) == pytest.approx(front, abs=6e-6)
        assert math.tan(math.radians(made.back_deg)) == pytest.approx(back, abs=6e-6)
        assert made.depth_mm == pytest.approx(share, abs=6e-6)


def test_each_formula_lives_where_it_is_said_and_is_held_by_tests_that_are_there() -> None:
    held = GEOMETRY.partition("\n## Where it lives")[2]
    lives = re.findall(r"^- [^`]+: `(\w+)\.py`: (.+)$", held, re.MULTILINE)
    assert len(lives) > 15
    for module, names in lives:
        made = importlib.import_module(f"session.trade.{module}")
        assert all(callable(getattr(made, name)) for name in re.findall(r"`(\w+)`", names)), names
    tests = re.findall(r"^  - `([\w/]+\.py)`: `(\w+)`$", held, re.MULTILINE)
    assert len(tests) >= len(lives)
    for file, name in tests:
        assert re.search(rf"^def {name}\(", (TESTS / file).read_text(encoding="utf-8"), re.MULTILINE), name
    assert held.count("\n- ") == len(lives)
    assert held.count("\n  - ") == len(tests)


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_links_lead_somewhere(document: Path) -> None:
    text = document.read_text(encoding="utf-8")
    links = [link.partition("#")[0] for link in re.findall(r"\]\((?!https?:)([^)]+)\)", text)]
    assert [link for link in links if link and not (document.parent / link).exists()] == []


@pytest.mark.parametrize("document", [ROOT.parent / "DEVELOPERS.md", *ROOT.rglob("*.md")], ids=lambda path: path.name)
def test_lines_can_be_read(document: Path) -> None:
    lines = document.read_text(encoding="utf-8").splitlines()
    assert [number for number, line in enumerate(lines, 1) if len(line) > 159] == []


def test_the_code_cites_documents_that_are_there() -> None:
    cited = {
        name
        for folder in (ROOT, TESTS)
        for file in folder.rglob("*.py")
        for name in re.findall(r"\b([A-Za-z_]+\.md)\b", file.read_text(encoding="utf-8"))
    }
    assert cited <= {document.name for document in DOCUMENTS}


def test_readme_tells_the_measurements_that_are_kept() -> None:
    made = runpy.run_path(str(TESTS / "bench" / "readme_table.py"))
    run = json.loads(made["LAST_RUN"].read_text(encoding="utf-8"))
    readme = made["README"].read_text(encoding="utf-8")
    assert made["told"](readme, run) == readme
    measured = {one["what"] for one in run["figures"]}
    assert sum(measured.issuperset(row.figures) for row in made["ROWS"]) > 8
