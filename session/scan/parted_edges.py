"""Which of the edges in a picture are the tooth line's, and teeth that something dark has cut off from their plate."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.fine_contour import Band
from session.scan.light_levels import Floats

#: An edge over a longer one by more than this share of its own length is none (our own limit).
MOST_OVER: Final = 0.5

#: A piece of steel beside the edge is thicker than a hair by this share of a tooth's depth, and by so many dots.
THICK: Final = 0.1
THICK_DOTS: Final = 5.0

#: It reaches so near to the points, and over the edge below it by so much, in shares of a tooth's depth.
NEAR: Final = 0.35


def apart(chains: Sequence[Floats]) -> list[Floats]:
    """The longest edge, and those that go on where longer ones do not reach: a hair over a gullet is no edge.

    A hair down over the plate parts an edge in two, both of which run along it.
    """
    kept: list[Floats] = []
    # What runs back into itself within the band lies on the glass, or on the plate.
    open_ones = [one for one in chains if not np.array_equal(one[0], one[-1])]
    for chain in sorted(open_ones, key=lambda one: float(np.ptp(one[:, 0])), reverse=True):
        low, high = float(chain[:, 0].min()), float(chain[:, 0].max())
        over = [min(high, float(one[:, 0].max())) - max(low, float(one[:, 0].min())) for one in kept]
        if max(over, default=0.0) < MOST_OVER * (high - low):
            kept.append(chain)
    return sorted(kept, key=lambda one: float(one[0, 0]))


def refuse_cut_off(band: Band, kept: Sequence[Floats], every: Sequence[Floats], depth: float) -> None:
    """Raise Refusal where steel as thick as a tooth lies over the edges ``kept``, reaching to the line of points: a
    hair lies across the plate under it, and would be taken for the edge. ``every`` edge of the picture, v out."""
    dot = 1.0 / min(band.per_mm)
    points = float(np.percentile(np.concatenate([chain[:, 1] for chain in kept]), 96))
    for chain in every:
        if any(chain is one for one in kept) or not _thick(chain) > max(THICK * depth, THICK_DOTS * dot):
            continue
        top = int(np.argmax(chain[:, 1]))
        u, v = float(chain[top, 0]), float(chain[top, 1])
        beside = [one[np.abs(one[:, 0] - u) < 0.1 * depth, 1] for one in kept]
        under = max((float(part.max()) for part in beside if len(part)), default=v)
        if abs(v - points) > NEAR * depth or v - under < NEAR * depth:
            continue
        columns, rows = band.picture_place(np.array([u]), np.array([v - _thick(chain)]))
        x, y = round(float(columns[0])), round(float(rows[0]))
        part = band.shares(max(0, y - 1), y + 2, max(0, x - 1), x + 2)
        if part.size and float(np.median(part)) > 0.5:
            raise Refusal(
                f"something like a hair cuts teeth off from their plate, near column {x:,}, row {y:,} of the picture; "
                "wipe glass and saw, and scan again"
            )


def _thick(chain: Floats) -> float:
    """How thick the piece is that a closed edge runs around, mm: twice its area over its length."""
    u, v = chain[:, 0], chain[:, 1]
    area = abs(float(np.dot(u, np.roll(v, -1)) - np.dot(v, np.roll(u, -1)))) / 2.0
    around = float(np.hypot(np.diff(u, append=u[:1]), np.diff(v, append=v[:1])).sum())
    return 2.0 * area / around if around > 0.0 else 0.0
