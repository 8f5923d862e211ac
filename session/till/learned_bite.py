"""The bite of one stroke as past sharpenings taught it, by saw and by file.

A finished log says it in its last block; one that does not is read whole, when somebody asks. Nothing is kept between
two looks.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from session.log.log_reader import read_log
from session.till.corner_ledger import finished_in
from session.till.known_saws import saw_named
from session.till.past_sharpening import Sharpening
from session.till.saw_history import history
from session.till.till_folder import Till
from session.trade.file_names import called
from session.trade.strokes import DEFAULT_BITE, Bite, bite_of_days
from session.walk.graded_flats import bite_here
from session.walk.known_bites import KnownBites
from session.walk.state import State
from session.walk.work_plan import Plan

#: Sharpenings that a bite is learned from, the last so many that tell of it: judgment. A file wears, a hand changes.
LEARN_LAST_SHARPENINGS: Final = 5


#: Logs of a saw that are looked through for such sharpenings, the newest so many: judgment. More would keep the first
#: gullet waiting, and a file of longer ago is worn or gone.
LOOKED_THROUGH: Final = 50


def bite_of(one: Sharpening) -> Bite:
    """The bite of one finished sharpening, in mm³ a stroke; DEFAULT_BITE when it teaches none. Never raises.

    It teaches one when its flats were graded and at least five gullets filed with their strokes counted.
    """
    if one.summary.bite is not None:
        return one.summary.bite
    if not one.summary.line.flats:
        # Nothing was graded, so that there is nothing to read the whole log for.
        return DEFAULT_BITE
    saw, plan = one.saw, one.header.get("plan")
    if saw is None or not isinstance(plan, dict) or not one.finished:
        return DEFAULT_BITE
    try:
        return bite_here(State.replay(Plan.from_dict(plan), read_log(one.path).marks), saw)
    except (OSError, ValueError, TypeError, OverflowError):
        return DEFAULT_BITE


def learned_bite(finished: Sequence[Sharpening], file: str | None = None) -> Bite:
    """The bite that ``finished``, finished sharpenings oldest first, teach; DEFAULT_BITE, from memory, when none does.

    With ``file``, only those count that were filed with this file alone. The middle is the median of the sharpenings'
    own; the spread is that of the gullets of one day and of one day from the next together.
    """
    mine = finished if file is None else [one for one in finished if called(one.only_file or "") == called(file)]
    bites: list[Bite] = []
    for one in reversed(mine):
        if len(bites) < LEARN_LAST_SHARPENINGS and (bite := bite_of(one)).learned:
            bites.append(bite)
    return bite_of_days(bites) if bites else DEFAULT_BITE


def known_bites(till: Till, name: str) -> KnownBites:
    """What the newest records of ``till`` teach of the saw called ``name``, and of each file that was used on it.

    When they teach nothing of this saw, those of other saws tell of the files they were filed with. Never raises:
    without records the strokes are told from memory.
    """
    try:
        own = history([till], saw_named(till, name), unfinished=False, newest=LOOKED_THROUGH).finished
        any_file = learned_bite(own)
        return KnownBites(any_file, _by_file(own if any_file.learned else finished_in(till, LOOKED_THROUGH)))
    except (OSError, ValueError):
        return KnownBites()


def _by_file(finished: Iterable[Sharpening]) -> dict[str, Bite]:
    ended = sorted(finished, key=lambda one: one.ended.timestamp() if one.ended is not None else 0.0)
    names = {called(one.only_file) for one in ended if one.only_file is not None}
    found = {name: learned_bite(ended, name) for name in sorted(names)}
    return {name: bite for name, bite in found.items() if bite.learned}
