"""A backup that is written or brought in, and killed at every moment: the old till or the new one, and copies."""

from __future__ import annotations

import errno
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from dying_disk import EVERY_MOMENT, DyingDisk, When, killed
from gated_disk import GatedDisk
from made_backup import LOG, NOW, Contents, contents, fill
from session.machine.disk import Disk
from session.machine.refusal import Refusal
from session.till.backup_archive import opened
from session.till.backup_intake import read_backup
from session.till.backup_moves import finish_here, is_cut_short
from session.till.backup_writer import write_backup
from session.till.till_folder import Till, till_folder
from soak_table import tried

SHORT = "logs/netloft-panel-saw/2026-03-08T09-00-00-bbbbbb.toml"


def seen(till: Path) -> tuple[Contents, Contents]:
    """The files of a till as the program reads it, and the copies among them."""
    files = {
        path.relative_to(till).as_posix(): path.read_bytes()
        for path in till.rglob("*")
        if path.is_file()
        and not path.name.endswith(".lock")
        and not any(part.startswith(".") for part in path.relative_to(till).parts)
    }
    return (
        {name: data for name, data in files.items() if ".before-" not in name},
        {name: data for name, data in files.items() if ".before-" in name},
    )


class Shop:
    """A till as it is, a backup that differs from it in every way, and the till that comes of both."""

    def __init__(self, tmp_path: Path, log_bytes: Callable[[int], bytes]) -> None:
        self.folder, self.backup = tmp_path / "till", tmp_path / "till.zip"
        self.old = {
            "netloft-panel-saw.toml": b"# as it is here\n",
            "settings.toml": b"sound = true\n",
            LOG: log_bytes(9),
            SHORT: log_bytes(1),
        }
        fill(
            tmp_path / "other",
            {
                "netloft-panel-saw.toml": b"# as it was backed up\n",
                "settings.toml": b"sound = true\n",
                "boat-shed-rip.toml": b"# new\n",
                "cuts/boat-shed-rip/a.toml": b"# new too\n",
                LOG: log_bytes(4),
                SHORT: log_bytes(3),
            },
        )
        write_backup(Till(tmp_path / "other"), self.backup, NOW)
        self.laid()
        read_backup(Till(self.folder), self.backup, NOW)
        self.new, self.copies = seen(self.folder)
        assert sorted(self.copies.values()) == sorted([self.old["netloft-panel-saw.toml"], self.old[SHORT]])
        assert self.new != self.old

    def laid(self) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)
        fill(self.folder, self.old)

    def judged(self, told: str) -> bool:
        """That the till is the old or the new one once it is opened again; whether it is the new one."""
        assert till_folder(str(self.folder)) == self.folder
        files, copies = seen(self.folder)
        assert files in (self.old, self.new), told
        if files == self.new:
            # Their names tell the time of the import.
            assert sorted(copies.values()) == sorted(self.copies.values()), told
        else:
            assert copies == {}, told
        return files == self.new


@pytest.fixture
def shop(tmp_path: Path, log_bytes: Callable[[int], bytes]) -> Shop:
    return Shop(tmp_path, log_bytes)


@pytest.mark.parametrize(
    "when", [EVERY_MOMENT[0], *(pytest.param(one, marks=pytest.mark.wide) for one in EVERY_MOMENT[1:])]
)
def test_killed_at_every_call_it_leaves_the_old_till_or_the_new(when: When, shop: Shop) -> None:
    became: list[bool] = []
    for at in range(1, 1000):
        shop.laid()
        if not killed(
            DyingDisk(at, when=when), lambda disk: read_backup(Till(shop.folder), shop.backup, NOW, disk=disk)
        ):
            break
        became.append(shop.judged(f"call {at}"))
    # First always the old one, from one moment on always the new one.
    assert became == sorted(became)
    few = 0 if when == "half way" else 10
    assert few < sum(became) < len(became) - few
    assert shop.judged("whole")


def test_interrupted_by_the_person_it_leaves_nothing_laid_ready(shop: Shop) -> None:
    class Interrupted(GatedDisk):
        def link(self, source: Path, target: Path) -> None:
            if target.name == "3":
                raise KeyboardInterrupt
            super().link(source, target)

    shop.laid()
    before = contents(shop.folder)
    with pytest.raises(KeyboardInterrupt):
        read_backup(Till(shop.folder), shop.backup, NOW, disk=Interrupted())
    assert contents(shop.folder) == before
    assert not (shop.folder / ".import").exists()


def test_killed_again_while_it_is_finished_it_is_finished_later(shop: Shop) -> None:
    decided = 0
    for at in range(1, 1000, 7):
        shop.laid()
        if not killed(DyingDisk(at), lambda disk: read_backup(Till(shop.folder), shop.backup, NOW, disk=disk)):
            break
        if not is_cut_short(shop.folder):
            continue
        decided += 1
        for again in range(1, 1000, 5):
            if not killed(DyingDisk(again, when="after the call"), lambda disk: finish_here(shop.folder, disk)):
                break
        assert shop.judged(f"call {at}")
    assert decided > 3


def test_a_call_that_fails_is_told_and_what_was_decided_is_finished(shop: Shop) -> None:
    told: set[str] = set()
    for at in range(1, 1000):
        shop.laid()
        disk = DyingDisk(at, error=errno.ENOSPC)
        try:
            read_backup(Till(shop.folder), shop.backup, NOW, disk=disk)
        except Refusal as refused:
            told.add(f"{refused.code} {str(refused).removeprefix(f'{shop.folder}: ')}")
        if disk.calls < at:
            break
        shop.judged(f"call {at}")
    assert told == {
        "4 nothing can be brought in: the disk is full",
        "4 the backup was not brought in: the disk is full",
        "4 the backup is not all brought in; the rest follows when the till is opened next: the disk is full",
    }


@pytest.mark.parametrize(
    "moves",
    [
        b"move = 3\n",
        b"\xff",
        b"[[move]]\npath = 3\n",
        b'[[move]]\npath = "../out.toml"\nsha256 = ""\nold = ""\ncopy = ""\n',
        b'[[move]]\npath = "a.toml"\nsha256 = ""\nold = ""\ncopy = "../out.toml"\n',
    ],
)
def test_what_cannot_be_finished_is_told_and_nothing_else_is_done(moves: bytes, shop: Shop) -> None:
    shop.laid()
    fill(shop.folder, {".import/moves.toml": moves, ".import/1": b"x"})
    with pytest.raises(Refusal, match="that cannot be finished: its list cannot be read") as refused:
        till_folder(str(shop.folder))
    assert refused.value.code == 4
    assert seen(shop.folder) == (shop.old, {})


def test_a_file_written_meanwhile_stays(shop: Shop) -> None:
    class Meddled(Disk):
        def replace(self, source: Path, target: Path) -> None:
            raise AssertionError(f"{target} was to stay")

        def fsync_dir(self, path: Path) -> None:
            if path.name == ".import":
                (shop.folder / "netloft-panel-saw.toml").write_bytes(b"# edited just now\n")
                (shop.folder / SHORT).write_bytes(shop.old[LOG])

    shop.laid()
    read_backup(Till(shop.folder), shop.backup, NOW, disk=Meddled())
    files, copies = seen(shop.folder)
    assert copies == {}
    assert files == {
        **shop.new,
        "netloft-panel-saw.toml": b"# edited just now\n",
        "netloft-panel-saw (backup copy).toml": shop.new["netloft-panel-saw.toml"],
        SHORT: shop.old[LOG],
        SHORT.replace(".toml", " (backup copy).toml"): shop.new[SHORT],
    }


def test_two_do_not_bring_in_at_once(shop: Shop) -> None:
    class Second(Disk):
        said: str = ""

        def replace(self, source: Path, target: Path) -> None:
            with pytest.raises(Refusal, match="a backup is being brought in by process") as refused:
                till_folder(str(shop.folder))
            assert refused.value.code == 3
            self.said = str(refused.value)
            super().replace(source, target)

    shop.laid()
    second = Second()
    read_backup(Till(shop.folder), shop.backup, NOW, disk=second)
    assert second.said
    assert shop.judged("whole")


@pytest.mark.parametrize("when", EVERY_MOMENT)
def test_a_backup_is_there_whole_or_not_at_all(when: When, shop: Shop, tmp_path: Path) -> None:
    made: list[bool] = []
    to = tmp_path / "made.zip"
    for at in range(1, 100):
        if not killed(DyingDisk(at, when=when), lambda disk: write_backup(Till(shop.folder), to, NOW, disk=disk)):
            break
        made.append(to.exists())
        if made[-1]:
            with opened(to) as backup:
                assert len(backup.files) == len(shop.new) + len(shop.copies)
        # What the killed one left is in nobody's way.
        with suppress(FileNotFoundError):
            to.unlink()
        write_backup(Till(shop.folder), to, NOW)
        to.unlink()
    assert made == sorted(made)
    assert made[0] is False
    # The last write comes before the name.
    assert made[-1] is (when != "half way")


@pytest.mark.soak("a program killed that brings a backup in")
def test_a_hundred_real_kills_of_the_command(shop: Shop) -> None:
    chance = random.Random(9)
    command = [sys.executable, "-m", "session", "--till", str(shop.folder), "till", "--import", str(shop.backup)]
    became = 0
    for _ in range(100):
        shop.laid()
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        while child.poll() is None and not (shop.folder / ".import").exists():
            pass
        until = time.monotonic() + chance.uniform(0, 0.03)
        while child.poll() is None and time.monotonic() < until:
            pass
        with suppress(ProcessLookupError):
            child.send_signal(signal.SIGKILL)
        child.wait()
        tried()
        became += shop.judged("a real kill")
    assert 0 < became < 100, "all kills came too early, or too late"
