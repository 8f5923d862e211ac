"""The README's pictures, made by the program itself: `python -m session.bench.readme_pictures FOLDER`."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from textual.pilot import Pilot

from session.bench.app import BenchApp
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.files.supplied import supplied_folder
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.till.till_folder import Till, slug
from session.value_class import dataclass
from session.walk.front_question import Ask, Front
from session.walk.stages import PLAN_STEP, Stage
from session.walk.work_plan import make_plan


@dataclass(frozen=True, slots=True)
class Sitter:
    """One picture: its name, its size in cells, and the moment it shows."""

    name: str
    size: tuple[int, int]
    moment: Callable[[Front], bool]


def _working(stage: Stage, tooth: int, side: int) -> Callable[[Front], bool]:
    return lambda now: (
        now.ask is Ask.WORK
        and now.place is not None
        and (now.place.stage, now.place.tooth, now.place.side) == (stage, tooth, side)
    )


SITTERS: Final = (
    Sitter("file-120x36", (120, 36), _working(Stage.FILE, 47, 1)),
    Sitter("file-80x24", (80, 24), _working(Stage.FILE, 46, 2)),
    Sitter("set-80x24", (80, 24), _working(Stage.SET, 31, 1)),
    Sitter("grade-80x24", (80, 24), _working(Stage.LEVEL, 12, 0)),
    Sitter("turn-120x36", (120, 36), lambda now: now.ask is Ask.TURN and now.name == "guide" and now.side == 2),
    Sitter("caution-80x24", (80, 24), lambda now: now.ask is Ask.CAUTION and now.name == "file handle"),
)

#: Grades given on the way, one a tooth, over and over: an uneven line with a low tooth now and then.
_GRADES: Final = (2, 2, 3, 2, 1, 2, 2, 4, 3, 2, 2, 1, 0, 2, 3, 2, 2)


def draw(sitter: Sitter, recipe_file: Path) -> str:
    """The picture as SVG text."""
    clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
    recipe = load_recipe(recipe_file)
    with tempfile.TemporaryDirectory(prefix="toothline-portrait-") as folder:
        till = Till(Path(folder))
        sitting = Sitting.start(till.log_folder(slug(recipe.saw.name)), recipe, make_plan(recipe.saw), clock)
        _work_until(Desk(sitting), clock, sitter.moment)
        app = BenchApp(till, Settings(), clock, sitting=sitting)
        drawn: list[str] = []

        async def pose(pilot: Pilot[object]) -> None:
            await pilot.pause()
            drawn.append(app.export_screenshot(title="Toothline"))
            app.release()
            app.exit(0)

        app.run(headless=True, size=sitter.size, auto_pilot=pose)
        return drawn[0]


def _work_until(desk: Desk, clock: SetClock, moment: Callable[[Front], bool]) -> None:
    """Work through the walk as a person would, until the moment comes."""
    grades = _over_and_over(_GRADES)
    while True:
        clock.pass_s(4)
        now = desk.moment.front
        if moment(now):
            return
        place = now.place
        if now.ask is Ask.FINISHED:
            raise ValueError("the moment never came")
        if now.ask.holds:
            desk.act(Act.AGREE)
        elif now.ask is Ask.WORK and place is not None and place.stage is Stage.LEVEL and place.step:
            desk.act(Act.STROKES, 1 if desk.moment.flats else 3)
        elif now.ask is Ask.WORK and place is not None and place.stage is Stage.LEVEL and place.tooth:
            desk.act(Act.STROKES, next(grades))
        elif now.ask is Ask.WORK and place is not None and place.stage is Stage.FILE:
            desk.act(Act.STROKES, 2)
        else:
            if place is not None and place.step == PLAN_STEP:
                # Every stage of the plan is shown: it is decided, and no advice is taken in its place.
                desk.steps.plan.decide(Stage.PROVE, True, "as planned")
            desk.act(Act.DONE)


def _over_and_over(values: tuple[int, ...]) -> Iterator[int]:
    while True:
        yield from values


def main(folder: Path) -> None:
    """Draw every picture into ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    recipe = supplied_folder("recipes") / "crosscut-panel.toml"
    for sitter in SITTERS:
        (folder / f"{sitter.name}.svg").write_text(draw(sitter, recipe), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
