"""The table of bench rules in DEVELOPERS.md: every rule has a test that is there, and every test named so is in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
ROW = re.compile(r"^\| (\d+) \| [^|]+ \| (.+) \|$", re.MULTILINE)
FILE_AND_TESTS = re.compile(r"`([\w/]+\.py)`: (.*)")


def table() -> dict[int, set[tuple[str, str]]]:
    """For each rule of the table, its tests as (file, function)."""
    text = (TESTS.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    rules: dict[int, set[tuple[str, str]]] = {}
    for number, cell in ROW.findall(text):
        assert int(number) not in rules
        pairs = [FILE_AND_TESTS.fullmatch(part) for part in cell.split("<br>")]
        assert all(pairs), cell
        rules[int(number)] = {(p[1], name) for p in pairs if p for name in re.findall(r"`(test_\w+)`", p[2])}
    return rules


def defined() -> set[tuple[str, str]]:
    """All test functions there are, as (file, function)."""
    found = set()
    for file in TESTS.rglob("test_*.py"):
        names = re.findall(r"^(?:async )?def (test_\w+)\(", file.read_text(encoding="utf-8"), re.MULTILINE)
        found |= {(file.relative_to(TESTS).as_posix(), name) for name in names}
    return found


def test_the_table_has_all_28_rules_once() -> None:
    assert sorted(table()) == list(range(1, 29))


@pytest.mark.parametrize("rule", range(1, 29))
def test_each_rule_has_a_test_that_exists(rule: int) -> None:
    tests = table()[rule]
    assert tests
    assert tests <= defined()


def test_each_test_named_after_a_rule_stands_in_its_row() -> None:
    rules = table()
    strays = [
        (file, name)
        for file, name in defined()
        if (found := re.match(r"test_rule_(\d\d)_", name)) and (file, name) not in rules.get(int(found[1]), set())
    ]
    assert strays == []
