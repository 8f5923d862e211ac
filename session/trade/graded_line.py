"""A leveled line of which the widths of the flats are known, by grades or by a scan, and not where they lie."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from session.trade.strokes import usual_bite
from session.trade.trade_error import TradeError
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class GradedLine:
    """The flats of a line, and the saw that they are on. Raises TradeError for fewer than two teeth, and for a width
    that cannot be.

    widths_mm: of the flat of each tooth, 0 for a low one. pitch_mm, depth_mm, plate_mm: of the line, of its sharp
    tooth, and of the plate. grades: one for each tooth, two that are not equal differ by a grade or more; None for a
    flat that nobody graded. bite_mm3: steel one stroke takes, None for the usual one of such a saw. broken: teeth that
    give nothing. spaces_mm, rises: the space of each gullet of a progressive line, and its depth over its space; empty
    where all are alike.
    """

    widths_mm: Sequence[float]
    pitch_mm: float
    depth_mm: float
    plate_mm: float
    grades: Sequence[float | None]
    bite_mm3: float | None = None
    broken: Collection[int] = ()
    spaces_mm: Sequence[float] = ()
    rises: Sequence[float] = ()

    def __post_init__(self) -> None:
        count = len(self.widths_mm)
        if count < 2 or len(self.grades) != count:
            told = f"{count} widths and {len(self.grades)} grades"
            raise TradeError(f"{told}; allowed: two or more, one of each for a tooth")
        for tooth, (width, space) in enumerate(zip(self.widths_mm, self.spaces, strict=True), 1):
            if not 0.0 <= width < space:
                told = f"tooth {tooth}: a flat {width:g} mm wide"
                raise TradeError(f"{told}; allowed: 0 mm (a low tooth) up to the pitch")

    @property
    def spaces(self) -> Sequence[float]:
        """The space of each gullet, in mm."""
        return self.spaces_mm or (self.pitch_mm,) * len(self.widths_mm)

    @property
    def slopes(self) -> Sequence[float]:
        """Depth over space of each gullet."""
        return self.rises or (self.depth_mm / self.pitch_mm,) * len(self.widths_mm)

    @property
    def bite(self) -> float:
        """Steel one stroke takes, in mm³."""
        return usual_bite(self.pitch_mm, self.plate_mm).mm3 if self.bite_mm3 is None else self.bite_mm3

    @property
    def gaps_mm(self) -> Sequence[float]:
        """What lies between the middles of the flats beside each gullet, less half of either, if each lies on its
        place; beyond the toe there is no flat."""
        ahead = (*self.widths_mm[1:], 0.0)
        beside = zip(self.spaces, self.widths_mm, ahead, strict=True)
        return [space - (behind + after) / 2.0 for space, behind, after in beside]

    @property
    def heel_gap_mm(self) -> float:
        """The same behind tooth 1."""
        return self.spaces[0] - self.widths_mm[0] / 2.0
