"""What the marks of a log come to, whatever the plan was: the part of the fold that a log without a plan has too."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property, lru_cache
from typing import Any, Final

from session.value_class import dataclass, field
from session.walk.mark import Did, Mark
from session.walk.measurables import NOT_ANSWERED, NOT_LOOKED, Measurable, another_cut, teeth_in, voids
from session.walk.pace import Intervals, Worked
from session.walk.place import Place, place_of
from session.walk.shared_maps import GrownList, GrownMap
from session.walk.stages import Stage
from session.walk.taken_back import taken_back
from session.walk.tally import Tally

#: Marks that change what has been done, and so can be taken back. Pausing, resuming, confirming and
#: acknowledging are not among them: they claim nothing about the saw.
ACTS: Final = frozenset(
    {
        Did.DONE,
        Did.LEFT_OUT,
        Did.FLAGGED,
        Did.SHIFTED,
        Did.TURNED,
        Did.CHECKED,
        Did.MEASURED,
        Did.DECIDED,
        Did.ADDED,
    }
)


@dataclass(frozen=True, kw_only=True)
class Account:
    """What was done, left out, flagged and measured, with its sums and times.

    marks: all marks in order. taken: seqs of those taken back.
    outcomes: for each place done or left out, the mark that says so. tally: what they add up to.
    flags: flagged places, with the last mark that flagged each. measured: the last measured mark by what was measured,
        as long as it holds (`session.walk.measurables.voids`).
    intervals: between places done, of marks that stand. worked: working time of all marks; time is not taken back.
    """

    marks: GrownList[Mark] = field(default_factory=GrownList)
    taken: frozenset[int] = frozenset()
    outcomes: GrownMap[Place, Mark] = field(default_factory=GrownMap)
    tally: Tally = field(default_factory=Tally)
    flags: GrownMap[Place, Mark] = field(default_factory=GrownMap)
    measured: Mapping[str, Mark] = field(default_factory=dict)
    intervals: Intervals = field(default_factory=Intervals)
    worked: Worked = field(default_factory=Worked)

    @classmethod
    def of(cls, marks: Iterable[Mark]) -> Account:
        """The fold over ``marks`` in order."""
        draft = AccountDraft(Account())
        draft.add_all(marks)
        return Account(**draft.fields())

    def after(self, mark: Mark) -> Account:
        """The account once ``mark`` has been made as well."""
        draft = AccountDraft(self)
        draft.add(mark)
        return Account(**draft.fields())

    @property
    def next_seq(self) -> int:
        """The seq of the mark to be made next."""
        return self.marks[-1].seq + 1 if self.marks else 1

    @property
    def last_act(self) -> Mark | None:
        """The last mark that can be taken back, or None."""
        for mark in reversed(self.marks):
            if mark.did in ACTS and mark.seq not in self.taken:
                return mark
        return None

    @property
    def flats(self) -> Mapping[int, float]:
        """The width of each flat as a share of the pitch, by tooth, from the last leveling whose flats were graded."""
        return self.tally.flats

    @cached_property
    def broken(self) -> tuple[int, ...]:
        """The broken teeth in order: those told at the look over, whether or not the line is as long as that, and
        those left out as broken since."""
        return tuple(sorted(told_broken(self.measured) | self.tally.stumps))

    def passed_steps(self) -> dict[Stage, list[str]]:
        """The looks, and the steps of other stages, that were gone past without an answer, by stage.

        One that was answered may have a reason too: a set that was measured, and then left as it is.
        """
        passed = dict[Stage, list[str]]()
        for place, mark in self.outcomes.items():
            if mark.did is Did.DONE and place.step and mark.reason in (NOT_LOOKED, NOT_ANSWERED):
                passed.setdefault(place.stage, []).append(place.step)
        return passed

    def passed_over(self) -> dict[Place, Mark]:
        """The places left out in the end, in the order in which they were, each with the mark that says why."""
        return {place: mark for place, mark in self.outcomes.items() if mark.did is Did.LEFT_OUT}


def told_broken(measured: Mapping[str, Mark]) -> frozenset[int]:
    """The broken teeth that the look over told."""
    mark = measured.get(Measurable.BROKEN_TEETH)
    return frozenset() if mark is None else _teeth(str(mark.value))


@lru_cache(maxsize=16)
def _teeth(text: str) -> frozenset[int]:
    return frozenset(teeth_in(text))


class AccountDraft:
    """An account being built: the one place where a mark's effect on it is written down.

    Nothing of the account it begins from is changed: what grows is shared with it, what does not is copied on the
    first write. Many marks at once are written into plain dicts, and added up in the end.
    """

    def __init__(self, account: Account) -> None:
        self.marks = account.marks
        self.taken = account.taken
        self.worked = account.worked
        self._load(account)

    def _load(self, account: Account) -> None:
        """Everything that marks change and taking back undoes, as ``account`` has it."""
        self.outcomes: GrownMap[Place, Mark] | dict[Place, Mark] = account.outcomes
        self.flags: GrownMap[Place, Mark] | dict[Place, Mark] = account.flags
        self.measured = account.measured
        #: None where they are to be had anew from all that was done.
        self._tally: Tally | None = account.tally
        self._intervals: Intervals | None = account.intervals
        self._written: dict[str, Mark] | None = None

    def _first(self) -> Account:
        """What was before the first mark."""
        return Account()

    def add(self, mark: Mark) -> None:
        """Let ``mark`` have been made as well."""
        self.marks = self.marks.plus(mark)
        self.worked = self.worked.after(mark)
        if mark.did is Did.PUT_BACK:
            self.taken = taken_back(self.marks)
            self._refold()
        elif mark.did is not Did.TOOK_BACK:
            self._apply(mark, place_of(mark))
        elif mark.of is not None and mark.of not in self.taken:
            self.taken |= {mark.of}
            self._refold()

    def add_all(self, marks: Iterable[Mark]) -> None:
        """Add marks in one pass: whatever any of them takes back is left out from the start, which comes to
        the same as taking it back in its turn, without folding anew for each."""
        more = tuple(marks)
        self.marks = self.marks.plus(*more)
        self.worked = self.worked.after(*more)
        self.taken = taken_back(self.marks)
        self._refold()

    def _refold(self) -> None:
        """Fold again without the marks taken back: the exact inverse, with no second set of rules to keep."""
        self._load(self._first())
        self.outcomes, self.flags = {}, {}
        self._tally = self._intervals = None
        for mark in self._standing():
            self._apply(mark, place_of(mark))

    def _standing(self) -> Iterator[Mark]:
        return (mark for mark in self.marks if mark.did is not Did.TOOK_BACK and mark.seq not in self.taken)

    def _apply(self, mark: Mark, place: Place | None) -> None:
        if self._intervals is not None:
            self._intervals = self._intervals.after(mark)
        for what in voids(mark):
            if what in self.measured:
                del self._to_write()[what]
        match mark.did:
            case Did.DONE | Did.LEFT_OUT if place is not None:
                # Marked again without having been taken back, which no bench does, it is added up anew in the end.
                again = self._tally is None or place in self.outcomes
                self._tally = None if again or self._tally is None else self._tally.plus(place, mark)
                self.outcomes = _with(self.outcomes, place, mark)
            case Did.FLAGGED if place is not None:
                self.flags = _with(self.flags, place, mark)
            case Did.MEASURED if mark.what is not None and mark.value is not None:
                for earlier in [name for name, before in self.measured.items() if another_cut(mark, before)]:
                    del self._to_write()[earlier]
                self._to_write()[mark.what] = mark
            case _:
                pass

    def _to_write(self) -> dict[str, Mark]:
        """What was measured, to be written into."""
        if self._written is None:
            self.measured = self._written = dict(self.measured)
        return self._written

    def fields(self) -> dict[str, Any]:
        """The fields of the account that was built."""
        return {
            "marks": self.marks,
            "taken": self.taken,
            "outcomes": GrownMap.of(self.outcomes) if isinstance(self.outcomes, dict) else self.outcomes,
            "tally": Tally.of(self.outcomes) if self._tally is None else self._tally,
            "flags": GrownMap.of(self.flags) if isinstance(self.flags, dict) else self.flags,
            "measured": self.measured,
            "intervals": Intervals.of(self._standing()) if self._intervals is None else self._intervals,
            "worked": self.worked,
        }


def _with(
    had: GrownMap[Place, Mark] | dict[Place, Mark], place: Place, mark: Mark
) -> GrownMap[Place, Mark] | dict[Place, Mark]:
    if isinstance(had, dict):
        had[place] = mark
        return had
    return had.plus(place, mark)
