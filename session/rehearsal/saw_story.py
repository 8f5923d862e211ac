"""Two years of one saw of the invented workshop: who sharpened it when, and how it was used in between.

Everything is done by the simulated filer on one plate that goes on from sharpening to sharpening, and by nobody's hand.
"""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from random import Random
from typing import Final

from session.advice.saw_advice import next_visit, saw_records
from session.desk.desk import Desk
from session.files.cut_file import RecordedCut
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.machine.clock import SetClock
from session.rehearsal import past_laid_out
from session.rehearsal.desk_run import DeskRun
from session.rehearsal.filer import Filer
from session.rehearsal.hand_habits import Habit
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.used_plate import make_alternate, use
from session.rehearsal.worn_plate import worn_plate
from session.till.kept_cuts import write_cut
from session.till.known_saws import saw_named
from session.till.learned_bite import known_bites
from session.till.saw_history import history
from session.till.till_folder import Till
from session.till.till_list import begin
from session.trade.lengths import by_inches, parse_length
from session.trade.saw import Saw
from session.value_class import dataclass

#: The day that the stories lead up to: their "today". Laying them out moves it to the day that is.
MADE_FOR: Final = datetime.combine(past_laid_out.MADE_FOR, time(), UTC)

#: How far the strokes of two like cuts differ by the hand, as a share, at most: judgment.
HAND_DIFFERS: Final = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class SawStory:
    """What happened to one saw.

    recipe: its file in the demo folder. seed: of its plate and its filers.
    days_ago: of each sharpening, the first first. cut_days: days after each sharpening on which a trial cut was made.
    lost_a_day: share of its sharpness that it loses a day. alternate: by what share of a pitch every other tooth was
    smaller before the last sharpening, as somebody's hasty filing had left them. left_at: the gullets filed after which
    the last sharpening was left, 0 when it was finished.
    """

    recipe: str
    seed: int
    days_ago: tuple[int, ...]
    cut_days: tuple[int, ...] = ()
    lost_a_day: float = 0.0
    alternate: float = 0.0
    left_at: int = 0


def live(story: SawStory, recipe_file: Path, till: Till) -> None:
    """Let all of ``story`` happen in ``till``, to the saw in ``recipe_file``."""
    saw, rng = load_recipe(recipe_file).saw, Random(f"{story.recipe} {story.seed}")
    plate = worn_plate(saw, rng)
    for number, ago in enumerate(story.days_ago):
        last = number == len(story.days_ago) - 1
        if number:
            use(plate, rng)
        if last:
            make_alternate(plate, story.alternate)
        begun = MADE_FOR - timedelta(days=ago) + timedelta(hours=rng.randrange(8, 16), minutes=rng.randrange(60))
        _sharpen(story, recipe_file, till, plate, SetClock(begun), number, story.left_at if last else 0)
        _cut_now_and_then(story, saw, till, rng)


def _sharpen(
    story: SawStory, recipe_file: Path, till: Till, plate: SimulatedPlate, clock: SetClock, number: int, left_at: int
) -> None:
    """One sharpening, at a desk that knows the records of before."""
    with closing(begin(till, recipe_file, clock, Settings())) as sitting:
        name = sitting.saw.name
        desk = Desk(
            sitting,
            next_visit=lambda: next_visit(till, name, clock.now()),
            bites=lambda: known_bites(till, name),
            records=lambda: saw_records(till, name),
        )
        run = DeskRun(desk, clock, Filer(sitting.saw, story.seed + number, habit=Habit.STEADY, plate=plate))
        while run.step():
            if left_at and len(plate.filed) >= left_at:
                return


def _cut_now_and_then(story: SawStory, saw: Saw, till: Till, rng: Random) -> None:
    """The trial cuts between this sharpening and the next, each a little slower than the one before."""
    known = saw_named(till, saw.name)
    told = history([till], known)
    if not told.finished or (first := told.finished[-1].trial) is None or (ended := told.finished[-1].ended) is None:
        return
    inches = by_inches(saw.unit)
    length, thickness = map(parse_length, ("12 in", "3/4 in") if inches else ("300 mm", "20 mm"))
    for days in story.cut_days:
        at = ended + timedelta(days=days, minutes=rng.randrange(300))
        if at >= MADE_FOR:
            return
        area = first.area_mm2 * (1.0 - story.lost_a_day * days) * rng.uniform(1.0 - HAND_DIFFERS, 1.0 + HAND_DIFFERS)
        strokes = max(1, round(length.mm * thickness.mm / area))
        at = at.replace(microsecond=0)
        cut = RecordedCut(at=at, saw=saw.name, length=length, thickness=thickness, strokes=strokes, wood=saw.wood)
        write_cut(till, known, cut)
