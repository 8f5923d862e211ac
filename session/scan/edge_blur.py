"""How wide a picture's point spread is, and how noisy its dots are, seen at straight flanks."""

from __future__ import annotations

import math
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
            du, dv = math.cos(flank.turn), math.sin(flank.turn)
            corners = np.array(
                [
                    (flank.u0 + s * du - w * dv, flank.v0 + s * dv + w * du)
                    for s in (-half, half)
                    for w in (-reach, reach)
                ]
            )
            columns, rows = band.picture_place(corners[:, 0], corners[:, 1])
            left_, right_ = max(0, math.floor(columns.min())), min(band.dots.shape[1], math.ceil(columns.max()) + 1)
            top, bottom = max(0, math.floor(rows.min())), min(band.dots.shape[0], math.ceil(rows.max()) + 1)
            if right_ - left_ < 3 or bottom - top < 3:
                continue
            share = band.levels.shares(band.dots[top:bottom, left_:right_], left_).astype(float)
            at_row, at_column = np.mgrid[top:bottom, left_:right_]
            u, v = band.saw_frame(at_column.astype(float), at_row.astype(float))
            off = flank.off(u, v)
            along = (u - flank.u0) * du + (v - flank.v0) * dv
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
