"""Teeth along the plate's edge: its ups and downs, where a small one does not count."""

from __future__ import annotations

from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.value_class import dataclass

#: A rise or fall of less than this share of the teeth's usual depth is no tooth: a chip, a grain of dust.
COUNTS: Final = 0.3


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
