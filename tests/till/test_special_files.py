"""What is no plain file on a disk (a pipe, a device, one of the kernel's own) is told in words and stops nothing."""

from __future__ import annotations

import os
import socket
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from session.cli import main
from session.files.cut_file import read_cut
from session.files.flats_file import load_flats
from session.files.owned_files import load_files_owned
from session.files.recipe import load_recipe
from session.files.settings import Settings, load_settings
from session.files.supplied import supplied_folder
from session.machine.refusal import Refusal
from session.till.kept_cuts import cuts
from session.till.known_saws import known_saws
from session.till.saw_history import history
from session.till.till_folder import Till
from session.till.till_list import entries

#: Files of the kernel that count as regular: no memory at place 0, endless numbers, a text, nothing at all.
KERNEL = ("/proc/self/mem", "/proc/self/pagemap", "/proc/self/status", "/proc/self/clear_refs")


@pytest.fixture
def special(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of special files, each with the name of a file of ours."""
    folder = tmp_path / "special"
    folder.mkdir()
    for name, target in (("dangling", "nowhere"), ("loop", "loop.toml"), ("null", "/dev/null"), ("zero", "/dev/zero")):
        (folder / f"{name}.toml").symlink_to(target)
    for number, name in enumerate(KERNEL):
        if Path(name).exists():
            (folder / f"kernel-{number}.toml").symlink_to(name)
    (folder / "folder.toml").mkdir()
    os.mkfifo(folder / "pipe.toml")
    monkeypatch.chdir(folder)  # a socket's path may not be long
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("socket.toml")
    return folder


@pytest.fixture
def silent(special: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A file that counts as regular and has nothing to give when it is read, as some of the kernel's are for root."""
    path = special / "silent.toml"
    path.write_bytes(b"x = 1\n")
    regular, opened, looked = path.stat(), os.open, os.fstat
    out, into = os.pipe()
    os.set_blocking(out, False)
    monkeypatch.setattr(
        os, "open", lambda name, *rest, **more: os.dup(out) if name == path else opened(name, *rest, **more)
    )
    monkeypatch.setattr(os, "fstat", lambda fd: regular if stat.S_ISFIFO(looked(fd).st_mode) else looked(fd))
    yield path
    os.close(out)
    os.close(into)


def test_a_kernels_file_with_nothing_to_read_is_told_in_words(silent: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = "not a regular file (one of the kernel's, with nothing to read now)"
    for load in (load_recipe, load_flats, load_files_owned, read_cut):
        with pytest.raises(Refusal) as refused:
            load(silent)
        assert refused.value.lines == (f"{silent}: {words}",)
    assert load_settings(silent) == (Settings(), (f"{silent}: {words}",))
    for command in ("check", "plan", "even", "show"):
        assert main([command, str(silent)]) == 2
        [line] = capsys.readouterr().err.splitlines()
        assert str(silent) in line
        assert "fault" not in line


def test_each_special_file_is_refused_in_one_line(special: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in special.iterdir():
        # To show a log is to show what can be read of it, be that nothing: so a kernel's file is shown as an empty one.
        for command in ("check", "plan", "even") + (() if path.name.startswith("kernel") else ("show",)):
            assert main([command, str(path)]) == 2, (command, path)
            said = capsys.readouterr()
            [line] = said.err.splitlines()
            assert str(path) in line
            assert "fault" not in line
            assert said.out == ""


def test_in_a_till_they_are_listed_with_their_reason_and_stop_nothing(special: Path, tmp_path: Path) -> None:
    till = Till(tmp_path / "till")
    till.make()
    recipe = supplied_folder("recipes") / "crosscut-panel.toml"
    saw = load_recipe(recipe).saw
    (till.path / "own.toml").write_bytes(recipe.read_bytes())
    logs = till.path / "logs" / "boat-shed-rip"
    kept = till.path / "cuts" / "boat-shed-rip"
    logs.mkdir(parents=True)
    kept.mkdir(parents=True)
    names = sorted(path.name for path in special.iterdir() if not path.is_dir())
    for name in names:
        for folder in (till.path, logs, kept):
            (folder / name).symlink_to(special / name)
    found = entries(till)
    wrong = {entry.recipe.name: entry.wrong for entry in found if entry.recipe and entry.recipe.parent == till.path}
    assert wrong.pop("own.toml") == ""
    assert sorted(wrong) == names
    assert all(words.startswith(f"{till.path / name}:") for name, words in wrong.items())
    unread = {entry.log.name: entry.wrong for entry in found if entry.log is not None}
    assert sorted(unread) == names
    assert all(str(logs / name) in words for name, words in unread.items())
    assert any(entry.own == saw.name for entry in found)
    told = history([till], next(one for one in known_saws([till]) if one.slug == "boat-shed-rip"))
    assert {path for path, why in told.unread if why} == {folder / name for folder in (logs, kept) for name in names}
    assert all(file.wrong for file in cuts(till, "boat-shed-rip"))


def test_a_folder_that_cannot_be_asked_about_hides_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("boat-shed-rip", "closed"):
        (tmp_path / "logs" / name).mkdir(parents=True)
    asked = Path.is_dir

    def refuse(path: Path) -> bool:
        if path.name == "closed":
            raise PermissionError(13, "Permission denied")
        return asked(path)

    monkeypatch.setattr(Path, "is_dir", refuse)
    assert Till(tmp_path).log_folders() == ["boat-shed-rip", "closed"]
    assert [saw.slug for saw in known_saws([Till(tmp_path)])] == ["boat-shed-rip", "closed"]
