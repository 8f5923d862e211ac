"""Which side of a toothed edge is steel, told by the teeth where no end of the plate is to be seen.

Seen from the wrong side gullets are teeth. But a jointer or years of filing left the points in one line, to which no
gullet was ever filed; a point is sharp or flat, where a gullet is as round as the file's corner; and at heel and toe
the plate goes on about as low as the gullets.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.flank_lines import fit_flank, meeting
from session.scan.light_levels import Floats
from session.scan.outline_teeth import Rise, rises

#: Scatter of heights that a scan leaves, dots: below it two lines are alike.
LEAST_DOTS: Final = 0.3

#: By so many times, straighter and sharper taken together, one side has to be more like points than the other.
CLEARLY: Final = 1.7

#: So much of the edge before the first tooth and after the last tells a ledge, mm, and what one is worth.
LEDGE_MM: Final = 0.35
LEDGE_ODDS: Final = 3.0

#: What ends nearer than the first to where its flanks meet is sharp, farther than the second is round or flat, dots.
SHARP_DOTS, ROUND_DOTS = 1.5, 3.0


def told_upside_down(chains: Sequence[Floats], depth: float, dot: float) -> bool | None:
    """Whether what points out of the line is gullets; None of so few teeth that nothing is to be said. Lengths in mm.

    Raises Refusal where the teeth do not tell: seen from the wrong side, there is one tooth less.
    """
    out = [rise for chain in chains for rise in rises(chain, depth)]
    turned = [np.column_stack([chain[:, 0], -chain[:, 1]])[::-1] * np.array([-1.0, 1.0]) for chain in chains]
    inward = [rise for chain in turned for rise in rises(chain, depth)]
    if min(len(out), len(inward)) < 5:
        return None
    blunt = [_blunt(those, depth, dot) for those in (out, inward)]
    if min(blunt) < SHARP_DOTS * dot and max(blunt) > ROUND_DOTS * dot:
        return blunt[0] > blunt[1]
    odds = _by_ledges(chains, out, inward, dot)
    for pair in ([_off_line(those) for those in (out, inward)], blunt):
        one, other = (max(value, LEAST_DOTS * dot) for value in pair)
        odds *= one / other
    if 1.0 / CLEARLY <= odds <= CLEARLY:
        raise Refusal(
            "it cannot be told which side is steel: no end of the plate is seen, and points and gullets look alike; "
            "say --steel light or --steel dark"
        )
    return odds > 1.0


def _by_ledges(chains: Sequence[Floats], out: Sequence[Rise], inward: Sequence[Rise], dot: float) -> float:
    """By how much the plate's edge beyond the end teeth speaks against points being points: it goes on with gullets."""
    high, low = float(np.median([one.v for one in out])), -float(np.median([one.v for one in inward]))
    odds = 1.0
    for end in (chains[0], chains[-1][::-1]):
        near = end[np.abs(end[:, 0] - end[0, 0]) < LEDGE_MM]
        if np.ptp(near[:, 0]) > 0.8 * LEDGE_MM and np.ptp(near[:, 1]) < 0.1 * LEDGE_MM + 1.5 * dot:
            level = float(np.median(near[:, 1]))
            odds *= LEDGE_ODDS if abs(level - high) < abs(level - low) else 1.0 / LEDGE_ODDS
    return odds


def _off_line(those: Sequence[Rise]) -> float:
    """How far the middle one of the tops lies off the middle of those around it, mm: a broken one pulls none along."""
    v = np.array([one.v for one in those])
    u = np.array([one.u for one in those])
    v = v - np.polyval(np.polyfit(u, v, 1), u)
    return float(np.median([abs(v[at] - np.median(v[max(0, at - 3) : at + 4])) for at in range(len(v))]))


def _blunt(those: Sequence[Rise], depth: float, dot: float) -> float:
    """How far the middle one of the tops ends before its flanks meet, mm."""
    drops = []
    for one in those[1:-1]:
        flanks = []
        for begin, end in ((one.left, one.top), (one.top, one.right)):
            part = one.chain[begin : end + 1]
            under = one.v - part[:, 1]
            part = part[(under > 0.25 * depth) & (under < 0.7 * depth)]
            flanks.append(fit_flank(part, 3.0 * dot))
        if flanks[0] is not None and flanks[1] is not None and (peak := meeting(flanks[0], flanks[1])) is not None:
            drops.append(peak[1] - one.v)
    return float(np.median(drops)) if len(drops) > 2 else float("inf")
