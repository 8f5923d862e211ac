"""The saw seen from above, with the person at the lower edge: the file across it, and which teeth lean away."""

from __future__ import annotations

from collections.abc import Container, Sequence
from typing import Final

from session.pictures.crossing_file import CrossingFile, check_fleam, points_left
from session.pictures.materials import BEHIND
from session.pictures.picture_rows import PictureError, Role, Rows, check_room
from session.pictures.sheet import Sheet
from session.trade.saw import FilePoints
from session.value_class import dataclass

#: Least cells from one tooth to the next, seen from above.
_PITCH: Final = 8


def above(
    tooth: int,
    teeth: int,
    *,
    fleam: float,
    side: int,
    file_points: FilePoints,
    away: Container[int],
    stumps: Container[int] = (),
    width: int,
    height: int,
    ascii: bool = False,
) -> Rows:
    """The file in gullet ``tooth`` of a line of ``teeth``, turned by ``fleam`` degrees (0 … 60) from square across.

    away: the teeth that lean away from the person on this side. stumps: the broken ones. Best from 40 × 9 on.
    Raises PictureError for a tooth outside the line and an impossible angle, side or room.
    """
    check_room(width, height)
    check_fleam(fleam)
    check_tooth(tooth, teeth, side)
    sheet = Sheet(width, height)
    line = _SeenLine(tooth, teeth, height // 2, width // 2, side == 1, away, stumps)
    line.draw(sheet, ascii)
    to_left = points_left(file_points, side)
    CrossingFile(width, height, line.middle + 0.5, 2 * line.row + 1.0, fleam, to_left).draw(sheet, ascii)
    line.number(sheet, (tooth, tooth + 1))
    _captions(sheet, fleam, file_points, line.row, line.toe_left, ascii)
    return sheet.rows()


def leaning(
    tooth: int,
    teeth: int,
    *,
    side: int,
    away: Container[int],
    stumps: Container[int] = (),
    width: int,
    height: int = 5,
    ascii: bool = False,
) -> Rows:
    """Which way the teeth around ``tooth`` lean, seen from above: away stands above the plate, toward below it.

    The tooth in hand stands in the middle. Raises PictureError as ``above`` does.
    """
    check_room(width, height)
    check_tooth(tooth, teeth, side)
    sheet = Sheet(width, height)
    middle = width // 2 + (1 if side == 2 else -1) * (_pitch(width) // 2)
    line = _SeenLine(tooth, teeth, height // 2, middle, side == 1, away, stumps)
    line.draw(sheet, ascii)
    line.number(sheet, (tooth,), "@ " if ascii else "◆ ")
    if height >= 5:
        up, down = ("^", "v") if ascii else ("▲", "▼")
        _beside_numbers(sheet, 0, (f"{up} away from you", f"{up} away"))
        _beside_numbers(sheet, height - 1, (f"{down} toward you", f"{down} toward"))
    return sheet.rows()


def _beside_numbers(sheet: Sheet, row: int, texts: Sequence[str]) -> None:
    """The longest of ``texts`` that hides no tooth's number, at the left edge, else at the right.

    Where none does, the last of them at the left: the tooth in hand, whose number has to stand, is in the middle.
    """
    for text in texts:
        for left in (0, sheet.width - len(text)):
            if left >= 0 and all(sheet.char(x, row) == " " for x in range(left - 1, left + len(text) + 1)):
                sheet.put(left, row, text, Role.ARROW)
                return
    sheet.put(0, row, texts[-1], Role.ARROW)


def _pitch(width: int) -> int:
    return max(_PITCH, width // 10 * 2)


def _tooth(width: int) -> int:
    """Cells that a leaning tooth takes."""
    return max(4, _pitch(width) // 4 // 2 * 2)


@dataclass(frozen=True, slots=True)
class _SeenLine:
    """The teeth around ``tooth``: where they stand on a sheet and which way each leans.

    row: of the plate; middle: the column of the gullet in front of ``tooth``.
    """

    tooth: int
    teeth: int
    row: int
    middle: int
    toe_left: bool
    away: Container[int]
    stumps: Container[int]

    def columns(self, width: int) -> dict[int, int]:
        """The column of each tooth that is in sight."""
        pitch = _pitch(width)
        span = width // pitch + 2
        near = range(max(1, self.tooth - span), min(self.teeth, self.tooth + span) + 1)
        return {k: self.middle + self._toward_toe * ((k - self.tooth) * pitch - pitch // 2) for k in near}

    def draw(self, sheet: Sheet, ascii: bool) -> None:
        """The plate as a bar, its teeth standing out above it (away) or below it (toward the person).

        A stump stands out to neither side: it is a dull place in the bar.
        """
        bar, upper, lower = ("=", "#", "#") if ascii else ("█", "▄", "▀")
        columns = self.columns(sheet.width)
        pitch, cells = _pitch(sheet.width), _tooth(sheet.width)
        heel = columns[min(columns)] - self._toward_toe * pitch
        toe = columns[max(columns)] + self._toward_toe * pitch // 2
        sheet.put(min(heel, toe), self.row, bar * (abs(heel - toe) + 1), Role.STEEL)
        for k, x in columns.items():
            if k in self.stumps:
                sheet.put(x - cells // 2, self.row, BEHIND.cell(ascii=ascii) * cells, Role.LEFT_OUT)
                continue
            leans_away = k in self.away
            at = self.row - 1 if leans_away else self.row + 1
            sheet.put(x - cells // 2, at, (upper if leans_away else lower) * cells, Role.STEEL)
        if min(columns) == 1:
            sheet.put(heel if self.toe_left else heel - 2, self.row, "[=]" if ascii else "▐█▌", Role.HANDLE)

    def number(self, sheet: Sheet, named: tuple[int, ...], mark: str = "") -> None:
        """Each tooth's number at its tip; ``mark`` stands before those that are ``named``."""
        for k, x in self.columns(sheet.width).items():
            text = f"stump {k}" if k in self.stumps else f"{mark if k in named else ''}{k}"
            left = x - len(text) // 2
            if left >= 0 and left + len(text) <= sheet.width:
                row = self.row - 2 if k in self.away else self.row + 2
                sheet.put(left, row, text, Role.STRONG if k in named else Role.LABEL)

    @property
    def _toward_toe(self) -> int:
        return -1 if self.toe_left else 1


def _captions(sheet: Sheet, fleam: float, points: FilePoints, row: int, toe_left: bool, ascii: bool) -> None:
    width, height = sheet.width, sheet.height
    up, down, left, right = "^v<>" if ascii else "▲▼◀▶"
    degrees = " deg" if ascii else "°"
    points_left = (points is FilePoints.TOE) == toe_left
    if height >= 7:
        turned = f"fleam {fleam:g}{degrees}" if fleam else "square across"
        # The words stand on the side that the file points away from.
        room = max(0, width // 2 - 2)
        tip = next((text for text in (f"tip to the {points}", f"to the {points}") if fleam and len(text) <= room), "")
        for text, at in ((turned, 0), (tip, 1)):
            if len(text) <= room:
                sheet.put(width - len(text) if points_left else 0, at, text, Role.STRONG)
        near_left, near_right = ("toe", "handle") if toe_left else ("handle", "toe")
        sheet.put(0, height - 1, f"{left} {near_left}", Role.LABEL)
        sheet.put(width - len(near_right) - 2, height - 1, f"{near_right} {right}", Role.LABEL)
    if height >= 9 and width >= 30:
        away, toward = (f"{up} teeth away", f"{down} toward you") if width >= 40 else (f"{up} away", f"{down} toward")
        sheet.put(0 if points_left else width - len(away), row - 3, away, Role.ARROW)
        sheet.put(width - len(toward) if points_left else 0, row + 3, toward, Role.ARROW)


def check_tooth(tooth: int, teeth: int, side: int) -> None:
    """Raise PictureError unless the tooth is on the line and the side is 1 or 2."""
    if not 1 <= tooth <= teeth:
        raise PictureError(f"tooth {tooth}: allowed are 1 to {teeth}")
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
