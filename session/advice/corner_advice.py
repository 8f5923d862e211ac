"""Which corner of a file to use now, when to turn it to the next, and when the file is done.

It rests on a limit of teeth a corner, which nobody has printed; a corner that slides is worn whatever the count says.
"""

from __future__ import annotations

from typing import Final

from session.texts.wording import times
from session.trade.file_choice import FileOwned
from session.trade.file_life import TEETH_PER_CORNER, corner_for, corner_in_use, is_done, share_out, teeth_left
from session.trade.file_names import CORNERS
from session.value_class import dataclass

#: Who says how many teeth a corner lasts: the usual limit, and one of the owner's own.
MEMORY: Final = "from memory"
OWN: Final = "your settings"


@dataclass(frozen=True, slots=True)
class CornerCounsel:
    """What to do with one file at one saw.

    corner: the corner to begin with, 1 to 3; None when the file is done. left: teeth it has left before the limit.
    turn_after: teeth of this saw after which it is turned, None when that corner files them all.
    text: the same in one or two sentences; source: who says so, the limit's source among them.
    """

    corner: int | None
    left: int
    turn_after: int | None
    text: str
    source: str


def corner_counsel(file: FileOwned, teeth: int, limit: int = TEETH_PER_CORNER) -> CornerCounsel:
    """Counsel for filing ``teeth`` (0 or more) teeth with ``file``, ``limit`` (1 or more) teeth a corner.

    Raises TradeError for other numbers.
    """
    source = limit_source(limit)
    limited = _limit(limit)
    if is_done(file, limit):
        return CornerCounsel(None, 0, None, corner_to_use(file, limit), source)
    whole = corner_for(file, teeth, limit)
    if whole is not None:
        left = teeth_left(file, whole, limit)
        text = f"Corner {whole}: {file.corners[whole - 1]} filed, {left} left to {limited}."
        return CornerCounsel(whole, left, None, f"{text} {_when(file, whole, teeth, limit)}", source)
    shares = share_out(file, teeth, limit)
    (corner, first), rest = shares.corners[0], shares.corners[1:]
    left = teeth_left(file, corner, limit)
    text = f"No corner has {teeth} teeth left to {limited}. Corner {corner} for {times(first, 'gullet')}"
    text += "".join(f", then corner {number} for {count}" for number, count in rest) + "."
    if shares.teeth_over:
        text += f" Then the file is done, with {times(shares.teeth_over, 'gullet')} to go: take another."
    return CornerCounsel(corner, left, first, text, source)


def corner_to_use(file: FileOwned, limit: int = TEETH_PER_CORNER) -> str:
    """Which corner to go on with, whatever the saw, or that the file is done. Raises TradeError for a limit under 1."""
    corner = corner_in_use(file, limit)
    if corner is None:
        return f"Done: all three corners have come to {_limit(limit)}."
    return f"Go on with corner {corner}: {teeth_left(file, corner, limit)} left to {_limit(limit)}."


def limit_source(limit: int) -> str:
    """Who says that corners wear, and how many teeth one lasts."""
    return f"SHEAR; {MEMORY if limit == TEETH_PER_CORNER else OWN}"


def _limit(limit: int) -> str:
    return f"the limit of {limit} ({MEMORY if limit == TEETH_PER_CORNER else OWN})"


def _when(file: FileOwned, corner: int, teeth: int, limit: int) -> str:
    """After how many sharpenings of this saw the corner is used up, and what then."""
    count = teeth_left(file, corner, limit) // max(1, teeth)
    after = "this sharpening" if count == 1 else f"{times(count, 'sharpening')} like this one"
    fresh = [one for one in CORNERS if one != corner and teeth_left(file, one, limit) > 0]
    return (
        f"Turn to the next corner after {after}." if fresh else f"It is the last one: the file is done after {after}."
    )
