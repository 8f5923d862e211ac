"""A picture file of a steel rule into the scale of the scanner that made it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from session.machine.refusal import Refusal
from session.machine.untrusted_text import shown
from session.scan.picture_file import read_gray
from session.scan.rule_ticks import rule_scale
from session.scan.saw_scan import told_scale
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class MeasuredScale:
    """share: dots of a millimeter by those of the scanner's word. se: its relative standard uncertainty. The rest as
    `session.scan.rule_ticks.RuleScale` has it."""

    share: float
    se: float
    dots_per_mm: float
    spaces: int
    spacing_mm: float
    upright: bool


def rule_in(path: Path, length_mm: float, dpi: float | None, say: Callable[[str], None]) -> MeasuredScale:
    """The scale by the rule of ``length_mm`` in the picture at ``path``; dpi where the file does not say it. Raises
    Refusal."""
    picture = read_gray(path, say)
    per_mm = told_scale(path, picture.dpi, dpi)
    try:
        found = rule_scale(picture.dots, per_mm, length_mm)
    except Refusal as wrong:
        raise Refusal(f"{shown(path)}: {wrong}") from None
    share = found.dots_per_mm / per_mm[found.upright]
    return MeasuredScale(share, found.se, found.dots_per_mm, found.spaces, found.spacing_mm, found.upright)
