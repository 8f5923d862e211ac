"""The caliper closed on the flat plate under the teeth, seen along the tooth line."""

from __future__ import annotations

from session.pictures.bent_section import bent_section
from session.pictures.caliper_jaws import draw_jaws
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: How many depths of a tooth are shown: the tooth, and as much plate under it as the jaws need.
_SHOWN = 2.4


def plate_calipers(
    depth_mm: float,
    plate_mm: float,
    set_mm: float,
    bent_share: float,
    width: int,
    height: int,
    *,
    plate: str = "",
    ascii: bool = False,
) -> Rows:
    """Two neighbors in section, each leaning its way, and the jaws on the plate under both. Best from 26 × 5 on.

    depth_mm, plate_mm, set_mm, bent_share: as for `session.pictures.bent_tooth.setting`. plate: its thickness as text
    with its unit; empty where it is not known. Raises PictureError for measures outside these.
    """
    check_room(width, height)
    captions = 1 if height >= 4 else 0
    section = bent_section(
        depth_mm,
        plate_mm,
        set_mm,
        bent_share,
        middle=width / 2,
        top=0.0,
        foot=2.0 * (height - captions),
        widest_plate=width * 0.12,
        widest_bend=width * 0.08,
        shown=_SHOWN,
    )
    sheet = Sheet(width, height)
    section.draw(sheet, 1, ascii=ascii)
    section.draw_behind(sheet, -1, ascii=ascii)
    # Each jaw touches the flat of the plate, a row under the gullets or as near as there are rows.
    jaw = max(2, width // 10)
    left, right = (int(section.middle + side * section.plate / 2 + 0.5) for side in (-1, 1))
    left -= jaw
    foot = height - captions
    first = min(foot - 1, int((section.top + section.depth) / 2) + 1)
    draw_jaws(sheet, left, right, jaw, range(first, foot), (first + foot - 1) // 2, ascii=ascii)
    gullet = first_that_fits(max(0, left - 2), ("points", ""))
    sheet.put(max(0, left - 2 - len(gullet)), 0, gullet, Role.LABEL)
    if captions:
        told = first_that_fits(
            width, (f"caliper under the gullets {plate}".strip(), f"under the gullets {plate}".strip(), plate)
        )
        sheet.put_centered(width / 2, height - 1, told, Role.LABEL)
    return sheet.rows()
