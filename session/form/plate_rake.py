"""A rake read off the plate, as a protractor shows it, turned into the one that a guide block holds.

With fleam it is another.
"""

from __future__ import annotations

import re
from typing import Final

from session.trade.rounding import half_up
from session.trade.saw import Saw
from session.trade.tooth import block_rake_for

_ON_PLATE: Final = re.compile(r"(?i)\s*(?:as\s+)?(?:seen|read|measured)?\s*on\s+(?:the\s+)?plate\s*")


def angle_alone(text: str) -> tuple[str, bool]:
    """The angle in ``text``, and whether it was read on the plate: "27 on the plate".

    >>> angle_alone("27° on the plate"), angle_alone("15")
    (('27°', True), ('15', False))
    """
    angle = _ON_PLATE.sub("", text)
    return angle, angle != text


def block_rake(read: float, fleam: float, saw: Saw) -> float:
    """The block rake in degrees, to a tenth, that a file held as for ``saw`` at ``fleam`` leaves as ``read``.

    Raises TradeError when no block holds it.
    """
    return half_up(block_rake_for(read, fleam, saw.slope, saw.file_points), 1)
