"""Several pictures of one line joined by the teeth that they share.

Pictures are joined at the one overlap whose teeth agree far better than teeth of this saw do by chance; where a second
would do, or none tells enough, the teeth are too alike to tell, and a person has to say it. A line joined wrongly is
far worse than one refused.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.laid_pictures import Joint, laid_on
from session.scan.read_tooth import ReadTooth
from session.scan.shared_teeth import LEAST_SHARED, SharedTeeth, weighed
from session.value_class import replace

#: An overlap is the one where its teeth tell that they are the same by so much, in logarithms of likelihood, beyond one
#: for each overlap that could be, and by so much more than those of any other that agree too (our own limits, wide,
#: since the figures of a tooth are not as free of each other as they are counted).
TOLD: Final = 10.0
CLEARER: Final = 12.0

#: Where another tells this, beyond one for each too, and of what it could this share of what the one does, teeth come
#: again along the line, and nothing is told (found on simulated lines of teeth that do, every third to eighth).
RIVAL: Final = 6.0
RIVAL_SHARE: Final = 0.3

#: So many of the other overlaps tell no more by the tooth than what is taken for chance (our own choice).
MOST: Final = 0.85

#: Teeth agree where no more of what they could tell, were they the same, is missing than this, and this share of it.
AMISS: Final = 4.0
AMISS_SHARE: Final = 0.35

#: Where a person says which teeth are shared, they may agree no better than chance, but not worse: see `AMISS`.
SAID_AMISS: Final = 6.0
SAID_AMISS_SHARE: Final = 0.8

#: A picture of teeth all alike agrees everywhere: so many overlaps that agree are named at most.
NAMED: Final = 2


def joined(
    pictures: Sequence[Sequence[ReadTooth]], first: Sequence[int] | None
) -> tuple[tuple[ReadTooth, ...], tuple[Joint, ...]]:
    """The teeth of all ``pictures``, each from the heel on and all in the order of the line, as one line, and how well
    each picture is laid on those before it.

    first: the number of the first tooth that each picture shows, where a person has told. Raises Refusal.
    """
    if first is not None:
        return _by_numbers(pictures, first)
    line, joints = list(pictures[0]), []
    for number, other in enumerate(pictures[1:], 2):
        line, joint = _added(line, list(other), _overlap(line, other, number))
        joints.append(joint)
    return tuple(line), tuple(joints)


def _by_numbers(
    pictures: Sequence[Sequence[ReadTooth]], first: Sequence[int]
) -> tuple[tuple[ReadTooth, ...], tuple[Joint, ...]]:
    if len(first) != len(pictures):
        raise Refusal(f"--first: {len(first)} numbers beside {len(pictures)} of pictures; allowed: one for each")
    if first[0] != 1 or list(first) != sorted(set(first)):
        raise Refusal("--first: allowed: numbers that grow, the first of them 1, such as --first 1 48 95")
    line, joints = list(pictures[0]), []
    for number, (other, begin) in enumerate(zip(pictures[1:], first[1:], strict=True), 2):
        shared = len(line) - (begin - 1)
        if not LEAST_SHARED <= shared <= min(len(line), len(other)):
            raise Refusal(
                f"--first: picture {number} begins at tooth {begin}, and those before it show teeth 1 to {len(line)}; "
                f"allowed: a tooth from {max(1, len(line) - len(other) + 1)} to {len(line) - LEAST_SHARED + 1}"
            )
        said = [one for one in weighed(line, other) if one.shared == shared]
        if not said:
            raise Refusal(_too_few(number))
        if said[0].best - said[0].told > SAID_AMISS + SAID_AMISS_SHARE * said[0].best:
            raise Refusal(
                f"--first: picture {number} does not show the same teeth from {begin} on as the one before; count again"
            )
        line, joint = _added(line, list(other), shared)
        joints.append(joint)
    return tuple(line), tuple(joints)


def _too_few(number: int) -> str:
    return f"picture {number}: too few of the teeth that it shares with the one before are seen clearly"


def _overlap(line: Sequence[ReadTooth], other: Sequence[ReadTooth], number: int) -> int:
    """How many teeth ``other`` shares with the end of ``line``."""
    every = weighed(line, other)
    agree = sorted((one for one in every if _agrees(one)), key=lambda one: -one.told)
    if not agree:
        raise Refusal(
            f"picture {number} and the one before it share no {LEAST_SHARED} teeth that agree; give them in the order "
            "from heel to toe, each with at least eight teeth of the one before"
        )
    best, chance = agree[0], math.log(len(every))
    rivals = [one for one in every if one is not best and _could_be(one, best, chance)]
    again = _come_again(other) or _come_again(line[-len(other) :])
    if best.told - _by_chance(best, every) < TOLD + chance or rivals or again:
        could = [best.shared, *(one.shared for one in sorted(rivals or agree[1:], key=lambda one: -one.told))][:NAMED]
        named = f"{' or '.join(map(str, could))}{', or others,' if len(could) < NAMED else ''}"
        raise Refusal(
            f"the teeth that picture {number} shares with the one before are too alike to tell: {named} could be the "
            "same; chalk a tooth that both show, count, and say by --first with which tooth each picture begins, such "
            "as --first 1 48"
        )
    if best.shared == len(other):
        raise Refusal(f"picture {number} shows no tooth beyond those of the ones before it; leave it out")
    return best.shared


def _agrees(one: SharedTeeth) -> bool:
    return one.best - one.told <= AMISS + AMISS_SHARE * one.best


def _come_again(teeth: Sequence[ReadTooth]) -> bool:
    """Whether teeth come again further on in the picture itself: then an overlap that fits may be a later one."""
    every = [one for one in weighed(teeth, teeth) if one.shared < len(teeth)]
    return any(_agrees(one) and one.told > TOLD + math.log(len(every)) for one in every)


def _by_chance(best: SharedTeeth, every: Sequence[SharedTeeth]) -> float:
    """How much as many teeth as those of the ``best`` overlap tell where they are not the same, by most of the others:
    filed by turns, teeth are alike two by two."""
    others = [one.told / one.shared for one in every if one is not best and (one.shared - best.shared) % 2 == 0]
    return best.shared * max(0.0, float(np.quantile(others, MOST))) if others else 0.0


def _could_be(one: SharedTeeth, best: SharedTeeth, chance: float) -> bool:
    """Whether ``one`` may as well be the overlap as the ``best``, or teeth that come again make it seem so."""
    again = one.told > RIVAL + chance and one.told * best.best > RIVAL_SHARE * best.told * one.best
    return again or (_agrees(one) and one.told > best.told - CLEARER)


def _added(line: list[ReadTooth], other: list[ReadTooth], shared: int) -> tuple[list[ReadTooth], Joint]:
    """``line`` with ``other`` turned and moved onto it by the teeth shared; of those the better seen one is kept."""
    here, there = line[len(line) - shared :], other[:shared]
    joint = laid_on(there, here)
    moved = [joint.moved(tooth) for tooth in other]
    kept = line[: len(line) - shared]
    for a, b in zip(here, moved[:shared], strict=True):
        kept.append(_better(a, b))
    return [*kept, *moved[shared:]], joint


def _better(a: ReadTooth, b: ReadTooth) -> ReadTooth:
    if a.fit != "top":
        return b if b.fit == "top" else replace(a, gullet=a.gullet or b.gullet)
    chosen = a if b.fit != "top" or not b.se < a.se else b
    return replace(chosen, gullet=a.gullet or b.gullet)
