"""The picture beside a field of the form: what is measured, drawn by the figures so far."""

from __future__ import annotations

from session.form.form_fields import FormField
from session.pictures.bent_tooth import setting
from session.pictures.calipers import calipers
from session.pictures.from_above import above
from session.pictures.measured_face import measured_face
from session.pictures.picture_rows import PictureError, Rows
from session.pictures.plate_calipers import plate_calipers
from session.pictures.tooth_profile import profile
from session.pictures.vise import vise
from session.trade.saw import Saw
from session.trade.tooth import tooth_of
from session.trade.trade_error import TradeError

#: Under so many rows no picture says anything.
LEAST_ROWS = 4

#: Fields whose picture shows what is measured, or where to look.
PICTURED = frozenset(FormField) - {FormField.UNITS, FormField.NAME, FormField.LIKE, FormField.KIND, FormField.WOOD}


def field_picture(field: FormField, saw: Saw, width: int, height: int, *, ascii: bool = False) -> Rows:
    """What is measured for ``field`` on ``saw``, in a room of cells; nothing where there is no room or no picture."""
    if height < LEAST_ROWS or width < 20:
        return ()
    try:
        made = tooth_of(saw)
        match field:
            case FormField.LENGTH | FormField.COUNT | FormField.POINTS | FormField.RAKE:
                return profile(made.front_deg, made.back_deg, width, min(height, 9), ascii=ascii)
            case FormField.CUT | FormField.FLEAM | FormField.LEANS:
                odd = range(1, saw.points + 1, 2)
                points = saw.file_points
                return above(
                    5,
                    12,
                    fleam=saw.fleam,
                    side=1,
                    file_points=points,
                    away=odd,
                    width=width,
                    height=height,
                    ascii=ascii,
                )
            case FormField.PLATE | FormField.OVER_POINTS | FormField.PER_SIDE:
                bend = max(saw.set_per_side.mm if saw.set_per_side is not None else 0.15, 0.01)
                drawn = {FormField.PLATE: plate_calipers, FormField.OVER_POINTS: calipers}.get(field, setting)
                return drawn(made.depth_mm, saw.plate.mm, bend, saw.bent_share, width, min(height, 9), ascii=ascii)
            case FormField.FACE:
                return measured_face(
                    width, min(height, 7), face=str(saw.face) if saw.face is not None else "", ascii=ascii
                )
            case FormField.JAW:
                return vise(1, width, min(height, 8), ascii=ascii)
            case _:
                return ()
    except (TradeError, PictureError):
        return ()
