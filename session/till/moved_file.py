"""A file of a till moved into another of its folders: whole, under its own name, and never over another one."""

from __future__ import annotations

from pathlib import Path

from session.machine.disk import Disk, why
from session.machine.lock import LogLock
from session.machine.new_file import make_folder, move_file
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown


def moved_into(folder: Path, file: Path, done: str, disk: Disk) -> Path:
    """Move ``file`` into ``folder``, which is made where it is not there; its new path.

    done: what it was not, "moved", for the sentence when the disk will not take it. Raises Refusal, also where another
    program moves it, or another file has its name there.
    """
    target = folder / file.name
    try:
        make_folder(folder, disk)
        with LogLock.take(target, disk):
            if move_file(file, target, disk):
                return target
    except OSError as problem:
        raise Refusal(f"{shown(file)}: it was not {done}: {why(problem)}", DISK) from None
    raise Refusal(f"{shown(target)}: another file has that name; give one of the two another one")
