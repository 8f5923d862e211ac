"""Pictures at a tooth that is bent: which teeth lean away, and the tooth under the saw set, in section."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from session.pictures.bent_tooth import setting
from session.pictures.from_above import leaning
from session.pictures.picture_rows import Rows, centered
from session.pictures.undrawn_picture import NO_PICTURE, Picture
from session.sentences.moment import Moment
from session.trade.saw import Saw
from session.trade.tooth import tooth_of
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import Stage

#: Rows of the view that tells only which teeth lean away.
LEANING_ROWS: Final = 5

#: Least rows of a tooth in section.
_LEAST_SET: Final = 7


def set_picture(at: Moment, place: Place, width: int, height: int, ascii: bool) -> Picture:
    """The tooth under the saw set, in section, and over it which teeth lean away, where there is room for both."""
    lean = Picture(LEANING_ROWS, partial(leaning_picture, at, place.tooth, at.state.side, width, ascii))
    if height < _LEAST_SET or not _bent(at.saw):
        return lean
    under = height - LEANING_ROWS - 1
    rows = min(under, 20) if under >= _LEAST_SET else min(height, 12)
    section = _section(at, place, width, rows, ascii)
    if under < _LEAST_SET:
        return Picture(rows, section)
    return Picture(LEANING_ROWS + 1 + rows, lambda: (*lean.draw(), (), *section()))


def _bent(saw: Saw) -> bool:
    """Whether the recipe says how far a point is bent."""
    return saw.set_per_side is not None and saw.set_per_side.mm > 0


def _section(at: Moment, place: Place, width: int, rows: int, ascii: bool) -> Callable[[], Rows]:
    """Draws the tooth under the saw set, in section; its labels belong beside it, not at the edges of a wide room."""
    saw, room = at.saw, min(width, max(48, 4 * rows))
    set_mm = saw.set_per_side.mm if saw.set_per_side is not None else 0.0

    def section() -> Rows:
        deep_mm = tooth_of(saw.at(place.tooth)).depth_mm
        return centered(setting(deep_mm, saw.plate.mm, set_mm, saw.bent_share, room, rows, ascii=ascii), width)

    return section


def leaning_picture(at: Moment, tooth: int, side: int, width: int, ascii: bool) -> Rows:
    stumps, rows = at.state.stumps, LEANING_ROWS
    return leaning(tooth, at.saw.points, side=side, away=at.away, stumps=stumps, width=width, height=rows, ascii=ascii)


def further(at: Moment, width: int, height: int, *, ascii: bool) -> Picture:
    """What a page of its own shows where page 1 had room for less: the tooth under the saw set, in section."""
    now, place = at.front, at.place
    sets = now.ask is Ask.WORK and place is not None and place.stage is Stage.SET and place.tooth > 0
    if place is None or not sets or height < _LEAST_SET or not _bent(at.saw):
        return NO_PICTURE
    return Picture(height, _section(at, place, width, height, ascii))
