"""How wide a picture's point spread is, and how noisy its dots are, seen at straight flanks."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from session.scan.fine_contour import Band
from session.scan.flank_lines import Flank


def edge_blur(band: Band, pairs: Sequence[tuple[Flank | None, Flank | None]], dot: float) -> tuple[float, float]:
    """Sigma of the point spread across the edges (mm), and of a dot's share of steel beside them."""
    spreads, noises = [], []
    reach = 5.0 * dot
    for left, right in pairs[:: max(1, len(pairs) // 40)]:
        for flank in (left, right):
            if flank is None or flank.kept < 0.8:
                continue
            half = 0.3 * flank.length
            cut = band.cutting(*flank.beside(half, reach))
            if cut is None:
                continue
            share, off, along = cut.shares, flank.off(cut.u, cut.v), flank.ways(cut.u, cut.v)
            near = (np.abs(along) < half) & (np.abs(off) < reach)
            if near.sum() < 40:
                continue
            # A shadow beside the edge, or a bevel inside it, is no blur: the side with less of it counts.
            within, beyond = near & (off < 0), near & (off > 0)
            wrong = min(float((1.0 - share[within]).mean()), float(share[beyond].mean()))
            spreads.append(max(0.0, wrong) * 2.0 * reach / 0.797885)
            far = near & (np.abs(off) > 3.5 * dot)
            if far.sum() > 20:
                away = np.where(off[far] < 0, 1.0 - share[far], share[far])
                noises.append(1.4826 * float(np.median(np.abs(away - np.median(away)))))
    if not spreads:
        return dot, 0.03
    return max(0.35 * dot, float(np.median(spreads))), max(0.004, float(np.median(noises)) if noises else 0.03)
