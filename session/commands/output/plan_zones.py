"""The zones of a progressive line as `toothline plan` tells them, from heel to toe."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from session.advice.saw_figures import Group
from session.advice.sourced_figure import amount
from session.advice.zone_figures import ZoneFigures
from session.trade.file_choice import face_needs
from session.trade.rounding import decimals

COLUMNS: Final = ("teeth", "pitch", "rake on the block", "on the plate", "depth", "face wider than", "serves best")

#: Which of the other figures are whose.
NOTE: Final = (
    "The file suits every zone; the bend, and how long a set lasts, are those of the shallowest teeth. "
    "What else is otherwise in a zone stands under its own teeth."
)


def as_data(zones: Sequence[ZoneFigures], own: Mapping[int, Group]) -> list[dict[str, Any]]:
    """The zones for JSON, lengths in mm and angles in degrees; a plain line is one zone.

    own: by first tooth, the other figures of each zone of a progressive line, which are told with their formulas.
    """
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
            **_own(own.get(one.first)),
        }
        for one in zones
    ]


def _own(group: Group | None) -> dict[str, Any]:
    if group is None:
        return {}
    _, figures = group
    why = {figure.key: {"formula": figure.formula, "source": figure.source} for figure in figures}
    return {**{figure.key: figure.value for figure in figures}, "why": why}


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
