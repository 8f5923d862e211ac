"""The zones of a progressive line as `toothline plan` tells them, from heel to toe."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from session.advice.sourced_figure import amount
from session.advice.zone_figures import ZoneFigures
from session.trade.file_choice import face_needs
from session.trade.rounding import decimals

COLUMNS: Final = ("teeth", "pitch", "rake on the block", "on the plate", "depth", "face wider than", "serves best")

#: Which of the other figures are whose.
NOTE: Final = (
    "Of the figures below, tooth and strokes are those of the first zone; the file suits every zone, "
    "and the bend is that of the shallowest teeth."
)


def as_data(zones: Sequence[ZoneFigures]) -> list[dict[str, Any]]:
    """The zones for JSON, lengths in mm and angles in degrees; a plain line is one zone."""
    return [
        {
            "first": one.first,
            "last": one.last,
            "pitch_mm": one.tooth.pitch_mm,
            "rake_block_deg": one.rake,
            "rake_plate_deg": one.tooth.front_deg,
            "back_plate_deg": one.tooth.back_deg,
            "gullet_plate_deg": one.tooth.gullet_deg,
            "depth_mm": one.tooth.depth_mm,
            "file_face_hard_minimum_mm": face_needs(one.tooth).hard_minimum_mm,
            "file_face_outer_minimum_mm": face_needs(one.tooth).at_outer_face_mm,
            "file_face_advised_mm": face_needs(one.tooth).advised_mm,
        }
        for one in zones
    ]


def as_rows(zones: Sequence[ZoneFigures], unit: str) -> list[Sequence[str]]:
    """A row for each zone under COLUMNS, lengths in ``unit``; the advised face is from memory."""
    return [
        (
            f"{one.first}–{one.last}",
            amount(one.tooth.pitch_mm, unit),
            f"{one.rake:g}°",
            f"{decimals(one.tooth.front_deg, 1)}°",
            amount(one.tooth.depth_mm, unit),
            amount(face_needs(one.tooth).at_outer_face_mm, unit),
            f"{amount(face_needs(one.tooth).advised_mm, unit)} (from memory)",
        )
        for one in zones
    ]
