"""Two scans of one saw compared: what a sharpening did to heights, spaces, angles and odd teeth.

Only teeth that both measured are compared: a stump that one of the two leaves out as broken, and the other measures as
low, would make a line worse that got better.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from session.files.scanned_file import KeptScan
from session.texts.wording import fine, times
from session.till.past_sharpening import Sharpening
from session.till.scan_pair import pair_of
from session.trade.rounding import decimals
from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, is_measured, spacing_errors

if TYPE_CHECKING:
    from session.till.saw_history import SawHistory

#: States of teeth that are counted, and what they are called.
_ODD: Final = (ToothState.LOW, ToothState.HIGH, ToothState.BROKEN)

#: So many teeth that are not compared are named one by one.
_MOST_NAMED: Final = 12


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
    from statistics import pstdev

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
    from statistics import mean

    errors = spacing_errors([one.place_mm if one.tooth in both else None for one in line.teeth]) or [0.0]
    return fine(math.sqrt(mean(error**2 for error in errors)), unit), fine(max(map(abs, errors)), unit)


def _leans(line: ScannedLine, name: str, both: set[int]) -> Sequence[float]:
    """That flank of every tooth compared but the ends', which the plate's ends may be, degrees."""
    inner = [tooth for tooth in line.teeth[1:-1] if tooth.tooth in both]
    return [lean for tooth in inner if (lean := getattr(tooth, name)) is not None]


def _lean(leans: Sequence[float]) -> str:
    from statistics import mean, pstdev

    return f"{decimals(mean(leans), 1)}° ± {decimals(pstdev(leans), 1)}°"


def newest_change(told: SawHistory, scans: Sequence[KeptScan], unit: str) -> tuple[str, ...]:
    """What is otherwise in the scans of a saw, the oldest first: what its last finished sharpening did that they tell
    of, as its own record says it; else the last two of them. Nothing with fewer than two."""
    if len(scans) < 2:
        return ()
    # A record of before the second scan cannot have one on either side.
    since = (one for one in reversed(told.finished) if one.ended is None or one.ended >= scans[0].at)
    return next((lines for one in since if (lines := change_by(one))), ()) or change_told(scans[-2], scans[-1], unit)


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
