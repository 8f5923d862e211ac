"""Teeth along the plate's edge: its ups and downs, where a small one does not count."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.value_class import dataclass

#: A rise or fall of less than this share of the teeth's usual depth is no tooth: a chip, a grain of dust.
COUNTS: Final = 0.3

#: Tops nearer to each other than this share of the spacing may be of one tooth.
CLOSE: Final = 0.5


@dataclass(frozen=True, slots=True)
class Rise:
    """One up and down of the edge: the stretch of its points from one gullet over the top to the next.

    chain: the points (u, v). left, top, right: places in the chain of the gullet before, the highest point and the
    gullet after.
    """

    chain: Floats
    left: int
    top: int
    right: int

    @property
    def u(self) -> float:
        """Place of the top, mm."""
        return float(self.chain[self.top, 0])

    @property
    def v(self) -> float:
        """Height of the top, mm."""
        return float(self.chain[self.top, 1])


def usual_depth(chains: list[Floats]) -> float:
    """From the gullets to the points, mm, over the middle of all that was found."""
    v = np.concatenate([chain[:, 1] for chain in chains])
    low, high = np.percentile(v, (5, 96))
    return float(high - low)


def rise_of(those: Sequence[Rise], depth: float) -> float:
    """By how much the middle tooth rises over the gullets beside it, mm; ``depth`` where none is seen whole."""
    heights = [
        one.v - float(max(one.chain[one.left, 1], one.chain[one.right, 1]))
        for one in those
        if one.left > 0 and one.right < len(one.chain) - 1
    ]
    return median(heights) if heights else depth


def gullet_at(rise: Rise, at: int) -> tuple[float, float]:
    """Place and height of the gullet at a place of the chain, mm: the lowest stretch of the edge."""
    part = rise.chain[max(0, at - 8) : at + 9]
    return float(np.median(part[np.argsort(part[:, 1])[:5], 0])), float(np.sort(part[:, 1])[:3].mean())


def base_width(rise: Rise, over: float) -> float:
    """How wide a rise is so far over the higher of its gullets, mm."""
    part = rise.chain[rise.left : rise.right + 1]
    level = max(part[0, 1], part[-1, 1]) + over
    inside = part[part[:, 1] > level, 0]
    return float(np.ptp(inside)) if len(inside) else 0.0


def rises(chain: Floats, depth: float) -> list[Rise]:
    """The ups and downs of one edge, in order. Those at its ends may lack a flank."""
    v = chain[:, 1]
    step = COUNTS * depth
    turns: list[tuple[int, bool]] = []  # places of tops (True) and gullets (False), in turn
    low = high = 0
    rising: bool | None = None
    for at, height in enumerate(v.tolist()):
        if height > v[high]:
            high = at
        if height < v[low]:
            low = at
        if rising is not False and v[high] - height > step:
            turns.append((high, True))
            rising, low = False, at
        elif rising is not True and height - v[low] > step:
            turns.append((low, False))
            rising, high = True, at
    turns.append((high, True) if rising else (low, False))
    found = []
    for i, (at, is_top) in enumerate(turns):
        if is_top:
            left = turns[i - 1][0] if i > 0 else 0
            right = turns[i + 1][0] if i + 1 < len(turns) else len(chain) - 1
            found.append(Rise(chain, left, at, right))
    return found


def unsplit(those: Sequence[Rise]) -> list[Rise]:
    """``those``, in the order of u, with two tops made one that stand nearer than teeth do and share a shallow notch.

    A hair or a grain on a point splits it, and so does the break of a stump.
    """
    if len(those) < 3:
        return list(those)
    pitch = median(other.u - one.u for one, other in pairwise(those))
    middle = [(one.v + float(one.chain[one.right, 1])) / 2.0 for one in those if one.right < len(one.chain) - 1]
    kept = [those[0]]
    for one in those[1:]:
        last = kept[-1]
        if one.chain is last.chain and last.right == one.left and one.u - last.u < CLOSE * pitch:
            around = median(middle[max(0, len(kept) - 5) : len(kept) + 4] or middle or [last.v])
            if one.chain[one.left, 1] > around:
                kept[-1] = Rise(one.chain, last.left, last.top if last.v >= one.v else one.top, one.right)
                continue
        kept.append(one)
    return kept
