"""Which scans tell what a sharpening did: the last one before a file took steel off the line, and the last one after.

Whatever was scanned in between shows a line half way. They lie in the till that the record lies in; one that lies in no
till has none.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Final

from session.files.scanned_file import KeptScan
from session.log.log_bytes import LogStanding
from session.log.log_reader import read_log
from session.machine.refusal import Refusal
from session.till.kept_scans import NewestLine, measured, newest_line
from session.till.known_saws import KnownSaw, saw_named
from session.till.past_sharpening import Sharpening
from session.till.till_folder import Till, till_of
from session.value_class import dataclass
from session.walk.account import Account
from session.walk.mark import Did
from session.walk.stages import Kind, Stage

#: Stages in which a file takes steel off the line.
_FILED: Final = (Stage.LEVEL, Stage.RESHAPE, Stage.FILE)


@dataclass(frozen=True, slots=True)
class ScanPair:
    """The scans that tell what a sharpening did. between: those of the line half way. leveled: whether ``after`` is one
    of them itself, as none was made after the last gullet."""

    before: KeptScan
    after: KeptScan
    between: tuple[KeptScan, ...] = ()
    leveled: bool = False


def pair_of(one: Sharpening) -> ScanPair | None:
    """The two scans that tell what a sharpening did; None where there are no two. Never raises."""
    scans = scans_of(one)
    if len(scans) < 2 or one.started is None:
        return None
    first, last = _filed(one, one.started)
    before = [scan for scan in scans if scan.at < first] or [scan for scan in scans if scan.at <= one.started]
    later = [scan for scan in scans if before and scan.at > before[-1].at]
    if not later or later[-1].at < first:
        return None
    between = tuple(scan for scan in later[:-1] if scan.at < last)
    return ScanPair(before[-1], later[-1], between, leveled=later[-1].at < last)


def scans_of(one: Sharpening) -> tuple[KeptScan, ...]:
    """The last scan before a sharpening, and those made from its begin to the next.

    Asked of the till that its record lies in; nothing of a record that lies in none, or was never begun. Never raises.
    """
    with suppress(Refusal):
        where = _till_of(one)
        if where is not None and one.started is not None:
            till, saw = where
            # A log's name begins with the time of its start.
            own = one.path.name
            later = min((log.name for slug in saw.slugs for log in till.logs(slug) if log.name > own), default="")
            return tuple(_around(measured(till, saw), one.started, later))
    return ()


def scans_since(one: Sharpening) -> tuple[KeptScan, ...]:
    """The last few scans of the saw of which that sharpening took nothing off any more, the newest first. Never
    raises."""
    with suppress(Refusal):
        where = _till_of(one)
        newest = NewestLine() if where is None else newest_line(*where)
        # Its begin is looked at first: the record is read for the rest.
        if newest.scan is not None and one.started is not None and one.started < newest.scan.at:
            _, last = _filed(one, one.started)
            return tuple(scan for scan in (newest.scan, *newest.older) if last < scan.at)
    return ()


def filed_after(till: Till, saw: KnownSaw, finished: Sequence[Sharpening], at: datetime) -> bool:
    """Whether a file was on the line after ``at``: a sharpening was ``finished`` since, or one that was not took steel
    off. Never raises."""
    if any(one.ended is not None and one.ended > at for one in finished):
        return True
    with suppress(Refusal, OSError):
        for slug in saw.slugs:
            for ends in till.ends(slug):
                if ends.state is LogStanding.FINISHED:
                    continue
                with suppress(Refusal):
                    if any(filed > at for filed in _file_times(ends.path)):
                        return True
    return False


def _till_of(one: Sharpening) -> tuple[Till, KnownSaw] | None:
    """The till that its record lies in, and the saw there; None where no line was ever kept. Raises Refusal."""
    till = till_of(one.path)
    return (till, saw_named(till, one.name)) if till is not None and till.has_lines else None


def _around(scans: Iterable[KeptScan], started: datetime, later: str) -> list[KeptScan]:
    kept: list[KeptScan] = []
    for scan in scans:
        if later and f"{scan.at:%Y-%m-%dT%H-%M-%S}" >= later:
            continue
        # Of those before it was begun only the last.
        kept = [scan] if scan.at < started else [*kept, scan]
    return kept


def _filed(one: Sharpening, started: datetime) -> tuple[datetime, datetime]:
    """When a file first and last took steel off the line; twice when it ``started`` where that is not known, or none
    did."""
    filed: list[datetime] = []
    with suppress(Refusal):
        filed = _file_times(one.path)
    return min(filed, default=started), max(filed, default=started)


def _file_times(log: Path) -> list[datetime]:
    """When a file took steel off the line by that log. Raises Refusal."""
    return [
        mark.at
        for place, mark in Account.of(read_log(log).marks).outcomes.items()
        if mark.did is Did.DONE and place.stage in _FILED and place.kind in (Kind.PASS, Kind.GULLET)
    ]
