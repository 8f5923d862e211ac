"""Points that a picture makes look alike blunt: what all of them seem to lack is the picture's doing, not a file's.

Where lens or tone curve are a little other than supposed, each sharp point seems to end the same part of a dot too low,
and is told flat in one tooth and sharp in the next. No leveling leaves flats that narrow and that even.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.scan.read_tooth import UNTOLD_FLAT, ReadTooth
from session.value_class import replace

#: Flats that end so few dots under the meeting of the flanks, and differ by so little in it, are none.
FEW_DOTS: Final = 1.6
ALIKE_DOTS: Final = 0.22

#: So large a share of the teeth has to look so, and so many of them, or the picture says nothing of itself.
MOST: Final = 0.8
SEVERAL: Final = 4


def sharpened(teeth: Sequence[ReadTooth], dot: float) -> tuple[ReadTooth, ...]:
    """``teeth`` with flats taken off that are the picture's own. dot: mm."""
    drops = [_drop(tooth) / dot for tooth in teeth if tooth.fit == "top"]
    few = [drop for drop in drops if drop < FEW_DOTS]
    told = [drop for drop in few if drop > 0.0]
    if len(told) < SEVERAL or len(few) < MOST * len(drops) or float(np.std(told)) > ALIKE_DOTS:
        return tuple(teeth)
    return tuple(_sharp(tooth, dot) if 0.0 < _drop(tooth) < FEW_DOTS * dot else tooth for tooth in teeth)


def _runs(tooth: ReadTooth) -> tuple[float, float]:
    assert tooth.left is not None
    assert tooth.right is not None
    return math.tan(math.radians(tooth.left)), math.tan(math.radians(tooth.right))


def _drop(tooth: ReadTooth) -> float:
    """How far under the meeting of its flanks a tooth ends, mm."""
    if tooth.fit != "top" or tooth.a is None or tooth.b is None:
        return 0.0
    return (tooth.b - tooth.a) / sum(_runs(tooth))


def _sharp(tooth: ReadTooth, dot: float) -> ReadTooth:
    """The tooth ending where its flanks meet."""
    assert tooth.a is not None
    left, right = _runs(tooth)
    drop = _drop(tooth)
    u = tooth.a + drop * left
    return replace(tooth, u=u, v=tooth.v + drop, a=u, b=u, se_flat=UNTOLD_FLAT * dot * (left + right))
