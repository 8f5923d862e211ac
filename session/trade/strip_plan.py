"""The plan for a line whose flats an eye, or a scan, told against a strip of the line's pitch.

Where the strip lies as a whole does not matter: only the spaces from point to point are evened. A tooth that was graded
and not told takes no part in the evening: half of its flat goes with either gullet beside it (KING, MTS), and there the
file leans by the printed rule.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import accumulate

from session.trade.evening import (
    NOTHING_MM,
    EveningPlan,
    even_points,
    extra_leveling_mm,
    gullet_takes,
    lean_in_gullet,
    worst_spacing_error_mm,
)
from session.trade.graded_line import GradedLine
from session.trade.printed_lean import plan_by_widths
from session.trade.strip_readings import QUARTERS_OF_WIDTH
from session.trade.strokes import gullet_volume_mm3, strokes_for
from session.trade.uneven_line import UnevenLine
from session.value_class import replace


def line_by_strip(
    widths_mm: Sequence[float],
    readings: Mapping[int, float],
    spaces_mm: Sequence[float],
    broken: Collection[int] = (),
) -> UnevenLine:
    """The line with the flats where the strip tells them; a tooth that was not told, is low or broken takes no part.

    readings: in quarters of the flat's width; what a scan measured is no whole number, and of any size. spaces_mm: the
    space in front of each tooth, as the strip has it.
    """
    places = tuple(accumulate(spaces_mm[:-1], initial=0.0))
    flats: list[tuple[float, float] | None] = []
    for tooth, (place, width) in enumerate(zip(places, widths_mm, strict=True), 1):
        told = readings.get(tooth)
        if told is None or width <= 0.0 or tooth in broken:
            flats.append(None)
        else:
            middle = place + told * width / QUARTERS_OF_WIDTH
            flats.append((middle - width / 2.0, middle + width / 2.0))
    return UnevenLine(spaces_mm[0], tuple(flats), (), tuple(sorted(broken)), places)


def plan_by_strip(graded: GradedLine, readings: Mapping[int, float]) -> EveningPlan:
    """The exact plan for the flats that ``readings`` tell, by tooth; the printed rule for all others.

    Everything else is as `session.trade.printed_lean.plan_by_widths` has it, which alone counts where fewer than two
    flats are told.
    """
    printed, widths, bite = plan_by_widths(graded), graded.widths_mm, graded.bite
    line = line_by_strip(widths, readings, graded.spaces, graded.broken)
    if sum(flat is not None for flat in line.flats) < 2:
        return printed
    points = even_points(line)
    front, back = list(printed.front_mm), list(printed.back_mm)
    for at, (flat, point) in enumerate(zip(line.flats, points, strict=True)):
        if flat is not None and point is not None:
            front[at], back[at] = _taken(flat[1] - point), _taken(point - flat[0])
    # What a tooth gives is known where it was told, and where it gives nothing.
    known = [
        flat is not None or not width or tooth in graded.broken
        for tooth, (flat, width) in enumerate(zip(line.flats, widths, strict=True), 1)
    ]
    beyond = (*known[1:], True)
    takes = tuple(gullet_takes(front, back))
    gaps = [even if (gap := line.gap_mm(gullet)) is None else gap for gullet, even in enumerate(graded.gaps_mm, 1)]
    volumes = tuple(
        gullet_volume_mm3(f + g, max(0.0, gap), rise, graded.plate_mm)
        for (f, g), gap, rise in zip(takes, gaps, graded.slopes, strict=True)
    )
    heel = gullet_volume_mm3(back[0], graded.heel_gap_mm, graded.slopes[0], graded.plate_mm)
    return replace(
        printed,
        points_mm=points,
        front_mm=tuple(front),
        back_mm=tuple(back),
        lean=tuple(
            lean_in_gullet(*take) if here and there else lean
            for take, here, there, lean in zip(takes, known, beyond, printed.lean, strict=True)
        ),
        strokes=tuple(strokes_for(volume, bite) for volume in volumes),
        volumes_mm3=volumes,
        drop_mm=tuple((f + g) * rise for (f, g), rise in zip(takes, graded.slopes, strict=True)),
        heel_strokes=strokes_for(heel, bite),
        heel_mm3=heel,
        worst_before_mm=worst_spacing_error_mm(graded.pitch_mm, _middles(line), line.places_mm),
        worst_after_mm=worst_spacing_error_mm(graded.pitch_mm, points, line.places_mm),
        extra_leveling_mm=extra_leveling_mm(line, graded.depth_mm, printed.within_mm),
    )


def _taken(mm: float) -> float:
    """A take that is one, and not a point on the very end of its flat by rounding."""
    return mm if mm > NOTHING_MM else 0.0


def _middles(line: UnevenLine) -> list[float | None]:
    return [None if flat is None else (flat[0] + flat[1]) / 2.0 for flat in line.flats]
