"""The whole program, line by line, killed by a real SIGKILL as it enters a call that writes: what it said is on disk.

What is typed comes from the desk's own table of acts, so that a new act is among it. The calls are those of the log
and of the screen alike: a prompt that was seen means that everything before it is done with.
"""

from __future__ import annotations

import os
import random
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from independent_log import read_independently
from session.desk.key_table import ACTS
from session.log.journal import Journal
from session.sentences.offers import Act
from small_recipe import small_recipe
from soak_table import tried

pytestmark = pytest.mark.skipif(shutil.which("strace") is None, reason="nothing here can kill at a call: no strace")

#: Answers beside the words of the acts; the empty line is the key that goes on.
ANSWERS = ("", "", "", "", "y", "y", "y", *"1234567890", "none", "1.1 mm", "6 in slim, corner 2", "out 1", "place 5")
LINES = 260


def typed(seed: int) -> bytes:
    """Lines as a person in a hurry may type them; most go on, so that they come far, and a pause is soon over."""
    rows = [row for row in ACTS if row.words and row.act not in (Act.QUIT, Act.HELP, Act.TERMS)]
    chance = random.Random(seed)
    lines: list[str] = []
    while len(lines) < LINES:
        if chance.random() < 0.8:
            lines.append(chance.choice(ANSWERS))
            continue
        row = chance.choice(rows)
        pause = row.act is Act.PAUSE
        lines += [row.words[0], chance.choice(ANSWERS), row.words[0]] if pause else [row.words[0]]
    return "".join(f"{line}\n" for line in lines).encode()


@dataclass
class Program:
    """The program on a till of its own that begins as ``begun`` was."""

    folder: Path
    begun: Path

    def run(self, given: bytes, *options: str) -> tuple[int, str]:
        """Go on with the sharpening under strace, with ``given`` typed; the status and what was said."""
        shutil.rmtree(self.folder / "till", ignore_errors=True)
        shutil.copytree(self.begun, self.folder / "till")
        command = ["strace", "-f", "-s", "12", "-o", str(self.folder / "calls"), *options]
        environment = {"PATH": os.environ.get("PATH", os.defpath), "HOME": str(self.folder), "TERM": "dumb"}
        done = subprocess.run(
            [*command, sys.executable, "-m", "session", "resume", "--plain", "--till", str(self.folder / "till")],
            input=given,
            capture_output=True,
            check=False,
            env={**environment, "LC_ALL": "C.UTF-8"},
            cwd=Path(__file__).parents[2],
        )
        return done.returncode, done.stdout.decode()

    @property
    def log(self) -> Path:
        (log,) = (self.folder / "till").glob("logs/*/*.toml")
        return log


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A till with a sharpening just begun."""
    folder = tmp_path_factory.mktemp("begun")
    (folder / "till").mkdir()
    (folder / "till" / "sash.toml").write_text(small_recipe(12), encoding="utf-8")
    command = [sys.executable, "-m", "session", "start", "sash", "--plain", "--till", str(folder / "till")]
    subprocess.run(command, input=b"y\n", capture_output=True, check=True, cwd=Path(__file__).parents[2])
    return folder / "till"


def plain(marks: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Marks without what depends on the time of day."""
    timed = ("at", "crc", "value", "summary")
    return [{key: value for key, value in mark.items() if key not in timed} for mark in marks]


def prompts(said: str) -> int:
    """How often a line was asked for."""
    return len(re.findall(r"^[>:] ", said, re.MULTILINE))


def on_disk_at_each_prompt(calls: Path, before: int) -> list[int]:
    """Marks synced before each prompt of a sound run."""
    synced, written, found = before, 0, []
    for line in calls.read_text(encoding="utf-8").splitlines():
        if re.search(r'write\(\d+, "\\n\[\[mark\]\]', line):
            written += 1
        elif "fsync(" in line:
            synced, written = synced + written, 0
        elif re.search(r'write\(1, "[>:] "', line):
            found.append(synced)
    return found


def killed(begun: Path, tmp_path: Path, seed: int, kills: int) -> list[str]:
    """What does not hold after each of ``kills`` kills, at calls spread evenly over a run."""
    program = Program(tmp_path, begun)
    given = typed(seed)
    before = len(read_independently(next(begun.glob("logs/*/*.toml"))).marks)
    status, said = program.run(given, "-e", "trace=write,fsync,ftruncate")
    assert status == 0, said
    sound = plain(read_independently(program.log).marks)
    at_prompt = on_disk_at_each_prompt(tmp_path / "calls", before)
    assert len(at_prompt) == prompts(said)
    assert at_prompt[-1] == len(sound) > before + 30
    calls = (tmp_path / "calls").read_text(encoding="utf-8")
    wrong = []
    for name in ("write", "fsync"):
        many = len(re.findall(rf"\b{name}\(", calls))
        step = max(1, 2 * many // kills)
        for at in range((step + 1) // 2, many + 1, step):
            tried()
            status, said = program.run(given, "-e", f"trace={name}", "-e", f"inject={name}:signal=SIGKILL:when={at}")
            read = read_independently(program.log)
            seen = prompts(said)
            least = at_prompt[seen - 1] if seen else before
            most = at_prompt[seen] if seen < len(at_prompt) else len(sound)
            if status not in (-9, 137) or plain(read.marks) != sound[: len(read.marks)]:
                wrong.append(f"{name} {at}: status {status}, or other marks than without a kill")
            if not least <= len(read.marks) <= most:
                wrong.append(
                    f"{name} {at}: {seen} prompts seen, {least} to {most} marks expected, {len(read.marks)} there"
                )
            with Journal.open(program.log) as journal:
                if len(journal.marks) != len(read.marks):
                    wrong.append(f"{name} {at}: opened again it has {len(journal.marks)} marks, not {len(read.marks)}")
    return wrong


@pytest.mark.wide
def test_a_few_kills_as_the_log_or_the_screen_is_written(begun: Path, tmp_path: Path) -> None:
    assert killed(begun, tmp_path, seed=1, kills=2) == []


@pytest.mark.soak("the whole program killed as it enters a call")
@pytest.mark.parametrize("seed", range(2, 6))
def test_many_kills_as_the_log_or_the_screen_is_written(begun: Path, tmp_path: Path, seed: int) -> None:
    assert killed(begun, tmp_path, seed=seed, kills=40) == []
