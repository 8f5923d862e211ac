"""Lines of keys: the odd corners of TOML, each with its line written out by hand."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.files.key_path import DEEPEST, KeyPath
from session.files.line_numbers import key_lines, line_of

ODD = '''# a comment with [brackets] and = signs
top = 1 # [no.table]
"quoted.key" = "a # not a comment"
'literal key' = '[not.a.table]'
dotted . "b.c" . d = 2

[saw]
name = """
first
[teeth]
rake = 99 \\""" still text """
rake = 'x'

[ saw . "more" ] # spaced
list = [ # starts here
  1,

  { in = 5, "deep.er" = { x = 1 } },
  [ "a]", 'b,' ],
]
when = 1979-05-27 07:32:00
raw = \'\'\'
key = 1
\'\'\'\'
after = true

[[zone]]
pitch = 1
[zone.sub]
a = 1
[[zone]]
pitch = 2
sub.a = 2
"\\u0061bc" = 3
"" = 4'''

WANTED: dict[KeyPath, int] = {
    ("top",): 2,
    ("quoted.key",): 3,
    ("literal key",): 4,
    ("dotted",): 5,
    ("dotted", "b.c"): 5,
    ("dotted", "b.c", "d"): 5,
    ("saw",): 7,
    ("saw", "name"): 8,
    ("saw", "rake"): 12,
    ("saw", "more"): 14,
    ("saw", "more", "list"): 15,
    ("saw", "more", "list", 0): 16,
    ("saw", "more", "list", 1): 18,
    ("saw", "more", "list", 1, "in"): 18,
    ("saw", "more", "list", 1, "deep.er"): 18,
    ("saw", "more", "list", 1, "deep.er", "x"): 18,
    ("saw", "more", "list", 2): 19,
    ("saw", "more", "list", 2, 0): 19,
    ("saw", "more", "list", 2, 1): 19,
    ("saw", "more", "when"): 21,
    ("saw", "more", "raw"): 22,
    ("saw", "more", "after"): 25,
    ("zone",): 27,
    ("zone", 0): 27,
    ("zone", 0, "pitch"): 28,
    ("zone", 0, "sub"): 29,
    ("zone", 0, "sub", "a"): 30,
    ("zone", 1): 31,
    ("zone", 1, "pitch"): 32,
    ("zone", 1, "sub"): 33,
    ("zone", 1, "sub", "a"): 33,
    ("zone", 1, "abc"): 34,
    ("zone", 1, ""): 35,
}


def paths_of(value: Any, path: KeyPath = ()) -> set[KeyPath]:
    """Every path in what the standard reader gives: what the scanner should have found."""
    found: set[KeyPath] = {path} if path else set()
    if isinstance(value, dict):
        for key, inner in value.items():
            found |= paths_of(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            found |= paths_of(inner, (*path, number))
    return found


def test_every_key_of_an_odd_document_has_its_line() -> None:
    assert key_lines(ODD) == WANTED
    assert paths_of(tomllib.loads(ODD)) == set(WANTED)


def test_windows_line_ends_count_once() -> None:
    assert key_lines(ODD.replace("\n", "\r\n")) == WANTED


def test_a_key_without_a_line_takes_that_of_its_table() -> None:
    lines = key_lines("a = 1\n\n[b]\nc = 2\n")
    assert line_of(lines, ("b", "absent")) == 3
    assert line_of(lines, ("b", "c", 4)) == 4
    assert line_of(lines, ("absent",)) == 1


@pytest.mark.parametrize(
    ("quoted", "lines_after"),
    [
        ('"""""two quotes first"""', 1),
        ('"""two quotes last"""""', 1),
        ('"""\\\n   folded\n"""', 3),
        ("''''one quote first'''", 1),
        ("'''\n''two quotes last'''''", 2),
        ('""', 1),
        ('"\\\\"', 1),
        ('"\\""', 1),
    ],
)
def test_strings_end_where_toml_ends_them(quoted: str, lines_after: int) -> None:
    text = f"a = {quoted}\nb = 1\n"
    assert tomllib.loads(text)["b"] == 1
    assert key_lines(text)[("b",)] == lines_after + 1


def test_depth_is_bounded_and_what_follows_is_still_found() -> None:
    deep = "[" * 5000 + "]" * 5000
    lines = key_lines(f"a = {deep}\nb = 1\n")
    assert lines[("b",)] == 2
    assert max(map(len, lines)) == DEEPEST


@pytest.mark.parametrize(
    "text", ["", "a", "a =", "[", "[[a]", "a = [", "a = {b", '"\\q" = 1', "=", "a = 'x", "a.=1", "\0"]
)
def test_what_is_not_toml_gives_what_was_found_so_far(text: str) -> None:
    assert key_lines("ok = 1\n" + text)[("ok",)] == 1


@given(st.text(alphabet=st.sampled_from("ab.=[]{},\"'\\#\n\r \t1-"), max_size=60))
def test_any_text_ends(text: str) -> None:
    lines = key_lines(text)
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())


@given(st.text(alphabet=st.sampled_from("ab.=[]{},\"'#\n 1"), max_size=40))
def test_valid_texts_have_all_their_keys(text: str) -> None:
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(key_lines(text)) == paths_of(values)
