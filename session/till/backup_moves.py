"""Bringing files into a till all together: laid ready beside it first, then moved in, and finished after any end.

    <till>/.import/1, 2, 3 …   the new files, each on the medium
    <till>/.import/moves.toml  where each goes; once this is there, all of them go

Until that list is there the till is the old one. From then on it is the new one: whoever opens the till next finishes
what was cut short, before anything is read. A file that is replaced is copied beside itself first.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

import tomli_w

from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import make_folder, move_file, place_file
from session.machine.refusal import DISK, HELD, Refusal
from session.machine.system_calls import LONGEST_PATH, path_length
from session.machine.untrusted_text import shown
from session.till.backup_archive import digest, wrong_path
from session.till.backup_names import ADDED_TO_A_NAME, beside, numbered
from session.till.till_names import IMPORTING
from session.value_class import asdict, dataclass

_MOVES: Final = "moves.toml"


@dataclass(frozen=True, slots=True)
class Arrival:
    """One file on its way into the till.

    path: where to, with ``/`` between folders. sha256: of what is to stand there. old: of what stood there when this
    was planned, empty for nothing. copy: the name beside it that what stood there gets first, or empty.
    """

    path: str
    sha256: str
    old: str = ""
    copy: str = ""


@contextmanager
def importing(till: Path, disk: Disk) -> Iterator[None]:
    """Within it nobody else brings files into the till. Raises Refusal when another does, or the disk will not."""
    try:
        make_folder(till, disk)
        lock = LogLock.take(till / IMPORTING, disk)
    except LockHeld as held:
        raise Refusal(f"{shown(till)}: a backup is being brought in by {held.who} since {held.since}", HELD) from None
    except OSError as problem:
        raise Refusal(f"{shown(till)}: nothing can be brought in: {why(problem)}", DISK) from None
    with lock:
        yield


def bring_in(till: Path, files: Iterable[tuple[Arrival, bytes]], disk: Disk) -> None:
    """Bring ``files`` into ``till``, all or none. The caller is `importing`. Raises OSError when the disk will not.

    After an OSError either nothing has changed and nothing is laid ready, or `finish` brings in the rest. Raises
    Refusal, and changes nothing, for what `finish` would not take: nobody could open the till then.
    """
    ready = till / IMPORTING
    clear(till, disk)
    try:
        make_folder(ready, disk)
        moves: list[Arrival] = []
        for move, data in files:
            _has_room(till, move)
            moves.append(move)
            place_file(ready / str(len(moves)), data, disk)
        place_file(ready / _MOVES, _list_of(moves), disk)
    except BaseException:
        # Nothing was decided, and on a full disk what was laid ready is in the way of everything else; nor is anything
        # to be left by whoever interrupts it.
        with suppress(OSError):
            clear(till, disk)
        raise
    finish(till, disk)


def _has_room(till: Path, move: Arrival) -> None:
    """Raises Refusal where the path of a file, or of a copy beside it, is longer than the system takes.

    Once decided on, it could never be finished.
    """
    target = till / move.path
    for path in (target, target.parent / beside(target.name), target.parent / move.copy):
        if (more := path_length(path) + ADDED_TO_A_NAME - LONGEST_PATH) > 0:
            raise Refusal(
                f"{shown(path)}: cannot be brought in: a path longer by {more} than this system takes; nothing was "
                f"changed. Allowed: {LONGEST_PATH:,} with what locks add; a till in a folder of a shorter path has room"
            )


def _list_of(moves: list[Arrival]) -> bytes:
    data = tomli_w.dumps({"move": [asdict(move) for move in moves]}).encode("utf-8")
    try:
        read = list(_decided(data))
    except ValueError as problem:
        raise Refusal(f"the backup cannot be brought in: {problem}; nothing was changed") from None
    if read != moves:
        raise Refusal("the backup cannot be brought in: a name in it cannot be written down; nothing was changed")
    return data


def clear(till: Path, disk: Disk) -> None:
    """Take away what was laid ready and never decided on. The caller is `importing`."""
    ready = till / IMPORTING
    if ready.is_dir() and not (ready / _MOVES).exists():
        for path in sorted(ready.iterdir()):
            disk.unlink(path)
        disk.rmdir(ready)


def is_cut_short(till: Path) -> bool:
    """Whether files were decided on that are not all in the till."""
    return (till / IMPORTING / _MOVES).exists()


def finish_here(till: Path, disk: Disk = REAL) -> None:
    """Finish what was cut short, if anything was: before the till is read. Raises Refusal when that cannot be done."""
    if not is_cut_short(till):
        return
    with importing(till, disk):
        try:
            finish(till, disk)
        except (OSError, ValueError) as problem:
            reason = why(problem) if isinstance(problem, OSError) else "its list cannot be read"
            words = f"{shown(till / IMPORTING)}: a backup was being brought in, and that cannot be finished: {reason}"
            raise Refusal(words, DISK) from None


def finish(till: Path, disk: Disk) -> None:
    """Move in what is laid ready and decided on; nothing happens twice, however often this is begun."""
    ready = till / IMPORTING
    if not is_cut_short(till):
        return
    for number, move in enumerate(_decided((ready / _MOVES).read_bytes()), 1):
        _move_in(till, ready / str(number), move, disk)
    # Only now, and before the folder: as long as it is there, it tells what is still to be done.
    disk.unlink(ready / _MOVES)
    disk.fsync_dir(ready)
    clear(till, disk)


def _decided(data: bytes) -> Iterator[Arrival]:
    """The moves that a list tells. Raises ValueError for what this program does not write: it may be anybody's."""
    entries = tomllib.loads(data.decode("utf-8")).get("move")
    for entry in entries if isinstance(entries, list) else [None]:
        match entry:
            case {"path": str(path), "sha256": str(sha256), "old": str(old), "copy": str(copy)}:
                for name in filter(None, (path, copy)):
                    if complaint := wrong_path(name):
                        raise ValueError(f"{shown(Path(name))}: {complaint}")
                if not path or "/" in copy:
                    raise ValueError("a path that leads out of the till")
                yield Arrival(path, sha256, old, copy)
            case _:
                raise ValueError("an entry that is none")


def _move_in(till: Path, new: Path, move: Arrival, disk: Disk) -> None:
    try:
        data = new.read_bytes()
    except FileNotFoundError:
        return  # it is in
    target = till / move.path
    make_folder(target.parent, disk)
    there = _bytes(target)
    if there is None:
        # Moved and not written once more: a full disk takes it too.
        if move_file(new, target, disk):
            return
        placed = False
    elif digest(there) == move.sha256:
        placed = True
    elif move.copy and digest(there) == move.old:
        _lay_beside(target, move.copy, there, disk)
        disk.replace(new, target)
        disk.fsync_dir(target.parent)
        return
    else:
        placed = False
    if not placed:
        # Written by another since this was planned: that stays, and this is laid beside it.
        _lay_beside(target, beside(target.name), data, disk)
    disk.unlink(new)


def _lay_beside(target: Path, name: str, data: bytes, disk: Disk) -> None:
    for number in range(1, 1000):
        path = target.with_name(numbered(name, number))
        if _bytes(path) == data or place_file(path, data, disk):
            return
    raise FileExistsError(f"every name for a copy of {target.name} is taken")


def _bytes(path: Path) -> bytes | None:
    """What the file ``path`` holds; None for no file, also for a folder of that name, which then is in the way."""
    with suppress(FileNotFoundError, IsADirectoryError):
        return path.read_bytes()
    return None
