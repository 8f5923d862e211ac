"""Saws for tests that do not read one from a file: a panel saw in inches, and a small one in millimeters."""

from __future__ import annotations

from typing import Any, Final

from session.trade.lengths import Length, parse_length
from session.trade.saw import Cut, Saw
from session.trade.setting import SetLine, set_slope

_PANEL: Final[dict[str, Any]] = {
    "name": "Netloft panel saw",
    "kind": "panel",
    "cut": Cut.CROSSCUT,
    "toothed_length": parse_length("22 in"),
    "plate": parse_length("0.035 in"),
    "points": 155,
    "pitch_mm": 25.4 / 7,
    "count_as": "8 points per inch",
    "rake": 15.0,
}


def panel_saw(**changes: Any) -> Saw:
    """A crosscut panel saw of 22 in and 8 points per inch, 15° of rake, no fleam and no set; with ``changes``."""
    return Saw(**{**_PANEL, **changes})


def small_saw(points: int, pitch_mm: float, **changes: Any) -> Saw:
    """A small crosscut saw of ``points`` teeth, ``pitch_mm`` apart, 15° of rake and 20° of fleam; with ``changes``."""
    values: dict[str, Any] = {
        "name": "Boat-shed sash saw",
        "kind": "sash",
        "cut": Cut.CROSSCUT,
        "toothed_length": Length.of((points - 1) * pitch_mm),
        "plate": Length.of(0.8),
        "points": points,
        "pitch_mm": pitch_mm,
        "count_as": f"{pitch_mm:g} mm pitch",
        "rake": 15.0,
        "fleam": 20.0,
    }
    return Saw(**{**values, **changes})


def fresh_set(set_mm: float, depth_mm: float, bent_share: float) -> SetLine:
    """The set on the day of setting, ``set_mm`` per side."""
    return SetLine(set_mm, set_slope(set_mm, depth_mm, bent_share))
