"""One saw of the proof: sharpened by one person with the program, killed and resumed, and the same saw without it."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from shutil import rmtree
from tempfile import mkdtemp
from typing import Any, Final

from session.advice.measured_looks import MeasuredLooks
from session.advice.saw_records import SawRecords
from session.desk.desk import Desk
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.rehearsal.desk_run import DeskRun, LostError
from session.rehearsal.plate import PlateError, SimulatedPlate
from session.rehearsal.proving.alone import Rule, sharpen_alone
from session.rehearsal.proving.outcome import Steel, kept, steel
from session.rehearsal.proving.person import PEOPLE, Person
from session.rehearsal.proving.person_filer import PersonFiler
from session.rehearsal.proving.plate_scan import scanned_plate
from session.rehearsal.proving.saw_conditions import Condition, plate_in, recipe_of
from session.texts.guidance import Level
from session.value_class import asdict, dataclass
from session.walk.front_question import Ask
from session.walk.place import Standing, looks_at_flats
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

_BEGUN: Final = datetime(2025, 5, 6, 7, 30, tzinfo=UTC)

#: Moves after which a sharpening goes nowhere.
_MOST_MOVES: Final = 6000

#: A wait longer than this, in seconds, is none of the work.
_WORK_S: Final = 60.0

#: What a scan of a line takes, in seconds: judgment.
_SCAN_S: Final = 240.0

#: Moves within which kills fall.
_KILLED_WITHIN: Final = 250


@dataclass(frozen=True, slots=True)
class Case:
    """One saw of the proof. kills: how often the program is killed on the way, 0 or more."""

    seed: int
    kind: str
    condition: str
    person: str
    guidance: str
    measuring: str
    kills: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharpened:
    """What one way of working came to. way: "program", or the rule of who had none.

    places_lost, marks_lost: by the program, over kills and at the end. slips: times that the hands went wrong; missed,
    twice: places to which they never came, and to which they came once more.
    minutes of work. fault: where program and person lost each other, else empty.
    """

    way: str
    places_lost: int = 0
    marks_lost: int = 0
    slips: int = 0
    missed: int = 0
    twice: int = 0
    strokes: int = 0
    minutes: float = 0.0
    stages: tuple[str, ...] = ()
    fault: str = ""
    steel: Steel


@contextmanager
def thrown_away() -> Iterator[Path]:
    """A folder for logs, in memory where there is room for it: nothing in it is to outlast the proof."""
    memory = Path("/dev/shm")
    at = mkdtemp(prefix="toothline-proof-", dir=memory if os.access(memory, os.W_OK) else None)
    try:
        yield Path(at)
    finally:
        rmtree(at, ignore_errors=True)


def person_called(name: str) -> Person:
    """The person of that name."""
    return next(one for one in PEOPLE if one.name == name)


def fresh_plate(case: Case) -> SimulatedPlate:
    """The plate as it comes to the bench, the same for every way of working."""
    saw = recipe_of(case.kind).saw
    return plate_in(saw, Condition(case.condition), Random(f"{case.seed} plate"))


def tried(case: Case, folder: Path) -> list[dict[str, Any]]:
    """The case in every way: as the program has it, and by each rule without it. Plain values, for JSON."""
    found = [with_program(case, folder)]
    for rule in Rule:
        plate = fresh_plate(case)
        before = kept(plate)
        work = sharpen_alone(plate, person_called(case.person), Random(f"{case.seed} {rule}"), rule)
        found.append(
            Sharpened(
                way=str(rule),
                slips=work.slips,
                missed=work.missed,
                twice=work.twice,
                strokes=work.strokes,
                minutes=work.seconds / 60.0,
                steel=steel(before, work.leveled, plate, work.lowered),
            )
        )
    return [{**asdict(case), **asdict(one)} for one in found]


def with_program(case: Case, folder: Path) -> Sharpened:
    """One sharpening at the desk, by the words alone."""
    return SharpeningTrial(case, folder).run()


class SharpeningTrial:
    """One person, one plate and one desk after another; ``person`` in place of the one that the case names."""

    def __init__(self, case: Case, folder: Path, person: Person | None = None) -> None:
        self._case: Final = case
        self._recipe: Final = recipe_of(case.kind)
        self._clock: Final = SetClock(_BEGUN)
        self._rng: Final = Random(f"{case.seed} kills")
        self.plate: Final = fresh_plate(case)
        self._before: Final = kept(self.plate)
        self.filer: Final = PersonFiler(
            self._recipe.saw,
            case.seed,
            person=person_called(case.person) if person is None else person,
            plate=self.plate,
            grades=case.measuring != "nothing",
            strip=case.measuring == "strip",
            scan=case.measuring == "scan",
        )
        self._scan: MeasuredLooks | None = None
        self._scanned_after = 0
        self._sitting = Sitting.start(folder, self._recipe, make_plan(self._recipe.saw), self._clock)
        self._run = self._at_desk()
        self._leveled: SimulatedPlate | None = None
        self._lost: Final[Counter[str]] = Counter()
        self._seconds = 0.0

    def run(self) -> Sharpened:
        """Go on to the end of the record, or to where program and person lose each other."""
        kills, fault = sorted(self._rng.randrange(5, _KILLED_WITHIN) for _ in range(self._case.kills)), ""
        try:
            for number in range(_MOST_MOVES):
                if kills and number >= kills[0]:
                    kills.pop(0)
                    self._kill()
                self._look()
                if not self._run.step():
                    break
                self._seconds += min(_WORK_S, self._run.moves[-1].takes_s)
            else:
                fault = f"not finished after {_MOST_MOVES} moves"
        except (LostError, PlateError) as lost:
            fault = str(lost)
        except Exception as broken:  # whatever goes wrong in one sharpening is told of it, and ends no other
            fault = f"{type(broken).__name__}: {broken}"
        state = self._sitting.state
        self._sitting.close()
        self._sitting.journal.path.unlink(missing_ok=True)
        if not fault:
            known = (Standing.DONE, Standing.LEFT_OUT)
            self._lost["places"] += sum(state.standing(place) not in known for place in state.route.places)
        return Sharpened(
            way="program",
            places_lost=self._lost["places"],
            marks_lost=self._lost["marks"],
            slips=self.filer.slips,
            missed=self.filer.missed,
            twice=self.filer.twice,
            strokes=self.filer.strokes,
            minutes=self._seconds / 60.0,
            stages=tuple(str(stage) for stage in Stage if stage in state.taken_in),
            fault=fault,
            steel=steel(self._before, self._leveled, self.plate, self.filer.lowered),
        )

    def _at_desk(self) -> DeskRun:
        desk = Desk(self._sitting, records=lambda: SawRecords(rescanned=lambda: self._scan))
        desk.level = Level(self._case.guidance)
        return DeskRun(desk, self._clock, self.filer)

    def _look(self) -> None:
        """Scan a line that was leveled, where it is measured so; keep it as it is when the filing begins."""
        said = self._run.desk.moment.said
        passes = sum(level.passes for level in self._sitting.state.tally.rounds.values())
        at_flats = said.ask is Ask.WORK and looks_at_flats(self._sitting.state.place)
        if self._case.measuring == "scan" and at_flats and passes > self._scanned_after:
            self._scanned_after = passes
            self._clock.pass_s(_SCAN_S)
            self._seconds += _SCAN_S
            self._scan = MeasuredLooks(self._clock.now(), scanned_plate(self.plate, self._rng))
            self._run.desk.told_more()
        if self._leveled is None and said.ask is Ask.WORK and said.stage in (Stage.FILE, Stage.RESHAPE):
            self._leveled = kept(self.plate)

    def _kill(self) -> None:
        """The program goes without a word, and is begun again on what it left on disk."""
        before = self._sitting.state
        path = self._sitting.journal.path
        self._sitting.close()
        self._clock.pass_s(self._rng.uniform(30.0, 600.0))
        self._sitting = Sitting.resume(path, self._clock)
        after = self._sitting.state
        kept_marks = [mark for mark in after.marks if mark.seq <= len(before.marks)]
        self._lost["marks"] += sum(old != new for old, new in zip(before.marks, kept_marks, strict=False))
        self._lost["marks"] += max(0, len(before.marks) - len(kept_marks))
        self._lost["places"] += before.place != after.place
        self._run = self._at_desk()
