"""The command line as a script calls it: exit codes, one line for each error, nothing half-written."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from called_here import call_here

GOOD = """\
format = 1
[saw]
name = "Boat-shed tenon saw"
kind = "tenon"
cut = "rip"
toothed_length = "14 in"
plate_gauge = 20
[teeth]
points_per_inch = 12
rake = 4
"""

Run = subprocess.CompletedProcess[bytes]


@pytest.fixture
def till(tmp_path: Path) -> Path:
    folder = tmp_path / "till"
    folder.mkdir()
    return folder


@pytest.fixture
def call(tmp_path: Path, till: Path) -> Callable[..., Run]:
    def run(*arguments: str | Path, **environment: str) -> Run:
        surroundings = {
            "PATH": os.defpath,
            "HOME": str(tmp_path),
            "TERM": "xterm",
            "LANG": "C.UTF-8",
            "TOOTHLINE_TILL": str(till),
            **environment,
        }
        return call_here(tmp_path, *arguments, environment=surroundings)

    return run


def everything(folder: Path) -> list[str]:
    """All that lies under ``folder``; a loop of links is one name."""
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*"))


def one_line(done: Run) -> str:
    """The one line that a refusal says on stderr, with nothing on stdout."""
    assert done.stdout == b""
    (line,) = done.stderr.decode("utf-8").splitlines()
    assert "Traceback" not in line
    assert "fault of the program" not in line
    assert all(character.isprintable() for character in line)
    return line


def _plain(path: Path, data: bytes) -> None:
    path.write_bytes(data)


def _huge(path: Path) -> None:
    with path.open("wb") as file:
        file.write(b"# a long file\n")
        file.truncate(50_000_000)


def _full_of_text(path: Path) -> None:
    path.write_bytes(b"# the same line over and over again, as a copying program gone wrong leaves it\n" * 640_000)


def _loop(path: Path) -> None:
    path.symlink_to(path.name)


def _lost_link(path: Path) -> None:
    path.symlink_to("taken-down.toml")


BAD: dict[str, tuple[Callable[[Path], object], str]] = {
    "absent": (lambda path: None, "no such file"),
    "not TOML": (lambda path: _plain(path, b"format = 1\n[saw\n"), "not TOML"),
    "binary": (lambda path: _plain(path, bytes(range(256)) * 40), "not UTF-8"),
    "NULs": (lambda path: _plain(path, b"\0" * 500), "not TOML"),
    "empty": (lambda path: _plain(path, b""), "empty"),
    "blank": (lambda path: _plain(path, b"\n \n"), "empty"),
    "50 MB of holes": (_huge, "50,000,000 bytes; allowed: at most"),
    "50 MB of text": (_full_of_text, "bytes; allowed: at most"),
    "a loop of links": (_loop, "cannot be read"),
    "a link to nothing": (_lost_link, "no such file"),
    "a folder": (lambda path: path.mkdir(), "a folder"),
    "a pipe": (lambda path: os.mkfifo(path), "not a regular file"),
    "Latin-1": (lambda path: _plain(path, GOOD.replace("Boat", "Büchse").encode("latin-1")), "not UTF-8"),
    "UTF-16": (lambda path: _plain(path, GOOD.encode("utf-16")), "byte order mark of UTF-16"),
    "a key unknown": (lambda path: _plain(path, (GOOD + "colour = 3\n").encode()), "colour"),
}


@pytest.mark.parametrize("kind", BAD)
def test_a_recipe_that_is_none_is_refused_in_one_line(kind: str, call: Callable[..., Run], tmp_path: Path) -> None:
    lay, says = BAD[kind]
    lay(tmp_path / "odd-saw.toml")
    before = everything(tmp_path)
    done = call("start", "./odd-saw.toml")
    assert done.returncode == 2
    line = one_line(done)
    assert says in line
    assert "odd-saw.toml" in line
    assert everything(tmp_path) == before


def test_plan_and_check_refuse_the_same_files(call: Callable[..., Run], tmp_path: Path) -> None:
    names = {kind: f"./odd-{number}.toml" for number, kind in enumerate(BAD)}
    for kind, (lay, _) in BAD.items():
        lay(tmp_path / names[kind])
    before = everything(tmp_path)
    done = call("check", *names.values())
    assert done.returncode == 2
    assert done.stdout == b""
    for line, (kind, (_, says)) in zip(done.stderr.decode().splitlines(), BAD.items(), strict=True):
        assert says in line
        assert names[kind].removeprefix("./") in line
    for kind in ("not TOML", "binary", "50 MB of holes", "a loop of links", "a pipe"):
        done = call("plan", names[kind])
        assert done.returncode == 2
        assert BAD[kind][1] in one_line(done)
    assert everything(tmp_path) == before


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_recipe_without_permission_is_refused_in_one_line(call: Callable[..., Run], tmp_path: Path) -> None:
    path = tmp_path / "odd-saw.toml"
    path.write_text(GOOD, encoding="utf-8")
    path.chmod(0)
    done = call("plan", path)
    assert done.returncode == 2
    assert "cannot be read" in one_line(done)


def test_all_errors_of_a_recipe_are_told_at_once_with_their_lines(call: Callable[..., Run], tmp_path: Path) -> None:
    (tmp_path / "saw.toml").write_text(GOOD.replace("rake = 4", "rake = 80").replace("14 in", "-14 in"))
    done = call("check", "./saw.toml")
    assert done.returncode == 2
    assert done.stdout == b""
    lines = done.stderr.decode().splitlines()
    assert [line.split(": ")[0] for line in lines] == ["saw.toml:6", "saw.toml:10"]


def test_a_link_to_a_good_recipe_is_a_good_recipe(call: Callable[..., Run], tmp_path: Path) -> None:
    (tmp_path / "saw.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "link.toml").symlink_to("saw.toml")
    done = call("check", "./link.toml")
    assert done.returncode == 0, done.stderr
    assert b"Boat-shed tenon saw" in done.stdout


@pytest.mark.parametrize("command", ["start", "plan"])
def test_an_unknown_saw_is_refused_in_one_line(command: str, call: Callable[..., Run], tmp_path: Path) -> None:
    before = everything(tmp_path)
    done = call(command, "no-such-saw")
    assert done.returncode == 2
    assert "no-such-saw" in one_line(done)
    assert everything(tmp_path) == before


def test_a_name_with_control_characters_does_not_reach_the_terminal(call: Callable[..., Run]) -> None:
    for name in ("\x1b[2Jsaw", "a\nb", "\x9b31m", "\u202esaw", "saw\udcff"):
        done = call("plan", name)
        assert done.returncode == 2
        one_line(done)


def test_a_till_that_is_a_file_is_refused_in_one_line(call: Callable[..., Run], tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file\n")
    for arguments in (
        ["--till", "file", "plan", "rip"],
        ["plan", "--till", "file", "rip"],
        ["start", "--till", "file", "rip"],
    ):
        done = call(*arguments)
        assert done.returncode == 2
        assert "a file; a till is a folder" in one_line(done)
    done = call("plan", "rip", TOOTHLINE_TILL=str(tmp_path / "file"))
    assert done.returncode == 2
    assert "TOOTHLINE_TILL" in one_line(done)


def test_a_till_that_is_not_there_is_refused_where_it_can_only_be_read(
    call: Callable[..., Run], tmp_path: Path
) -> None:
    before = everything(tmp_path)
    for command in (["history"], ["resume"]):
        done = call("--till", "nowhere", *command)
        assert done.returncode == 2, command
        one_line(done)
    assert everything(tmp_path) == before


def test_without_an_interrupted_sharpening_there_is_nothing_to_resume(call: Callable[..., Run]) -> None:
    done = call("resume")
    assert done.returncode == 2
    assert "toothline start" in one_line(done)
    done = call("resume", "tenon")
    assert done.returncode == 2
    assert "tenon" in one_line(done)


@pytest.mark.parametrize(
    "arguments",
    [["sharpen"], ["plan"], ["show"], ["demo", "--seed", "x"], ["recipes", "--nonsense"], ["--till"], ["check"]],
    ids=" ".join,
)
def test_wrong_usage_is_told_in_one_line(arguments: list[str], call: Callable[..., Run], tmp_path: Path) -> None:
    before = everything(tmp_path)
    done = call(*arguments)
    assert done.returncode == 2
    assert "--help" in one_line(done)
    assert everything(tmp_path) == before


@pytest.mark.parametrize("kind", BAD)
def test_a_log_that_is_none_is_shown_to_be_none(kind: str, call: Callable[..., Run], tmp_path: Path) -> None:
    lay, _ = BAD[kind]
    lay(tmp_path / "odd-log.toml")
    before = everything(tmp_path)
    done = call("show", "./odd-log.toml")
    told = (done.stdout + done.stderr).decode("utf-8")
    assert "Traceback" not in told
    assert "fault of the program" not in told
    assert "odd-log.toml" in told
    assert done.returncode == 2 or "for reading only" in told
    assert everything(tmp_path) == before


def test_check_tells_the_good_ones_and_the_bad_ones(call: Callable[..., Run], tmp_path: Path) -> None:
    (tmp_path / "good.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "bad.toml").write_text("format = 9\n", encoding="utf-8")
    done = call("check", "./good.toml", "./bad.toml", "./absent.toml")
    assert done.returncode == 2
    assert b"good.toml: a recipe in order" in done.stdout
    assert b"bad.toml" in done.stderr
    assert b"absent.toml: no such file" in done.stderr
