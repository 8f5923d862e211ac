"""What is added to a route at the bench: one more leveling pass, a grading, or a short stage before the close."""

from __future__ import annotations

from typing import Final

from session.value_class import dataclass
from session.walk.mark import Mark
from session.walk.stages import MEASURE_STEP, Stage

#: The first round of a leveling that was added once filing had begun; 1 and 2 are those before and after reshaping.
FIRST_LATER: Final = 3

#: What an added grading is told to be, or to have become: told against the strip as well, and no more from a tooth on.
ON_STRIP: Final = "on the strip"
STRIP_ASIDE: Final = "strip laid aside"

#: That the flats from a tooth on are not graded.
REST_NOT_SEEN: Final = "rest not seen"

#: And what one is told to be whose flats a scan has measured.
BY_A_SCAN: Final = "by a scan"


@dataclass(frozen=True, slots=True)
class Added:
    """What was added at the bench: one more leveling pass, or a short extra stage before the close.

    side: 1 or 2 for dressing one side only, 0 for all that the stage has.
    passes: passes per side for dressing and leveling, 1 or more; 0 for leveling means grading the flats.
    round: which leveling is meant: that before reshaping (1), that after it (2), or one that came after filing had
        begun (FIRST_LATER and more), which is worked before the close and brings the filing of its own flats.
    at_once: worked right after the stage at whose measuring it was added, and not before the close.
    seq: of the mark that added it. goes_with: the seq of what was added just before it, when no trial cut is made
        between the two; else 0.
    strip: whether each flat graded is told against the strip as well. aside: the tooth from which on the strip of the
        grading before was laid aside; 0 where none was. ended: the same of grading itself. scan: whether a scan has
        measured the flats.
    proved: whether the trial cut had begun before. Where it had not, the one trial cut of the plan comes after it.
    """

    stage: Stage
    side: int = 0
    passes: int = 1
    round: int = 1
    seq: int = 0
    goes_with: int = 0
    strip: bool = False
    aside: int = 0
    ended: int = 0
    scan: bool = False
    proved: bool = True
    at_once: bool = False


def added_of(mark: Mark, stage: Stage, passes: int, *, proved: bool) -> Added:
    """What ``mark`` added to ``stage``: so many ``passes``, and whatever goes with them."""
    return Added(
        stage,
        mark.side or 0,
        passes,
        mark.round or 1,
        mark.seq,
        mark.of or 0,
        strip=mark.what == ON_STRIP,
        aside=mark.tooth or 0 if mark.what == STRIP_ASIDE else 0,
        ended=mark.tooth or 0 if mark.what == REST_NOT_SEEN else 0,
        scan=mark.what == BY_A_SCAN,
        proved=proved,
        at_once=mark.step == MEASURE_STEP,
    )
