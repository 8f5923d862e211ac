"""The life of a file, kept as the number of teeth that each of its three corners has filed.

The corners wear before the faces (SHEAR), so a file is turned from corner to corner and is done
when all three are worn. How many teeth a corner lasts nobody has printed: the limit is a setting, its default
from memory, and a corner that slides before then is worn whatever the count says.
"""

from __future__ import annotations

from typing import Final

from session.trade.file_choice import FileOwned
from session.trade.file_names import CORNERS
from session.trade.trade_error import TradeError
from session.value_class import dataclass, replace

#: Teeth that one corner files before it is turned (from memory).
TEETH_PER_CORNER: Final = 600

#: Strokes that wear a corner as one tooth does, where strokes were counted: the middle of the one to three that print
#: gives a tooth (NOYES; SICK); that a corner wears by its strokes is judgment.
STROKES_A_TOOTH: Final = 2


@dataclass(frozen=True, slots=True)
class Share:
    """A sharpening shared out over a file's corners: (corner, teeth) in order, and the teeth no corner is left for."""

    corners: tuple[tuple[int, int], ...]
    teeth_over: int


def teeth_worn(uncounted: int, strokes: int) -> int:
    """How many teeth a corner has worn by: a tooth for each of ``uncounted`` gullets, and ``strokes`` of the others.

    A gullet reshaped with eight strokes wears as four teeth filed with two; half a tooth is rounded up.
    """
    return _checked_teeth(uncounted) + (2 * _checked_teeth(strokes) + STROKES_A_TOOTH) // (2 * STROKES_A_TOOTH)


def teeth_left(file: FileOwned, corner: int, limit: int = TEETH_PER_CORNER) -> int:
    """Teeth that ``corner`` (1, 2, 3) may still file before the limit, 0 or more."""
    return max(0, _checked_limit(limit) - file.corners[_index(file, corner)])


def corner_in_use(file: FileOwned, limit: int = TEETH_PER_CORNER) -> int | None:
    """The corner to go on with: the most worn one that is not yet worn out; None when the file is done.

    A corner is used up before the next is begun, so that there is always a fresh one for the fine finish.
    """
    fit = [corner for corner in CORNERS if teeth_left(file, corner, limit) > 0]
    return min(fit, key=lambda corner: (teeth_left(file, corner, limit), corner), default=None)


def is_done(file: FileOwned, limit: int = TEETH_PER_CORNER) -> bool:
    """Whether all three corners have filed ``limit`` teeth or more."""
    return corner_in_use(file, limit) is None


def corner_for(file: FileOwned, teeth: int, limit: int = TEETH_PER_CORNER) -> int | None:
    """The most worn corner that can still file ``teeth`` teeth without a turn in between; None when none can.

    Teeth filed by one corner come out alike, so a corner that would give out half way is left for a smaller saw.
    """
    _checked_teeth(teeth)
    able = [corner for corner in CORNERS if teeth_left(file, corner, limit) >= max(teeth, 1)]
    return min(able, key=lambda corner: (teeth_left(file, corner, limit), corner), default=None)


def share_out(file: FileOwned, teeth: int, limit: int = TEETH_PER_CORNER) -> Share:
    """Which corner files how many of ``teeth`` teeth, the most worn first, and how many are left over."""
    shares: list[tuple[int, int]] = []
    over = _checked_teeth(teeth)
    now: FileOwned = file
    while over and (corner := corner_in_use(now, limit)) is not None:
        taken = min(over, teeth_left(now, corner, limit))
        shares.append((corner, taken))
        now, over = after_filing(now, corner, taken), over - taken
    return Share(tuple(shares), over)


def after_filing(file: FileOwned, corner: int, teeth: int) -> FileOwned:
    """The file after ``corner`` (1, 2, 3) has filed ``teeth`` more teeth. Raises TradeError for other numbers."""
    index = _index(file, corner)
    counts = list(file.corners)
    counts[index] += _checked_teeth(teeth)
    return replace(file, corners=(counts[0], counts[1], counts[2]))


def _index(file: FileOwned, corner: int) -> int:
    if isinstance(corner, bool) or corner not in CORNERS:
        raise TradeError(f"{file.name}: corner {corner!r}; allowed: 1, 2 or 3")
    return corner - 1


def _checked_teeth(teeth: int) -> int:
    if isinstance(teeth, bool) or not isinstance(teeth, int) or teeth < 0:
        raise TradeError(f"{teeth!r} teeth; allowed: a whole number of 0 or more")
    return teeth


def _checked_limit(limit: int) -> int:
    if isinstance(limit, bool) or not isinstance(limit, int) or limit < 1:
        raise TradeError(f"a limit of {limit!r} teeth a corner; allowed: a whole number from 1")
    return limit
