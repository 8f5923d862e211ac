"""A place to be found by counting: the teeth around it by their numbers, a mark over it, its place on a rule."""

from __future__ import annotations

from typing import Final

from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.pictures.tooth_row import RowTooth, ToothRow, sum_tan
from session.value_class import dataclass

#: So many pitches are shown across, at least.
_ACROSS: Final = 4.5

#: Rows above the teeth, the word and the mark, and below them, the numbers and the rule. Under so many rows in all the
#: word is left out: the title over the picture has it.
_ABOVE: Final = 2
_BELOW: Final = 2
_WORD_FROM: Final = 7


@dataclass(frozen=True, slots=True)
class CountedPlace:
    """A tooth or a gullet, 1 … teeth from the heel. said: what is asked of it, "tooth 31, last worked". on_rule: its
    distance from the heel, with its unit."""

    tooth: int
    teeth: int
    gullet: bool
    said: str
    on_rule: str


def counted_place(
    place: CountedPlace,
    angles: tuple[float, float],
    side: int,
    width: int,
    height: int,
    *,
    stumps: frozenset[int] = frozenset(),
    ascii: bool = False,
) -> Rows:
    """The teeth around ``place``; best from 30 × 7 on; from 5 rows on it tells the place.

    angles: of front and back on the plate, degrees. side: 1 has the heel on the right, 2 on the left. Raises
    PictureError for a tooth outside the line, angles that leave no tooth, an impossible side or room.
    """
    check_room(width, height)
    if not 1 <= place.tooth <= place.teeth:
        raise PictureError(f"tooth {place.tooth}: allowed are 1 to {place.teeth}")
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
    sheet, total = Sheet(width, height), sum_tan(*angles)
    # In units, two of which are a row.
    above = _ABOVE if height >= _WORD_FROM else _ABOVE - 1
    room = 2.0 * max(1, height - above - _BELOW)
    pitch = max(2.0, min(width / _ACROSS, room * 0.8 * total))
    row = ToothRow(*angles, pitch / total, 2.0 * above, 2.0 * above + room)
    # A gullet lies in front of its tooth, toward the toe.
    middle = place.tooth + 0.5 * place.gullet
    span = int(width / pitch / 2) + 2
    near = range(max(1, place.tooth - span), min(place.teeth, place.tooth + span) + 1)
    at = {tooth: width / 2 + (tooth - middle) * pitch for tooth in near}
    row.draw(sheet, [RowTooth(x, stump=tooth in stumps) for tooth, x in at.items()], ascii=ascii)
    if side == 1:
        sheet.flip()
    for tooth, x in at.items():
        seen, text = width - x if side == 1 else x, f" {tooth} "
        if len(text) / 2 <= seen <= width - len(text) / 2 and pitch > len(text):
            sheet.put_centered(seen, height - 2, text, Role.STRONG if tooth == place.tooth else Role.LABEL)
    if above == _ABOVE:
        sheet.put_centered(width / 2, 0, place.said, Role.STRONG)
    sheet.put_centered(width / 2, above - 1, "v" if ascii else "▼", Role.NOW)
    back, forth = "<>" if ascii else "◀▶"
    left, right = (f"{back} toe", f"heel {forth}") if side == 1 else (f"{back} heel", f"toe {forth}")
    sheet.put(0, height - 1, left, Role.LABEL)
    sheet.put(width - len(right), height - 1, right, Role.LABEL)
    told = (f"{place.on_rule} from the heel", place.on_rule, "")
    rule = first_that_fits(max(0, width - len(left) - len(right) - 2), told)
    # In the middle as far as a space is left on either side: the ends are not of one length.
    middle = round((width - len(rule)) / 2)
    at_column = max(len(left) + 1, min(middle, width - len(right) - 1 - len(rule)))
    sheet.put(at_column, height - 1, rule, Role.STRONG)
    return sheet.rows()
