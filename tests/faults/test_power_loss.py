"""The power goes between any two system calls: what was shown is there, whatever the disk made of the rest.

Between an fsync and the next, a disk may keep any part of what was written, in any order, or nothing; a name may
be lost until its folder was synced (Pillai et al., OSDI 2014). A disk that remembers what is certain plays that.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from session.log.journal import Journal
from session.log.log_bytes import read_log_bytes
from session.machine.disk import Disk
from session.walk.mark import Mark

SECTOR = 512


@dataclass
class Moment:
    """What is certain of the log at one moment: its synced bytes, its bytes now, its name, the marks shown."""

    certain: bytes
    now: bytes
    name_certain: bool
    shown: int


class WatchedDisk(Disk):
    """Takes down a moment after every call."""

    def __init__(self) -> None:
        self.files: dict[int, tuple[bytes, bytes]] = {}
        self.named: set[int] = set()
        self.lasting: set[int] = set()
        self.shown = 0
        self.moments: list[Moment] = []

    def _took(self, inode: int) -> None:
        certain, now = self.files[inode]
        self.moments.append(Moment(certain, now, inode in self.lasting, self.shown))

    def _contents(self, fd: int) -> tuple[int, bytes]:
        inode = os.fstat(fd).st_ino
        path = Path(f"/proc/self/fd/{fd}")
        return inode, path.read_bytes()

    def write(self, fd: int, data: bytes) -> int:
        taken = super().write(fd, data)
        inode, now = self._contents(fd)
        self.files[inode] = (self.files.get(inode, (b"", b""))[0], now)
        self._took(inode)
        return taken

    def truncate(self, fd: int, size: int) -> None:
        super().truncate(fd, size)
        inode, now = self._contents(fd)
        self.files[inode] = (self.files.get(inode, (b"", b""))[0], now)
        self._took(inode)

    def fsync(self, fd: int) -> None:
        inode, now = self._contents(fd)
        self.files[inode] = (now, now)
        self._took(inode)

    def link(self, source: Path, target: Path) -> None:
        super().link(source, target)
        self.named.add(target.stat().st_ino)

    def fsync_dir(self, path: Path) -> None:
        self.lasting |= self.named


def after_power_loss(moment: Moment, chance: random.Random) -> bytes:
    """One of the contents that the file may have: every sector of the unsynced part on its own."""
    kept = bytearray(moment.certain)
    size = chance.randint(min(len(kept), len(moment.now)), max(len(kept), len(moment.now)))
    for start in range(len(kept) // SECTOR * SECTOR, size, SECTOR):
        begin, end = max(start, len(moment.certain)), min(start + SECTOR, size)
        piece = moment.now[begin:end]
        kept[begin:end] = chance.choice((piece, bytes(len(piece)), chance.randbytes(len(piece))))
    return bytes(kept[:size])


@pytest.mark.usefixtures("quick_decoding")
def test_no_shown_mark_is_lost_by_a_power_loss(
    tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Callable[..., Mark]
) -> None:
    disk, chance = WatchedDisk(), random.Random(5)
    marks = [mark(seq, reason="x" * chance.choice((0, 200, 1200))) for seq in range(1, 26)]
    with Journal.create(tmp_path, header, started=begun, disk=disk) as journal:
        for made in marks:
            journal.append(made)
            disk.shown = made.seq
    tried = 0
    for moment in disk.moments:
        if not moment.now.startswith(b"format = "):
            continue  # the lock's file
        assert moment.name_certain or moment.shown == 0
        for _ in range(30):
            log = read_log_bytes(after_power_loss(moment, chance))
            if moment.shown:
                assert list(log.marks[: moment.shown]) == marks[: moment.shown]
            assert list(log.marks) == marks[: len(log.marks)]
            assert len(log.marks) <= moment.shown + 1
            tried += 1
    assert tried > 1000


def test_a_log_has_its_name_only_once_its_header_is_certain(
    tmp_path: Path, header: dict[str, Any], begun: datetime
) -> None:
    disk = WatchedDisk()
    synced_when_named = []

    class Named(WatchedDisk):
        def link(self, source: Path, target: Path) -> None:
            certain, now = self.files[source.stat().st_ino]
            synced_when_named.append(certain == now == source.read_bytes())
            super().link(source, target)

    disk = Named()
    with Journal.create(tmp_path, header, started=begun, disk=disk) as journal:
        assert journal.path.stat().st_ino in disk.lasting
    assert synced_when_named == [True]
