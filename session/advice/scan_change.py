"""Two scans of one saw compared: what a sharpening did to heights, spaces, angles and odd teeth.

They are the last one before the first stroke of a file and the first to last one after the last; whatever was scanned
in between shows a line half way. Only teeth that both measured are compared: a stump that one of the two leaves out as
broken, and the other measures as low, would make a line worse that got better.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import datetime
from statistics import mean, pstdev
from typing import TYPE_CHECKING, Final

from session.files.scanned_file import KeptScan
from session.log.log_reader import read_log
from session.machine.refusal import Refusal
from session.texts.wording import fine, times
from session.till.kept_scans import measured, newest_scan
from session.till.known_saws import KnownSaw, saw_named
from session.till.past_sharpening import Sharpening
from session.till.till_folder import Till, till_of
from session.trade.rounding import decimals
from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, is_measured, spacing_errors
from session.value_class import dataclass
from session.walk.account import Account
from session.walk.mark import Did
from session.walk.stages import Kind, Stage

if TYPE_CHECKING:
    from session.till.saw_history import SawHistory

#: States of teeth that are counted, and what they are called.
_ODD: Final = (ToothState.LOW, ToothState.HIGH, ToothState.BROKEN)

#: Stages in which a file takes steel off the line.
_FILED: Final = (Stage.LEVEL, Stage.RESHAPE, Stage.FILE)

#: So many teeth that are not compared are named one by one.
_MOST_NAMED: Final = 12


@dataclass(frozen=True, slots=True)
class ScanPair:
    """The scans that tell what a sharpening did. between: those of the line half way. leveled: whether ``after`` is one
    of them itself, as none was made after the last gullet."""

    before: KeptScan
    after: KeptScan
    between: tuple[KeptScan, ...] = ()
    leveled: bool = False


def change_told(before: KeptScan, after: KeptScan, unit: str) -> tuple[str, ...]:
    """What is otherwise in ``after`` than in ``before``, a line each; lengths for an owner who thinks in ``unit``."""
    one, other = before.line, after.line
    scans = f"scans of {before.at:%Y-%m-%d %H:%M} and {after.at:%Y-%m-%d %H:%M}"
    if one.count != other.count:
        wrong = "one of the two is wrong, or not of this saw"
        return (f"The {scans} count {one.count} and {other.count} teeth: {wrong}. Nothing else of them is compared.",)
    both = {a.tooth for a, b in zip(one.teeth, other.teeth, strict=True) if _measured(a) and _measured(b)}
    if len(both) < 2:
        return (f"The {scans} have fewer than two teeth that both measured: nothing of them is compared.",)
    of = "" if len(both) == one.count else f", of the {len(both)} teeth that both measured"
    heights = [
        fine(pstdev(tooth.height_mm or 0.0 for tooth in line.teeth if tooth.tooth in both), unit)
        for line in (one, other)
    ]
    told = [f"By {scans}{of}: heights spread by {heights[0]}, then {heights[1]}."]
    (spread, worst), (spread_after, worst_after) = (_spaces(line, both, unit) for line in (one, other))
    told.append(f"Spaces off by {spread}, then {spread_after}; at worst {worst}, then {worst_after}.")
    flanks = [(_leans(line, "front_deg", both), _leans(line, "back_deg", both)) for line in (one, other)]
    if all(pair for lists in flanks for pair in lists):
        (front, back), (front_after, back_after) = flanks
        told.append(f"Fronts {_lean(front)}, then {_lean(front_after)}; backs {_lean(back)}, then {_lean(back_after)}.")
    counts = [f"{state} {len(one.those(state))}, then {len(other.those(state))}" for state in _ODD]
    told.append(f"Teeth told {'; '.join(counts)}.")
    left = [(a, b) for a, b in zip(one.teeth, other.teeth, strict=True) if a.tooth not in both]
    if left:
        named = [f"{a.tooth} ({a.state if a.state is b.state else f'{a.state}, then {b.state}'})" for a, b in left]
        more = f" and {len(named) - _MOST_NAMED} more" if len(named) > _MOST_NAMED else ""
        told.append(f"Not compared: {', '.join(named[:_MOST_NAMED])}{more}.")
    return tuple(told)


def _measured(tooth: ScannedTooth) -> bool:
    return is_measured(tooth.state) and tooth.height_mm is not None


def _spaces(line: ScannedLine, both: set[int], unit: str) -> tuple[str, str]:
    """Root mean square and worst of the errors of spacing, each between two teeth of ``both``."""
    errors = spacing_errors([one.place_mm if one.tooth in both else None for one in line.teeth]) or [0.0]
    return fine(math.sqrt(mean(error**2 for error in errors)), unit), fine(max(map(abs, errors)), unit)


def _leans(line: ScannedLine, name: str, both: set[int]) -> Sequence[float]:
    """That flank of every tooth compared but the ends', which the plate's ends may be, degrees."""
    inner = [tooth for tooth in line.teeth[1:-1] if tooth.tooth in both]
    return [lean for tooth in inner if (lean := getattr(tooth, name)) is not None]


def _lean(leans: Sequence[float]) -> str:
    return f"{decimals(mean(leans), 1)}° ± {decimals(pstdev(leans), 1)}°"


def newest_change(told: SawHistory, scans: Sequence[KeptScan], unit: str) -> tuple[str, ...]:
    """What is otherwise in the scans of a saw, the oldest first: what its last finished sharpening did that they tell
    of, as its own record says it; else the last two of them. Nothing with fewer than two."""
    if len(scans) < 2:
        return ()
    # A record of before the second scan cannot have one on either side.
    since = (one for one in reversed(told.finished) if one.ended is None or one.ended >= scans[0].at)
    return next((lines for one in since if (lines := change_by(one))), ()) or change_told(scans[-2], scans[-1], unit)


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


def scan_since(one: Sharpening) -> KeptScan | None:
    """The newest scan of the saw, if that sharpening took nothing off it any more; else None. Never raises."""
    with suppress(Refusal):
        where = _till_of(one)
        scan = None if where is None else newest_scan(*where)
        if scan is not None and one.started is not None and scan.at > one.started and scan.at > _filed(one)[1]:
            return scan
    return None


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


def _filed(one: Sharpening) -> tuple[datetime, datetime]:
    """When a file first and last took steel off the line; twice its begin where that is not known, or none did."""
    assert one.started is not None
    times_of: list[datetime] = []
    with suppress(Refusal, OSError, ValueError):
        times_of = [
            mark.at
            for place, mark in Account.of(read_log(one.path).marks).outcomes.items()
            if mark.did is Did.DONE and place.stage in _FILED and place.kind in (Kind.PASS, Kind.GULLET)
        ]
    return (min(times_of), max(times_of)) if times_of else (one.started, one.started)


def pair_of(one: Sharpening) -> ScanPair | None:
    """The two scans that tell what a sharpening did; None where there are no two. Never raises."""
    scans = scans_of(one)
    if len(scans) < 2 or one.started is None:
        return None
    first, last = _filed(one)
    before = [scan for scan in scans if scan.at < first] or [scan for scan in scans if scan.at <= one.started]
    later = [scan for scan in scans if before and scan.at > before[-1].at]
    if not later or later[-1].at < first:
        return None
    between = tuple(scan for scan in later[:-1] if scan.at < last)
    return ScanPair(before[-1], later[-1], between, leveled=later[-1].at < last)


def change_by(one: Sharpening) -> tuple[str, ...]:
    """What a sharpening did by the scans before and after it, a line each; nothing where they do not tell it.

    Both made before a file touched the line tell nothing of it.
    """
    pair = pair_of(one)
    if pair is None:
        return ()
    told = change_told(pair.before, pair.after, one.saw.unit if one.saw is not None else "mm")
    if pair.leveled:
        told = (*told, "The later one shows the line half way: gullets were filed after it.")
    elif pair.between:
        when = ", ".join(f"{scan.at:%H:%M}" for scan in pair.between)
        told = (*told, f"Scanned half way, as leveled: {times(len(pair.between), 'time')}, at {when}.")
    return told
