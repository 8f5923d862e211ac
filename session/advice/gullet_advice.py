"""What to expect in the gullet in hand: strokes, lean, and whether a tooth is to be left alone.

It rests on the graded flats. Without grades nothing is claimed, and after reshaping the grades taken before
it are spent.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.texts.wording import times
from session.trade.evening import EveningPlan, Lean
from session.trade.saw import Saw
from session.trade.sides import gullet_beside_first_back
from session.trade.strokes import LEARN_LAST, TOO_MANY_STROKES, Bite, stroke_range, strokes_for, usual_bite
from session.value_class import dataclass, replace
from session.walk.graded_flats import bite_by, bite_here
from session.walk.known_bites import KnownBites
from session.walk.known_teeth import known_teeth
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State

#: Before any record taught a bite: from memory.
NO_RECORDS: Final = KnownBites()

#: A flank that gives less than this is not worth a stroke: judgment.
_WORTH_MM: Final = 0.005


@dataclass(frozen=True, slots=True)
class Expected:
    """For one gullet: how many strokes and how many at most (None: not known), which way to lean, what else to say.

    low: neither of its teeth has steel to give. off: a broken tooth beside it, to lean away from. back: whether the
    back of tooth 1 is filed beside it. spared: which tooth beside it gives nothing, and why; told before all else.
    estimate: fewest and most strokes, and what that rests on, as one sentence; empty where there is nothing to take.
    """

    strokes: int | None = None
    most: int | None = None
    lean: Lean | None = None
    low: bool = False
    off: int | None = None
    back: bool = False
    spared: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    estimate: str = ""

    @property
    def idle(self) -> bool:
        """Whether no file is laid into the gullet at all."""
        return (self.low or self.strokes == 0) and not self.back


NOTHING: Final = Expected()

#: In place of a count over TOO_MANY_STROKES (print gives 1 to 3: NOYES, SICK): judgment.
TOO_MANY: Final = f"Over {TOO_MANY_STROKES} strokes by grade: look at grade and file again."

#: The back of tooth 1 lies in no gullet of the count, so nothing else would have it filed (derived). Nor do its strokes
#: belong to those of the gullet, by which the bite is learned: which number is typed has to be said.
BACK_OF_THE_FIRST: Final = Expected(back=True, notes=("Then the back of tooth 1, heel side, held alike; not counted.",))


def expected(
    state: State, saw: Saw, flats: Mapping[int, float], plan: EveningPlan | None, known: KnownBites = NO_RECORDS
) -> Expected:
    """What to expect at the place in hand, a gullet to be reshaped or filed; NOTHING elsewhere.

    flats, plan: the graded flats for its stage, as shares of the pitch, and what they tell. known: the bites that the
    records taught, until this walk has taught its own.
    """
    place = state.place
    if place is None or place.stage not in (Stage.FILE, Stage.RESHAPE):
        return NOTHING
    stumps = [tooth for tooth in (place.tooth, place.tooth + 1) if tooth in state.stumps]
    off = stumps[0] if stumps else None
    behind = place.tooth == _beside_first_back(state, place)
    beside = () if off is None else (_beside_stump(off),)
    if not flats:
        first = BACK_OF_THE_FIRST if behind else NOTHING
        return _beside_low(state, place, replace(first, off=off, spared=beside))
    if plan is None:
        return replace(NOTHING, off=off, spared=beside)
    before = known_bite(state, known)
    if not before.learned:
        before = usual_bite(saw.pitch_mm, saw.plate.mm)
    # The strokes that this walk counted were given to the flats of the first filing.
    bite = bite_by(plan, state, place.stage, before) if place.round == 1 else before
    index = place.tooth - 1
    volume = plan.volumes_mm3[index]
    strokes: int | None = strokes_for(volume, bite.mm3)
    # Beyond the toe there is no tooth, and so no flat either.
    low = {place.tooth, place.tooth + 1} <= {*plan.low, *plan.broken, state.plan.points + 1}
    spared = _spared(plan, place.tooth, state.plan.points, filed=bool(strokes) and not low)
    notes: tuple[str, ...] = ()
    heel = strokes_for(plan.heel_mm3, bite.mm3)
    if behind and heel:
        notes = BACK_OF_THE_FIRST.notes
        if heel <= TOO_MANY_STROKES:
            notes = (f"Then the back of tooth 1, heel side, held alike: {times(heel, 'stroke')}, not counted.",)
    estimate = _estimate(volume, bite, here=bite is not before) if volume else ""
    most = stroke_range(volume, bite)[2] if volume else None
    if place.stage is Stage.FILE and strokes is not None and strokes > TOO_MANY_STROKES:
        # No count at all rather than one that nobody would give a gullet.
        strokes, most, estimate = None, None, TOO_MANY
    return Expected(
        strokes=strokes,
        most=most,
        lean=plan.lean[index],
        low=low,
        off=off,
        back=behind and heel > 0,
        spared=spared,
        notes=notes,
        estimate=estimate,
    )


def _beside_low(state: State, place: Place, told: Expected) -> Expected:
    """``told`` without a stroke for a tooth that is known to be low, where no leveling brings the line down to it."""
    if place.stage is not Stage.FILE or Stage.LEVEL in state.taken_in:
        return told
    low, front, back = known_teeth(state).low, place.tooth, place.tooth + 1
    whole = [tooth for tooth in (front, back) if tooth <= state.plan.points and tooth not in state.stumps]
    if whole and low.issuperset(whole):
        return replace(told, low=True)
    for tooth, other, lean in ((front, back, Lean.TOE), (back, front, Lean.HEEL)):
        if tooth in low:
            return replace(told, lean=lean, spared=(f"Tooth {tooth} is low: file only tooth {other}.", *told.spared))
    return told


def _spared(plan: EveningPlan, gullet: int, points: int, *, filed: bool) -> tuple[str, ...]:
    """What is said of a broken or a low tooth beside ``gullet``, so that it is not filed with the other."""
    gives_front = plan.front_mm[gullet - 1] > _WORTH_MM
    gives_back = gullet < points and plan.back_mm[gullet] > _WORTH_MM
    told = []
    for tooth, gives, other_gives in ((gullet, gives_front, gives_back), (gullet + 1, gives_back, gives_front)):
        if tooth in plan.broken:
            # Where nothing is filed, nothing is pressed either.
            told.append(_beside_stump(tooth) if filed else f"Tooth {tooth} is broken.")
        elif tooth in plan.low and tooth <= points and not gives:
            other = f"file only tooth {2 * gullet + 1 - tooth}" if other_gives else "nothing comes off it"
            told.append(f"Tooth {tooth} is low: {other}.")
    return tuple(told)


def _beside_first_back(state: State, place: Place) -> int:
    """The gullet beside which the back of tooth 1 is filed: where that one is left out, the next of its side.

    0 for none: a stump has no back to be filed. Reshaping goes along all gullets from one side.
    """
    if 1 in state.stumps:
        return 0
    sides = state.plan.sides if place.stage is Stage.FILE else 1
    gullets = range(gullet_beside_first_back(sides), state.plan.points + 1, sides)
    return next((k for k in gullets if not state.alone(replace(place, tooth=k))), 0)


def _beside_stump(tooth: int) -> str:
    return f"Tooth {tooth} is broken: press away from it, keep its neighbors their own size (DREW)."


def known_bite(state: State, known: KnownBites) -> Bite:
    """What is known of the file in hand before this walk has taught its own bite."""
    told = state.measured.get(Measurable.FILE)
    return known.of(None if told is None else str(told.value))


def taught_bite(state: State, saw: Saw, known: KnownBites = NO_RECORDS) -> Bite:
    """The bite as the filing of this walk taught it, else the records; the default, from memory, where none did."""
    return bite_here(state, saw, known=known_bite(state, known))


def over_shown(told: Expected, strokes: int) -> str:
    """A word about ``strokes`` that are more than was told, beside where they are marked; empty where they are not.

    One more than the most is no matter: a count is easily off by that, judgment.
    """
    if told.most is None or strokes <= told.most + 1:
        return ""
    return f": over {told.most}, look at its grade and the file"


def _estimate(volume_mm3: float, bite: Bite, *, here: bool) -> str:
    """Fewest to most strokes, and what that rests on."""
    fewest, _, most = stroke_range(volume_mm3, bite)
    count = times(fewest, "stroke") if fewest == most else f"{fewest}–{most} strokes"
    return f"Expect {count}, {_rests_on(bite, here=here)}."


def _rests_on(bite: Bite, *, here: bool) -> str:
    if not bite.learned:
        return "as usual (no source)"
    if not here:
        return f"by the records of {times(bite.gullets, 'gullet')}"
    if bite.gullets >= LEARN_LAST:
        return f"by what {bite.gullets} gullets took here"
    # In steps, so that the words do not change at every gullet: line by line, each change is read out.
    step = 10 if bite.gullets >= 10 else 5
    return f"by what {bite.gullets // step * step}+ gullets took here"
