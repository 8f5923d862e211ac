"""Which gullet is filed from which side, and which teeth lean away from the person there.

Neighboring teeth lean opposite ways, so tooth 1 fixes all the others by parity. Side 1 has the saw's
handle on the person's right, side 2 on the left. Gullet k lies in front of tooth k.

With the file pointing to the toe, the gullets of the teeth that lean away are filed (NOYES, KING,
HOLTZ): the fleam then puts each point on the outer face of its tooth. A file that points to the handle
tilts the fronts the other way, so the same saw needs each gullet from its other side; else the points
come to stand on the inner faces and the needle of NOYES and ROSS finds no V to lie in.
"""

from __future__ import annotations

from session.trade.saw import End, FilePoints, Leans
from session.trade.trade_error import TradeError


def side_on_which_leans_away(tooth: int, first_leans: Leans) -> int:
    """The side (1 or 2) from which tooth ``tooth`` (1, 2, …) is seen to lean away.

    A line that was never set (UNSET) is treated as AWAY; the setting will follow it.
    """
    _at_least("tooth", tooth, 1)
    odd_side = 2 if Leans(first_leans) is Leans.TOWARD else 1
    return odd_side if tooth % 2 else 3 - odd_side


def goes_left(to_toe: bool, side: int) -> bool:
    """Whether what goes to the toe, or else to the heel, goes to the person's left.

    With the handle on the right, on side 1, the toe is on the left.

    >>> goes_left(True, 1), goes_left(True, 2), goes_left(False, 2)
    (True, False, True)
    """
    return to_toe == (side == 1)


def side_of_gullet(gullet: int, first_leans: Leans, sides: int = 2, file_points: FilePoints = FilePoints.TOE) -> int:
    """The side (1 or 2) from which gullet ``gullet`` (1, 2, …) is filed; always 1 when ``sides`` is 1."""
    _one_or_two("sides", sides)
    leans_away = side_on_which_leans_away(gullet, first_leans)
    if sides == 1:
        return 1
    return leans_away if FilePoints(file_points) is FilePoints.TOE else 3 - leans_away


def gullet_beside_first_back(sides: int = 2) -> int:
    """The gullet beside which the back of tooth 1 is filed, behind which no gullet is counted.

    A back is filed with the gullet behind its tooth, which for tooth 1 would be gullet 0. So it belongs to the side of
    the even gullets: filed from the side of its own front, both flanks would slant one way and the point would not
    come to stand on the outer face (derived). From one side it goes with the first.
    """
    _one_or_two("sides", sides)
    return sides


def gullets_of_side(
    side: int,
    points: int,
    first_leans: Leans,
    start: End = End.HEEL,
    sides: int = 2,
    file_points: FilePoints = FilePoints.TOE,
) -> tuple[int, ...]:
    """Gullets filed from ``side`` (1 or 2), in working order from the end ``start``.

    With ``sides`` = 1 all of them belong to side 1 and none to side 2 (KING, HOLTZ: a square-filed rip).
    """
    _one_or_two("side", side)
    return tuple(k for k in _along(points, start) if side_of_gullet(k, first_leans, sides, file_points) == side)


def teeth_leaning_away(side: int, points: int, first_leans: Leans, start: End = End.HEEL) -> tuple[int, ...]:
    """Teeth that lean away from a person at ``side`` (1 or 2), in order from ``start``: those set from there."""
    _one_or_two("side", side)
    return tuple(k for k in _along(points, start) if side_on_which_leans_away(k, first_leans) == side)


def _along(points: int, start: End) -> range:
    _at_least("points", points, 2)
    return range(1, points + 1) if End(start) is End.HEEL else range(points, 0, -1)


def _one_or_two(name: str, value: int) -> None:
    if isinstance(value, bool) or value not in (1, 2):
        raise TradeError(f"{name} {value!r}; allowed: 1 (handle on the right) or 2 (handle on the left)")


def _at_least(name: str, value: int, least: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or value < least:
        raise TradeError(f"{name} {value!r}; allowed: a whole number from {least}")
