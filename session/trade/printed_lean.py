"""Where to lean and what to take when only the widths or grades of the flats are known: the printed rule.

From widths nothing follows of where the flats lie, so that no plan of places is made of them: tried on simulated lines,
such plans left the spacing worse than every point in the middle of its flat. The rule in print (KING 64, DREW, FIT): in
a gullet whose two flats differ by a grade or more, lean on the tooth with the larger one, else straight. Half of each
flat goes with the gullet before it and half with the one behind (KING, MTS).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise

from session.trade.evening import EveningPlan, Lean, gullet_takes
from session.trade.strokes import gullet_volume_mm3, strokes_for, usual_bite
from session.trade.trade_error import TradeError


def plan_by_widths(
    widths_mm: Sequence[float],
    pitch_mm: float,
    depth_mm: float,
    plate_mm: float,
    *,
    grades: Sequence[float | None],
    bite_mm3: float | None = None,
    broken: Collection[int] = (),
    spaces_mm: Sequence[float] = (),
    rises: Sequence[float] = (),
) -> EveningPlan:
    """The printed way to file a line of flats ``widths_mm`` wide, 0 for a low tooth; a broken one gives nothing.

    grades: one for each tooth; two that are not equal differ by a grade or more. Beside a tooth whose flat nobody
    graded, None, the file is held straight. depth_mm, plate_mm: of the tooth and the plate; bite_mm3: steel one stroke
    takes, None for the usual one of such a saw. spaces_mm, rises: the space of each gullet of a progressive line, and
    its depth over its space. Where the points will lie and how even the spacing gets is not known and stays None.
    Raises TradeError for fewer than two teeth, and for a width that cannot be.
    """
    count = len(widths_mm)
    if count < 2 or len(grades) != count:
        raise TradeError(f"{count} widths and {len(grades)} grades; allowed: two or more, one of each for a tooth")
    spaces = tuple(spaces_mm) or (pitch_mm,) * count
    rises = tuple(rises) or (depth_mm / pitch_mm,) * count
    for tooth, (width, space) in enumerate(zip(widths_mm, spaces, strict=True), 1):
        if not 0.0 <= width < space:
            raise TradeError(f"tooth {tooth}: a flat {width:g} mm wide; allowed: 0 mm (a low tooth) up to the pitch")
    gives = [0.0 if tooth in broken else width for tooth, width in enumerate(widths_mm, 1)]
    half = tuple(width / 2.0 for width in gives)
    takes = tuple(gullet_takes(half, half))
    # Beyond the toe there is no tooth, so that the last gullet leans on the last tooth alone.
    ahead = (*widths_mm[1:], 0.0)
    volumes = tuple(
        gullet_volume_mm3(front + back, space - (behind + after) / 2.0, rise, plate_mm)
        for (front, back), behind, after, space, rise in zip(takes, widths_mm, ahead, spaces, rises, strict=True)
    )
    heel = gullet_volume_mm3(half[0], spaces[0] - widths_mm[0] / 2.0, rises[0], plate_mm)
    bite = usual_bite(pitch_mm, plate_mm).mm3 if bite_mm3 is None else bite_mm3
    seen = [0.0 if tooth in broken else grade for tooth, grade in enumerate(grades, 1)]
    return EveningPlan(
        pitch_mm=pitch_mm,
        points_mm=(None,) * count,
        front_mm=half,
        back_mm=half,
        lean=(*(_lean(behind, beyond) for behind, beyond in pairwise(seen)), Lean.STRAIGHT),
        strokes=tuple(strokes_for(volume, bite) for volume in volumes),
        volumes_mm3=volumes,
        drop_mm=tuple((front + back) * rise for (front, back), rise in zip(takes, rises, strict=True)),
        heel_strokes=strokes_for(heel, bite),
        heel_mm3=heel,
        low=tuple(tooth for tooth, width in enumerate(widths_mm, 1) if width == 0.0 and tooth not in broken),
        broken=tuple(sorted(broken)),
    )


def _lean(behind: float | None, ahead: float | None) -> Lean:
    if behind is None or ahead is None or behind == ahead:
        return Lean.STRAIGHT
    return Lean.HEEL if behind > ahead else Lean.TOE
