"""One table of acts: complete, without doubles, and what README prints of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.binding import Binding

from session.bench.screens.bench_screen import BenchScreen
from session.desk.key_names import named, printed, shown
from session.desk.key_table import ACTS, ROWS, USUAL_KEYS, Group, key_complaints, keymap, of_group
from session.sentences.offers import Act

#: Keys as README writes them, by their names.
_WRITTEN = {
    "Space": "space",
    "Enter": "enter",
    "Page Down": "pagedown",
    "Page Up": "pageup",
    "→": "right",
    "←": "left",
    "↓": "down",
    "Backspace": "backspace",
    "Esc": "escape",
    "F5": "f5",
    "F1": "f1",
    "F2": "f2",
    ".": "full_stop",
    "?": "question_mark",
    "+": "plus",
}


def test_each_act_has_one_row_and_each_key_and_word_one_act() -> None:
    assert sorted(row.act for row in ACTS) == sorted(Act)
    keys = [key for row in ACTS for key in row.keys]
    words = [word for row in ACTS for word in row.words]
    assert len(keys) == len(set(keys))
    assert len(words) == len(set(words))
    assert {row.act for row in ACTS if not row.keys} == {Act.STROKES}, "a digit does it"
    assert {row.group for row in ACTS} == set(Group)


def test_only_what_goes_on_is_guarded_and_only_what_shows_is_free() -> None:
    """Rules 19 and 31 hang on these groups: what they hold is written out here once more."""
    assert of_group(Group.ADVANCE) == {Act.DONE, Act.STROKES, Act.AS_ADVISED, Act.AGREE}
    advances = of_group(Group.ADVANCE)
    assert of_group(Group.ADVANCE, Group.PLACE) == {*advances, Act.FLAG, Act.LEAVE_OUT}
    assert of_group(Group.LEAVE) == {Act.QUIT}


def test_readme_prints_the_table() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    table = re.search(r"^\| keys \| do \|\n\|---\|---\|\n((?:\|.*\n)+)", readme, re.MULTILINE)
    assert table is not None
    printed_rows = [tuple(cell.strip() for cell in row.strip("|").split("|")) for row in table[1].splitlines()]
    found = [
        (() if keys == "0 … 9" else tuple(_WRITTEN.get(key, key) for key in re.split(r", | or ", keys)), told)
        for keys, told in printed_rows
    ]
    assert found == [(row.keys, row.told) for row in ACTS]


def test_textual_gets_each_act_as_one_binding_of_that_name() -> None:
    ours = [one for one in BenchScreen.BINDINGS if isinstance(one, Binding) and one.id is not None]
    assert {one.id: tuple(one.key.split(",")) for one in ours} == {str(act): keys for act, keys in USUAL_KEYS.items()}
    assert all(one.description == ROWS[Act(str(one.id))].told for one in ours)


@pytest.mark.parametrize("sign", [sign for sign in map(chr, range(33, 127)) if not sign.isalnum() and sign != ","])
def test_a_sign_has_textuals_name_and_comes_back_from_it(sign: str) -> None:
    (binding,) = Binding.make_bindings([Binding(sign, "anything")])
    assert named(sign) == binding.key
    assert printed(named(sign)) == sign
    assert shown(named(sign)) == sign


@pytest.mark.parametrize("key", ["escape", "enter", "tab", "left", "delete", "f5", "ctrl+q", "backspace", "space"])
def test_keys_that_print_nothing(key: str) -> None:
    assert named(key) == key
    assert printed(key) is None


def test_a_sign_in_the_settings_is_the_key_that_prints_it() -> None:
    changed = {"pause": ("?",), "help": ("f1", ",")}
    assert keymap(changed)[Act.PAUSE] == ("question_mark",)
    assert keymap(changed)[Act.HELP] == ("f1", "comma")
    assert key_complaints(changed) == ()
    assert keymap({"flag": (".", "+")})[Act.MORE] == ("m",), "taken from the act that had it"


def test_several_keys_in_one_text_are_refused_and_told() -> None:
    assert keymap({"flag": ("x,f9",)}) == USUAL_KEYS
    assert '"x,f9" is no key; allowed: each key in quotes of its own' in key_complaints({"flag": ("x,f9",)})[0]
