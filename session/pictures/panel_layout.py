"""How words share their room: the panel with its picture and whole sentences, and rows cut to whole words."""

from __future__ import annotations

import textwrap
from typing import Final

from session.pictures.ascii_signs import drawn
from session.pictures.chooser import LEAST_ROWS, NO_PICTURE, crossing, picture
from session.pictures.picture_rows import Role, Row, Rows, Run, centered, padded
from session.pictures.picture_rows import beside as side_by_side
from session.sentences.moment import Moment
from session.sentences.saying import Saying
from session.walk.front_question import Ask

#: How a row of ticks begins, drawn either way.
_TICKS: Final = ("■ ", "◆ ", "· ", "# ", "@ ", "- ")

#: From this width on the picture of a named step stands beside its words; its most cells; cells between the two.
_BESIDE_FROM: Final = 58
_WIDEST: Final = 76
_APART: Final = 2

#: Between the parts of a row.
_BETWEEN: Final = " │ "
_DOT: Final = " · "


def panel_rows(at: Moment, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The panel for this moment, exactly ``width`` × ``height`` cells.

    What is asked always stands whole: for a caution or a turn the words come first and the picture takes
    what is left. At work the picture comes first, and sentences that do not fit are left to the help.
    """
    if width < 1 or height < 1:
        return ()
    wide = _beside(at, width)
    if not wide:
        return _panel(at, width, height, ascii)
    words = _panel(at, width - wide - _APART, height, ascii, alone=True)
    drawn = centered(picture(at, wide, height - 1, ascii=ascii).draw(), wide, height - 1)
    return side_by_side(words, ((), *drawn), _APART)


def _beside(at: Moment, width: int) -> int:
    """Cells that the picture of a named step has beside the words; 0 where it stands under them, or there is none."""
    if at.front.ask is not Ask.WORK or at.place is None or not at.place.step or at.place.tooth or width < _BESIDE_FROM:
        return 0
    return min(_WIDEST, width * 9 // 20)


def _panel(at: Moment, width: int, height: int, ascii: bool, *, alone: bool = False) -> Rows:
    """The panel with its picture above or below the words; ``alone``: the words without it."""
    saying = at.said
    choices = [f" {number}  {choice}" for number, choice in enumerate(saying.choices, 1)]
    must = saying.ask is not Ask.WORK or bool(saying.choices) or saying.total <= 7
    # What can be picked must be seen; words about it give way.
    sentences = [drawn(text, ascii_only=ascii) for text in (*choices, *saying.lines)]
    room = height - 1
    # A list that is cut says so; words beside a picture are no list.
    rest = "The rest is under help." if must else ""
    beside = room if must else max(2, room - _picture_rows(at, width, room, ascii))
    text = _wrapped(sentences, width, beside, rest)
    chosen = NO_PICTURE if alone else picture(at, width, room - len(text) - (1 if text else 0), ascii=ascii)
    shown = chosen.draw()
    title: Rows = (_title(at, width, chosen.rows, ascii),)
    gap: Rows = ((),) if shown and text and len(title) + len(shown) + len(text) < height else ()
    rows = (*title, *text, *gap, *shown) if must else (*title, *shown, *gap, *text)
    return padded(rows, width, height)


def _title(at: Moment, width: int, picture_rows: int, ascii: bool) -> Row:
    """The title, and how the file crosses the plate at the right edge where no picture tells it and both fit."""
    saying = at.said
    ways = crossing(at, width, picture_rows, ascii=ascii) or ("",)
    titles = [drawn(words, ascii_only=ascii) for words in (saying.title, saying.angles) if words] or [""]
    # The whole title before the longest way, but any way before the whole title: it stands nowhere else.
    fits = ((words, way) for words in titles for way in ways if len(words) + bool(way) * (1 + len(way)) <= width)
    words, across = next(fits, (titles[-1][:width], ""))
    title = Run(words, Role.FLAG if saying.signal else Role.STRONG)
    return (title, Run(across.rjust(width - len(words)), Role.PLAIN)) if across else (title,)


def _picture_rows(at: Moment, width: int, room: int, ascii: bool) -> int:
    """Rows kept free for the picture: most of the room at work, so that it is larger where there is more."""
    wanted = picture(at, width, room, ascii=ascii).rows
    return min(wanted + 1, max(LEAST_ROWS + 1, room * 2 // 3)) if wanted else 0


def _wrapped(sentences: list[str], width: int, room: int, rest: str = "") -> Rows:
    """Whole sentences only, first ones first; a half sentence at a vise misleads.

    rest: what is said in the last row when not all of them fit.
    """
    kept: list[Rows] = []
    for sentence in sentences:
        indent = " " * (len(sentence) - len(sentence.lstrip()) + (2 if sentence[:2] in _TICKS else 0))
        lines = textwrap.wrap(sentence, width, subsequent_indent=indent, drop_whitespace=True) or [""]
        kept.append(tuple((Run(line, Role.PLAIN),) for line in lines))
        if sum(map(len, kept)) > room:
            # Nor is the head of a list left without any of it.
            while kept and (sum(map(len, kept)) > room - bool(rest) or kept[-1][-1][0].text.endswith(":")):
                kept.pop()
            kept += [((Run(rest, Role.LABEL),),)] if rest and room else []
            break
    return tuple(row for rows in kept for row in rows)


def places_row(saying: Saying, width: int) -> str:
    """Where one is, in ``width`` cells: the place before, in hand and next, and how much is done.

    The place in hand, the next and done of total always stand whole (bench rule 4). What comes after them
    gives way first, then the end of what was done before, which may be a long reason; the time left is
    shown only where there is room to spare.
    """
    share = f"{saying.done} of {saying.total} done" if saying.total else ""
    must = [part for part in (f"NOW {saying.now}", f"next {saying.next}", share) if part]
    room = width - len(_BETWEEN.join(must)) - len(_BETWEEN)
    before = saying.previous if len(saying.previous) <= room else f"{saying.previous[: max(0, room - 1)]}…"
    if saying.ahead and len(before) + len(_BETWEEN) + len(saying.ahead) <= room:
        must.insert(2, saying.ahead)
    row = _BETWEEN.join([before, *must])
    if saying.left and len(row) + len(_BETWEEN) + len(saying.left) <= width:
        row += _BETWEEN + saying.left
    return row


def whole_parts(text: str, width: int) -> str:
    """As many of the parts of ``text`` between dots as stand whole in ``width`` cells, and always the first."""
    kept, *others = text.split(_DOT)
    for part in others:
        if len(kept) + len(_DOT) + len(part) > width:
            break
        kept += _DOT + part
    return kept
