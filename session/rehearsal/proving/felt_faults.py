"""What a person finds wrong with a cut, from its figures: one fault, the worst first, and what mends it."""

from __future__ import annotations

from typing import Final

from session.rehearsal.cut_judgment import CutFault
from session.rehearsal.proving.cut_figures import CutFigures
from session.walk.stages import Stage

#: From where a person finds fault, all judgment: wander over 100 mm, roughness, a share of the set wanted over which a
#: cut is rough, a share of a sharp saw's speed under which it is slow, and a share of working teeth that explains it.
ASTRAY_MM: Final = 0.6
ROUGH_MM: Final = 0.04
WIDE: Final = 1.35
SLOW: Final = 0.45
WORKING: Final = 0.9

#: Set under this share of the least binds.
BINDS: Final = 0.95


def fault_felt(figures: CutFigures) -> CutFault | None:
    """The fault of a cut with ``figures``; None for a good one."""
    if figures.clearance < BINDS:
        return CutFault("binds", Stage.SET)
    if abs(figures.wander_mm) > ASTRAY_MM:
        by_height = abs(figures.wander_high_mm) > abs(figures.wander_mm) / 2.0
        toward = "right" if figures.wander_mm > 0.0 else "left"
        return CutFault("wanders", Stage.LEVEL if by_height else Stage.DRESS, toward, abs(figures.wander_mm))
    if figures.wide > WIDE:
        return CutFault("rough", Stage.DRESS)
    if figures.rough_mm > ROUGH_MM:
        return CutFault("jumps", Stage.SET if figures.aside_mm > figures.high_mm else Stage.LEVEL)
    if figures.speed < SLOW:
        return CutFault("slow", Stage.LEVEL if figures.working < WORKING else Stage.FILE)
    return None
