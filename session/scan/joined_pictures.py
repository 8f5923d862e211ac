"""Several pictures of one line joined by the teeth that they share.

Two teeth are the same when their spacing to the next, the widths of their flats, the leans of their flanks and their
heights agree as well as they were measured. Pictures are joined at the one overlap where all shared teeth agree; where
more than one would do, the teeth are too alike to tell, and a person has to say it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.light_levels import Floats
from session.scan.read_tooth import ReadTooth
from session.value_class import replace

#: The fewest teeth that two pictures have to share.
LEAST_SHARED: Final = 4

#: Mean square of differences, in units of what two scans may differ by, below which teeth agree; and by how many times
#: less than any other an overlap has to differ to be the one.
AGREES: Final = 2.5
CLEARER: Final = 6.0

#: What two scans of one tooth differ by at least: mm of place, of height, of flat, and degrees of a flank. Distortions
#: of the carriage and of the saw's lie on the glass are in it (our own guess).
_SAME_PLACE, _SAME_HEIGHT, _SAME_FLAT, _SAME_LEAN = 0.012, 0.012, 0.03, 0.25


def joined(pictures: Sequence[Sequence[ReadTooth]], first: Sequence[int] | None) -> tuple[ReadTooth, ...]:
    """The teeth of all ``pictures``, each from the heel on and all in the order of the line, as one line.

    first: the number of the first tooth that each picture shows, where a person has told. Raises Refusal.
    """
    if first is not None:
        return _by_numbers(pictures, first)
    line = list(pictures[0])
    for number, other in enumerate(pictures[1:], 2):
        line = _added(line, list(other), _overlap(line, other, number), number)
    return tuple(line)


def _by_numbers(pictures: Sequence[Sequence[ReadTooth]], first: Sequence[int]) -> tuple[ReadTooth, ...]:
    if len(first) != len(pictures):
        raise Refusal(f"--first: {len(first)} numbers beside {len(pictures)} of pictures; allowed: one for each")
    if first[0] != 1 or list(first) != sorted(set(first)):
        raise Refusal("--first: allowed: numbers that grow, the first of them 1, such as --first 1 48 95")
    line = list(pictures[0])
    for number, (other, begin) in enumerate(zip(pictures[1:], first[1:], strict=True), 2):
        shared = len(line) - (begin - 1)
        if shared < 2 or shared > min(len(line), len(other)):
            raise Refusal(
                f"--first: picture {number} begins at tooth {begin}, and those before it show teeth 1 to {len(line)}; "
                f"allowed: a tooth from {max(1, len(line) - len(other) + 1)} to {len(line) - 1}"
            )
        if _apart(line, other, shared) > 4.0 * AGREES:
            raise Refusal(
                f"--first: picture {number} does not show the same teeth from {begin} on as the one before; count again"
            )
        line = _added(line, list(other), shared, number)
    return tuple(line)


def _overlap(line: Sequence[ReadTooth], other: Sequence[ReadTooth], number: int) -> int:
    """How many teeth ``other`` shares with the end of ``line``."""
    most = min(len(line), len(other))
    worths = {shared: _apart(line, other, shared) for shared in range(LEAST_SHARED, most + 1)}
    fits = sorted(worths, key=lambda shared: worths[shared])
    if not fits or worths[fits[0]] > AGREES:
        raise Refusal(
            f"picture {number} and the one before it share no {LEAST_SHARED} teeth that agree; give them in the order "
            "from heel to toe, each with at least eight teeth of the one before"
        )
    if len(fits) > 1 and worths[fits[1]] < max(AGREES, CLEARER * worths[fits[0]]):
        raise Refusal(
            f"the teeth that picture {number} shares with the one before are too alike to tell: {fits[0]} or {fits[1]} "
            "could be the same; chalk a tooth that both show, count, and say by --first with which tooth each picture "
            "begins, such as --first 1 48"
        )
    return fits[0]


def _apart(line: Sequence[ReadTooth], other: Sequence[ReadTooth], shared: int) -> float:
    """How much the last of ``line`` and the first of ``other`` differ: the mean square of what differs most.

    Infinite when too little was seen.

    Heights are compared off a straight line through those shared, since each picture lies as it lies.
    """
    one, two = line[len(line) - shared :], other[:shared]
    both = [(a, b) for a, b in zip(one, two, strict=True) if a.fit == b.fit == "top"]
    if len(both) < LEAST_SHARED - 1:
        return math.inf
    kinds: list[Floats] = []
    ua, va = (np.array([getattr(a, name) for a, _ in both]) for name in ("u", "v"))
    ub, vb = (np.array([getattr(b, name) for _, b in both]) for name in ("u", "v"))
    place = _worth(both, "se_place", _SAME_PLACE)
    kinds.append(np.diff(ua - ub) / np.hypot(place[1:], place[:-1]) * math.sqrt(2.0))
    off = va - vb
    middle = ua - ua.mean()
    if len(both) > 3:
        kinds.append((off - np.polyval(np.polyfit(middle, off, 1), middle)) / _worth(both, "se", _SAME_HEIGHT))
    kinds.append(np.array([_flat(a) - _flat(b) for a, b in both]) / _worth(both, "se_flat", _SAME_FLAT))
    for name in ("left", "right"):
        leans = np.array([getattr(a, name) - getattr(b, name) for a, b in both])
        kinds.append((leans - np.median(leans)) / _worth(both, f"se_{name}", _SAME_LEAN))
    # One tooth under dust must not part two pictures; teeth that differ in one thing are others, however alike.
    return max(float(np.mean(np.minimum(kind**2, 60.0))) for kind in kinds)


def _worth(both: Sequence[tuple[ReadTooth, ReadTooth]], name: str, least: float) -> Floats:
    """What a figure of each pair may differ by: no less than two scans do, and more where rust or dust blurs it."""
    worth: Floats = 1.5 * np.array([math.hypot(least, getattr(a, name), getattr(b, name)) for a, b in both])
    return worth


def _flat(tooth: ReadTooth) -> float:
    return 0.0 if tooth.a is None or tooth.b is None else tooth.b - tooth.a


def _added(line: list[ReadTooth], other: list[ReadTooth], shared: int, number: int) -> list[ReadTooth]:
    """``line`` with ``other`` turned and moved onto it by the teeth shared; of those the better seen one is kept."""
    both = [(a, b) for a, b in zip(line[len(line) - shared :], other[:shared], strict=True) if a.fit == b.fit == "top"]
    if len(both) < 2:
        raise Refusal(f"picture {number}: too few of the teeth that it shares with the one before are seen clearly")
    here = np.array([(a.u, a.v) for a, _ in both])
    there = np.array([(b.u, b.v) for _, b in both])
    turn, move = _laid_on(there, here)
    moved = [_moved(tooth, turn, move) for tooth in other]
    kept = line[: len(line) - shared]
    for a, b in zip(line[len(line) - shared :], moved[:shared], strict=True):
        kept.append(_better(a, b))
    return [*kept, *moved[shared:]]


def _laid_on(there: Floats, here: Floats) -> tuple[float, Floats]:
    """The turn and the move that lay points on others best (least squares in the plane)."""
    one, two = there - there.mean(axis=0), here - here.mean(axis=0)
    turn = math.atan2(
        float(np.sum(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])),
        float(np.sum(one[:, 0] * two[:, 0] + one[:, 1] * two[:, 1])),
    )
    cos, sin = math.cos(turn), math.sin(turn)
    middle = there.mean(axis=0)
    move: Floats = here.mean(axis=0) - np.array([cos * middle[0] - sin * middle[1], sin * middle[0] + cos * middle[1]])
    return turn, move


def _moved(tooth: ReadTooth, turn: float, move: Floats) -> ReadTooth:
    cos, sin = math.cos(turn), math.sin(turn)

    def place(u: float, v: float) -> tuple[float, float]:
        return cos * u - sin * v + float(move[0]), sin * u + cos * v + float(move[1])

    u, v = place(tooth.u, tooth.v)
    lean = math.degrees(turn)
    return replace(
        tooth,
        u=u,
        v=v,
        a=None if tooth.a is None else place(tooth.a, tooth.v)[0],
        b=None if tooth.b is None else place(tooth.b, tooth.v)[0],
        left=None if tooth.left is None else tooth.left - lean,
        right=None if tooth.right is None else tooth.right + lean,
        before=None if tooth.before is None else place(*tooth.before),
        gullet=None if tooth.gullet is None else place(*tooth.gullet),
    )


def _better(a: ReadTooth, b: ReadTooth) -> ReadTooth:
    if a.fit != "top":
        return b if b.fit == "top" else replace(a, gullet=a.gullet or b.gullet)
    chosen = a if b.fit != "top" or not b.se < a.se else b
    return replace(chosen, gullet=a.gullet or b.gullet)
