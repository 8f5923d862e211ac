"""Lines of keys against tomlkit, a second and independent TOML reader that keeps a text's layout.

tomlkit gives no lines either, but it can change one value and write all else as it stood: the first
line that then differs is the line of the key.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from law_budget import examples
from session.files.key_path import KeyPath
from session.files.line_numbers import key_lines
from soak_table import tried

KEYS = st.one_of(
    st.sampled_from(["saw", "teeth", "rake", "a.b", "", "x y", 'quo"te', "ключ", "1"]), st.text(max_size=5)
).filter(lambda key: "\x7f" not in key and not any(0xD800 <= ord(sign) < 0xE000 for sign in key))
PLAIN = st.one_of(
    st.integers(-(10**6), 10**6),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from(["", "#", "a = 1", "[x]", "'", '"', "two\nlines", "\\", date(2020, 2, 29)]),
)
VALUES = st.recursive(
    PLAIN, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3), max_leaves=6
)
DOCUMENTS = st.dictionaries(
    KEYS, VALUES | st.dictionaries(KEYS, VALUES, min_size=1, max_size=4), min_size=1, max_size=5
)


def leaves(value: Any, path: KeyPath = ()) -> list[KeyPath]:
    """Paths of the values that stand after an equals sign and are reached by table keys only."""
    if isinstance(value, list) and value and all(isinstance(inner, dict) for inner in value):
        return []  # may be written as headers, which tomlkit moves about when a plain value takes their place
    if not isinstance(value, dict):
        return [path]
    return [leaf for key, inner in value.items() for leaf in leaves(inner, (*path, key))]


def line_by_tomlkit(text: str, path: KeyPath) -> int:
    document = tomlkit.parse(text)
    table: Any = document
    for part in path[:-1]:
        table = table[part]
    table[path[-1]] = 987654321
    changed = tomlkit.dumps(document).split("\n")
    was = text.split("\n")
    return next(number for number, (a, b) in enumerate(zip(was, changed, strict=False), start=1) if a != b)


def agrees_with_tomlkit(values: dict[str, Any]) -> None:
    tried()
    text = tomlkit.dumps(values)
    lines = key_lines(text)
    for path in leaves(tomlkit.parse(text).unwrap()):
        if path:
            assert lines[path] == line_by_tomlkit(text, path), (text, path)


@examples(15)
@given(DOCUMENTS)
def test_generated_documents(values: dict[str, Any]) -> None:
    agrees_with_tomlkit(values)


@pytest.mark.soak("lines of keys by another reader")
@settings(max_examples=2000, deadline=None)
@given(DOCUMENTS)
def test_many_generated_documents(values: dict[str, Any]) -> None:
    agrees_with_tomlkit(values)


def test_a_recipe_written_by_hand() -> None:
    text = (
        "# Netloft\nformat = 1\nteeth = { points_per_inch = 8, rake = 15 }\n\n[saw]\n'name' = '''\nNetloft\n'''\n"
        '"kind" = "panel"\n\n[work] # how\nwood   = "dry hardwood"\nsides=2\n'
    )
    lines = key_lines(text)
    paths = leaves(tomlkit.parse(text).unwrap())
    assert len(paths) == 7
    for path in paths:
        assert lines[path] == line_by_tomlkit(text, path), path
