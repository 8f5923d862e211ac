"""What each corner of each file filed in one walk: its gullets and strokes, by the file that was told before them."""

from __future__ import annotations

from typing import Final

from session.trade.file_names import corner_in
from session.value_class import dataclass, replace
from session.walk.account import Account
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.stages import Kind, Stage
from session.walk.tally import counted_by_hand, was_filed

#: Where a corner of the file works in the gullets.
FILED_IN: Final = (Stage.RESHAPE, Stage.FILE)


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerWork:
    """What one corner of one file did.

    file: its name as it was told, empty where none was. corner: 1 to 3, None where it was not told.
    gullets: reshaped and filed, each time a gullet was gone through. counted: those of them whose strokes were counted.
    strokes: all that were counted.
    """

    file: str = ""
    corner: int | None = None
    gullets: int = 0
    counted: int = 0
    strokes: int = 0

    def plus(self, strokes: int | None) -> CornerWork:
        """The same and one gullet more, with so many strokes; None where nobody counted them."""
        counted = strokes is not None
        return replace(
            self,
            gullets=self.gullets + 1,
            counted=self.counted + counted,
            strokes=self.strokes + (strokes or 0),
        )


def corner_work(account: Account) -> tuple[CornerWork, ...]:
    """By file and corner in the order in which they came to the work; empty where no gullet was filed.

    A file told in the middle of the work counts from there on. One stroke in every gullet of a stage is no count
    (`session.walk.tally.counted_by_hand`).
    """
    filed = {
        mark.seq: place
        for place, mark in account.outcomes.items()
        if place.kind is Kind.GULLET and place.stage in FILED_IN and was_filed(place, mark)
    }
    strokes: dict[Stage, list[int]] = {stage: [] for stage in FILED_IN}
    for place in filed.values():
        strokes[place.stage].append(account.outcomes[place].strokes or 0)
    by_hand = {stage: counted_by_hand(counts) for stage, counts in strokes.items()}
    found: dict[tuple[str, int | None], CornerWork] = {}
    file, corner = "", None
    for mark in account.marks:
        if mark.did is Did.MEASURED and mark.seq not in account.taken:
            if mark.what == Measurable.FILE:
                file, corner = mark.value if isinstance(mark.value, str) else "", None
            elif mark.what == Measurable.FILE_CORNER:
                corner = corner_in(mark.value)
        elif (done := filed.get(mark.seq)) is not None:
            counted = mark.strokes if by_hand[done.stage] else None
            before = found.get((file, corner)) or CornerWork(file=file, corner=corner)
            found[file, corner] = before.plus(counted)
    return tuple(found.values())
