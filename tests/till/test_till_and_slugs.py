from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.log.journal import Journal
from session.machine.refusal import Refusal
from session.till.saw_file_name import LONGEST, file_stem, slug
from session.till.till_folder import Till, till_folder, till_of
from session.till.till_names import NOT_SAWS
from session.walk.mark import Did, Mark

HOSTILE = ["", ".", "..", "../../etc/passwd", "/", "a/b", "a\\b", "a\0b", "con", "NUL", "lpt1", "Settings", "x" * 300]
HOSTILE += ["日本", "\ud800", " ", "-", "Files", "Con", "\x1b[2J", "Aux", "a" * 80 + " b", "Com1", "Scanner"]


@given(name=st.text(max_size=120) | st.sampled_from(HOSTILE))
def test_every_slug_is_a_safe_file_name(name: str) -> None:
    made = slug(name)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", made)
    assert len(made) <= LONGEST
    assert made not in ("con", "nul", "aux", "prn", "com1", "lpt1", "settings", "files", "scanner", "logs")
    assert made == slug(name)


@given(names=st.lists(st.text(max_size=100) | st.sampled_from(HOSTILE), unique=True, max_size=20))
def test_distinct_names_get_distinct_slugs(names: list[str]) -> None:
    from unicodedata import normalize

    apart = {normalize("NFC", name) for name in names}
    assert len({slug(name) for name in apart}) == len(apart)


def test_slugs_that_look_alike_stay_apart() -> None:
    alike = ["Netloft saw", "netloft saw", "Netloft  saw", "Netloft-saw", "NETLOFT saw", "Nétloft saw", "Netloft saw "]
    assert len({slug(name) for name in alike}) == len(alike)
    assert slug("Netloft saw") == "netloft-saw"


@pytest.mark.parametrize("name", ["Scanner", "Settings", "files"])
def test_a_recipe_is_never_called_as_a_file_of_the_till_that_is_no_saw(name: str) -> None:
    assert f"{file_stem(name)}.toml" not in NOT_SAWS
    assert file_stem(name).startswith(name.lower())


def start(till: Till, name: str, header: dict[str, Any], started: datetime) -> Journal:
    header = {**header, "session": {**header["session"], "started": started, "saw": name}}
    return Journal.create(till.log_folder(slug(name)), header, started=started)


def test_interrupted_ones_come_newest_first_whatever_their_wall_clock(
    tmp_path: Path, log_header: dict[str, Any], begun: datetime
) -> None:
    till = Till(tmp_path)
    east = timezone(timedelta(hours=10))
    paths = []
    for name, started in [("Boat-shed rip", begun.astimezone(east)), ("Netloft saw", begun + timedelta(hours=1))]:
        with start(till, name, log_header, started) as journal:
            paths.append(journal.path)
    with start(till, "Netloft saw", log_header, begun + timedelta(hours=2)) as done:
        done.append(Mark(seq=1, at=begun, did=Did.FINISHED))
    (till.log_folder("netloft-saw") / "by-hand.toml").write_text("format = 1\n")
    (till.log_folder("netloft-saw") / "empty.toml").touch()
    assert till.interrupted() == [paths[1], paths[0]]
    assert len(till.logs("netloft-saw")) == 4
    assert sorted(str(ends.state) for ends in till.ends()) == [
        "finished",
        "interrupted",
        "interrupted",
        "read only",
        "read only",
    ]


def test_an_absent_till_is_empty_and_stays_absent(tmp_path: Path) -> None:
    till = Till(tmp_path / "none")
    assert (till.saws(), till.interrupted(), till.logs("x"), list(till.ends())) == ([], [], [], [])
    assert not till.path.exists()


def test_saws_are_the_recipes_and_nothing_else(tmp_path: Path) -> None:
    for name in ("b.toml", "a.toml", "settings.toml", "files.toml", ".hidden.toml", "note.txt"):
        (tmp_path / name).touch()
    (tmp_path / "folder.toml").mkdir()
    till = Till(tmp_path)
    assert [path.name for path in till.saws()] == ["a.toml", "b.toml"]


@pytest.mark.parametrize("name", ["", ".", "..", "../x", "a/b", "a\\b", "a\0b"])
def test_no_log_folder_lies_outside_the_till(name: str, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="not the name"):
        Till(tmp_path).log_folder(name)


def test_two_tills_merge_by_copying(
    tmp_path: Path, log_header: dict[str, Any], begun: datetime, filing: Callable[..., Mark]
) -> None:
    for bench in range(3):
        till = Till(tmp_path / str(bench))
        moment = begun + timedelta(milliseconds=bench)
        with start(till, "Netloft saw", log_header, moment) as journal:
            journal.append(filing(1, reason=f"bench {bench}"))
    merged = Till(tmp_path / "merged")
    for bench in range(3):
        shutil.copytree(tmp_path / str(bench), merged.path, dirs_exist_ok=True)
    reasons = {ends.last.reason for ends in merged.ends() if ends.last is not None}
    assert reasons == {"bench 0", "bench 1", "bench 2"}


def test_which_folder_is_the_till(tmp_path: Path) -> None:
    named = {"TOOTHLINE_TILL": str(tmp_path / "named")}
    assert till_folder(str(tmp_path), environment=named) == tmp_path
    assert till_folder(None, environment=named) == tmp_path / "named"
    assert till_folder(None, environment={"TOOTHLINE_TILL": ""}).name == "toothline"
    assert till_folder(str(tmp_path / "new"), environment={}) == tmp_path / "new"
    assert not (tmp_path / "new").exists()


def test_a_wrong_till_is_told_with_its_exit_code(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    for argument, must_exist in [("", False), ("a\0b", False), (str(tmp_path / "file"), False)]:
        with pytest.raises(Refusal, match="--till") as wrong:
            till_folder(argument, must_exist=must_exist, environment={})
        assert wrong.value.code == 2
    with pytest.raises(Refusal, match="no such folder"):
        till_folder(str(tmp_path / "none"), must_exist=True, environment={})
    with pytest.raises(Refusal, match="TOOTHLINE_TILL"):
        till_folder(None, environment={"TOOTHLINE_TILL": str(tmp_path / "file")})
    with pytest.raises(Refusal, match="cannot be made") as refused:
        Till(tmp_path / "file" / "till").make()
    assert refused.value.code == 4


def test_making_a_till_makes_the_folders_above_it(tmp_path: Path) -> None:
    till = Till(tmp_path / "a" / "b")
    till.make()
    till.make()
    assert till.path.is_dir()


def test_a_record_lies_in_a_till_by_its_folders_and_through_a_link(tmp_path: Path) -> None:
    record = tmp_path / "till" / "logs" / "netloft-saw" / "a.toml"
    record.parent.mkdir(parents=True)
    record.touch()
    (tmp_path / "linked.toml").symlink_to(record)
    for path in (record, tmp_path / "linked.toml"):
        till = till_of(path)
        assert till is not None
        assert till.path == (tmp_path / "till").resolve()
    for alone in (tmp_path / "a.toml", Path("a.toml"), Path("/a.toml")):
        assert till_of(alone) is None


def test_a_till_has_lines_once_their_folder_is_there(tmp_path: Path) -> None:
    assert not Till(tmp_path).has_lines
    (tmp_path / "lines").mkdir()
    assert Till(tmp_path).has_lines


def test_a_start_time_without_offset_sorts_last(tmp_path: Path, log_header: dict[str, Any]) -> None:
    till = Till(tmp_path)
    with start(till, "Netloft saw", log_header, datetime(2026, 3, 7, 9)) as bare:
        pass
    with start(till, "Netloft saw", log_header, datetime(2020, 3, 7, 9, tzinfo=UTC)) as old:
        pass
    assert till.interrupted() == [old.path, bare.path]
