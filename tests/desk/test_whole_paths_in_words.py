"""A first-timer's whole sharpening and an old hand's, every page of words in order and the press that answers it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.desk.desk import Desk
from session.desk.key_names import shown
from session.desk.key_table import USUAL_KEYS
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.pictures.panel_layout import panel
from session.pictures.picture_rows import plain
from session.sentences.moment import Moment
from session.sentences.offers import Act
from session.texts.guidance import Level
from session.trade.lengths import parse_length
from session.walk.front_question import Ask
from session.walk.stages import PLAN_STEP, Kind, Stage
from session.walk.work_plan import make_plan

#: The rooms that the panel has at 80 by 24: beside the numerals of a tooth, and alone at a step; and of the latter the
#: columns that are left of a picture.
BESIDE, ALONE, NARROW = (36, 13), (64, 13), 34

#: An uneven line with one low tooth.
GRADES = (2, 3, 2, 1, 3, 0, 2, 2, 3, 2, 1, 2)


@dataclass(frozen=True)
class Walker:
    """Who walks: how much is said, which digit answers a step, and what is done in a gullet."""

    level: Level
    digits: dict[str, int]
    in_gullet: Act
    grades: tuple[int, ...] = ()


FIRST_TIMER = Walker(
    Level.TAUGHT,
    {
        "bright points": 3,
        "last cut": 5,
        "grain": 1,
        "wood": 1,
        "all round": 1,
        "line": 1,
        "lean": 1,
        "sight": 1,
        "needle": 1,
        "trial cut": 1,
    },
    Act.AS_ADVISED,
    GRADES,
)
OLD_HAND = Walker(Level.BARE, {"bright points": 2, "last cut": 1, "all round": 1, "line": 1, "trial cut": 1}, Act.DONE)


@dataclass
class Path12:
    """Twelve teeth worked by one walker, and all that was shown and pressed on the way."""

    desk: Desk
    clock: SetClock
    walker: Walker
    told: list[str] = field(default_factory=list)
    presses: int = 0
    first_stroke: int = 0

    def walk(self) -> Path12:
        while True:
            at = self.desk.moment
            self.told += page_words(at)
            if at.front.ask is Ask.FINISHED:
                self.told.append("")
                return self
            self.clock.pass_s(4.0)
            act, digit = self._press(at)
            if not self.first_stroke and worked(at, Stage.FILE):
                self.first_stroke = self.presses
            reply = self.desk.act(act, digit)
            assert not reply.refused, reply.note
            self.presses += 1
            key = str(digit) if act is Act.STROKES else shown(USUAL_KEYS[act][0])
            self.told += [
                f"  press {self.presses}: {key}",
                f"  {reply.note}" if reply.note else "  (nothing is said)",
                "",
            ]

    def _press(self, at: Moment) -> tuple[Act, int]:
        place, walker = at.place, self.walker
        offered = [offer.act for offer in at.offers]
        if at.front.ask is not Ask.WORK or place is None:
            return offered[0], 0
        if place.step == PLAN_STEP:
            return offered[0], 0
        if place.step == "flats":
            return Act.STROKES, 3 if walker.grades and not at.flats else 1
        if place.step in walker.digits:
            return Act.STROKES, walker.digits[place.step]
        if place.stage is Stage.LEVEL and place.tooth and walker.grades:
            return Act.STROKES, walker.grades[place.tooth - 1]
        if place.kind is Kind.GULLET and walker.in_gullet in offered:
            return walker.in_gullet, 0
        return Act.DONE, 0


def worked(at: Moment, stage: Stage) -> bool:
    return at.front.ask is Ask.WORK and at.place is not None and at.place.stage is stage


def page_words(at: Moment) -> Iterator[str]:
    """Header, number, title, the sentences of each page, what to do, and what is offered."""
    said = at.said
    side = f", side {said.side} of {said.sides}" if said.side and said.sides else ""
    yield f"{(said.stage or 'finished').upper()}{side}, handle {said.handle}"
    if said.counted:
        yield f"  {said.numeral} {'; '.join(text for text in (said.of, said.between, said.where) if text)}"
    yield f"  {said.title}"
    pages = tuple(_pages(at))
    sentences = [*(f"{number}  {choice}" for number, choice in enumerate(said.choices, 1)), *said.lines]
    on = 0
    for sentence in sentences:
        found = next((n for n, words in enumerate(pages) if _flat(sentence) in words), None)
        assert found is not None, sentence
        if found > on:
            on = found
            yield f"  -- page {on + 1} of {len(pages)}"
        yield f"    {sentence}"
    yield f"  > {said.instruction}"
    if said.in_effect:
        yield f"  in effect: {' · '.join(said.in_effect)}"
    yield f"  offered: {', '.join(offer.word for offer in said.offers)}"


def _pages(at: Moment) -> Iterator[str]:
    """What stands on each page, with and without what is beside it."""
    for page in panel(at, *(BESIDE if at.said.counted else ALONE)).pages:
        rows = plain(page)
        yield _flat(" ".join((*rows, *(row[:NARROW] for row in rows))))


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


def path(folder: Path, walker: Walker) -> Path12:
    clock = SetClock(datetime(2025, 4, 5, 10, 0, tzinfo=UTC))
    found = load_recipe(find_recipe("crosscut-panel", []))
    found = replace(found, saw=replace(found.saw, points=12, vise_jaw=parse_length("1 in")))
    sitting = Sitting.start(folder / "till", found, make_plan(found.saw), clock)
    walked = Path12(Desk(sitting, guard_s=0.0, idle_s=9e9, level=walker.level), clock, walker).walk()
    sitting.close()
    return walked


@pytest.mark.parametrize(("name", "walker"), [("first-timer", FIRST_TIMER), ("old-hand", OLD_HAND)])
def test_each_page_of_a_whole_sharpening_in_order(
    tmp_path: Path, golden: Callable[[str, str], None], name: str, walker: Walker
) -> None:
    walked = path(tmp_path, walker)
    counted = f"{walked.presses} presses in all, {walked.first_stroke} to the first gullet in hand."
    golden(f"path-{name}.txt", "\n".join((counted, "", *walked.told)))


def test_an_old_hand_presses_less_and_reads_less_than_a_first_timer(tmp_path: Path) -> None:
    old, new = path(tmp_path / "old", OLD_HAND), path(tmp_path / "new", FIRST_TIMER)
    assert old.presses < new.presses
    assert old.first_stroke < 25
    assert sum(map(len, old.told)) < sum(map(len, new.told)) / 2
