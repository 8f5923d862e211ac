"""The first fitting at the desk and line by line: its words, its answers, and what a lean that differs says."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.desk.key_table import USUAL_KEYS
from session.desk.line_mode import Plain
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.trade.saw import Leans
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan


@dataclass
class Typed:
    """Lines told, and lines typed from a list."""

    typed_lines: Iterator[str] = field(default_factory=lambda: iter(()))
    told: list[str] = field(default_factory=list)

    def tell(self, line: str) -> None:
        self.told.append(line)

    def typed(self, prompt: str) -> str:
        return next(self.typed_lines)


DeskAt = Callable[..., Desk]


@pytest.fixture
def desk_at(tmp_path: Path) -> Iterator[DeskAt]:
    """A desk worked up to the first item of the first fitting that has that name."""
    made: list[Sitting] = []

    def work(name: str, *, recipe: str = "crosscut-panel", out: frozenset[Stage] = frozenset()) -> Desk:
        found, clock = load_recipe(find_recipe(recipe, [])), SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
        sitting = Sitting.start(tmp_path / str(len(made)), found, make_plan(found.saw, leave_out=out), clock)
        made.append(sitting)
        desk = Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9)
        for _ in range(3000):
            now = desk.moment.front
            if now.ask is Ask.FIT and now.name == name:
                return desk
            clock.pass_s(1.0)
            assert not desk.act(Act.AGREE if now.ask.holds else Act.DONE).refused
        raise AssertionError(f"{name} was never asked")

    yield work
    for sitting in made:
        sitting.close()


def test_it_is_asked_in_the_words_of_the_turn(desk_at: DeskAt) -> None:
    desk = desk_at("lean")
    said = desk.moment.said
    assert said.instruction == "Find tooth 1, at the heel: it leans away from you."
    assert "Tooth 1 leans away, by the recipe." in said.lines
    assert [(offer.act, offer.word) for offer in said.offers][:2] == [(Act.AGREE, "it does"), (Act.DIFFER, "differs")]
    # The key that moves on never passes it.
    assert desk.act(Act.DONE).refused
    assert desk.moment.front.name == "lean"
    assert desk.act(Act.AGREE).note == "Noted: tooth 1 leans away."
    assert desk.moment.front.ask is Ask.WORK


def test_a_lean_that_differs_turns_every_side_and_says_so(desk_at: DeskAt) -> None:
    desk = desk_at("lean")
    assert desk.act(Act.DIFFER).opens is QuestionKind.LEAN
    question = questions(desk, QuestionKind.LEAN, {})
    assert question.choices == ("toward you", "no tooth leans")
    assert question.then is not None
    note = question.then("toward you").note
    assert note == "Tooth 1 leans toward: sides swap, 2, 4 … lean away on side 1. Mend the recipe."
    assert len(note) <= 78
    assert desk.sitting.state.plan.leans is Leans.TOWARD
    assert (desk.moment.said.numeral, desk.moment.said.side) == ("2", 1)
    assert 2 in desk.moment.away
    assert 1 not in desk.moment.away
    # Taken back, it is asked again, as the recipe has it.
    desk.act(Act.TAKE_BACK)
    assert desk.moment.said.instruction == "Find tooth 1, at the heel: it leans away from you."


def test_a_line_that_was_never_set_is_to_lean(desk_at: DeskAt) -> None:
    desk = desk_at("lean")
    question = questions(desk, QuestionKind.LEAN, {})
    assert question.then is not None
    assert question.then("no tooth leans").note == "Noted: no tooth leans yet."
    desk.act(Act.TAKE_BACK)
    assert desk.sitting.state.plan.leans is Leans.AWAY


WITHOUT_SET = frozenset({Stage.SET, Stage.LEVEL})


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("guide", "Push the guide block on the file's tip, the edge that is marked as top up."),
        ("rake", "Look at the block: rake 15°, its top edge level in the hands."),
        ("fleam", "Set the fleam guide 25° off square, tip to the toe, on your left."),
    ],
)
def test_block_rake_and_fleam_are_held_one_by_one(desk_at: DeskAt, name: str, words: str) -> None:
    desk = desk_at(name, out=WITHOUT_SET)
    assert desk.moment.said.instruction == words
    assert f"◆ {name}" in desk.moment.said.lines[0]
    assert desk.act(Act.DONE).refused
    marks = len(desk.sitting.state.marks)
    assert not desk.act(Act.AGREE).refused
    last = desk.sitting.state.marks[-1]
    assert (len(desk.sitting.state.marks), last.did, last.what, last.side) == (marks + 1, "acknowledged", name, 1)


@pytest.mark.parametrize("recipe", ["rip", "tenon-crosscut", "progressive-rip", "dovetail"])
def test_every_word_of_it_fits_a_row(desk_at: DeskAt, recipe: str) -> None:
    desk = desk_at("lean", recipe=recipe)
    while desk.moment.front.ask is Ask.FIT:
        assert len(desk.moment.said.instruction) <= 76
        desk.act(Act.AGREE)


def test_line_by_line_the_same_is_asked_and_no_turns_the_walk(desk_at: DeskAt) -> None:
    lines = Typed(iter(["", "no", "1", "say"]))
    plain = Plain(desk_at("lean"), USUAL_KEYS, lines)
    plain.begin()
    assert "Find tooth 1, at the heel: it leans away from you." in lines.told
    assert "lean: now" in lines.told
    assert "Type: y (it does), n (differs), back (undo), pause, help." in " ".join(lines.told)
    for _ in range(3):
        before = len(lines.told)
        assert plain.hear()
    said = " ".join(lines.told[before:])
    assert "Find tooth" not in said
    assert "tooth 2 of 155" in said
    noted = [line for line in lines.told if line.startswith("Tooth 1 leans toward: sides swap, 2, 4 ... lean away")]
    assert len(noted) == 1
