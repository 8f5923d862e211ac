"""The caliper closed over the points of two neighbors, seen along the tooth line."""

from __future__ import annotations

from session.pictures.bent_section import bent_section
from session.pictures.caliper_jaws import draw_jaws
from session.pictures.materials import TOOL
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet


def calipers(
    depth_mm: float,
    plate_mm: float,
    set_mm: float,
    bent_share: float,
    width: int,
    height: int,
    *,
    over: str = "",
    plate: str = "",
    ascii: bool = False,
) -> Rows:
    """Two neighbors in section, each leaning its way, between the jaws. Best from 26 × 8 on.

    depth_mm, plate_mm, set_mm, bent_share: as for `session.pictures.bent_tooth.setting`. over, plate: the width over
    the points and that of the plate, as text with its unit; empty where none is known. Raises PictureError for
    measures outside these.
    """
    check_room(width, height)
    captions = 1 if height >= 5 else 0
    beam = 1 if height >= 6 else 0
    section = bent_section(
        depth_mm,
        plate_mm,
        set_mm,
        bent_share,
        middle=width / 2,
        top=2.0 * (beam + 1),
        foot=2.0 * (height - captions),
        widest_plate=width * 0.24,
        widest_bend=width * 0.14,
        shown=min(1.4, 2 * bent_share),
    )
    sheet = Sheet(width, height)
    section.draw(sheet, 1, ascii=ascii)
    section.draw_behind(sheet, -1, ascii=ascii)
    # Each jaw touches the point that stands out most on its side.
    out = section.plate / 2 + section.bend
    jaw = max(2, width // 14)
    left, right = int(section.middle - out) - jaw, -int(-(section.middle + out) // 1)
    low = int((section.top + section.bent) / 2)
    draw_jaws(sheet, left, right, jaw, range(beam, low + 1), (beam + low + 1) // 2, ascii=ascii)
    if beam:
        sheet.put(max(0, left - 2), 1, TOOL.cell(ascii=ascii) * (right + jaw - left + 4), TOOL.role)
        told = first_that_fits(width, (f"over the points {over}".strip(), f"over {over}".strip(), over))
        sheet.put_centered(width / 2, 0, told, Role.STRONG)
    if low + 1 < height - captions:
        name = first_that_fits(max(0, left - 1), ("caliper", ""))
        sheet.put(max(0, left - len(name) + jaw), low + 1, name, Role.LABEL)
    if captions:
        told = first_that_fits(width, (f"plate {plate}, lightly" if plate else "lightly, two neighbors", "lightly"))
        sheet.put_centered(width / 2, height - 1, told, Role.LABEL)
    return sheet.rows()
