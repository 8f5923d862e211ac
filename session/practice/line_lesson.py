"""The practice line by line: for screen readers, simple terminals and pipes."""

from __future__ import annotations

from typing import Final, Protocol

from session.desk.key_table import ROWS
from session.practice.lesson import Lesson, LessonAsks
from session.practice.lesson_words import page_of
from session.practice.practice_line import PITCH_MM
from session.sentences.offers import Act
from session.trade.rounding import decimals


class LessonLines(Protocol):
    """Where lines are told and typed."""

    def tell(self, line: str) -> None:
        """Say one line."""
        ...

    def typed(self, prompt: str) -> str:
        """The next line typed. Raises EOFError when there is none."""
        ...


_WORDS: Final = {
    word: act for act in (Act.DONE, Act.TAKE_BACK, Act.MORE, Act.LEAVE_OUT, Act.QUIT) for word in ROWS[act].words
}
_HOW: Final = (
    'Line by line. A digit answers or gives so many strokes, "more" a light one, "done" or Enter goes on, "out" leaves '
    'a gullet, "back" takes a grade back, "quit" leaves. Nothing is recorded.'
)


class LineLesson:
    """LessonAsks one thing after another until it is left."""

    def __init__(self, lesson: Lesson, lines: LessonLines) -> None:
        self._lesson: Final = lesson
        self._lines: Final = lines
        self._before = ""

    def talk(self) -> None:
        """Ask until whoever practices leaves, or there is no more input."""
        self._lines.tell(_HOW)
        while True:
            self._say()
            try:
                typed = " ".join(self._lines.typed("> ").split()).lower()
            except EOFError:
                return
            if len(typed) == 1 and typed in "0123456789":
                self._lines.tell(self._lesson.act(Act.STROKES, int(typed)))
            elif (act := Act.DONE if not typed else _WORDS.get(typed)) is None:
                self._lines.tell(_HOW)
            elif act is Act.QUIT:
                return
            else:
                self._lines.tell(self._lesson.act(act))

    def _say(self) -> None:
        """The whole page where it is another, else only the flats beside the gullet and what is asked."""
        page = page_of(self._lesson)
        if page.ended or (now := f"{page.stage} {page.side} {page.numeral}") != self._before:
            self._before = "" if page.ended else now
            self._lines.tell(f"{page.stage}, side {page.side} of 2: {page.title}, {page.numeral}, {page.of}")
            for line in page.lines:
                self._lines.tell(f"  {line}")
            self._lines.tell(f"  Grades: {', '.join(f'tooth {n} {flat}' for n, flat in enumerate(page.flats, 1))}.")
            if self._lesson.asks is LessonAsks.GRADE:
                # What the screen has a picture for.
                wide = self._lesson.line.plate.flat_mm(page.shown) if self._lesson.line.grade(page.shown) else 0.0
                self._lines.tell(f"  Its flat is {decimals(wide, 2)} mm wide, the pitch {decimals(PITCH_MM, 2)} mm.")
        self._lines.tell(page.instruction)
