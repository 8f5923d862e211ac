"""What looking a saw over has found, before any of it is turned into advice."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from session.walk.measurables import IN_THE_LINE, MEASURABLES, Measurable


class FindingError(ValueError):
    """A finding that cannot be; the message says which value and what is allowed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """The answers of the look over and what the records add; None everywhere means "not looked at".

    counted_points: points in the whole line. counted_share: a count of another scope, as (count, scope).
    over_points_mm: width over the points of two neighbors, above 0 mm.
    line, bright, last_cut: one of the choices of the step of that name.
    broken: numbers of broken teeth; () when looked for and none found.
    sharpenings_since_set: from the records, 0 or more.
    spacing_error_mm: the worst error of spacing seen on the flats, once there are flats.
    """

    counted_points: int | None = None
    counted_share: tuple[float, str] | None = None
    over_points_mm: float | None = None
    line: str | None = None
    broken: tuple[int, ...] | None = None
    bright: str | None = None
    last_cut: str | None = None
    sharpenings_since_set: int | None = None
    spacing_error_mm: float | None = None

    def __post_init__(self) -> None:
        if self.counted_points is not None and self.counted_points < 2:
            raise FindingError(f"{self.counted_points} points counted; allowed: 2 or more")
        if self.counted_share is not None and not (math.isfinite(self.counted_share[0]) and self.counted_share[0] > 1):
            raise FindingError(f"{self.counted_share[0]:g} points {self.counted_share[1]}; allowed: more than 1")
        _finite("width over the points", self.over_points_mm, above=True)
        _finite("spacing error", self.spacing_error_mm, above=False)
        chosen = {
            Measurable.LINE: self.line,
            Measurable.BRIGHT_POINTS: self.bright,
            Measurable.LAST_CUT: self.last_cut,
        }
        for what, value in chosen.items():
            allowed = MEASURABLES[what].choices
            if value is not None and value not in allowed:
                raise FindingError(f'{what} "{value}"; allowed: {", ".join(allowed)}')
        if any(tooth < 1 for tooth in self.broken or ()):
            raise FindingError("a broken tooth has a number under 1; allowed: 1 (the heel) and up")
        if self.sharpenings_since_set is not None and self.sharpenings_since_set < 0:
            raise FindingError(f"{self.sharpenings_since_set} sharpenings since it was set; allowed: 0 or more")


def findings_from(
    answers: Mapping[Measurable, Any],
    *,
    scope: str = IN_THE_LINE,
    sharpenings_since_set: int | None = None,
    spacing_error_mm: float | None = None,
) -> Findings:
    """The findings from answers keyed by the thing measured; one without an answer is left out or None.

    A count is of points, over ``scope`` (one of its choices); a length is in mm; broken teeth are a sequence of
    numbers; the others are choices. Raises FindingError for an answer that cannot be.
    """
    count = answers.get(Measurable.POINTS)
    scopes = MEASURABLES[Measurable.POINTS].choices
    if scope not in scopes:
        raise FindingError(f'a count "{scope}"; allowed: {", ".join(scopes)}')
    whole: int | None = None
    if count is not None and scope == IN_THE_LINE:
        if not math.isfinite(count) or count != int(count):
            raise FindingError(f"{count:g} points in the line; allowed: a whole number")
        whole = int(count)
    broken = answers.get(Measurable.BROKEN_TEETH)
    return Findings(
        counted_points=whole,
        counted_share=None if count is None or whole is not None else (float(count), scope),
        over_points_mm=answers.get(Measurable.OVER_POINTS),
        line=answers.get(Measurable.LINE),
        broken=None if broken is None else tuple(sorted(set(broken))),
        bright=answers.get(Measurable.BRIGHT_POINTS),
        last_cut=answers.get(Measurable.LAST_CUT),
        sharpenings_since_set=sharpenings_since_set,
        spacing_error_mm=spacing_error_mm,
    )


def _finite(what: str, mm: float | None, *, above: bool) -> None:
    if mm is None:
        return
    if not math.isfinite(mm) or mm < 0 or (above and mm == 0):
        raise FindingError(f"{what} {mm:g} mm; allowed: {'above 0' if above else '0 or more'} mm")
