"""The bench rules of session/bench/RULES.md: each has a test that is there, and each test named so stands under it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
RULES = TESTS.parent / "session" / "bench" / "RULES.md"
TEST = re.compile(r"- `([\w/]+\.py)`: `(test_\w+)`")


@cache
def sections() -> list[tuple[int, str]]:
    """Number and text of each rule, in the order of the document."""
    parts = re.split(r"^## (\d+)\. ", RULES.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return [(int(number), text) for number, text in zip(parts[1::2], parts[2::2], strict=True)]


@cache
def table() -> dict[int, set[tuple[str, str]]]:
    """For each rule, its tests as (file, function)."""
    rules: dict[int, set[tuple[str, str]]] = {}
    for number, text in sections():
        assert number not in rules
        lines = [line for line in text.splitlines() if line.startswith("- ")]
        assert all(TEST.fullmatch(line) for line in lines), number
        rules[number] = {(found[1], found[2]) for line in lines if (found := TEST.fullmatch(line))}
        assert len(rules[number]) == len(lines), f"a test of rule {number} is listed twice"
    return rules


@cache
def defined() -> set[tuple[str, str]]:
    """All test functions there are, as (file, function)."""
    found = set()
    for file in TESTS.rglob("test_*.py"):
        names = re.findall(r"^(?:async )?def (test_\w+)\(", file.read_text(encoding="utf-8"), re.MULTILINE)
        found |= {(file.relative_to(TESTS).as_posix(), name) for name in names}
    return found


def test_all_28_rules_stand_there_and_any_later_ones_after_them() -> None:
    numbers = [number for number, _ in sections()]
    assert numbers[:28] == list(range(1, 29))
    assert numbers == sorted(set(numbers))


@pytest.mark.parametrize("rule", [number for number, _ in sections()])
def test_each_rule_has_a_test_that_exists(rule: int) -> None:
    tests = table()[rule]
    assert tests
    assert tests <= defined()


@pytest.mark.parametrize(("rule", "text"), sections())
def test_each_rule_is_said_in_full_and_tells_who_asks_for_it(rule: int, text: str) -> None:
    title, said, source, *_ = text.split("\n\n")
    assert title
    assert len(said.split()) >= 15
    assert source.startswith("**Source**: ")


def test_each_test_named_after_a_rule_stands_in_its_row() -> None:
    rules = table()
    strays = [
        (file, name)
        for file, name in defined()
        if (found := re.match(r"test_rule_(\d\d)_", name)) and (file, name) not in rules.get(int(found[1]), set())
    ]
    assert strays == []
