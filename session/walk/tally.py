"""What the places done and left out add up to: by stage, and for leveling by the round and its grades.

One more place adds to it in one step; nothing is counted again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from session.trade.grades import GRADE, OLD_SHARES, SHARES, share_of
from session.trade.scan_readings import BY_SCAN, scanned_off, scanned_quarters, scanned_share
from session.trade.strip_readings import quarters_of
from session.value_class import dataclass, field, replace
from session.walk.added_stages import FIRST_LATER
from session.walk.mark import Did, Mark
from session.walk.measurables import NOT_ANSWERED, NOT_LOOKED
from session.walk.place import Place
from session.walk.shared_maps import GrownMap
from session.walk.stages import Kind, Stage, facts_of


@dataclass(frozen=True, slots=True)
class StageTally:
    """One stage in numbers.

    passed: places done or left out. left_out: those left out.
    done: those done; a measurement that follows teeth or the stone's passes is none of them, as it does not say that
        one was set or made, nor is what is told of a flat once it is graded, nor a gullet gone past without a stroke,
        nor a step passed without an answer.
    first_done: seq of the first mark that counts as done, 0 for none. strokes: file strokes at those done, and at those
        that were filed, gone back to and then left out.
    teeth: the teeth or gullets at which something was done, on either side and in any round, with the strokes counted
        there; 0 where nobody counted.
    """

    passed: int = 0
    left_out: int = 0
    done: int = 0
    first_done: int = 0
    strokes: int = 0
    teeth: GrownMap[int, int] = field(default_factory=GrownMap)


NONE_PASSED: Final = StageTally()


@dataclass(frozen=True, slots=True)
class Leveling:
    """One round of leveling.

    passes: passes done. passed_at: seq of the latest, 0 for none.
    flats: by tooth, the width of its flat as a share of the pitch, each grade read in the scale that its own mark
    names, and each that a scan measured as it was measured. graded_at: seq of the first of them, 0 for none.
    fine: whether any is of today's scale, or measured. scanned: the teeth whose flat a scan measured. placed: those of
        which a scan told where it lies, whoever told how wide it is.
    grading: how often the flats were graded; they are those of the last time.
    readings: by grading and tooth, how many quarters of its width the flat lies off its mark on the strip, or off its
        place on an even line as a scan measured it, positive toward the toe.
    """

    passes: int = 0
    passed_at: int = 0
    flats: GrownMap[int, float] = field(default_factory=GrownMap)
    graded_at: int = 0
    fine: bool = False
    scanned: frozenset[int] = frozenset()
    placed: frozenset[int] = frozenset()
    grading: int = 0
    readings: GrownMap[tuple[int, int], float] = field(default_factory=GrownMap)

    @property
    def scale(self) -> tuple[float, ...]:
        """The scale of the round's grades; the old one only where every grade is of it."""
        return SHARES if self.fine else OLD_SHARES

    @property
    def told(self) -> Mapping[int, float]:
        """The readings that belong to the flats, by tooth."""
        return {tooth: quarters for (grading, tooth), quarters in self.readings.items() if grading == self.grading}

    @property
    def spoiled(self) -> bool:
        """Whether a pass of this round was made after its grading began."""
        return self.graded_at > 0 and self.passed_at > self.graded_at


@dataclass(frozen=True, slots=True)
class Tally:
    """All of it: by stage, and by round of leveling.

    stumps: the teeth that were left out as broken where one tooth is worked: set, or its flat graded.
    """

    stages: Mapping[Stage, StageTally] = field(default_factory=dict)
    stumps: frozenset[int] = frozenset()
    rounds: Mapping[int, Leveling] = field(default_factory=dict)

    @classmethod
    def of(cls, outcomes: Mapping[Place, Mark]) -> Tally:
        """The tally of places with the mark that stands at each."""
        stages: dict[Stage, StageTally] = {}
        rounds: dict[int, Leveling] = {}
        for place, mark in outcomes.items():
            _add(stages, rounds, place, mark)
        stumps = frozenset(place.tooth for place, mark in outcomes.items() if _stump(place, mark))
        return cls(stages, stumps, rounds)

    def plus(self, place: Place, mark: Mark) -> Tally:
        """The tally once ``mark`` stands at ``place``, at which none stood before."""
        stages, rounds = dict(self.stages), dict(self.rounds)
        _add(stages, rounds, place, mark)
        stumps = self.stumps | {place.tooth} if _stump(place, mark) else self.stumps
        return Tally(stages, stumps, rounds)

    def begun(self, stage: Stage) -> bool:
        """Whether any place of ``stage`` is done or left out."""
        return stage in self.stages

    @property
    def graded_round(self) -> int:
        """The latest round of leveling before filing in which a flat was graded; 0 when none was."""
        return max((number for number, level in self._before_filing() if level.flats), default=0)

    def _before_filing(self) -> Iterator[tuple[int, Leveling]]:
        return ((number, level) for number, level in self.rounds.items() if number < FIRST_LATER)

    def flats_of(self, round_: int) -> Mapping[int, float]:
        """The graded flats of leveling ``round_``, as shares of the pitch; none once a pass came after them."""
        level = self.rounds.get(round_)
        return {} if level is None or level.spoiled else level.flats

    def readings_of(self, round_: int) -> Mapping[int, float]:
        """Where the flats of leveling ``round_`` were told to lie, on the strip or by a scan; none once a pass came
        after them."""
        level = self.rounds.get(round_)
        return {} if level is None or level.spoiled else level.told

    @property
    def flats(self) -> Mapping[int, float]:
        """The width of each flat as a share of the pitch, by tooth, from the latest round that has any; else empty."""
        number = self.graded_round
        return self.rounds[number].flats if number else {}

    def flatless(self, round_: int) -> frozenset[int]:
        """The teeth that were graded as without a flat in leveling ``round_``, none once a pass came after that."""
        return frozenset(tooth for tooth, share in self.flats_of(round_).items() if share == 0)

    @property
    def widened(self) -> bool:
        """Whether a leveling pass was made after the latest grading began: then no grade says how wide a flat is."""
        number = self.graded_round
        return bool(number) and any(
            level.passed_at > self.rounds[number].graded_at for _, level in self._before_filing()
        )

    @property
    def grades_spent(self) -> bool:
        """Whether gullets were reshaped since the flats were graded: then the graded flats are gone."""
        return self.begun(Stage.RESHAPE) and self.graded_round <= 1


#: The reason of a gullet that is done as it was told: without a stroke.
NO_STROKE: Final = "no stroke"


def unfiled(place: Place, mark: Mark) -> bool:
    """Whether ``mark`` says that the gullet ``place`` was gone past without a stroke, as it was told to be."""
    return place.kind is Kind.GULLET and mark.did is Did.DONE and mark.reason == NO_STROKE and not mark.strokes


def was_filed(place: Place, mark: Mark) -> bool:
    """Whether ``mark`` says that a file was in the gullet ``place``: also of one left out that was filed before."""
    return bool(mark.strokes) if mark.did is Did.LEFT_OUT else mark.did is Did.DONE and not unfiled(place, mark)


def flat_of(mark: Mark) -> float | None:
    """The share of the pitch that ``mark`` gives a flat, graded or measured; None for a value that is neither."""
    return scanned_share(mark.value, mark.unit) if mark.unit == BY_SCAN else share_of(mark.value, mark.unit)


def counted_by_hand(strokes: Iterable[int]) -> bool:
    """Whether somebody counted ``strokes``, 0 where a gullet was done without a count: one everywhere is what the
    advance key of older logs claimed, which left no gullet without."""
    found = set(strokes)
    return bool(found - {0}) and found != {1}


#: The reasons for leaving a tooth out that say that it is a stump: as offered at the bench, and as people write it.
BROKEN_TOOTH: Final = ("broken tooth", "broken")


def _stump(place: Place, mark: Mark) -> bool:
    return mark.did is Did.LEFT_OUT and place.kind is Kind.TOOTH and (mark.reason or "").lower() in BROKEN_TOOTH


def _add(stages: dict[Stage, StageTally], rounds: dict[int, Leveling], place: Place, mark: Mark) -> None:
    stages[place.stage] = _with(stages.get(place.stage, NONE_PASSED), place, mark)
    if place.stage is not Stage.LEVEL or mark.did is not Did.DONE:
        return
    level = rounds.get(place.round, Leveling())
    if place.number and not place.tooth:
        level = replace(level, passes=level.passes + 1, passed_at=max(level.passed_at, mark.seq))
    elif place.on_strip:
        told = quarters_of(mark.value, mark.unit)
        if told is not None:
            level = replace(level, readings=level.readings.plus((place.number or 1, place.tooth), told))
    elif place.tooth and (share := flat_of(mark)) is not None:
        level = _flat_told(level, place, mark, share)
    rounds[place.round] = level


def _flat_told(level: Leveling, place: Place, mark: Mark, share: float) -> Leveling:
    """``level`` with a flat as wide as ``share`` of the pitch. The first of a new grading lays those of the one before
    aside, and one of a grading before changes nothing."""
    grading, by_scan = place.number or 1, mark.unit == BY_SCAN
    if grading < level.grading:
        return level
    if grading > level.grading:
        level = Leveling(level.passes, level.passed_at, grading=grading, readings=level.readings)
    return replace(
        _placed(level, place.tooth, mark, share),
        flats=level.flats.plus(place.tooth, share),
        graded_at=min(level.graded_at or mark.seq, mark.seq),
        fine=level.fine or by_scan or mark.unit == GRADE,
        scanned=level.scanned | {place.tooth} if by_scan else level.scanned,
    )


def _placed(level: Leveling, tooth: int, mark: Mark, share: float) -> Leveling:
    """``level`` with where a flat lies by a scan, as far as its mark says so."""
    off = scanned_quarters(share, scanned_off(mark.off))
    if off is None:
        return level
    return replace(level, placed=level.placed | {tooth}, readings=level.readings.plus((level.grading, tooth), off))


def _with(before: StageTally, place: Place, mark: Mark) -> StageTally:
    done = mark.did is Did.DONE
    # A leveling is looked at and not measured: its step belongs to it.
    measured = bool(place.step) and (facts_of(place.stage).kind is Kind.TOOTH or place.stage is Stage.DRESS)
    counts = done and not measured and not place.on_strip and not unfiled(place, mark)
    strokes = (mark.strokes or 0) if counts or mark.did is Did.LEFT_OUT else 0
    return StageTally(
        passed=before.passed + 1,
        left_out=before.left_out + (mark.did is Did.LEFT_OUT),
        # A step that was passed by Space without an answer is dealt with, and nothing was done at it.
        done=before.done + (counts and mark.reason not in (NOT_LOOKED, NOT_ANSWERED)),
        first_done=before.first_done or (mark.seq if counts else 0),
        strokes=before.strokes + strokes,
        teeth=before.teeth.plus(place.tooth, before.teeth.get(place.tooth, 0) + strokes)
        if (done or strokes) and place.tooth
        else before.teeth,
    )
