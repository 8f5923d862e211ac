"""The till: a folder of plain files, one for each saw and one for each sharpening.

    <till>/<saw>.toml               a saw's recipe
    <till>/retired/<saw>.toml       the recipe of a saw that was retired
    <till>/logs/<saw>/<start>.toml  one sharpening
    <till>/cuts/<saw>/<time>.toml   a trial cut between sharpenings; lines/<saw>/<time>.toml a line that a scan measured
    <till>/settings.toml            settings, files.toml the files one owns, scanner.toml its scanner's scale

Nothing is made before the first write. Two tills are merged by copying one's files into the other.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from datetime import datetime
from itertools import filterfalse, islice
from pathlib import Path
from typing import Final

from session.log.log_bytes import LogStanding, Oddity
from session.log.log_reader import LogEnds, is_finished, read_ends
from session.machine.disk import REAL, Disk, why
from session.machine.new_file import make_folder
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown
from session.till.copy_names import first_folder
from session.till.log_copies import Copy, doubled, told_apart
from session.till.recipe_copies import recipe_copies
from session.till.record_place import folder_of_till, is_folder
from session.till.saw_file_name import slug as slug  # part of this module's face: a till's names are slugs
from session.till.till_names import IMPORTING, LINES, LOGS, NOT_SAWS, RETIRED


def till_folder(
    argument: str | None,
    *,
    must_exist: bool = False,
    waits: Callable[[str], None] | None = None,
    environment: Mapping[str, str] = os.environ,
) -> Path:
    """Where the till is: ``argument`` (``--till``), else ``TOOTHLINE_TILL``, else the user's data folder.

    Raises Refusal when the name is that of a file, cannot be looked at, or is no name at all; with
    ``must_exist``, for commands that only read, also when ``argument`` names nothing. A backup whose bringing in was
    cut short is brought in whole first. When that is not possible: Refusal; but commands that only read give ``waits``,
    which is told why in a sentence, and the till is as it is, each file of it whole.
    """
    path = _named(argument, must_exist, environment)
    if (path / IMPORTING).exists():
        from session.till.backup_moves import finish_here

        try:
            finish_here(path)
        except Refusal as wrong:
            if waits is None or wrong.code != DISK:
                raise
            waits(f"{wrong}; it waits, and the till is read as it is so far")
    return path


def _named(argument: str | None, must_exist: bool, environment: Mapping[str, str]) -> Path:
    named = argument if argument is not None else environment.get("TOOTHLINE_TILL") or None
    if named is None:
        # Whoever names a till does not wait for what knows the places of all systems.
        from session.till.usual_folder import usual_folder

        return usual_folder()
    origin = "--till" if argument is not None else "TOOTHLINE_TILL"
    if not named.strip() or "\0" in named:
        raise Refusal(f"{origin}: not a folder's name; write the folder that the till is in")
    try:
        path = Path(named).expanduser().absolute()
        found = stat.S_ISDIR(path.stat().st_mode)
    except FileNotFoundError:
        if must_exist and argument is not None:
            raise Refusal(f"{origin}: {shown(path)}: no such folder; it is made when a saw is first started") from None
        return path
    except (OSError, RuntimeError) as problem:
        reason = why(problem) if isinstance(problem, OSError) else "no such user"
        raise Refusal(f"{origin}: {shown(Path(named))}: cannot be looked at: {reason}") from None
    if not found:
        raise Refusal(f"{origin}: {shown(path)}: a file; a till is a folder")
    return path


class Till:
    """The files of one till. Reading an absent till finds nothing; nothing here makes a folder but `make`."""

    def __init__(self, path: Path) -> None:
        self.path: Final = path

    def make(self, disk: Disk = REAL) -> None:
        """Make the till's folder if it is not there. Raises Refusal when it cannot be written in."""
        try:
            make_folder(self.path, disk)
        except OSError as problem:
            raise Refusal(f"{shown(self.path)}: the till cannot be made: {why(problem)}", DISK) from None
        if not os.access(self.path, os.W_OK | os.X_OK):
            raise Refusal(f"{shown(self.path)}: the till can only be read: writing there is not allowed", DISK)

    def saws(self) -> list[Path]:
        """The recipes of the saws in the till, by name, each once. Raises Refusal when the folder cannot be read."""
        files = _files(self.path)
        copies = {path for path, _ in recipe_copies(files, NOT_SAWS)}
        return [path for path in files if path.name not in NOT_SAWS and path not in copies]

    def retired(self) -> list[Path]:
        """The recipes of the saws that were retired, by name. Raises Refusal when their folder cannot be read."""
        return _files(self.path / RETIRED)

    def copies(self) -> list[tuple[Path, str]]:
        """Second versions of recipes and logs, as a file sync leaves them: none of them counts. Never raises.

        Each with a sentence that says of what it is one, without its path.
        """
        try:
            found = list(recipe_copies(_files(self.path), NOT_SAWS))
        except Refusal:
            found = []
        logs, _ = self._logs()
        return found + [(copy.path, copy.words) for copy in copies_among(logs)]

    def copies_of(self, log: Path) -> list[Copy]:
        """The copies of ``log``, which counts. Never raises."""
        logs, _ = self._logs()
        return [copy for copy in copies_among(logs) if copy.counts == log]

    @property
    def has_lines(self) -> bool:
        """Whether a line of any saw was ever kept; what reads them need not be loaded where none was. Never raises."""
        return is_folder(self.path / LINES) is True

    def log_folder(self, name: str) -> Path:
        """Where the logs of the saw with the slug ``name`` are. Raises Refusal for what is no folder's name."""
        if name in ("", ".", "..") or not {"/", "\\", "\0"}.isdisjoint(name):
            raise Refusal(f"{shown(Path(name[:80]))}: not the name of a saw's folder")
        return self.path / LOGS / name

    def logs(self, name: str) -> list[Path]:
        """The logs of the saw with the slug ``name``, oldest first by the time in their names."""
        return _files(self.log_folder(name))

    def log_folders(self) -> list[str]:
        """The slugs that have a folder of logs; a second version of a folder, left by a file sync, is the first's."""
        folders = self._all_log_folders()
        return [name for name in folders if first_folder(name, folders) == name]

    def _all_log_folders(self) -> list[str]:
        return [path.name for path in _entries(self.path / LOGS, lambda entry: _is_folder(entry) is not False)]

    def holds_more_than(self, records: int, name: str | None = None) -> bool:
        """Whether more files than so many lie in its folders of logs (of one saw); looked at no further than that.
        Never raises.
        """
        found = 0
        with suppress(OSError, Refusal):
            saws = self._all_log_folders()
            for saw in saws:
                if name is not None and first_folder(saw, saws) != name:
                    continue
                with suppress(OSError), os.scandir(self.path / LOGS / saw) as files:
                    found += sum(1 for _ in islice(files, records + 1))
        return found > records

    def ends(self, name: str | None = None, newest: int | None = None) -> Iterator[LogEnds]:
        """The two ends of every log (of one saw), never all of its marks. Never raises: what cannot be read says so.

        newest: of so many alone, by the time in their names.

        A folder that cannot be looked into stands for its logs.
        """
        logs, closed = self._logs(name)
        yield from closed
        if newest is not None:
            logs = sorted(logs, key=lambda path: path.name)[-newest:]
        yield from map(_ends, logs)

    def unfinished(self, name: str | None = None) -> list[LogEnds]:
        """The logs (of one saw) that no finished mark closes, the one begun last on top: interrupted, odd or not read.

        A copy of another one is not among them.
        """
        logs, closed = self._logs(name)
        copies = {copy.path for copy in copies_among(logs)}
        logs = [path for path in logs if path not in copies]
        ended = (LogStanding.FINISHED, LogStanding.GIVEN_UP)
        found = [ends for ends in map(_ends, filterfalse(_is_finished, logs)) if ends.state not in ended]
        return sorted([*closed, *found], key=_begun, reverse=True)

    def interrupted(self, name: str | None = None) -> list[Path]:
        """The logs (of one saw) that wait to be gone on with, the one begun last on top."""
        return [ends.path for ends in self.unfinished(name) if ends.state is LogStanding.INTERRUPTED]

    def _logs(self, name: str | None = None) -> tuple[list[Path], list[LogEnds]]:
        """The logs (of one saw), and the folders that cannot be looked into."""
        logs: list[Path] = []
        closed: list[LogEnds] = []
        try:
            saws = self._all_log_folders()
        except Refusal as wrong:
            return logs, [_unread(self.path / LOGS, wrong)]
        for saw in saws:
            if name is not None and first_folder(saw, saws) != name:
                continue
            folder = self.path / LOGS / saw
            try:
                logs += _files(folder)
            except Refusal as wrong:
                closed.append(_unread(folder, wrong))
        return logs, closed


def copies_among(logs: list[Path]) -> list[Copy]:
    """The copies among ``logs``: those in one folder whose names say so are looked at, and no others."""
    _, copies = told_apart(map(_ends, sorted(doubled(logs))))
    return copies


def _ends(path: Path) -> LogEnds:
    try:
        return read_ends(path)
    except Refusal as wrong:
        return _unread(path, wrong)


def _unread(path: Path, wrong: ValueError) -> LogEnds:
    return LogEnds(path, {}, None, 0, Oddity(str(wrong)))


def _is_finished(path: Path) -> bool:
    try:
        return is_finished(path)
    except Refusal:
        return False


def till_of(record: Path) -> Till | None:
    """The till that a record lies in, where links lead; None where it lies in none."""
    folder = folder_of_till(record)
    return None if folder is None else Till(folder)


def _begun(ends: LogEnds) -> tuple[float, str]:
    session = ends.header.get("session")
    started = session.get("started") if isinstance(session, dict) else None
    if isinstance(started, datetime) and started.tzinfo is not None:
        return started.timestamp(), ends.path.name
    return float("-inf"), ends.path.name


def _files(folder: Path) -> list[Path]:
    """What is named as a file of ours and is no folder: reading it says what is wrong with a pipe or a lost link."""
    return _entries(folder, lambda entry: entry.name.endswith(".toml") and _is_folder(entry) is not True)


def _is_folder(entry: os.DirEntry[str]) -> bool | None:
    """The same of an entry of a folder, which knows it in most cases without being looked at."""
    try:
        return entry.is_dir()
    except OSError:
        return is_folder(Path(entry.path))


def _entries(folder: Path, wanted: Callable[[os.DirEntry[str]], bool]) -> list[Path]:
    try:
        with os.scandir(folder) as entries:
            found = [entry.name for entry in entries if not entry.name.startswith(".") and wanted(entry)]
        # By name, as paths are ordered; ten thousand paths would be compared in five times as long.
        return [folder / name for name in sorted(found, key=os.path.normcase)]
    except (FileNotFoundError, NotADirectoryError):
        return []
    except OSError as problem:
        raise Refusal(f"{shown(folder)}: cannot be read: {why(problem)}", DISK) from None
