"""What differs between Windows and the other systems: asked in one module only, and right on a stand-in for Windows."""

from __future__ import annotations

import ast
import errno
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

import as_on_windows
import session
from parsed_source import parsed, statements
from session.commands.opening.bench_opening import need_terminal
from session.log.journal import Journal
from session.log.log_reader import read_log
from session.machine import disk as disk_module
from session.machine import ending_signals, system_calls
from session.machine import lock as lock_module
from session.machine.disk import Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import place_file
from session.till.saw_file_name import LONGEST, slug
from session.walk.mark import Did, Mark
from soak_table import tried

ROOT = Path(session.__file__).parent

#: The modules that may ask which system this is. Textual has a driver for each; the guard of the speech program is a
#: process of its own that knows nothing of ours.
ASKING = {
    ROOT / "machine" / "system_calls.py",
    ROOT / "machine" / "ending_signals.py",
    ROOT / "machine" / "speech_guard.py",
    ROOT / "bench" / "terminal_driver.py",
}


@pytest.fixture(scope="module")
def calls() -> Any:
    """The calls as they are on Windows."""
    if sys.platform != "linux":
        pytest.skip("the stand-in for Windows needs Linux")
    return as_on_windows.load(ROOT / "machine" / "system_calls.py")


@pytest.fixture
def there(calls: Any, monkeypatch: pytest.MonkeyPatch) -> Any:
    """The disk and the lock with the calls as they are on Windows."""
    monkeypatch.setattr(disk_module, "system_calls", calls)
    monkeypatch.setattr(lock_module, "OPEN_FILES_KEEP_THEIR_NAMES", calls.OPEN_FILES_KEEP_THEIR_NAMES)
    monkeypatch.setattr(calls, "_RESTS_S", (0.0,) * 3)
    return calls


def of_one_system(path: Path) -> Iterator[str]:
    """What a module names that Windows has not, or that asks for the system."""
    text = path.read_text(encoding="utf-8")
    whole = any(f"{name}." in text for name in ("os", "select", "signal", "sys"))
    for node in ast.walk(parsed(path)) if whole else statements(parsed(path)):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            name = f"{node.value.id}.{node.attr}"
            hidden = {"os": as_on_windows.OS, "signal": as_on_windows.SIGNAL}.get(node.value.id)
            if (hidden is not None and not hasattr(hidden, node.attr)) or name in {
                "os.name",
                "os.O_BINARY",
                "select.poll",
                "signal.SIGBREAK",
                "sys.platform",
            }:
                yield f"{path.name}:{node.lineno}: {name}"
        elif isinstance(node, ast.Import | ast.ImportFrom):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [alias.name for alias in node.names]
            yield from (f"{path.name}:{node.lineno}: {n}" for n in names if n in as_on_windows.ABSENT | {"msvcrt"})


def test_only_one_module_knows_which_system_this_is() -> None:
    assert [told for path in sorted(ROOT.rglob("*.py")) if path not in ASKING for told in of_one_system(path)] == []
    # Else it could never fail.
    told = {line.split(": ")[1] for path in ASKING for line in of_one_system(path)}
    assert told >= {"fcntl", "msvcrt", "os.O_NOFOLLOW", "os.pread", "signal.SIGHUP", "select.poll", "sys.platform"}


def test_both_systems_have_the_same_names(calls: Any) -> None:
    def names(module: Any) -> set[str]:
        return {name for name in vars(module) if not name.startswith("_")} - {"fcntl", "select", "msvcrt"}

    assert names(calls) == names(system_calls)
    assert names(as_on_windows.load(ROOT / "machine" / "ending_signals.py")) == names(ending_signals)


def test_a_log_is_written_held_and_resumed_there(there: Any, tmp_path: Path) -> None:
    begun = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
    mark = Mark(seq=1, at=begun, did=Did.FLAGGED, reason="a line\nand")
    with Journal.create(tmp_path / "saw", {"session": {"started": begun}}, started=begun) as journal:
        journal.append(mark)
        # Who holds it can be read, as the locked byte lies behind what is written.
        with pytest.raises(LockHeld, match=f"held by process {os.getpid()} on"):
            Journal.open(journal.path)
        assert b"\r" not in journal.path.read_bytes()
    with journal.path.open("ab") as torn:
        torn.write(b"\n[[mark]]\nseq = ")
    with Journal.open(journal.path) as again:
        assert again.torn is not None
        again.append(Mark(seq=2, at=begun, did=Did.PAUSED))
        assert [told.seq for told in read_log(journal.path).marks] == [1, 2]
    assert {path.name.partition(".toml")[2][:5] for path in (tmp_path / "saw").iterdir()} == {"", ".torn"}


def test_whoever_takes_the_lock_meanwhile_keeps_its_file(there: Any, tmp_path: Path) -> None:
    log = tmp_path / "log.toml"

    class Slow(Disk):
        """Another takes the lock between this one's letting go of it and its removing of the file."""

        other: LogLock | None = None

        def close(self, fd: int) -> None:
            super().close(fd)
            if self.other is None:
                self.other = LogLock.take(log, Disk())

    slow = Slow()
    LogLock.take(log, slow).release()
    assert slow.other is not None
    assert slow.other.holds()
    with pytest.raises(LockHeld):
        LogLock.take(log, Disk())
    slow.other.release()
    assert list(tmp_path.iterdir()) == []


def test_a_scanner_that_looks_at_a_file_is_waited_for(there: Any, tmp_path: Path) -> None:
    path = tmp_path / "looked at.toml"
    path.write_bytes(b"")
    scanner = as_on_windows.OS.open(path, os.O_RDONLY)
    rested: list[float] = []

    def rest(seconds: float) -> None:
        rested.append(seconds)
        if len(rested) == 2:
            os.close(scanner)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(there.time, "sleep", rest)
        Disk().unlink(path)
    assert len(rested) == 2
    assert not path.exists()


def test_a_file_that_stays_in_other_hands_is_told_in_words(there: Any, tmp_path: Path) -> None:
    path = tmp_path / "in use.toml"
    path.write_bytes(b"")
    other = as_on_windows.OS.open(path, os.O_RDONLY)
    try:
        with pytest.raises(PermissionError) as refused:
            Disk().rename(path, tmp_path / "other.toml")
    finally:
        os.close(other)
    assert why(refused.value) == "another program has it open"
    assert path.exists()


def test_nothing_is_overwritten_where_there_are_no_links(
    there: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(source: Path, target: Path) -> None:
        # As a memory stick says it there: "incorrect function", which is EINVAL.
        raise OSError(errno.EINVAL, "Incorrect function")

    monkeypatch.setattr(there, "link", no_links)
    monkeypatch.setattr("session.machine.new_file.NO_LINKS", there.NO_LINKS)
    assert place_file(tmp_path / "a.toml", b"one\n", Disk())
    assert not place_file(tmp_path / "a.toml", b"two\n", Disk())
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.toml", b"one\n")]


def test_a_link_and_a_folder_are_said_to_be_that(there: Any, tmp_path: Path) -> None:
    (tmp_path / "outside").write_text("mine\n", encoding="utf-8")
    (tmp_path / "link").symlink_to("outside")
    with pytest.raises(OSError, match="symbolic links") as refused:
        Disk().open(tmp_path / "link", os.O_RDWR)
    assert refused.value.errno == errno.ELOOP
    with pytest.raises(IsADirectoryError):
        Disk().open(tmp_path, os.O_RDWR)


def test_a_disk_that_cannot_tell_files_apart_is_believed(calls: Any) -> None:
    def status(device: int, number: int) -> os.stat_result:
        return os.stat_result((0o100644, number, device, 1, 0, 0, 0, 0, 0, 0))

    # Not every Python there gives a device by name and by descriptor alike.
    assert calls.same_file(status(1, 7), status(2, 7))
    assert calls.same_file(status(1, 7), status(1, 0))
    assert not calls.same_file(status(1, 7), status(1, 8))
    assert not system_calls.same_file(status(1, 7), status(2, 7))


def test_a_terminal_need_not_say_what_it_is_there(calls: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    for stream in ("stdin", "stdout", "stderr"):
        monkeypatch.setattr(f"sys.{stream}.isatty", lambda: True)
    with pytest.raises(ValueError, match='TERM is ""'):
        need_terminal("start", {})
    monkeypatch.setattr("session.commands.opening.bench_opening.TERM_IS_TOLD", calls.TERM_IS_TOLD)
    need_terminal("start", {})
    with pytest.raises(ValueError, match='TERM is "dumb"'):
        need_terminal("start", {"TERM": "dumb"})


@pytest.mark.parametrize(
    "name", ["CON", "Aux", "nul", "COM1", "com¹", "LPT9", "CONIN$", "Prn.", "a:b", "a. ", "..", "Ä"]
)
def test_no_saw_gets_a_name_that_is_none_there(name: str, tmp_path: Path) -> None:
    path = tmp_path / f"{slug(name)}.toml"
    os.close(as_on_windows.OS.open(path, os.O_RDWR | os.O_CREAT))
    assert path.exists()
    assert re.fullmatch(r"[a-z0-9-]+", path.stem)


def test_names_that_differ_in_case_only_do_not_meet(tmp_path: Path) -> None:
    names = ["Netloft panel saw", "netloft panel saw", "NETLOFT panel saw", "Netloft Panel Saw"]
    for name in names:
        os.close(as_on_windows.OS.open(tmp_path / f"{slug(name)}.toml", os.O_RDWR | os.O_CREAT | os.O_EXCL))
    assert len(list(tmp_path.iterdir())) == len(names)
    with pytest.raises(FileExistsError):
        as_on_windows.OS.open(tmp_path / "NETLOFT-panel-saw.toml", os.O_RDWR | os.O_CREAT | os.O_EXCL)


def test_the_longest_name_fits_in_a_till_with_a_hundred_signs_of_its_own() -> None:
    till = "C:/Users/netloft/".ljust(100, "x")
    log = f"{till}/logs/{'w' * LONGEST}/2026-03-07T09-00-00-415dd7-999.toml"
    assert len(slug("w" * 300)) == LONGEST
    assert len(f"{log}.torn-2026-03-07T09-00-00-999".replace("/2026", "/.2026") + ".new") < 260


#: Everything of the program is imported and a saw is planned, with letters that an old code page lacks.
_ALL = """
import pkgutil, sys
from importlib import import_module
import session
for found in pkgutil.walk_packages(session.__path__, "session."):
    if found.name != "session.__main__":
        import_module(found.name)
assert "fcntl" not in vars(sys.modules["session.machine.system_calls"])
from session.cli import main
sys.exit(main(["plan", "crosscut-panel"]))
"""


@pytest.mark.wide
def test_every_module_is_imported_there_and_a_pipe_gets_utf_8() -> None:
    if sys.platform != "linux":
        pytest.skip("the stand-in for Windows needs Linux")
    told = {**as_on_windows.environment(), "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    told.pop("PYTHONIOENCODING", None)
    done = subprocess.run([sys.executable, "-c", _ALL], capture_output=True, env=told, timeout=120, check=False)
    assert done.returncode == 0, done.stderr.decode()
    assert "°" in done.stdout.decode("utf-8")
    assert b"\r" not in done.stdout


@pytest.mark.soak("the tests of the record as on Windows")
@pytest.mark.parametrize("folder", ["machine", "log", "till", "files", "faults", "commands", "desk"])
def test_the_tests_of_the_record_hold_there(folder: str) -> None:
    if sys.platform != "linux":
        pytest.skip("the stand-in for Windows needs Linux")
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-n",
        "0",
        "-p",
        "otherwise_on_windows",
        "-p",
        "no:cacheprovider",
        f"tests/{folder}",
    ]
    done = subprocess.run(
        [*command, "--deselect", "tests/machine/test_system_calls.py"],
        capture_output=True,
        text=True,
        env=as_on_windows.environment(),
        cwd=ROOT.parent,
        timeout=3000,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-6000:]
    passed = re.search(r"^(\d+) passed", done.stdout, re.MULTILINE)
    assert passed is not None, "no test was run"
    tried(int(passed[1]))
