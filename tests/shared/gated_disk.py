"""A disk whose calls all pass one gate, so that a test says in one place which of them goes wrong, and how."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from os import stat_result
from pathlib import Path
from typing import Final, TypeVar

from session.machine.disk import Disk

T = TypeVar("T")

#: What passes no gate: it lets go, reads, or asks nothing of the disk.
_UNGATED: Final = {"close", "read", "forget", "same_file", "now"}


class GatedDisk(Disk):
    """Hands each call to `gate`, which a test's own disk overrides. Syncs pass it and do nothing more."""

    def gate(self, call: str, act: Callable[[], T], half: Callable[[], T] | None = None) -> T:
        """Do the call of that name. ``half``, which only a write has, takes half of what it was given."""
        return act()

    def open(self, path: Path, flags: int) -> int:
        return self.gate("open", partial(super().open, path, flags))

    def write(self, fd: int, data: bytes) -> int:
        write = super().write
        return self.gate("write", partial(write, fd, data), partial(write, fd, data[: len(data) // 2]))

    def fsync(self, fd: int) -> None:
        # Nothing of this has to outlive the machine, and thousands of real ones take minutes.
        self.gate("fsync", _nothing)

    def fsync_dir(self, path: Path) -> None:
        self.gate("fsync_dir", _nothing)

    def link(self, source: Path, target: Path) -> None:
        self.gate("link", partial(super().link, source, target))

    def rename(self, source: Path, target: Path) -> None:
        self.gate("rename", partial(super().rename, source, target))

    def replace(self, source: Path, target: Path) -> None:
        self.gate("replace", partial(super().replace, source, target))

    def unlink(self, path: Path) -> None:
        self.gate("unlink", partial(super().unlink, path))

    def truncate(self, fd: int, size: int) -> None:
        self.gate("truncate", partial(super().truncate, fd, size))

    def lock(self, fd: int) -> None:
        self.gate("lock", partial(super().lock, fd))

    def mkdir(self, path: Path) -> None:
        self.gate("mkdir", partial(super().mkdir, path))

    def rmdir(self, path: Path) -> None:
        self.gate("rmdir", partial(super().rmdir, path))

    def stat(self, path: Path) -> stat_result:
        return self.gate("stat", partial(super().stat, path))

    def fstat(self, fd: int) -> stat_result:
        return self.gate("fstat", partial(super().fstat, fd))


def _nothing() -> None:
    """A sync on a medium that keeps what it has."""


def _calls(kind: type[Disk]) -> set[str]:
    return {name for name in vars(kind) if not name.startswith("_")}


# Else a new call of the disk would never fail in any of these tests, and none would tell.
assert _calls(GatedDisk) - {"gate"} == _calls(Disk) - _UNGATED, "each call passes the gate, or is told as ungated"
