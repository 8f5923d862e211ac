"""Which teeth two pictures of one line share: the overlap whose teeth agree far better than those of any other.

For each overlap it is weighed, tooth by tooth, how much likelier the differences are of one tooth seen twice than of
two teeth of this saw: places, heights, flats, flanks, and which are broken (the likelihood ratio by which records are
linked, I. P. Fellegi and A. B. Sunter 1969). What two teeth of this saw differ by is taken from all other overlaps, so
that teeth all alike tell nothing, however well they agree.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.scan.read_tooth import ReadTooth
from session.value_class import dataclass

#: The fewest teeth that two pictures have to share.
LEAST_SHARED: Final = 4

#: What is not believed to be measured better in two scans of one tooth: mm of place, of height and of flat, and degrees
#: of a flank (our own guesses).
_PLACE, _HEIGHT, _FLAT, _LEAN = 0.004, 0.004, 0.015, 0.15

#: Two pictures of one scanner stretch a length otherwise by so much of it (our own guess).
STRETCH: Final = 0.001

#: Stated uncertainties of one kind may all be too small by these factors, each less likely beforehand, in logarithms:
#: what the shared teeth scatter by says which (our own guesses).
WIDER: Final = (1.0, 1.5, 2.2, 3.3, 5.0)
_WIDER_COSTS: Final = (0.0, -0.3, -1.0, -1.4, -2.1)

#: One figure in so many is odd, by dust or rust that lay there in one picture alone (our own guess).
ONE_ODD_IN: Final = 16.0

#: And one tooth in so many in all of them (our own guess).
ONE_TOOTH_IN: Final = 12.0

#: What two teeth differ by has a wide tail: one in so many by so many times more (our own guesses).
_TAIL, _TAILS = 0.15, 3.0

#: How much it tells, in logarithms of likelihood, that both pictures show a stump as high, and that one alone does.
_BOTH_BROKEN, _ONE_BROKEN = 2.0, 3.0

#: Such a share of the teeth shared has to be seen in both, or nothing is told by them (our own limit).
SEEN: Final = 0.4

#: From so many uncertainties on a difference counts straight on, no more by its square (Huber's rule).
HUBERS: Final = 1.5

_NAMES: Final = ("u", "v", "left", "right", "se", "se_place", "se_flat", "se_left", "se_right")

#: So near each other, mm, two stumps are one.
_SAME_STUMP: Final = 0.1


@dataclass(frozen=True, slots=True)
class SharedTeeth:
    """One overlap weighed. shared: of how many teeth. told: the logarithm of how much likelier their differences are
    of the same teeth than of others. best: what that would be, were they the same and as well measured as stated."""

    shared: int
    told: float
    best: float


@dataclass(frozen=True, slots=True)
class _Kind:
    """One kind of figure over the pairs of an overlap: what they differ by, off what all differ by alike; the stated
    uncertainty of each; and how many free numbers were taken out."""

    off: Floats
    se: Floats
    free: int


def weighed(line: Sequence[ReadTooth], other: Sequence[ReadTooth]) -> list[SharedTeeth]:
    """Every overlap of the end of ``line`` with the beginning of ``other`` that enough seen teeth tell of."""
    most = min(len(line), len(other))
    end, start = _figures(line[len(line) - most :]), _figures(other[:most])
    kinds = {}
    for shared in range(LEAST_SHARED, most + 1):
        here = {name: values[most - shared :] for name, values in end.items()}
        there = {name: values[:shared] for name, values in start.items()}
        seen = (here["seen"] > 0.0) & (there["seen"] > 0.0)
        if seen.sum() >= max(LEAST_SHARED - 1, SEEN * shared):
            one, two = ({name: values[seen] for name, values in side.items()} for side in (here, there))
            kinds[shared] = (_differences(one, two), _broken(line[len(line) - shared :], other[:shared]))
    return [_weighed(shared, kinds) for shared in kinds]


def _figures(teeth: Sequence[ReadTooth]) -> dict[str, Floats]:
    """The figures of all teeth by their names."""
    told = {name: np.array([getattr(one, name) for one in teeth], dtype=float) for name in _NAMES}
    flats = [0.0 if one.a is None or one.b is None else one.b - one.a for one in teeth]
    return told | {"seen": np.array([float(one.fit == "top") for one in teeth]), "flat": np.array(flats)}


def _differences(here: dict[str, Floats], there: dict[str, Floats]) -> list[_Kind]:
    def se(name: str, least: float) -> Floats:
        both: Floats = np.hypot(np.maximum(here[name], least), np.maximum(there[name], least))
        return both

    x = here["u"] - here["u"].mean()
    apart = {name: there[name] - here[name] for name in ("u", "v", "flat", "left", "right")}
    places, heights = se("se_place", _PLACE), se("se", _HEIGHT)
    kinds = [
        _Kind(_off_straight(x, apart["u"], places, STRETCH), places, 2),
        _Kind(_off_straight(x, apart["v"], heights, math.inf), heights, 2),
        _Kind(apart["flat"], se("se_flat", _FLAT), 0),
    ]
    leans = ("left", "right")
    return kinds + [_Kind(apart[name] - np.median(apart[name]), se(f"se_{name}", _LEAN), 1) for name in leans]


def _off_straight(x: Floats, off: Floats, se: Floats, steepest: float) -> Floats:
    """``off`` less a straight line by Huber's rule whose slope is known beforehand to be 0 to ``steepest``."""
    wanted = off - np.median(off)
    known, weight = 1.0 / steepest**2, 1.0 / se**2
    level, slope, heavy = 0.0, 0.0, weight
    for _ in range(8):
        total, moment, square = heavy.sum(), (heavy * x).sum(), (heavy * x * x).sum() + known
        one, two = (heavy * wanted).sum(), (heavy * x * wanted).sum()
        room = max(1e-12 * total, total * square - moment**2)
        level, slope = (square * one - moment * two) / room, (total * two - moment * one) / room
        away = np.abs(wanted - level - slope * x) / se
        limit = HUBERS * max(1.0, 1.4826 * float(np.median(away)))
        heavy = weight / np.maximum(1.0, away / limit)
    left: Floats = wanted - level - slope * x
    return left


def _broken(one: Sequence[ReadTooth], two: Sequence[ReadTooth]) -> float:
    told = 0.0
    shift = [b.v - a.v for a, b in zip(one, two, strict=True) if a.fit == b.fit == "top"]
    for a, b in zip(one, two, strict=True):
        if a.fit == b.fit == "broken":
            same = abs(b.v - a.v - float(np.median(shift))) < _SAME_STUMP
            told += _BOTH_BROKEN if same else -_BOTH_BROKEN
        elif {a.fit, b.fit} == {"top", "broken"}:
            told -= _ONE_BROKEN
    return told


def _weighed(shared: int, kinds: dict[int, tuple[list[_Kind], float]]) -> SharedTeeth:
    mine, broken = kinds[shared]
    # Teeth set and filed by turns are alike two by two: what others differ by is taken from as many teeth further on.
    others = [one for at, (one, _) in kinds.items() if at != shared and (at - shared) % 2 == 0]
    others = others if len(others) > 1 else [one for at, (one, _) in kinds.items() if at != shared] or [mine]
    told, best, spared = np.zeros(len(mine[0].off)), np.zeros(len(mine[0].off)), 0.0
    for number, kind in enumerate(mine):
        apart = np.abs(np.concatenate([one[number].off for one in others]))
        strays = np.maximum(1.4826 * float(np.median(apart)), kind.se)
        counts = max(0.0, 1.0 - kind.free / len(kind.off))
        ways = [counts * _ratio(kind.off, wider * kind.se, strays) for wider in WIDER]
        worth = [float(way.sum()) + _WIDER_COSTS[at] for at, way in enumerate(ways)]
        widest = worth.index(max(worth))
        told += ways[widest]
        spared += _WIDER_COSTS[widest]
        best += counts * np.mean([_ratio(z * kind.se, kind.se, strays) for z in _NORMAL], axis=0)
    return SharedTeeth(
        shared, broken + spared + float(_one_in_some_odd(told).sum()), max(0.0, broken) + float(best.sum())
    )


def _one_in_some_odd(told: Floats) -> Floats:
    """What each tooth tells, where one in some tells nothing: dust spoils all of its figures at once."""
    whole: Floats = np.logaddexp(told + math.log(1.0 - 1.0 / ONE_TOOTH_IN), -math.log(ONE_TOOTH_IN))
    return whole


#: Eight points of a normal distribution, each for an eighth of it.
_NORMAL: Final = (-1.534, -0.887, -0.489, -0.157, 0.157, 0.489, 0.887, 1.534)


def _ratio(off: Floats, se: Floats, strays: Floats) -> Floats:
    """The logarithm of how much likelier ``off`` is of one tooth than of two, one in some being odd."""
    usual, wide = _bell(off, strays), _bell(off, _TAILS * strays)
    others = (1.0 - _TAIL) * usual + _TAIL * wide
    same = (1.0 - 1.0 / ONE_ODD_IN) * _bell(off, np.minimum(se, strays)) + others / ONE_ODD_IN
    ratio: Floats = np.log(same / others)
    return ratio


def _bell(off: Floats, se: Floats) -> Floats:
    bell: Floats = np.exp(-0.5 * np.minimum((off / se) ** 2, 1200.0)) / se
    return bell
