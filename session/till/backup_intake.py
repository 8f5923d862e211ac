"""Bringing a backup into a till: what is missing comes in, what is equal or longer stays, what differs is copied."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, suppress
from datetime import datetime
from pathlib import Path

from session.log.log_bytes import read_log_bytes
from session.machine.clean_text import clean
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.refusal import DISK, HELD, Refusal
from session.machine.untrusted_text import shown
from session.till.backup_archive import MOST_OF_ONE, Backup, Listed, digest, opened
from session.till.backup_moves import Arrival, bring_in, finish, importing, is_cut_short
from session.till.backup_names import beside, caseless, fitting
from session.till.till_folder import Till
from session.till.till_names import NOT_SAWS, RETIRED
from session.value_class import dataclass, field


@dataclass(slots=True)
class Intake:
    """What became of a backup's files: how many came in, replaced another, were there already; and what to tell."""

    new: int = 0
    replaced: int = 0
    equal: int = 0
    kept: int = 0
    told: list[str] = field(default_factory=list)


def read_backup(till: Till, path: Path, now: datetime, *, disk: Disk = REAL) -> Intake:
    """Bring the backup at ``path`` into ``till``, all of it or nothing, and overwrite nothing without a copy beside it.

    Raises Refusal when the backup is not whole, when a log that it would replace is open at a bench, or when the disk
    will not take it.
    """
    with opened(path) as backup, importing(till.path, disk), ExitStack() as locks:
        try:
            finish(till.path, disk)
            intake = Intake()
            moves = list(_planned(till.path, backup, now, intake))
            for move, file in moves:
                if move.copy and _is_log(file.path):
                    locks.enter_context(_held(till.path / file.path, disk))
            if moves:
                bring_in(till.path, ((move, backup.data(file)) for move, file in moves), disk)
        except OSError as problem:
            words = "the backup was not brought in"
            if is_cut_short(till.path):
                words = "the backup is not all brought in; the rest follows when the till is opened next"
            raise Refusal(f"{shown(till.path)}: {words}: {why(problem)}", DISK) from None
    return intake


def _held(log: Path, disk: Disk) -> LogLock:
    try:
        return LogLock.take(log, disk)
    except LockHeld as held:
        raise Refusal(f"{held}. Nothing was brought in", HELD) from None


def _planned(till: Path, backup: Backup, now: datetime, intake: Intake) -> Iterator[tuple[Arrival, Listed]]:
    mark = f"{now:%Y-%m-%dT%H-%M-%S}"
    near = _Near()
    for file in backup.files:
        place = _place(till, file.path)
        path = till / place
        if place != file.path:
            now_there = "retired here, and stays retired" if place.startswith(RETIRED) else "in use here, and stays so"
            intake.told.append(f"{shown(path)}: {now_there}; the backup has it as {clean(file.path)}")
        there = _there(till, place, near)
        if there is None:
            intake.new += 1
            yield Arrival(place, file.sha256), file
            continue
        old = digest(there)
        if old == file.sha256:
            intake.equal += 1
            continue
        if _is_log(file.path):
            data = backup.data(file)
            if there.startswith(_whole(data)):
                intake.kept += 1
                intake.told.append(f"{shown(path)}: holds all that the backup has of it, and stays")
                continue
            if not data.startswith(_whole(there)):
                aside = path.with_name(beside(path.name))
                intake.kept += 1
                intake.told.append(
                    f"{shown(path)}: is not what the backup has; stays, with that beside it: {clean(aside.name)}"
                )
                if not (aside.is_file() and aside.read_bytes() == data):
                    yield Arrival(aside.relative_to(till).as_posix(), file.sha256), file
                continue
        copy = fitting(path.name, f".before-{mark}")
        intake.replaced += 1
        intake.told.append(f"{shown(path)}: replaced; what stood there is kept beside it as {clean(copy)}")
        yield Arrival(place, file.sha256, old, copy), file


def _place(till: Path, path: str) -> str:
    """Where a file of the backup goes: to its own path, but a recipe to where this till has that saw, retired or not.

    Else one saw would have two recipes, and could neither be retired nor hung up again.
    """
    folder, _, name = path.rpartition("/")
    if folder not in ("", RETIRED) or not name.endswith(".toml") or name in NOT_SAWS:
        return path
    other = name if folder else f"{RETIRED}/{name}"
    return other if not (till / path).exists() and (till / other).is_file() else path


def _is_log(path: str) -> bool:
    return path.startswith("logs/") and path.endswith(".toml")


def _whole(log: bytes) -> bytes:
    """A log without a torn end: what another one that goes further begins with."""
    read = read_log_bytes(log)
    return log[: read.end] if read.odd is None else log


def _there(till: Path, place: str, near: _Near) -> bytes | None:
    """What stands in the till under a file's path. Raises Refusal when that is no file, or any of it is a link.

    Also when a file or folder has its name but for capital letters: on other disks the two are one.
    """
    path = till
    for part in place.split("/"):
        path = path / part
        if path.is_symlink():
            raise Refusal(f"{shown(path)}: a link, which may lead out of the till; allowed: files and folders")
    if not path.exists():
        if any(above.exists() and not above.is_dir() for above in path.parents):
            raise Refusal(f"{shown(path)}: cannot be brought in: a part of its path is a file, not a folder")
        missing = next(one for one in (*reversed(path.parents), path) if not one.exists())
        if (other := near.name(missing)) is not None:
            raise Refusal(
                f"{shown(path)}: cannot be brought in: {clean(other)} is there, the same but for capital letters; "
                "allowed: one of them"
            )
        return None
    if not path.is_file() or path.stat().st_size > MOST_OF_ONE:
        raise Refusal(
            f"{shown(path)}: not a file of at most {MOST_OF_ONE:,} bytes; it is in the way of one in the backup"
        )
    return path.read_bytes()


class _Near:
    """The names in a till's folders, each folder looked at once, by what they are but for capital letters."""

    def __init__(self) -> None:
        self._folders: dict[Path, dict[str, str]] = {}

    def name(self, path: Path) -> str | None:
        """The name beside ``path``, which is not there, that some disks take for its own."""
        if path.parent not in self._folders:
            names: list[str] = []
            with suppress(FileNotFoundError, NotADirectoryError):
                names = [there.name for there in path.parent.iterdir()]
            self._folders[path.parent] = {caseless(name): name for name in names}
        return self._folders[path.parent].get(caseless(path.name))
