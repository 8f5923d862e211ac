"""Where to lean and what to take when only the widths or grades of the flats are known: the printed rule.

From widths nothing follows of where the flats lie, so that no plan of places is made of them: tried on simulated lines,
such plans left the spacing worse than every point in the middle of its flat. The rule in print (KING 64, DREW, FIT): in
a gullet whose two flats differ by a grade or more, lean on the tooth with the larger one, else straight. Half of each
flat goes with the gullet before it and half with the one behind (KING, MTS).
"""

from __future__ import annotations

from itertools import pairwise

from session.trade.evening import EveningPlan, Lean, gullet_takes
from session.trade.graded_line import GradedLine
from session.trade.strokes import gullet_volume_mm3, strokes_for


def plan_by_widths(line: GradedLine) -> EveningPlan:
    """The printed way to file ``line``. Beside a tooth whose flat nobody graded the file is held straight.

    Where the points will lie and how even the spacing gets is not known and stays None.
    """
    widths, broken, bite = line.widths_mm, line.broken, line.bite
    half = tuple(0.0 if tooth in broken else width / 2.0 for tooth, width in enumerate(widths, 1))
    takes = tuple(gullet_takes(half, half))
    # Beyond the toe there is no tooth, so that the last gullet leans on the last tooth alone.
    volumes = tuple(
        gullet_volume_mm3(front + back, gap, rise, line.plate_mm)
        for (front, back), gap, rise in zip(takes, line.gaps_mm, line.slopes, strict=True)
    )
    heel = gullet_volume_mm3(half[0], line.heel_gap_mm, line.slopes[0], line.plate_mm)
    seen = [0.0 if tooth in broken else grade for tooth, grade in enumerate(line.grades, 1)]
    return EveningPlan(
        pitch_mm=line.pitch_mm,
        points_mm=(None,) * len(widths),
        front_mm=half,
        back_mm=half,
        lean=(*(_lean(behind, beyond) for behind, beyond in pairwise(seen)), Lean.STRAIGHT),
        strokes=tuple(strokes_for(volume, bite) for volume in volumes),
        volumes_mm3=volumes,
        drop_mm=tuple((front + back) * rise for (front, back), rise in zip(takes, line.slopes, strict=True)),
        heel_strokes=strokes_for(heel, bite),
        heel_mm3=heel,
        low=tuple(tooth for tooth, width in enumerate(widths, 1) if width == 0.0 and tooth not in broken),
        broken=tuple(sorted(broken)),
    )


def _lean(behind: float | None, ahead: float | None) -> Lean:
    if behind is None or ahead is None or behind == ahead:
        return Lean.STRAIGHT
    return Lean.HEEL if behind > ahead else Lean.TOE
