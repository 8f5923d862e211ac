"""The picture of the practice: the teeth in hand as the plate has them."""

from __future__ import annotations

from session.pictures.bare_teeth import BareTooth, bare_teeth
from session.pictures.picture_rows import Rows
from session.practice.lesson import Lesson, LessonAsks
from session.practice.lesson_words import page_of
from session.practice.practice_line import PITCH_MM, SAW, TEETH
from session.trade.tooth import tooth_of


def lesson_picture(lesson: Lesson, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The teeth around the place in hand, their flats and their heights as they are, in so many cells."""
    plate, cut = lesson.line.plate, tooth_of(SAW)
    teeth = [BareTooth(*plate.flat_ends_mm(k), -plate.tooth(k).top) for k in range(1, TEETH + 1)]
    between = PITCH_MM / 2 if lesson.asks in (LessonAsks.LEAN, LessonAsks.STROKES) else 0.0
    at = SAW.from_heel_mm(page_of(lesson).shown) + between
    return bare_teeth(
        teeth, at, PITCH_MM, (cut.front_deg, cut.back_deg), width, height, side=page_of(lesson).side, ascii=ascii
    )
