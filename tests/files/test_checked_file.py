"""The one loader: a new kind of file is its model and its cross checks; a long list of errors costs no more a key."""

from __future__ import annotations

from collections.abc import Iterator, KeysView
from pathlib import Path
from typing import Annotated, Any

import pytest

from session.files.checked_file import MOST_ERRORS, CheckedFile, is_absent
from session.files.checked_tables import Table, holds
from session.files.sound_values import checked
from session.machine.refusal import BAD_INPUT, Refusal


class PegTable(Table):
    """A table of a kind of file that only this test has."""

    hole: int = holds(1, ge=1, le=9, description="a whole number from 1 to 9")
    saws: list[str] = holds(make=list, description="a list of names")


class PegboardModel(Table):
    """A kind of file that only this test has."""

    format: int = holds(1, ge=1, le=1, description="1")
    count: dict[str, Annotated[int, holds(ge=0)]] = holds(make=dict, description="numbers from 0 on")
    row: list[PegTable] = holds(make=list, description="tables [[row]]")


def board(tmp_path: Path, text: str) -> CheckedFile[PegboardModel]:
    file = tmp_path / "pegs.toml"
    file.write_text(text, encoding="utf-8")
    return CheckedFile.read(PegboardModel, file)


def test_all_errors_are_told_at_once_by_line_those_between_keys_among_them(tmp_path: Path) -> None:
    file = board(tmp_path, "[[row]]\nhole = 12\n\n[[row]]\ndepth = 3\nhole = 3\n")
    file.found.append((("row", 1, "hole"), "is taken; allowed: a free one"))
    with pytest.raises(Refusal) as refused:
        file.sound()
    assert refused.value.code == BAD_INPUT
    assert refused.value.lines == (
        f"{tmp_path}/pegs.toml:2: row[1].hole: 12 is out of range; allowed: a whole number from 1 to 9",
        f"{tmp_path}/pegs.toml:5: row[2].depth: is not a known key; allowed: hole, saws",
        f"{tmp_path}/pegs.toml:6: row[2].hole: is taken; allowed: a free one",
    )


def test_a_sound_file_gives_its_model(tmp_path: Path) -> None:
    assert board(tmp_path, '[[row]]\nsaws = ["Boat-shed rip"]\n').sound().row[0].saws == ["Boat-shed rip"]


def test_what_is_left_out_takes_nothing_else_with_it(tmp_path: Path) -> None:
    file = board(
        tmp_path, '[count]\na = -1\nb = 2\n[[row]]\nhole = 0\nsaws = ["x", 3, 4]\n[[row]]\nhole = 3\nlater = 1\n'
    )
    rows = file.values["row"]
    assert [path for path, _ in file.unknown] == [("row", 1, "later")]
    file.leave_out(file.found)
    assert file.sound() == checked(PegboardModel, {"count": {"b": 2}, "row": [{}, {"hole": 3}]})
    assert rows == [{"hole": 0, "saws": ["x", 3, 4]}, {"hole": 3, "later": 1}], "what was read stays as it was"


def test_only_a_later_versions_keys_are_left_out_and_the_rest_is_refused(tmp_path: Path) -> None:
    file = board(tmp_path, "later = 1\n[count]\na = -1\n")
    file.leave_out(file.unknown)
    with pytest.raises(Refusal, match=r"pegs\.toml:3: count\.a: -1 is out of range") as refused:
        file.sound()
    assert len(refused.value.lines) == 1


class Counted(dict[str, Any]):
    """A table that counts how many of its keys are gone through in all."""

    looks = 0

    def __iter__(self) -> Iterator[str]:
        for key in super().__iter__():
            type(self).looks += 1
            yield key

    def keys(self) -> KeysView[str]:  # type: ignore[override] # what dict itself returns cannot be made by hand
        """The keys, through the iterator that counts."""
        return KeysView(self)


def looks_at(wrong: int) -> int:
    Counted.looks = 0
    counts = Counted({f"p{number}": -1 for number in range(wrong)} | {"good": 4})
    file = CheckedFile(PegboardModel, Counted({"count": counts}), "pegs")
    file.leave_out(file.found)
    assert file.sound().count == {"good": 4}
    return Counted.looks


def test_leaving_out_goes_through_a_table_once_however_many_of_its_keys_are_wrong() -> None:
    few, many = looks_at(100), looks_at(1000)
    assert few > 0
    assert many <= 11 * few


def test_the_first_errors_are_told_and_the_others_counted(tmp_path: Path) -> None:
    with pytest.raises(Refusal) as refused:
        board(tmp_path, "".join(f"k{number} = 1\n" for number in range(9_462))).sound()
    assert len(refused.value.lines) == MOST_ERRORS + 1
    assert refused.value.lines[-1] == f"{tmp_path}/pegs.toml: and 9,412 more errors"


def test_only_a_name_that_nothing_has_is_absent(tmp_path: Path) -> None:
    (tmp_path / "dangling").symlink_to("nowhere")
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert is_absent(tmp_path / "pegs.toml")
    assert not any(is_absent(path) for path in (tmp_path / "dangling", tmp_path / "file", tmp_path / "file" / "x"))
    assert not is_absent(tmp_path / "a\0b")
