"""A measured line as a scan would tell it, without a picture: for whatever reads kept lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, is_measured, line_of_teeth


def told_line(
    count: int,
    pitch_mm: float,
    odd: Mapping[int, tuple[ToothState, float]] | None = None,
    *,
    flat_mm: float = 0.2,
    gap_mm: float = 0.0,
) -> ScannedLine:
    """An even line of ``count`` teeth, but for the ``odd`` ones: state and height under the line, mm, by number."""
    teeth = []
    for number in range(1, count + 1):
        at = (number - 1) * pitch_mm
        state, height = (odd or {}).get(number, (ToothState.WHOLE, 0.0))
        tooth = ScannedTooth(tooth=number, place_mm=at, state=state, height_mm=height, se_mm=0.003)
        if state is ToothState.NOT_SEEN:
            tooth = replace(tooth, height_mm=None, se_mm=None)
        if is_measured(state):
            half = 0.0 if state is ToothState.LOW else flat_mm / 2.0
            tooth = replace(tooth, a_mm=at - half, b_mm=at + half, front_deg=15.0, back_deg=45.0)
            tooth = replace(tooth, se_place_mm=0.002, se_flat_mm=0.005, se_front_deg=0.05, se_back_deg=0.04)
        if number < count:
            tooth = replace(tooth, gullet_mm=at + 0.3 * pitch_mm, depth_mm=0.8 * pitch_mm)
        teeth.append(tooth)
    return line_of_teeth(teeth, gap_mm, 0.02, 0.002)
