"""A string pulled tight through a row of gaps: the smoothest line that keeps between given bounds.

Among all heights y with low ≤ y ≤ high at given places, the taut one makes Σ (rise between neighbors)² / run
least. Where it bends, it bends around the edge of a gap; so its slope changes only at such edges, and
always in the direction that the edge allows. A convex penalty of another shape that is least at slope 0 keeps
those signs, so the same string also makes the steepest slope least (checked in tests/reference).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence


def taut_string(places: Sequence[float], low: Sequence[float], high: Sequence[float]) -> list[float]:
    """The taut heights at ``places`` (ascending), between ``low`` and ``high``, both ends free.

    One pass forward, one backward; every corner is put in and taken out once, so O(N). When a level string fits,
    it fits at many heights: the one nearest to the mean of the middles is taken. The caller sees to it that
    there is at least one place and low ≤ high everywhere.
    """
    least, most = _slopes_at_bounds(places, low, high)
    last = len(places) - 1
    outgoing = 0.0
    slopes = [0.0] * (last + 1)  # slopes[k] is the slope leaving place k; behind the last place it is free, so 0
    held: list[float | None] = [None] * (last + 1)
    for k in range(last, -1, -1):
        slopes[k] = outgoing
        if outgoing < least[k]:
            held[k], outgoing = low[k], least[k]
        elif outgoing > most[k]:
            held[k], outgoing = high[k], most[k]
    corners = [k for k, height in enumerate(held) if height is not None]
    if not corners:
        return [_level(low, high)] * (last + 1)
    heights = [0.0] * (last + 1)
    at = corners[0]
    for k in range(last + 1):
        here = held[k]
        if here is not None:
            at = k
            heights[k] = here
            continue
        base = held[at]
        assert base is not None
        slope = slopes[at] if k > at else 0.0  # before the first corner the string is level: its end is free
        heights[k] = min(max(base + slope * (places[k] - places[at]), low[k]), high[k])
    return heights


def _level(low: Sequence[float], high: Sequence[float]) -> float:
    """The height of a level string that fits: the mean of the middles, moved as little as the gaps require."""
    mean = sum((a + b) / 2.0 for a, b in zip(low, high, strict=True)) / len(low)
    return min(max(mean, max(low)), min(high))


def _slopes_at_bounds(
    places: Sequence[float], low: Sequence[float], high: Sequence[float]
) -> tuple[list[float], list[float]]:
    """For every place, the incoming slopes at which the best string to there meets its lower and its upper bound.

    The best height at a place, as a function of the slope, is made of straight pieces; each comes from one corner
    (place, height) behind it, and they meet at the slopes in ``breaks``. A bound cuts pieces off one end.
    """
    corners: deque[tuple[float, float]] = deque([(places[0], low[0]), (places[0], high[0])])
    breaks: deque[float] = deque([0.0])
    least, most = [0.0], [0.0]
    for place, floor, ceiling in zip(places[1:], low[1:], high[1:], strict=True):
        at_floor = _slope(corners[0], place, floor)
        while breaks and at_floor > breaks[0]:
            passed = breaks.popleft()
            corners.popleft()
            at_floor = max(_slope(corners[0], place, floor), passed)
        at_ceiling = _slope(corners[-1], place, ceiling)
        while breaks and at_ceiling < breaks[-1]:
            passed = breaks.pop()
            corners.pop()
            at_ceiling = min(_slope(corners[-1], place, ceiling), passed)
        if at_ceiling <= at_floor:  # nothing is left between the bounds, whatever piece the cuts ran through
            at_ceiling = at_floor
            corners, breaks = deque([(place, floor), (place, ceiling)]), deque([at_floor])
        else:
            corners.appendleft((place, floor))
            breaks.appendleft(at_floor)
            corners.append((place, ceiling))
            breaks.append(at_ceiling)
        least.append(at_floor)
        most.append(at_ceiling)
    return least, most


def _slope(corner: tuple[float, float], place: float, height: float) -> float:
    return (height - corner[1]) / (place - corner[0])
