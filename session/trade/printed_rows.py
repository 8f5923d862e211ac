"""The printed rows on which saw takes which file, laid beside the face that the arithmetic advises.

Print names files by length, never by face. Where a row is compared, the face of that length is
remembered, and the words say so. Printed practice is not corrected: a row that asks for less
than the doubling rule is another way of working.
"""

from __future__ import annotations

from typing import Final

from session.trade.file_choice import FaceNeeds, Fit, fit_of
from session.trade.lengths import in_unit
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: Faces in mm of single-ended slim taper files by length in inches (from memory, no source read).
REMEMBERED_FACES_MM: Final[dict[int, float]] = {4: 0.25 * 25.4, 6: 0.328 * 25.4}


@dataclass(frozen=True, slots=True)
class Row:
    """One printed row: the saws it is for in our words, the file, and who printed it.

    kinds: kinds of saw it names; empty when it is for any saw.
    length_in: length in inches of a single-ended slim taper, None when no face is known for the file.
    for_all: whether the row holds for every saw, not just for those it calls finer or coarser.
    """

    saws: str
    file: str
    source: str
    kinds: tuple[str, ...] = ()
    length_in: int | None = None
    for_all: bool = False


ROWS: Final[tuple[Row, ...]] = (
    Row("finer saws", "4 in slim taper", "KING art. 63", length_in=4),
    Row("coarser saws, by some all saws", "6 in slim taper", "KING art. 63", length_in=6, for_all=True),
    Row(
        "dovetail, tenon, panel",
        "150 mm double-ended slim taper",
        "GOR p. 150",
        kinds=("dovetail", "tenon", "panel"),
    ),
    Row(
        "crosscut, rip",
        "200 or 225 mm double-ended slim taper",
        "GOR p. 150",
        kinds=("hand", "rip", "half rip"),
    ),
    Row("a school's kit of saws", "6 in slim taper", "NOYES", length_in=6, for_all=True),
    Row("any saw", "just large enough for the teeth", "SHEAR"),
    Row("small teeth, large teeth", "finer for small, coarser for large", "SICK"),
)


@dataclass(frozen=True, slots=True)
class Agreement:
    """A printed row beside our advice: True agrees, False asks for less, None cannot be said; ``words`` say why."""

    row: Row
    agrees: bool | None
    words: str


def rows_for(kind: str) -> tuple[Row, ...]:
    """The printed rows that bear on a saw of this kind (as the recipe names it)."""
    return tuple(row for row in ROWS if not row.kinds or kind in row.kinds)


def agreements(kind: str, needs: FaceNeeds, unit: str = "mm") -> tuple[Agreement, ...]:
    """Each row that bears on the saw, with whether its file has the advised face; lengths in ``unit``."""
    if unit not in ("mm", "in"):
        raise TradeError(f"unit {unit!r}; allowed: mm or in")
    return tuple(_beside(row, needs, unit) for row in rows_for(kind))


def _beside(row: Row, needs: FaceNeeds, unit: str) -> Agreement:
    if row.length_in is None:
        return Agreement(row, None, "no face is printed or remembered for this file, so it cannot be compared")
    face = REMEMBERED_FACES_MM[row.length_in]
    shown = f"a face of about {in_unit(face, unit)} (from memory)"
    advised, least = in_unit(needs.advised_mm, unit), in_unit(needs.at_outer_face_mm, unit)
    fit = fit_of(face, needs)
    if fit in (Fit.SERVES, Fit.LARGE):
        return Agreement(row, True, f"{shown} is at least the advised {advised}")
    if not row.for_all:
        return Agreement(
            row, None, f"{shown} is under the advised {advised}; the row does not say which saws are finer"
        )
    if fit is Fit.NARROW:
        return Agreement(row, False, f"{shown} is under the advised {advised}, but covers the flank of {least}")
    return Agreement(row, False, f"{shown} does not cover the flank of {least}")
