"""One picture laid on another by the teeth that both show, and what that leaves in doubt along the line.

A joint that is turned by a thousandth bends a line of half a meter by an eighth of a millimeter in its middle: so all
that the shared teeth show tells it, tops and gullets, by Huber's rule, which one grain of dust hardly pulls; and what
they scatter by is carried into the line's middle and into the heights far from it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.scan.laid_line import LaidLine
from session.scan.light_levels import Floats
from session.scan.read_tooth import ReadTooth
from session.value_class import dataclass, replace

#: What a top, a gullet and a place are not believed to be measured better than, mm (a gullet's own is not stated; our
#: own guesses).
LEAST_TOP_MM: Final = 0.004
GULLET_MM: Final = 0.006
LEAST_PLACE_MM: Final = 0.004

#: A gullet moved by more between its two pictures, mm, is not the same floor (our own limit).
SAME_GULLET_MM: Final = 0.15

#: From so many uncertainties on a difference counts straight on.
HUBERS: Final = 1.3


@dataclass(frozen=True, slots=True)
class Joint:
    """How a picture is laid on the line before it.

    turn: radians by which it is turned; cos, sin of it are applied before the move, mm along and out. at: place along
    the line about which turn and level stray freely of each other, mm. se_turn, se_level: their standard uncertainties,
    radians and mm.
    """

    turn: float
    move: tuple[float, float]
    at: float
    se_turn: float
    se_level: float

    def moved(self, tooth: ReadTooth) -> ReadTooth:
        """``tooth`` as it lies in the frame of the line before it."""
        cos, sin = math.cos(self.turn), math.sin(self.turn)

        def place(u: float, v: float) -> tuple[float, float]:
            return cos * u - sin * v + self.move[0], sin * u + cos * v + self.move[1]

        # What was not seen of a tooth has no height; its place is told all the same.
        u, v = place(tooth.u, 0.0 if math.isnan(tooth.v) else tooth.v)
        lean = math.degrees(self.turn)
        return replace(
            tooth,
            u=u,
            v=tooth.v if math.isnan(tooth.v) else v,
            a=None if tooth.a is None else place(tooth.a, tooth.v)[0],
            b=None if tooth.b is None else place(tooth.b, tooth.v)[0],
            left=None if tooth.left is None else tooth.left - lean,
            right=None if tooth.right is None else tooth.right + lean,
            before=None if tooth.before is None else place(*tooth.before),
            gullet=None if tooth.gullet is None else place(*tooth.gullet),
        )


def laid_on(there: Sequence[ReadTooth], here: Sequence[ReadTooth]) -> Joint:
    """What lays the teeth of one picture on the same ones ``here``, two or more of whose tops both show."""
    both = [(a, b) for a, b in zip(here, there, strict=True) if a.fit == b.fit == "top"]
    along = np.array([b.u - a.u for a, b in both])
    floors = [
        (a.gullet, b.gullet)
        for a, b in zip(here, there, strict=True)
        if a.gullet is not None
        and b.gullet is not None
        and abs(b.gullet[0] - a.gullet[0] - float(np.median(along))) < SAME_GULLET_MM
    ]
    u = np.array([b.u for _, b in both] + [b[0] for _, b in floors])
    out = np.array([a.v - b.v for a, b in both] + [a[1] - b[1] for a, b in floors])
    tops = _together([(a.se, b.se) for a, b in both], LEAST_TOP_MM)
    se = np.concatenate([tops, np.full(len(floors), math.sqrt(2.0) * GULLET_MM)])
    # Blur may differ between two pictures, and fills gullets as it takes points off: each has a level of its own.
    is_top = np.arange(len(u)) < len(both)
    middle = float(np.average(u[is_top], weights=tops**-2))
    rows = np.column_stack([is_top, u - middle, ~is_top][: 3 if floors else 2]).astype(float)
    (level, slope, *_), spread = _by_hubers_rule(rows, out, se)
    turn = math.atan(slope)
    cos, sin = math.cos(turn), math.sin(turn)
    places = _together([(a.se_place, b.se_place) for a, b in both], LEAST_PLACE_MM)
    # About the middle of the shared teeth the turn moves nothing out; along it moves by what stands over that.
    wanted = np.array([a.u - (cos * b.u - sin * b.v) for a, b in both])
    (ahead,), _ = _by_hubers_rule(np.ones((len(both), 1)), wanted, places)
    height = float(np.average([b.v for _, b in both], weights=tops**-2))
    rise = height + level - (sin * middle + cos * height)
    return Joint(
        turn=turn,
        move=(float(ahead), rise),
        at=cos * middle - sin * height + float(ahead),
        se_turn=math.sqrt(float(spread[1, 1])),
        se_level=math.sqrt(float(spread[0, 0])),
    )


def _together(pairs: Sequence[tuple[float, float]], least: float) -> Floats:
    """The uncertainty of each difference, neither side of it believed better than ``least``."""
    both: Floats = np.hypot(*np.maximum(np.array(pairs, dtype=float), least).T)
    return both


def _by_hubers_rule(rows: Floats, wanted: Floats, se: Floats) -> tuple[Floats, Floats]:
    """What solves ``rows`` for ``wanted``, each to its ``se``, and how those stray together: by the se stated, or by
    what is left where that is more."""
    weight = np.asarray(se**-2, dtype=float)
    found: Floats = np.zeros(rows.shape[1])
    for _ in range(30):
        root = np.sqrt(weight)
        before = found
        found = np.asarray(np.linalg.lstsq(rows * root[:, None], wanted * root, rcond=None)[0], dtype=float)
        if float(np.abs(found - before).max()) < 1e-9:
            break
        away = np.abs(wanted - rows @ found) / se
        weight = np.asarray(se**-2, dtype=float) / np.maximum(
            1.0, away / (HUBERS * max(1.0, 1.4826 * float(np.median(away))))
        )
    free = len(wanted) - rows.shape[1]
    scatter = float(weight @ (wanted - rows @ found) ** 2) / free if free > 0 else 1.0
    spread = max(1.0, scatter) * np.linalg.pinv(rows.T @ (rows * weight[:, None]))
    return found, np.asarray(spread, dtype=float)


@dataclass(frozen=True, slots=True)
class JointDoubt:
    """What the joints leave in doubt of a line: se_gap of its middle off its ends, mm, and of heights at each place."""

    joints: tuple[Joint, ...]
    middle: float
    half: float
    takes: tuple[tuple[tuple[float, float, float], float], ...]
    se_gap: float

    def se_at(self, u: float) -> float:
        """Standard uncertainty at ``u`` of heights over the parabola, mm: that takes a part of each bend itself."""
        x = (u - self.middle) / self.half
        each = [
            se * (_moves(joint, kind, u) - (one[0] + one[1] * x + one[2] * x * x))
            for (joint, kind, se), (one, _) in zip(_strays(self.joints), self.takes, strict=True)
        ]
        return math.hypot(*each)


def doubt_of_joints(joints: Sequence[Joint], laid: LaidLine, u: Floats) -> JointDoubt:
    """What ``joints`` leave in doubt of a line laid through points at ``u``, mm."""
    x = (u - laid.middle) / laid.half
    solve = np.linalg.pinv(np.column_stack([np.ones_like(x), x, x * x]))
    takes, bows = [], []
    for joint, kind, se in _strays(joints):
        moved = np.array([_moves(joint, kind, float(at)) for at in u])
        one = solve @ moved
        takes.append(((float(one[0]), float(one[1]), float(one[2])), se))
        bows.append(se * float(laid.pulls @ moved))
    return JointDoubt(tuple(joints), laid.middle, laid.half, tuple(takes), math.hypot(*bows))


def _strays(joints: Sequence[Joint]) -> list[tuple[Joint, str, float]]:
    """What each joint may stray by on its own."""
    return [one for joint in joints for one in ((joint, "turn", joint.se_turn), (joint, "level", joint.se_level))]


def _moves(joint: Joint, kind: str, u: float) -> float:
    """By how much a unit of it moves a height at ``u``: beyond the joint alone."""
    if u <= joint.at:
        return 0.0
    return u - joint.at if kind == "turn" else 1.0
