"""The practice without a screen: its steel, its words, its traps, and what it says was learned."""

from __future__ import annotations

import textwrap
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.pictures.picture_rows import Role
from session.practice.lesson import Lesson, LessonAsks
from session.practice.lesson_picture import lesson_picture
from session.practice.lesson_words import page_of
from session.practice.line_lesson import LineLesson
from session.practice.practice_line import PITCH_MM, SAW, TEETH
from session.sentences.offers import Act
from session.trade.evening import Lean
from session.trade.grades import SHARES
from session.trade.leveling import PASS_MM
from session.trade.sides import side_of_gullet

#: Columns of the words beside the large number, and of the rows under it, at 80 columns.
PANEL, ROWS = 50, 78

KEYS = st.one_of(
    st.tuples(st.just(Act.STROKES), st.integers(0, 9)),
    st.tuples(st.sampled_from([Act.DONE, Act.TAKE_BACK, Act.MORE, Act.LEAVE_OUT, Act.FLAG]), st.just(0)),
)


def asks(lesson: Lesson) -> LessonAsks:
    """What it asks now: each act changes it."""
    return lesson.asks


def graded(seed: int = 1) -> Lesson:
    """A lesson whose ten flats are graded as the plate has them."""
    lesson = Lesson(seed)
    for tooth in range(1, TEETH + 1):
        lesson.act(Act.STROKES, lesson.line.grade(tooth))
    return lesson


def pressed(lesson: Lesson) -> None:
    """Press the file in the gullet in hand as print does."""
    lesson.act(Act.STROKES, 1 + [Lean.HEEL, Lean.STRAIGHT, Lean.TOE].index(lesson.line.best_lean(lesson.gullet)))


def with_care(lesson: Lesson) -> None:
    """File as a careful person does: with light strokes, looking at the flats after each."""
    while asks(lesson) is not LessonAsks.END:
        if lesson.asks in (LessonAsks.GUIDE, LessonAsks.FIRST):
            lesson.act(Act.STROKES, 2)
            continue
        pressed(lesson)
        pair = [t for t in (lesson.gullet, lesson.gullet + 1) if lesson.line.leveled[t]]
        wanted = 0.45 if lesson.side == 1 else 0.97
        while max(lesson.line.gone(tooth) for tooth in pair) < wanted:
            lesson.act(Act.MORE)
        if any(lesson.line.gone(tooth) < wanted - 0.1 for tooth in pair):
            lesson.act(Act.MORE)
        lesson.act(Act.DONE)
        if lesson.asks is LessonAsks.STROKES:
            lesson.act(Act.DONE)


@pytest.mark.parametrize("seed", range(1, 5))
def test_who_works_with_care_makes_no_tooth_low_and_is_told_so(seed: int) -> None:
    lesson = graded(seed)
    with_care(lesson)
    told = page_of(lesson).lines
    assert lesson.learned.low == {}
    assert told[0] == "No tooth was filed low: no steel was wasted."
    assert "Grades: 10 of 10 as the plate has them, 0 more off by one." in told
    assert "Pressed where print does: 9 of 9." in told
    assert told[-2] == "At the turn: both traps seen."
    assert told[-1].startswith("Not practiced: setting.")
    assert lesson.learned.stops.count("in time") >= 7
    # The flats are gone but those of the two ends, whose other half a gullet beyond would take.
    assert [t for t in range(2, TEETH) if lesson.line.gone(t) < 0.9] == lesson.learned.standing


def test_a_stroke_too_many_makes_a_low_tooth_and_says_what_that_costs() -> None:
    lesson = graded()
    pressed(lesson)
    for _ in range(9):
        told = lesson.act(Act.STROKES, 9)
        if told.startswith("Too far. Tooth"):
            break
    low = max((1, 2), key=lesson.line.lowered_mm)
    under = -lesson.line.plate.tooth(low).top
    assert told.startswith(f"Too far. Tooth {low} is {under:.2f} mm low")
    assert f"costs {round(under / PASS_MM)} pass" in told
    assert page_of(lesson).flats[low - 1] == "0"
    lesson.act(Act.DONE)
    assert lesson.learned.stops == ["far"]


@examples(30)
@given(st.lists(KEYS, max_size=60), st.integers(1, 40))
def test_no_key_brings_steel_back_and_every_word_has_room(keys: list[tuple[Act, int]], seed: int) -> None:
    lesson, before = graded(seed), dict[int, tuple[float, float, float]]()
    for act, digit in keys:
        if lesson.asks is LessonAsks.END:
            break
        for tooth, steel in enumerate(lesson.line.plate.teeth, 1):
            before[tooth] = (steel.front, -steel.back, steel.top)
        asked, told = lesson.asks, lesson.act(act, digit)
        for tooth, steel in enumerate(lesson.line.plate.teeth, 1):
            now = (steel.front, -steel.back, steel.top)
            assert all(after <= was for after, was in zip(now, before[tooth], strict=True))
            if asked is not LessonAsks.STROKES:
                assert now == before[tooth]
        page = page_of(lesson)
        assert len(textwrap.wrap(told, ROWS)) <= 2, told
        assert len(textwrap.wrap(page.instruction, ROWS)) <= 2, page.instruction
        rows = [row for line in (page.title, *page.lines) for row in textwrap.wrap(line, PANEL)]
        assert len(rows) <= (15 if page.ended else 9), rows
        if not page.ended:
            # The five questions (bench rule 29).
            assert all((page.tool, page.hold, page.place, page.direction, page.stop))
            # Until the first gullet of a side is found, the last one of the side before may be the one in hand.
            finding = {asked, lesson.asks} & {LessonAsks.GUIDE, LessonAsks.FIRST}
            assert side_of_gullet(lesson.gullet, SAW.first_leans) == lesson.side or finding


def test_the_traps_of_the_turn_are_told_and_kept_in_mind() -> None:
    lesson = graded()
    while asks(lesson) is not LessonAsks.GUIDE:
        lesson.act(Act.STROKES if lesson.asks is LessonAsks.LEAN else Act.DONE, 2)
    assert [page_of(lesson).stage, page_of(lesson).side] == ["TURN", 2]
    assert "to lean forward 15°" in lesson.act(Act.STROKES, 1)
    assert page_of(lesson).title == "Turn the saw"
    assert lesson.act(Act.STROKES, 2).startswith("Right")
    assert "gullet 3 was filed from side 1" in lesson.act(Act.STROKES, 3)
    assert lesson.act(Act.STROKES, 2).startswith("Right")
    assert (lesson.side, lesson.gullet) == (2, 2)
    while asks(lesson) is not LessonAsks.END:
        lesson.act(Act.STROKES if lesson.asks is LessonAsks.LEAN else Act.DONE, 2)
    told = " ".join(page_of(lesson).lines)
    assert "the guide was not turned over and a gullet of side 1 was to be filed again" in told
    assert "A flat still stands on teeth" in told
    assert lesson.act(Act.DONE) == "Another ten teeth."
    assert (lesson.seed, lesson.asks, lesson.learned.stops) == (2, LessonAsks.GRADE, [])


def test_a_grade_is_held_against_the_plate_and_can_be_taken_back() -> None:
    lesson = Lesson(1)
    assert page_of(lesson).flats == ("?",) * TEETH
    wrong = 1 + lesson.line.grade(1) % 5
    assert f"the plate has {lesson.line.grade(1)}" in lesson.act(Act.STROKES, wrong)
    assert lesson.act(Act.STROKES, 7).startswith("A grade is 0 none")
    assert lesson.act(Act.TAKE_BACK) == "Tooth 1 is graded once more."
    lesson.act(Act.STROKES, lesson.line.grade(1))
    lesson.act(Act.DONE)  # as before
    assert lesson.learned.grades[0] == (lesson.line.grade(1),) * 2
    assert lesson.learned.grades[1] == (lesson.line.grade(1), lesson.line.grade(2))
    assert page_of(lesson).flats[2:] == ("?",) * 8


def test_beside_a_low_tooth_a_file_pressed_off_it_does_not_touch_it() -> None:
    lesson = graded()
    low = next(tooth for tooth in range(1, TEETH + 1) if not lesson.line.leveled[tooth])
    for gullet, off in ((low - 1, Lean.HEEL), (low, Lean.TOE)):
        assert lesson.line.best_lean(gullet) is off
        lesson.line.stroke(gullet, off)
    assert lesson.line.lowered_mm(low) == 0.0
    lesson.line.stroke(low, Lean.STRAIGHT)
    assert lesson.line.lowered_mm(low) > 0.0


def test_the_picture_follows_the_steel_and_nothing_else() -> None:
    lesson = graded()
    before = lesson_picture(lesson, 80, 6)
    pressed(lesson)
    assert lesson_picture(lesson, 80, 6) == before
    lesson.act(Act.STROKES, 3)
    after = lesson_picture(lesson, 80, 6)
    cells = [sum(len(run.text) for row in rows for run in row if run.role is Role.FLAT) for rows in (before, after)]
    assert cells[1] < cells[0]


class Typed:
    """Lines typed beforehand, and what was told."""

    def __init__(self, *lines: str) -> None:
        self.ahead, self.told = list(lines), list[str]()

    def tell(self, line: str) -> None:
        self.told.append(line)

    def typed(self, prompt: str) -> str:
        if not self.ahead:
            raise EOFError
        return self.ahead.pop(0)


def test_line_by_line_it_asks_the_same_and_ends_with_the_input() -> None:
    lesson = Lesson(1)
    lines = Typed(*(str(lesson.line.grade(k)) for k in range(1, TEETH + 1)), "2", "4", "more", "what", "back", "done")
    LineLesson(lesson, lines).talk()
    text = "\n".join(lines.told)
    assert (lesson.side, lesson.gullet, lesson.asks) == (1, 3, LessonAsks.LEAN)
    assert all(f"  {name}: " in text for name in ("Tool", "Hold", "Where", "Way", "Stop"))
    assert text.count("Line by line.") == 2
    assert "It never gives back steel" in text
    # Without a picture the width is told, to be graded.
    assert f"Its flat is {Lesson(1).line.leveled[1]:.2f} mm wide, the pitch {PITCH_MM:.2f} mm." in text
    assert "FILE, side 1 of 2: File gullet 3, 3, gullet of 9" in text


def test_quit_leaves_at_once() -> None:
    lines = Typed("quit", "4")
    LineLesson(Lesson(1), lines).talk()
    assert lines.ahead == ["4"]


def test_the_lines_differ_from_seed_to_seed_and_each_has_one_low_tooth() -> None:
    seeds = [Random(0).randrange(1000) for _ in range(3)] + list(range(8))
    lines = {seed: tuple(Lesson(seed).line.grade(k) for k in range(1, TEETH + 1)) for seed in seeds}
    assert len(set(lines.values())) > 4
    for grades in lines.values():
        assert [grade for grade in grades if not grade] == [0]
        assert all(SHARES[grade] >= 0.04 for grade in grades if grade)
