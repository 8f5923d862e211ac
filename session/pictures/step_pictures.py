"""The picture of each named step: what is looked at, which way the hand goes, and what is to be told apart."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from session.pictures.calipers import calipers
from session.pictures.chalk_marks import CHALKED, chalk_marks
from session.pictures.cuts_compared import GRAINS, TRIAL_CUTS, WAYS, WOODS, cuts
from session.pictures.file_corners import file_corners
from session.pictures.odd_teeth import cracked, odd_tooth, tooth_sizes
from session.pictures.picture_rows import Rows
from session.pictures.points_in_light import bright_points, flats_in_light, hard_teeth
from session.pictures.saw_parts import all_round, brushed, handle_tried, plate_sighted, put_by, wiped
from session.pictures.straight_edge import line_gap, line_shapes
from session.pictures.trough import needle, trough
from session.trade.lengths import by_inches, in_unit
from session.trade.saw import Saw
from session.trade.tooth import Tooth
from session.walk.known_teeth import Known
from session.walk.stages import MEASURE_STEP, TRIAL_CUT_STEP, Stage

#: Draws a step in so many cells and rows, in block characters or in ASCII.
StepPicture = Callable[..., Rows]

#: The set that is drawn where the recipe gives none, as a share of the plate: a drawing, not a measure.
_DRAWN_SET: Final = 0.15

#: Steps that look the same whatever the saw.
_ALIKE: Final[dict[tuple[Stage, str], StepPicture]] = {
    (Stage.LOOK_OVER, "last cut"): partial(cuts, TRIAL_CUTS),
    (Stage.LOOK_OVER, "grain"): partial(cuts, GRAINS),
    (Stage.LOOK_OVER, "wood"): partial(cuts, WOODS),
    (Stage.LOOK_OVER, "wanders to"): partial(cuts, WAYS),
    (Stage.LOOK_OVER, "all round"): all_round,
    (Stage.LOOK_OVER, "plate"): plate_sighted,
    (Stage.LOOK_OVER, "handle"): handle_tried,
    (Stage.LOOK_OVER, "line"): line_shapes,
    (Stage.LOOK_OVER, "line gap"): line_gap,
    (Stage.PROVE, TRIAL_CUT_STEP): partial(cuts, TRIAL_CUTS),
    (Stage.CLOSE, "filings"): brushed,
    (Stage.CLOSE, "wipe"): wiped,
    (Stage.CLOSE, "put by"): put_by,
}

#: Steps that are drawn with the angles of the saw's own teeth.
_TOOTHED: Final[dict[tuple[Stage, str], StepPicture]] = {
    (Stage.LOOK_OVER, "bright points"): bright_points,
    (Stage.LEVEL, "flats"): flats_in_light,
    (Stage.LOOK_OVER, "crack"): cracked,
    (Stage.LOOK_OVER, "hard teeth"): hard_teeth,
    (Stage.LOOK_OVER, "sizes"): tooth_sizes,
    (Stage.LOOK_OVER, "high teeth"): partial(odd_tooth, Known.HIGH),
    (Stage.LOOK_OVER, "low teeth"): partial(odd_tooth, Known.LOW),
    (Stage.LOOK_OVER, "broken teeth"): partial(odd_tooth, Known.BROKEN),
}

#: Steps at which the caliper is closed over the points.
_MEASURED: Final = ((Stage.LOOK_OVER, "over the set"), (Stage.SET, MEASURE_STEP), (Stage.DRESS, MEASURE_STEP))

#: Rows for so many cells of width that a picture of the whole saw or of a shelf is worth.
_FLAT: Final = frozenset({"all round", "handle", "wipe", "filings", "put by", "plate"})


def step_picture(stage: Stage, step: str, saw: Saw, steel: Tooth) -> StepPicture | None:
    """How the step is drawn for a saw whose first tooth is ``steel``; None for a step that is read and not done."""
    at = (stage, step)
    if at in _ALIKE:
        return _ALIKE[at]
    if at in _TOOTHED:
        return partial(_TOOTHED[at], steel.front_deg, steel.back_deg)
    if at in _MEASURED:
        return _over_the_points(saw, steel)
    if stage is Stage.PROVE and step == "sight":
        return partial(trough, saw.fleam)
    if stage is Stage.PROVE and step == "needle" and saw.fleam:
        return partial(needle, saw.fleam)
    if at == (Stage.LOOK_OVER, "points"):
        return partial(chalk_marks, saw.points, saw.from_heel)
    if at == (Stage.LOOK_OVER, "file"):
        return partial(file_corners, face=str(saw.face) if saw.face is not None else "")
    return None


def step_rows(step: str, points: int, width: int, height: int) -> int:
    """Rows of ``height`` that the picture of a step is worth in so many cells: more would only show more plate."""
    if step == "points":
        return min(height, 5 + points // CHALKED + 1)
    return min(height, max(9, width // 5)) if step in _FLAT else min(height, max(10, width * 2 // 5))


def _over_the_points(saw: Saw, steel: Tooth) -> StepPicture:
    plate = saw.plate.mm
    known = saw.set_per_side is not None and saw.set_per_side.mm > 0
    per_side = saw.set_per_side.mm if known and saw.set_per_side is not None else _DRAWN_SET * plate
    fine = "in" if by_inches(saw.unit) else "mm"
    over = in_unit(plate + 2 * per_side, fine) if known else ""
    return partial(calipers, steel.depth_mm, plate, per_side, saw.bent_share, over=over, plate=str(saw.plate))
