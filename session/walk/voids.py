"""What a mark makes void: measurements that no longer hold once it is made.

The fold and the summary of a log both ask here, so that what the bench shows and what history compares agree.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.walk.mark import Did, Mark
from session.walk.stages import Stage

#: The width over the points of two neighbors after setting, by what it is called in a log.
OVER_AFTER: Final = "over the points after"

#: The file in hand and which of its corners works, by what they are called in a log.
FILE: Final = "file"
CORNER: Final = "file corner"

#: By the thing measured anew, what belonged to the one before it: told or not, it is told again with the new one.
_WITH: Final[Mapping[str, tuple[str, ...]]] = {
    FILE: (CORNER,),
    "cut length": ("cut wander", "cut wander to"),
}


def voids(mark: Mark) -> tuple[str, ...]:
    """The measured things that ``mark``, in order of the log, leaves without their value."""
    if mark.did is Did.MEASURED and mark.what is not None:
        return _WITH.get(mark.what, ())
    bent = mark.stage is Stage.SET and mark.tooth
    lowered = mark.stage is Stage.LEVEL and mark.number
    if mark.did is Did.DONE and (bent or lowered):
        # What was measured over the points before is not what stands there now. The stone's passes do not count
        # here: what they take off the set nobody has printed, and it is little.
        return (OVER_AFTER,)
    return ()
