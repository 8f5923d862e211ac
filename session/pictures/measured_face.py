"""How wide a file's face is: a flat side of the file seen from the front, calipers closed on it mid-length."""

from __future__ import annotations

from session.pictures.materials import FILE, HANDLE, TOOL
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet


def measured_face(width: int, height: int, *, face: str = "", ascii: bool = False) -> Rows:
    """The file lying along the rows, its handle on the left, the jaws over and under it; best from 30 × 4 on.

    face: its width with the unit; empty where none is known. Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    long, middle = min(width, 44), min(width, 44) // 2
    jaw = 1 if height < 6 else 2
    high = max(1, min(height - 2 * jaw, 3))
    grip = max(2, long // 8)
    for row in range(jaw, jaw + high):
        sheet.put(0, row, HANDLE.cell(ascii=ascii) * grip, HANDLE.role)
        sheet.put(grip, row, FILE.cell(ascii=ascii) * (long - grip), FILE.role)
    down, up = ("v", "^") if ascii else ("▼", "▲")
    for row in range(jaw):
        sheet.put(middle, row, TOOL.cell(ascii=ascii) if row < jaw - 1 else down, TOOL.role)
        sheet.put(middle, jaw + high + row, up if row == 0 else TOOL.cell(ascii=ascii), TOOL.role)
    for row in (jaw - 1, jaw + high):
        sheet.put(middle + 2, row, first_that_fits(max(0, width - middle - 2), ("corner", "")), Role.LABEL)
    sheet.put(
        grip + 2,
        jaw + high // 2,
        first_that_fits(max(0, middle - grip - 3), (f" face {face} ", " face ", "")),
        Role.STRONG,
    )
    sheet.put(0, jaw + high, first_that_fits(max(0, middle - 1), ("mid-length", "")), Role.LABEL)
    return sheet.rows()
