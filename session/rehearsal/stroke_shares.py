"""How much of its two flats the simulated filer takes in a gullet, by when the words tell it to stop."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Final

from session.sentences.saying import Saying

#: How near a hand comes to a share of a flat, of the whole flat, at most: judgment.
EYED: Final = 0.05


def named_shares(saying: Saying, named: Mapping[int, float], rng: Random) -> tuple[float, float]:
    """What goes of the flats behind and ahead, by tooth as ``named``, to within what a hand can do."""
    behind, ahead = (_eyed(named.get(int(saying.numeral) + at, 0.0), rng) for at in (0, 1))
    return behind, ahead


def _eyed(share: float, rng: Random) -> float:
    return share if share in (0.0, 1.0) else min(1.0, max(0.0, share + rng.uniform(-EYED, EYED)))


def usual_shares(saying: Saying, gullet: int, *, half: bool, from_toe: bool) -> tuple[float, float]:
    """What goes of the flats behind and ahead of ``gullet``, where no share is named; ``half`` of each, or the rest."""
    if half:
        return 0.5, 0.5
    behind = ahead = 1.0
    if saying.sides == 1:
        # From one side, every tooth gives half to the first gullet that reaches it and the rest to the next.
        behind, ahead = (0.5, 1.0) if from_toe else (1.0, 0.5)
    # From one side the back of tooth 1, behind which no gullet is counted, takes the rest on the spot.
    return (0.5 if gullet == 1 and saying.sides == 1 else behind), ahead
