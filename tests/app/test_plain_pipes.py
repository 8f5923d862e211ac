"""The line-by-line mode as another program runs it: through pipes, in a simple terminal, stopped by signals."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tomllib
import zlib
from pathlib import Path

import pexpect
import pytest

SAW = """\
format = 1
[saw]
name = "Boat-shed sash saw"
kind = "sash"
cut = "crosscut"
toothed_length = "33 mm"
plate_thickness = "0.8 mm"
points_counted = 12
[teeth]
pitch = "3 mm"
rake = 15.0
fleam = 20.0
first_leans = "away"
[set]
per_side = "0.15 mm"
least_per_side = "0.08 mm"
[file]
face = "8 mm"
[work]
vise_jaw = "200 mm"
"""

#: One whole sharpening, as it is typed: look over, level, set, file, dress, prove, close, finish.
LOOK_OVER = ["y", "y", "y", "answer 12", "answer 1.1 mm", "1", "answer none", "1", "6", "", ""]
LEVEL = ["y", "y", "y", "", "", "1"]
SET = ["y", "y", "y", "y", *[""] * 6, "y", "y", "y", *[""] * 6, "y"]
FILE = ["y", "y", "y", "y", "", "2", "", "3", "back", "2", "out broken tooth", "", "", "y"]
PROGRAM = [sys.executable, "-m", "session"]


def environment() -> dict[str, str]:
    kept = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}
    return {**kept, "TERM": "dumb", "LC_ALL": "C.UTF-8"}


@pytest.fixture
def till(tmp_path: Path) -> Path:
    folder = tmp_path / "till"
    folder.mkdir()
    (folder / "sash.toml").write_text(SAW, encoding="utf-8")
    return folder


def run(till: Path, *arguments: str, typed: str | bytes = "", **env: str) -> subprocess.CompletedProcess[bytes]:
    raw = typed if isinstance(typed, bytes) else typed.encode()
    command = [*PROGRAM, *arguments, "--till", str(till)]
    return subprocess.run(
        command, input=raw, capture_output=True, timeout=60, check=False, env={**environment(), **env}
    )


def log_of(till: Path) -> Path:
    (log,) = till.glob("logs/*/*.toml")
    return log


def marks_of(till: Path) -> list[dict]:
    """The marks, each block's seal checked byte by byte by nothing of ours."""
    data = log_of(till).read_bytes()
    header, *blocks = data.split(b"\n[[mark]]\n")
    body, _, seal = header.rpartition(b"\ncrc = ")
    for block in blocks:
        body, _, seal = (b"\n[[mark]]\n" + block).rpartition(b"crc = ")
        assert seal.strip().strip(b'"') == b"%08x" % zlib.crc32(body)
    marks = tomllib.loads(data.decode()).get("mark", [])
    assert [mark["seq"] for mark in marks] == list(range(1, len(marks) + 1)) == list(range(1, len(blocks) + 1))
    return marks


def test_a_whole_sharpening_by_piped_lines(till: Path) -> None:
    first = run(till, "start", "sash", "--plain", typed="\n".join([*LOOK_OVER, *LEVEL, *SET]) + "\n")
    assert first.returncode == 0, first.stderr
    told = first.stdout.decode("ascii")
    assert "WARNING before this stage." in told
    assert marks_of(till)[-1]["did"] == "done" or marks_of(till)[-1]["did"] == "checked"
    assert b"\x1b" not in first.stdout
    print(told)
