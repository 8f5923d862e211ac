"""The command line from outside: help, two names for one program, closed pipes, and the demo without a person."""

from __future__ import annotations

import gc
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from called_here import call_here
from independent_log import read_independently
from session.__main__ import run
from session.rehearsal.unattended import play
from session.till.till_folder import Till
from small_recipe import small_recipe

PROGRAM = Path(sys.executable).with_name("toothline")
FULL = Path("/dev/full")


def call(folder: Path, *arguments: str | Path, python: bool = False, **more: Any) -> subprocess.CompletedProcess[bytes]:
    """The program, or ``python -m session``, in its own home ``folder``."""
    command = [sys.executable, "-m", "session"] if python else [str(PROGRAM)]
    given = {
        "env": environment(folder),
        "stdin": subprocess.DEVNULL,
        "capture_output": True,
        "timeout": 600,  # no pace, only that nothing waits for ever
        **more,
    }
    return subprocess.run([*command, *arguments], cwd=folder, **given)


def environment(folder: Path) -> dict[str, str]:
    """No more than a program needs, with ``folder`` as its home."""
    return {"PATH": os.defpath, "HOME": str(folder), "TERM": "xterm", "LANG": "C.UTF-8", "COLUMNS": "100"}


def here(folder: Path, *arguments: str | Path, **more: Any) -> subprocess.CompletedProcess[bytes]:
    """The same without a process of its own."""
    return call_here(folder, *arguments, environment=environment(folder), **more)


def commands(folder: Path) -> list[str]:
    """The commands that the help lists."""
    told = here(folder, "--help").stdout.decode()
    return re.findall(r"^    ([a-z]+)  ", told.partition("COMMAND")[2], re.MULTILINE)


def test_every_command_has_its_help_with_an_example(tmp_path: Path) -> None:
    found = commands(tmp_path)
    assert {"start", "resume", "demo", "plan", "even", "recipes", "check", "show"} <= set(found)
    for command in found:
        done = here(tmp_path, command, "--help")
        assert done.returncode == 0
        assert done.stderr == b""
        told = " ".join(done.stdout.decode().split())
        assert f"Example: toothline {command}" in told
        assert "--till DIR" in told


def test_interrupted_while_it_is_still_loading_it_ends_without_a_word(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Interrupted:
        def find_spec(self, name: str, *_: object) -> None:
            if name == "session.cli":
                raise KeyboardInterrupt

    monkeypatch.delitem(sys.modules, "session.cli")
    monkeypatch.setattr(sys, "meta_path", [Interrupted(), *sys.meta_path])
    done = here(tmp_path, "recipes")
    assert (done.returncode, done.stdout, done.stderr) == (130, b"", b"")


def test_at_the_end_nothing_that_is_left_is_searched_for_circles(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["toothline", "--version"])
    threshold = gc.get_threshold()
    with pytest.raises(SystemExit):
        run()
    left = gc.get_freeze_count()
    gc.unfreeze()
    gc.set_threshold(*threshold)
    assert left > 1000


def test_help_and_version_leave_nothing_behind(tmp_path: Path) -> None:
    assert call(tmp_path, "--version").stdout.startswith(b"toothline ")
    assert here(tmp_path, "recipes").returncode == 0
    assert list(tmp_path.iterdir()) == []


#: What is asked at little cost, and what loads most of the program.
QUICK = [["--version"], ["--help"], ["sharpen"]]
HEAVY = [["recipes"], ["plan", "crosscut-panel", "--json"], ["plan", "no-such-saw"], []]


def outcome(done: subprocess.CompletedProcess[bytes]) -> tuple[int, bytes, bytes]:
    return done.returncode, done.stdout, done.stderr


@pytest.mark.parametrize(
    "arguments",
    [*QUICK, *(pytest.param(heavy, marks=pytest.mark.soak("the program in a process of its own")) for heavy in HEAVY)],
    ids=lambda arguments: " ".join(arguments) or "till",
)
def test_python_m_session_is_the_same_program(arguments: list[str], tmp_path: Path) -> None:
    assert outcome(call(tmp_path, *arguments)) == outcome(call(tmp_path, *arguments, python=True))


@pytest.mark.parametrize("arguments", [*QUICK, *HEAVY], ids=lambda arguments: " ".join(arguments) or "till")
def test_called_here_it_does_what_a_process_does(arguments: list[str], tmp_path: Path) -> None:
    """What the other tests of commands rest on, as they start no process."""
    assert outcome(here(tmp_path, *arguments)) == outcome(call(tmp_path, *arguments))


#: Those that end before Python itself looks at the streams, and those that a process shows it of.
READERS = [["recipes"], ["plan", "rip", "--why"], ["plan", "rip", "--json"], ["--help"]]


def into_a_pipe_without_a_reader(
    asked: Callable[..., subprocess.CompletedProcess[bytes]], **more: Any
) -> subprocess.CompletedProcess[bytes]:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        return asked(stdout=writing, **more)
    finally:
        os.close(writing)


@pytest.mark.parametrize("arguments", READERS, ids=" ".join)
def test_a_reader_that_has_gone_is_no_fault(arguments: list[str], tmp_path: Path) -> None:
    done = into_a_pipe_without_a_reader(partial(here, tmp_path, *arguments))
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("arguments", [["--help"], ["plan", "rip", "--json"]], ids=" ".join)
def test_a_reader_that_has_gone_is_no_fault_of_the_process(arguments: list[str], tmp_path: Path) -> None:
    asked = partial(call, tmp_path, *arguments, capture_output=False, stderr=subprocess.PIPE)
    done = into_a_pipe_without_a_reader(asked)
    assert (done.returncode, done.stderr) == (0, b"")


def told_that_the_disk_is_full(done: subprocess.CompletedProcess[bytes]) -> None:
    assert done.returncode == 4
    (line,) = done.stderr.decode().splitlines()
    assert "would not be taken" in line


@pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("arguments", [["recipes"], ["plan", "rip"], ["--help"], ["--version"]], ids=" ".join)
def test_output_that_the_disk_would_not_take_is_told(arguments: list[str], tmp_path: Path) -> None:
    with FULL.open("wb") as full:
        told_that_the_disk_is_full(here(tmp_path, *arguments, stdout=full.fileno()))


@pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("arguments", [["recipes"], ["--version"]], ids=" ".join)
def test_output_that_the_disk_would_not_take_is_told_by_the_process(arguments: list[str], tmp_path: Path) -> None:
    with FULL.open("wb") as full:
        done = call(tmp_path, *arguments, capture_output=False, stdout=full, stderr=subprocess.PIPE)
    told_that_the_disk_is_full(done)


def with_closed(folder: Path, words: str) -> subprocess.CompletedProcess[bytes]:
    """The program called with ``words`` by a shell that closes one of its streams."""
    line = ["/bin/sh", "-c", f'exec "{PROGRAM}" {words}']
    return subprocess.run(line, env=environment(folder), cwd=folder, capture_output=True, timeout=60)


@pytest.mark.wide
@pytest.mark.parametrize("words", ["plan rip --json", "--help", "start rip --plain"])
def test_without_any_stdout_it_still_ends_well(words: str, tmp_path: Path) -> None:
    done = with_closed(tmp_path, f"{words} >&- </dev/null")
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("words", ["recipes", "plan rip --why"])
def test_without_any_stdout_every_command_ends_well(words: str, tmp_path: Path) -> None:
    done = here(tmp_path, *words.split(), stdout=None)
    assert (done.returncode, done.stderr) == (0, b"")


def test_without_any_stdin_the_input_has_ended(tmp_path: Path) -> None:
    done = with_closed(tmp_path, "--till till start rip --plain <&-")
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"The input has ended." in done.stdout
    assert here(tmp_path, "check", log_in(tmp_path / "till")).returncode == 0


def test_without_any_stderr_words_about_problems_do_not_get_among_the_data(tmp_path: Path) -> None:
    done = with_closed(tmp_path, "sharpen 2>&-")
    assert (done.returncode, done.stdout) == (2, b"")


@pytest.mark.parametrize("arguments", [["recipes"], ["plan", "fine-panel", "--why"], ["plan", "rip", "--json"]])
def test_a_letter_that_the_terminal_lacks_ends_nothing(arguments: list[str], tmp_path: Path) -> None:
    done = here(tmp_path, *arguments, encoding="ascii")
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode("ascii").replace("?", "") != ""


def test_a_letter_that_the_terminal_lacks_ends_no_process(tmp_path: Path) -> None:
    # "recipes" alone would say it in ASCII.
    asked = ["plan", "fine-panel", "--why"]
    done = call(tmp_path, *asked, env={**environment(tmp_path), "PYTHONIOENCODING": "ascii"})
    assert outcome(done) == outcome(here(tmp_path, *asked, encoding="ascii"))
    assert b"?" in done.stdout


# The demo without a person.


def log_in(till: Path) -> Path:
    (log,) = till.glob("logs/*/*.toml")
    return log


def marks_in(log: Path) -> list[dict[str, Any]]:
    """The marks of a log, read by nothing of ours, with every seal looked at."""
    read = read_independently(log)
    assert read.rest == b""
    return read.marks


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, subprocess.CompletedProcess[bytes]]:
    """A demo with seed 7, played once for all that is looked at."""
    folder = tmp_path_factory.mktemp("demo")
    return folder / "till", call(folder, "demo", "--unattended", "--seed", "7", "--to", "till")


@pytest.mark.wide
def test_the_demo_ends_with_a_finished_log(played: tuple[Path, subprocess.CompletedProcess[bytes]]) -> None:
    till, done = played
    assert done.returncode == 0, done.stderr
    assert Path(done.stdout.decode().strip()).name == log_in(till).name
    marks = marks_in(log_in(till))
    assert [mark["seq"] for mark in marks] == list(range(1, len(marks) + 1))
    assert [mark["did"] for mark in marks].count("finished") == 1
    assert marks[-1]["did"] == "finished"
    assert not list(till.glob("logs/*/*.lock"))


@pytest.mark.wide
def test_the_demo_files_every_gullet_or_says_why_not(
    played: tuple[Path, subprocess.CompletedProcess[bytes]],
) -> None:
    till, _ = played
    marks = marks_in(log_in(till))
    taken = {mark["of"] for mark in marks if mark["did"] == "took back"}
    standing = [mark for mark in marks if mark["seq"] not in taken and mark.get("stage") == "file"]
    # A short extra stage after the trial cut is a round of its own.
    first = [mark for mark in standing if mark.get("round", 1) == 1 and mark["did"] in ("done", "left out")]
    counted = [m["value"] for m in marks if m.get("what") == "points" and m.get("unit") == "in the line"]
    header = tomllib.loads(log_in(till).read_text(encoding="utf-8"))
    points = counted[-1] if counted else header["plan"]["points"]
    for side in (1, 2):
        assert [mark["tooth"] for mark in first if mark["side"] == side] == list(range(side, points + 1, 2))
    assert all(mark.get("reason") for mark in first if mark["did"] == "left out")


@pytest.mark.wide
def test_the_same_seed_gives_the_same_record(tmp_path: Path) -> None:
    """On a few teeth, in this process; the whole saw in processes of their own is for a longer run."""
    recipe = tmp_path / "small.toml"
    recipe.write_text(small_recipe(6), encoding="utf-8")
    first, again = (play(Till(tmp_path / name), seed=7, recipe_file=recipe).read_bytes() for name in ("first", "again"))
    assert first == again
    assert marks_in(log_in(tmp_path / "first"))[-1]["did"] == "finished"


@pytest.mark.soak("the program in a process of its own")
def test_the_same_seed_gives_the_same_marks(
    played: tuple[Path, subprocess.CompletedProcess[bytes]], tmp_path: Path
) -> None:
    till, _ = played
    again = call(tmp_path, "demo", "--unattended", "--seed", "7", "--to", "again")
    assert again.returncode == 0, again.stderr
    assert marks_in(log_in(tmp_path / "again")) == marks_in(log_in(till))


@pytest.mark.soak("the program in a process of its own")
@pytest.mark.parametrize("seed", range(20, 28))
def test_other_seeds_end_well_and_give_other_marks(
    seed: int, played: tuple[Path, subprocess.CompletedProcess[bytes]], tmp_path: Path
) -> None:
    till, _ = played
    other = call(tmp_path, "demo", "--unattended", "--seed", str(seed), "--to", "other")
    assert other.returncode == 0, other.stderr
    marks = marks_in(log_in(tmp_path / "other"))
    assert marks[-1]["did"] == "finished"
    assert [mark for mark in marks if "tooth" in mark] != [mark for mark in marks_in(log_in(till)) if "tooth" in mark]


def test_show_reads_what_the_filer_played_without_changing_it(tmp_path: Path) -> None:
    recipe, till = tmp_path / "small.toml", tmp_path / "till"
    recipe.write_text(small_recipe(6), encoding="utf-8")
    log = play(Till(till), seed=7, recipe_file=recipe)
    before = log.read_bytes()
    done = here(till, "show", log, "--json")
    assert done.returncode == 0
    assert b'"state": "finished"' in done.stdout
    assert log.read_bytes() == before
    assert here(till, "check", log).returncode == 0


def test_the_demo_to_a_place_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file\n")
    done = here(tmp_path, "demo", "--unattended", "--to", "file")
    assert done.returncode == 2
    (line,) = done.stderr.decode().splitlines()
    assert "a file; a till is a folder" in line
    assert (tmp_path / "file").read_text() == "a file\n"


def test_the_demo_to_a_place_without_a_name_is_refused(tmp_path: Path) -> None:
    done = here(tmp_path, "demo", "--unattended", "--to", "")
    assert done.returncode == 2
    assert b"not a folder's name" in done.stderr


def test_a_demo_that_is_thrown_away_has_no_place_to_be_left_in(tmp_path: Path) -> None:
    done = here(tmp_path, "demo", "--plain", "--to", "kept")
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"--to goes with --unattended" in done.stderr
    assert list(tmp_path.iterdir()) == []
