"""What the practice says at each of its moments."""

from __future__ import annotations

from typing import Final

from session.practice.lesson import Lesson, LessonAsks, pressed
from session.practice.lesson_end import learned_lines
from session.practice.lesson_page import LessonPage, offers_for
from session.practice.practice_line import GULLETS, SAW, TEETH
from session.sentences.offers import Act

#: How wide each grade is, of the pitch: session.trade.grades in words.
_SCALE: Final = "0 none, 1 a hair, 2 a 50th of the pitch, 3 a 25th, 4 a 12th, 5 a 6th or more"


def _stance(side: int) -> str:
    return f"handle {'right' if side == 1 else 'left'}, gripped close, safety glasses"


def _grade_page(lesson: Lesson, flats: tuple[str, ...]) -> LessonPage:
    tooth = lesson.tooth
    offers = [(Act.STROKES, "grade")]
    if lesson.told:
        offers += [(Act.DONE, "as before"), (Act.TAKE_BACK, "undo")]
    return LessonPage(
        stage="LEVEL",
        side=1,
        numeral=str(tooth),
        of=f"tooth of {TEETH}",
        title="How wide is the flat?",
        tool="your eye; the line was just leveled",
        hold=_stance(1),
        place=f"tooth {tooth}, in the middle of the picture",
        direction="heel to toe, tooth after tooth",
        stop="one glance a tooth, no measuring",
        instruction=f"Flat {tooth}: {_SCALE}?",
        offers=offers_for(*offers),
        shown=tooth,
        flats=flats,
    )


def _gullet_page(lesson: Lesson, flats: tuple[str, ...]) -> LessonPage:
    gullet, side = lesson.gullet, lesson.side
    half = "when the flats just go" if side == 2 else f"when half of {lesson.flats_beside} is gone"
    asks_lean = lesson.asks is LessonAsks.LEAN
    choices = ("to the heel", "straight", "to the toe") if asks_lean else ()
    lean = "pressed where?" if asks_lean else pressed(lesson.lean, gullet)
    instruction = (
        f"Gullet {gullet}: where do you press? 1, 2 or 3."
        if asks_lean
        else f"Gullet {gullet}: so many strokes, or a light one; then leave it. Stop {half}."
    )
    offers = (
        [(Act.STROKES, "press where"), (Act.LEAVE_OUT, "leave it")]
        if asks_lean
        else [(Act.DONE, "leave it, next"), (Act.STROKES, "strokes"), (Act.MORE, "light stroke")]
    )
    return LessonPage(
        stage="FILE",
        side=side,
        numeral=str(gullet),
        of=f"gullet of {len(GULLETS)}",
        title=f"File gullet {gullet}",
        tool=f"triangular file; block {SAW.rake:g}°, fleam guide {SAW.fleam:g}°",
        hold=_stance(side),
        place=f"between teeth {gullet} and {gullet + 1}; {_beyond(gullet)}",
        direction=f"away from you; {lean}",
        stop=half,
        instruction=instruction,
        offers=offers_for(*offers, most=len(choices) or 9),
        choices=choices,
        shown=gullet,
        flats=flats,
    )


def _beyond(gullet: int) -> str:
    """Which half of a flat nobody files here: the ten are a piece of a line, and its end teeth have a gullet beyond."""
    if gullet == GULLETS[0]:
        return "the back of 1 is beyond the ten"
    if gullet == GULLETS[-1]:
        return f"the front of {TEETH} is beyond the ten"
    return "every other gullet"


def _turn_page(lesson: Lesson, flats: tuple[str, ...]) -> LessonPage:
    guide = lesson.asks is LessonAsks.GUIDE
    choices = ("leave the guide as it is", "turn it over") if guide else ("gullet 1", "gullet 2", "gullet 3")
    return LessonPage(
        stage="TURN",
        side=2,
        numeral="2",
        of="side of 2",
        title="Turn the saw",
        tool="guide block and fleam guide on the file",
        hold=_stance(2),
        place="the heel is on your left now",
        direction="as before: heel to toe, away from you",
        stop="before the first stroke; two traps here",
        instruction="The saw is turned. And the guide block? 1 or 2."
        if guide
        else "Which gullet is the first of side 2? 1, 2 or 3.",
        offers=offers_for((Act.STROKES, "choose"), most=len(choices)),
        choices=choices,
        shown=1,
        flats=flats,
    )


def _end_page(lesson: Lesson, flats: tuple[str, ...]) -> LessonPage:
    return LessonPage(
        stage="LEARNED",
        side=2,
        numeral=str(TEETH),
        of="teeth",
        title="What was learned",
        tool="",
        hold="",
        place="",
        direction="",
        stop="",
        instruction="Ten other teeth, or leave.",
        offers=offers_for((Act.DONE, "ten other teeth")),
        choices=learned_lines(lesson.learned),
        shown=5,
        flats=flats,
        ended=True,
    )


_PAGES: Final = {
    LessonAsks.GRADE: _grade_page,
    LessonAsks.LEAN: _gullet_page,
    LessonAsks.STROKES: _gullet_page,
    LessonAsks.GUIDE: _turn_page,
    LessonAsks.FIRST: _turn_page,
    LessonAsks.END: _end_page,
}


def page_of(lesson: Lesson) -> LessonPage:
    """This moment of ``lesson`` in words."""
    known = len(lesson.told) if lesson.asks is LessonAsks.GRADE else TEETH
    flats = tuple(str(lesson.line.grade(t)) if t <= known else "?" for t in range(1, TEETH + 1))
    return _PAGES[lesson.asks](lesson, flats)
