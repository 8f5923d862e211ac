"""How words share their room: the panel with its picture and whole sentences, and rows cut to whole words."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from session.pictures.ascii_signs import drawn
from session.pictures.chooser import LEAST_ROWS, crossing, picture
from session.pictures.picture_rows import Role, Row, Rows, Run, centered, padded
from session.pictures.picture_rows import beside as side_by_side
from session.pictures.set_pictures import further
from session.pictures.undrawn_picture import NO_PICTURE
from session.sentences.moment import Moment
from session.sentences.saying import Saying
from session.value_class import dataclass
from session.walk.front_question import Ask

#: How a row of ticks begins, drawn either way.
_TICKS: Final = ("■ ", "◆ ", "· ", "# ", "@ ", ". ")

#: The space between such a sign and the item that it ticks off.
_AFTER_SIGN: Final = re.compile(r"(?<=[■◆·#@.]) ")

#: The space between a number and its unit.
_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(?:in|mm|cm|thou|min)\b)")

#: From this width on the picture of a named step stands beside its words; its most cells; cells between the two.
_BESIDE_FROM: Final = 58
_WIDEST: Final = 76
_APART: Final = 2

#: Least rows of a picture that has a page of its own.
_ON_ITS_OWN: Final = 10

#: So many choices are a long list.
_LONG: Final = 5

#: Between the parts of a row.
_BETWEEN: Final = " │ "
_DOT: Final = " · "


@dataclass(frozen=True, slots=True)
class Panel:
    """The panel at one moment in one room: its pages, each exactly as large as the room."""

    pages: tuple[Rows, ...]

    def page(self, number: int) -> Rows:
        """Page ``number`` from 0 on; after the last comes the first again."""
        return self.pages[number % len(self.pages)] if self.pages else ()


def panel(at: Moment, width: int, height: int, *, ascii: bool = False, turns: tuple[str, str] = ("", "")) -> Panel:
    """The panel for this moment, each page exactly ``width`` × ``height`` cells.

    What is asked always stands whole: for a caution or a turn the words come first and the picture takes what is left;
    how a guide is made waits a page for the picture. At work the picture comes first. Sentences that do not fit stand
    on further pages, and the last row says which of how many it is and, as ``turns``, what turns them: to the next, and
    from the last to the first.
    """
    if width < 1 or height < 1:
        return Panel(())
    wide = _beside(at, width)
    whole = _pages(at, width, height, ascii, turns)
    if not wide or not picture(at, wide, height - 1, ascii=ascii).rows:
        return Panel(whole)
    words = _pages(at, width - wide - _APART, height, ascii, turns, alone=True)
    if len(words) > len(whole) + 1:
        # For one page more of words a picture is worth it, and not for two.
        return Panel(whole)
    room = height - 1 - (len(words) > 1)
    shown = ((), *centered(picture(at, wide, room, ascii=ascii).draw(), wide, room))
    return Panel(tuple(side_by_side(page, shown, _APART) for page in words))


def _beside(at: Moment, width: int) -> int:
    """Cells that the picture of a named step has beside the words; 0 where it stands under them, or there is none."""
    if at.front.ask is not Ask.WORK or at.place is None or not at.place.step or at.place.tooth or width < _BESIDE_FROM:
        return 0
    return min(_WIDEST, width * 9 // 20)


def _pages(
    at: Moment, width: int, height: int, ascii: bool, turns: tuple[str, str], *, alone: bool = False
) -> tuple[Rows, ...]:
    """The pages with their picture above or below the words; ``alone``: the words without it."""
    saying = at.said
    choices = _choices(saying.choices, width)
    must = saying.ask is not Ask.WORK or bool(saying.choices) or not saying.counted
    # What can be picked must be seen; words about it give way.
    sentences = [_sentence(text, ascii) for text in (*choices, *saying.lines)]
    room = height - 1
    wrapped = [_wrapped(sentence, width) for sentence in sentences]
    needed = sum(map(len, wrapped[: saying.first])) + (len(wrapped) > saying.first)
    # What is needed at every glance leaves the picture its least rows, with an empty one between them.
    least = needed if must else min(needed, room - LEAST_ROWS - 1)
    shared = not must or saying.first > 0
    beside = max(2, room - _picture_rows(at, width, room, ascii), least) if shared else room
    texts = _paged(wrapped, beside, room)
    if len(texts) > 1 and not alone and not _whole(at, width, room - len(texts[0]) - 2, ascii):
        texts.insert(1, ())
    pages = []
    for number, text in enumerate(texts, 1):
        turn = turns[number == len(texts)]
        foot: Rows = ((Run(f"{number} of {len(texts)}{f'   {turn}' if turn else ''}", Role.LABEL),),)
        foot = foot if len(texts) > 1 else ()
        left = room - len(text) - len(foot)
        drawn_here = not alone and (must or number == 1)
        # A picture of the least rows needs the empty one more than the words do.
        apart = bool(text) and left > LEAST_ROWS + 1
        chosen = picture(at, width, left - apart, ascii=ascii) if drawn_here else NO_PICTURE
        if not text and number > 1:
            chosen = further(at, width, left, ascii=ascii)
        shown = chosen.draw()
        title: Rows = (_title(at, width, chosen.rows, ascii),)
        gap: Rows = ((),) if shown and text and len(shown) < left else ()
        rows = (*title, *text, *gap, *shown) if must else (*title, *shown, *gap, *text)
        pages.append((*padded(rows, width, height - len(foot)), *padded(foot, width, len(foot))))
    return tuple(pages)


def _sentence(text: str, ascii: bool) -> str:
    """A sentence as it is drawn; in ASCII an item not done yet has the sign of a place not done yet, as in the line."""
    if ascii and text.startswith(_TICKS):
        text = text.replace("· ", ". ")
    return drawn(text, ascii_only=ascii)


def _whole(at: Moment, width: int, height: int, ascii: bool) -> bool:
    """Whether page 1 draws all there is in ``height`` rows: else the rest has a page of its own."""
    rest = further(at, width, max(height, _ON_ITS_OWN), ascii=ascii)
    return not rest.rows or picture(at, width, height, ascii=ascii).rows > LEAST_ROWS


def _choices(choices: Sequence[str], width: int) -> list[str]:
    """What is picked by digit, a row each; a long list two abreast, where both stand whole."""
    rows = [f" {number}  {choice}" for number, choice in enumerate(choices, 1)]
    half = width // 2
    if len(rows) < _LONG or any("  " in choice for choice in choices):
        return rows
    abreast: list[str] = []
    while rows:
        one = rows.pop(0)
        if rows and len(one) < half and len(rows[0]) <= width - half:
            one = f"{one:<{half}}{rows.pop(0)}"
        abreast.append(one)
    return abreast


def _title(at: Moment, width: int, picture_rows: int, ascii: bool) -> Row:
    """The title, and how the file crosses the plate at the right edge where no picture tells it and both fit."""
    saying = at.said
    ways = crossing(at, width, picture_rows, ascii=ascii) or ("",)
    titles = [drawn(words, ascii_only=ascii) for words in (saying.title, *_shorter(saying.angles)) if words] or [""]
    # The whole title before the longest way, but any way before the whole title: it stands nowhere else.
    fits = ((words, way) for words in titles for way in ways if len(words) + bool(way) * (1 + len(way)) <= width)
    words, across = next(fits, (titles[-1][:width], ""))
    title = Run(words, Role.FLAG if saying.signal else Role.STRONG)
    return (title, Run(across.rjust(width - len(words)), Role.PLAIN)) if across else (title,)


def _shorter(angles: str) -> tuple[str, ...]:
    """The angles, and the same with one sign for both: in ASCII it is a word, and the way of the file has to fit."""
    return (angles, angles.replace("°", "", 1)) if angles.count("°") > 1 else (angles,)


def _picture_rows(at: Moment, width: int, room: int, ascii: bool) -> int:
    """Rows kept free for the picture: most of the room at work, so that it is larger where there is more."""
    wanted = picture(at, width, room, ascii=ascii).rows
    return min(wanted + 1, max(LEAST_ROWS + 1, room * 2 // 3)) if wanted else 0


@lru_cache(maxsize=256)
def _wrapped(sentence: str, width: int) -> Rows:
    """The rows of one sentence; most of them stay from one place to the next."""
    indent = " " * (len(sentence) - len(sentence.lstrip()) + (2 if sentence[:2] in _TICKS else 0))
    # A number stays with its unit, a sign with the item that it ticks off: where words are wrapped this space is none.
    whole = _BEFORE_UNIT.sub("\N{NO-BREAK SPACE}", sentence)
    whole = _AFTER_SIGN.sub("\N{NO-BREAK SPACE}", whole) if sentence[:2] in _TICKS else whole
    lines = textwrap.wrap(whole, width, subsequent_indent=indent, drop_whitespace=True) or [""]
    return tuple((Run(line.replace("\N{NO-BREAK SPACE}", " "), Role.PLAIN),) for line in lines)


def _paged(sentences: Sequence[Rows], first: int, others: int) -> list[Rows]:
    """The sentences on pages of so many rows, first ones first; a half sentence at a vise misleads.

    Where they need more than one page, each page leaves a row for its number.
    """
    if sum(map(len, sentences)) <= first:
        return [tuple(row for rows in sentences for row in rows)]
    pages: list[list[Rows]] = [[]]
    for number, rows in enumerate(sentences):
        room = (first if len(pages) == 1 else others) - 1
        # The head of a list does not stand without any of it.
        head = rows[-1][0].text.endswith(":") and number + 1 < len(sentences)
        wanted = len(rows) + (len(sentences[number + 1]) if head else 0)
        if sum(map(len, pages[-1])) + wanted > room and (pages[-1] or len(pages) == 1):
            pages.append([])
        pages[-1].append(rows)
    return [tuple(row for rows in page for row in rows) for page in pages]


def places_row(saying: Saying, width: int) -> str:
    """Where one is, in ``width`` cells: the place before, in hand and next, and how much is done.

    The place in hand, the next and done of total always stand whole (bench rule 4). What comes after them
    gives way first, then the end of what was done before, which may be a long reason; the time left is
    shown only where there is room to spare.
    """
    must = [part for part in (f"NOW {saying.now}", f"next {saying.next}", saying.share) if part]
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
