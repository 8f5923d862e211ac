"""Two scans of one saw compared: what a sharpening did to heights, spaces, angles and odd teeth."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import datetime
from statistics import mean, pstdev
from typing import Final

from session.files.scanned_file import KeptScan
from session.texts.wording import fine
from session.till.kept_scans import measured
from session.till.known_saws import saw_named
from session.till.past_sharpening import Sharpening
from session.till.till_folder import Till
from session.trade.rounding import decimals
from session.trade.scanned_line import ScannedLine, ToothState, is_measured

#: States of teeth that are counted, and what they are called.
_ODD: Final = (ToothState.LOW, ToothState.HIGH, ToothState.BROKEN)


def change_told(before: KeptScan, after: KeptScan, unit: str) -> tuple[str, ...]:
    """What is otherwise in ``after`` than in ``before``, a line each; lengths for an owner who thinks in ``unit``."""
    one, other = before.line, after.line
    told = [
        f"By scans of {before.at:%Y-%m-%d %H:%M} and {after.at:%Y-%m-%d %H:%M}: heights spread by "
        f"{fine(one.height_spread_mm, unit)}, then {fine(other.height_spread_mm, unit)}.",
        f"Spaces off by {fine(one.spacing_error_mm, unit)}, then {fine(other.spacing_error_mm, unit)}; at worst "
        f"{fine(one.worst_spacing_error_mm, unit)}, then {fine(other.worst_spacing_error_mm, unit)}.",
    ]
    flanks = [(_leans(line, "front_deg"), _leans(line, "back_deg")) for line in (one, other)]
    if all(pair for both in flanks for pair in both):
        (front, back), (front_after, back_after) = flanks
        told.append(f"Fronts {_lean(front)}, then {_lean(front_after)}; backs {_lean(back)}, then {_lean(back_after)}.")
    counts = [f"{state} {len(one.those(state))}, then {len(other.those(state))}" for state in _ODD]
    told.append(f"Teeth told {'; '.join(counts)}.")
    if one.count != other.count:
        told.append(
            f"They count {one.count} and {other.count} teeth: one of the two scans is wrong, or not of this saw."
        )
    return tuple(told)


def _leans(line: ScannedLine, name: str) -> Sequence[float]:
    """That flank of every measured tooth but the ends', which the plate's ends may be, degrees."""
    inner = [tooth for tooth in line.teeth[1:-1] if is_measured(tooth.state)]
    return [lean for tooth in inner if (lean := getattr(tooth, name)) is not None]


def _lean(leans: Sequence[float]) -> str:
    return f"{decimals(mean(leans), 1)}° ± {decimals(pstdev(leans), 1)}°"


def last_change(scans: Sequence[KeptScan], unit: str) -> tuple[str, ...]:
    """What is otherwise in the last two of ``scans``, the oldest first; nothing with fewer than two."""
    return change_told(scans[-2], scans[-1], unit) if len(scans) > 1 else ()


def scans_of(one: Sharpening) -> tuple[KeptScan, ...]:
    """The scans that tell what a sharpening did: the last one before it, and those made from its begin to the next.

    Asked of the till that its record lies in; nothing of a record that lies in none, or was never begun. Never raises.
    """
    with suppress(OSError, ValueError, IndexError):
        whole = one.path.resolve()
        if whole.parent.parent.name == "logs" and one.started is not None:
            till = Till(whole.parents[2])
            saw = saw_named(till, one.name)
            # A log's name begins with the time of its start.
            later = min(
                (log.name for slug in saw.slugs for log in till.logs(slug) if log.name > whole.name), default=""
            )
            return tuple(_around(measured(till, saw), one.started, later))
    return ()


def _around(scans: Iterable[KeptScan], started: datetime, later: str) -> list[KeptScan]:
    kept: list[KeptScan] = []
    for scan in scans:
        if later and f"{scan.at:%Y-%m-%dT%H-%M-%S}" >= later:
            continue
        # Of those before it was begun only the last.
        kept = [scan] if scan.at < started else [*kept, scan]
    return kept


def change_by(one: Sharpening) -> tuple[str, ...]:
    """What a sharpening did by the first and the last of its scans, a line each; nothing where they do not tell it.

    Both made before it was begun tell nothing of it.
    """
    scans = scans_of(one)
    if len(scans) < 2 or one.started is None or scans[-1].at < one.started:
        return ()
    return change_told(scans[0], scans[-1], one.saw.unit if one.saw is not None else "mm")
