"""Copies of one log, as a file sync leaves them side by side: which one counts, and what is said of the others.

A log is only ever written on to, so that of two copies of one sharpening either the shorter is the beginning of the
longer, or both were gone on with on their own after a common beginning. The steel was filed once: one copy counts, and
nothing of the others is added to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from session.log.log_bytes import LogStanding
from session.log.log_reader import LogEnds, read_log
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.machine.untrusted_text import shown
from session.till.copy_names import first_name
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Copy:
    """A copy that does not count. words: what it is, without its path. counts: the one that does. parts: whether it
    holds marks that the other lacks.
    """

    path: Path
    counts: Path
    words: str
    parts: bool = False


def doubled(logs: Iterable[Path]) -> set[Path]:
    """Those of ``logs`` whose names say that they are one file in several versions."""
    named: dict[str, list[Path]] = {}
    for path in logs:
        named.setdefault(first_name(path.stem), []).append(path)
    return {path for group in named.values() if len(group) > 1 for path in group}


def told_apart(found: Iterable[LogEnds]) -> tuple[list[LogEnds], list[Copy]]:
    """The logs that count, in the order of ``found``, and the copies of them.

    One name as it was first given and one sealed header are one sharpening. Logs without a header count by themselves.
    """
    groups: dict[tuple[object, ...], list[LogEnds]] = {}
    for ends in found:
        key: tuple[object, ...] = (first_name(ends.path.stem), str(ends.header.get("seal")))
        groups.setdefault(key if ends.header else (ends.path,), []).append(ends)
    counting: list[LogEnds] = []
    copies: list[Copy] = []
    for group in groups.values():
        best = max(group, key=_reach)
        counting.append(best)
        copies += _of(best, [ends for ends in group if ends is not best])
    return counting, copies


def _reach(ends: LogEnds) -> tuple[bool, bool, int, int, str]:
    """How far a copy goes: one in order before an odd one, a finished one, more marks; then the plainest name."""
    finished = ends.state in (LogStanding.FINISHED, LogStanding.GIVEN_UP)
    return ends.odd is None, finished, _length(ends), -len(ends.path.name), ends.path.name


def _length(ends: LogEnds) -> int:
    return ends.last.seq if ends.last is not None else 0


def _of(best: LogEnds, others: list[LogEnds]) -> Iterator[Copy]:
    for other in others:
        # In another till, or folder, a copy has the same name, and there it is where it belongs.
        merged = other.path.name == best.path.name
        name = shown(best.path) if merged else clean(best.path.name)
        if other.odd is not None:
            yield Copy(other.path, best.path, f"a copy of {name} that may only be read: {other.odd}; that one counts")
            continue
        if other.last == best.last:
            same, more = f"a copy of {name}, mark for mark", 0
        else:
            common, more = _common(other.path, best.path)
            same = f"an earlier copy of {name}, which holds all its {common} marks"
        if more:
            better = "is finished" if best.state is LogStanding.FINISHED else "goes further"
            if (best.state, _length(best)) == (other.state, _length(other)):
                better = "has the plainer name"
            many = "1 mark of its own" if more == 1 else f"{more} marks of its own"
            words = f"a copy of {name} that parts from it after mark {common}, with {many}; that one {better} and"
            words += " counts; this one can be looked at: toothline show"
            yield Copy(other.path, best.path, words, parts=True)
        elif not merged:
            yield Copy(other.path, best.path, f"{same}; that one counts, this one may be taken away")


def _common(path: Path, other: Path) -> tuple[int, int]:
    """How many marks the log at ``path`` begins with that begin the ``other`` too, and how many more it has."""
    here, there = _marks(path), _marks(other)
    common = next((n for n, (a, b) in enumerate(zip(here, there, strict=False)) if a != b), min(len(here), len(there)))
    return common, len(here) - common


def _marks(path: Path) -> tuple[object, ...]:
    try:
        return read_log(path).marks
    except Refusal:
        return ()
