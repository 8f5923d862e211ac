"""The far view: the work in hand in numerals and letters that fill the window, to be read from two meters."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Final

from session.pictures.ascii_signs import drawn
from session.pictures.large_letters import arrow, plate, pointed, spelled
from session.pictures.numerals import SIZES, numeral, numeral_width
from session.pictures.picture_rows import PictureError, Role, Row, Rows, Run, beside, centered, padded, plain, width
from session.sentences.glance import Glance, Push
from session.value_class import dataclass

#: Cells between the number and what stands beside it.
_GAP: Final = 3

#: Sizes of the letters tried, largest first: cells of a point.
_FACTORS: Final = (3, 2, 1)

#: The most of the window's width that may go to what stands beside the number, where the letters can be smaller.
_BESIDE: Final = 0.46

#: Cells kept for what stands beside the number, for each cell of a point, so that the number keeps its place and size
#: whether there is a lean to tell or not.
_STEADY: Final = 44

#: So many of the columns that can stand beside the number have all of it in letters.
_WHOLE: Final = 3

#: So many of them have the side as a plate.
_SIDED: Final = 4

#: Characters by which two lines of letters may differ.
_UNEVEN: Final = 4

#: Where the row of words has no room for what else is said of a gullet.
_MORE: Final = "More: read near."

#: The way of the hand as signs in a row of words, and in ASCII; few fonts have slanting arrows, and of two signs the
#: second would be read as one more push.
_SIGNS: Final = {
    Push.AWAY: ("↑", "^"),
    Push.TO_LEFT: ("↑", "^"),
    Push.TO_RIGHT: ("↑", "^"),
    Push.LEFT: ("←", "<"),
    Push.RIGHT: ("→", ">"),
}

#: To which hand the tip of a file that crosses the plate aslant is turned.
_TIPS: Final = {Push.TO_LEFT: ("◀", "<"), Push.TO_RIGHT: ("▶", ">")}


def far_rows(
    told: Glance, handle: str, room_width: int, room_height: int, *, ascii: bool = False, left_s: int | None = None
) -> Rows:
    """The far view in exactly so many cells and rows.

    handle: "right" or "left", where the handle is; the side stands at that edge, cut out of a plate that points there.
    left_s: seconds until the timer marks the place; None while no countdown runs.
    """
    if room_width < 1 or room_height < 1:
        return ()
    column, foot, factor = _around(told, handle, room_width, room_height, ascii, left_s)
    tools = tuple(drawn(tool, ascii_only=ascii) for tool in told.tool)
    row = _besides((*_way_left_out(told, column, ascii), *told.also), tools, room_width)
    besides = ((Run(row, Role.STRONG),),) if row else ((),)
    high = room_height - len(foot) - 1
    column = padded(column, max(width(column), min(_STEADY * factor, room_width // 2)), high)
    number = _number(told, factor, room_width - width(column) - _GAP, high, ascii)
    upper = beside(*((number, column) if handle == "right" else (column, number)), gap=_GAP)
    return padded((*upper, *centered(besides, room_width), *foot), room_width, room_height)


def _way_left_out(told: Glance, column: Rows, ascii: bool) -> tuple[str, ...]:
    """The way of the hand as a sentence, where there was room for the lean alone."""
    if told.lean_way is None or not told.pushes or any(told.pushes in line for line in plain(column)):
        return ()
    return (f"{_pushed(told, ascii)}.",)


def _pushed(told: Glance, ascii: bool) -> str:
    """The way of the hand in words with its sign before it, and behind it to which hand the tip is turned."""
    tip = _TIPS.get(told.push, ("", ""))[ascii]
    return f"{_SIGNS[told.push][ascii]} {told.pushes}{tip and f' {tip}'}"


def _besides(sentences: Sequence[str], tools: Sequence[str], room_width: int) -> str:
    """What is to be done here besides, in one row of words; where not all of it fits, that there is more.

    The tool, which is in the hands already, is named with how it is held as far as there is room for it as well.
    """
    for tool in (*tools, ""):
        whole = " ".join([*sentences, *([tool] if tool else [])])
        if len(whole) <= room_width:
            return whole
    for count in range(len(sentences), 0, -1):
        told = " ".join([*sentences[:count], *([_MORE] if count < len(sentences) else [])])
        if len(told) <= room_width:
            return told
    return _MORE[:room_width] if sentences else ""


def _around(
    told: Glance, handle: str, room_width: int, room_height: int, ascii: bool, left_s: int | None
) -> tuple[Rows, Rows, int]:
    """What stands beside the number and under it, and the size of their letters: the largest that leave it most room.

    What has no room in letters stands in a row of words, first how to stop, then the way of the hand.
    """
    for factor in _FACTORS:
        draw = _Letters(factor, ascii)
        least = factor == _FACTORS[-1]
        columns = _columns(told, handle, draw, left_s)
        # Larger letters only where all of it has room in them.
        feet = tuple(_feet(told.stop, draw, room_width, lines=2 if least else 1))
        tried = tuple(columns if least else islice(columns, _WHOLE))
        # When to stop in letters before all else beside the side and the count; only then in words.
        pairs = [(column, foot) for column in tried[:_SIDED] for foot in feet if len(foot) > 1]
        pairs += [(column, foot) for column in tried for foot in feet] if least else []
        for column, foot in pairs:
            fits = len(column) + 1 + len(foot) <= room_height
            small = max(width(column), _STEADY * factor) <= _BESIDE * room_width
            if fits and (small or least):
                return column, foot, factor
    return (), next(iter(_feet(told.stop[-1:], _Letters(1, ascii), 1))), 1


def _number(told: Glance, factor: int, room_width: int, room_height: int, ascii: bool) -> Rows:
    """The number as large as fits, with what it counts under it: "gullet" in letters, else in a row of words."""
    digits = len(str(told.of))
    of = f"{told.kind} of {told.of}{' points' * bool(told.between)}"
    base, times = _largest(digits, room_width, room_height - 1)
    big = _magnified(str(told.number), base, times, ascii) if base else ((Run(str(told.number), Role.NUMERAL),),)
    label = pointed(spelled(told.kind), Role.STRONG, factor=factor, ascii=ascii)
    if len(big) + 1 + len(label) > room_height or width(label) > room_width:
        label = ((Run(of, Role.STRONG),),)
    gap: Rows = ((),) if len(big) + len(label) < room_height else ()
    group = (*centered(big, room_width), *gap, *centered(label, room_width))
    over = (room_height - len(group)) // 2
    return padded((*((),) * over, *group), room_width, room_height)


def _largest(digits: int, room_width: int, room_height: int) -> tuple[int, int]:
    """Table and magnification of the highest numerals in which any number of so many digits fits; 0, 0 for none."""
    sizes = [
        (base * times, base, times)
        for base in SIZES
        for times in range(1, room_height // base + 1)
        if times * numeral_width("0" * digits, base) <= room_width
    ]
    _, base, times = max(sizes, default=(0, 0, 0))
    return base, times


def _magnified(text: str, base: int, times: int, ascii: bool) -> Rows:
    """``text`` in numerals of ``base`` rows, each cell ``times`` cells wide and high."""
    return tuple(
        tuple(Run("".join(cell * times for cell in run.text), run.role) for run in row)
        for row in numeral(text, base, ascii=ascii)
        for _ in range(times)
    )


@dataclass(frozen=True)
class _Letters:
    """Draws words in letters of one size."""

    factor: int
    ascii: bool

    def __call__(self, points: list[str], role: Role = Role.STRONG) -> Rows:
        return pointed(points, role, factor=self.factor, ascii=self.ascii)


def _columns(told: Glance, handle: str, draw: _Letters, left_s: int | None) -> Iterator[Rows]:
    """What stands beside the number, the most first: side, countdown, strokes, which way, what was counted before."""
    side: list[Rows] = []
    plated: list[Rows] = []
    if told.side:
        # Not in the color of the number either.
        plated.append(draw(plate(f"side {told.side}", handle), Role.HANDLE))
        side.append(draw(spelled(f"side {told.side}"), Role.HANDLE))
    counts: list[Rows] = []
    if left_s is not None:
        counts.append(draw(spelled(f"in {left_s} s"), Role.FLAG))
    if told.strokes:
        counts.append(draw(spelled(f"{told.strokes} stroke{'s' * (told.strokes != 1)}")))
    elif told.light:
        counts.append(draw(spelled("light")))
    way, beside_lean, row = _way(told, draw)
    in_words = [row] if row else []
    last = [] if told.counted is None else [_before(told.counted, told.kind, draw)]
    yield _joined([*plated, *counts, *way, *beside_lean, *last])
    yield _joined([*plated, *counts, *way, *beside_lean])
    yield _joined([*plated, *counts, *way])
    yield _joined([*plated, *counts, *in_words])
    yield _joined([*side, *counts, *in_words])
    yield _joined([*counts, *in_words])


def _before(counted: int, kind: str, draw: _Letters) -> Rows:
    """How many strokes the place before got, in letters, and beside them what is counted, in words."""
    words = f"{'stroke' if counted == 1 else 'strokes'} in the {kind} before"
    text: Rows = ((), (Run(words, Role.LABEL),))
    return beside(draw(spelled(f"last {counted}"), Role.LABEL), padded(text, len(words)), gap=2)


def _way(told: Glance, draw: _Letters) -> tuple[list[Rows], list[Rows], Rows]:
    """The lean in letters with an arrow to where it goes, else the way of the hand; the way of the hand beside a lean;
    and both as a row of words."""
    if not told.pushes:
        return [], [], ()
    text = ((Run(told.pushes, Role.STRONG),),)
    push = beside(draw(arrow(told.push), Role.ARROW), padded(((), *text), len(told.pushes)), gap=2)
    said = _pushed(told, draw.ascii)
    if told.lean_way is None:
        return [push], [], ((Run(said, Role.STRONG),),)
    way, lean = draw(arrow(told.lean_way), Role.ARROW), draw(spelled(_short(told.lean)))
    parts = (way, lean) if told.lean_way is Push.LEFT else (lean, way)
    both = f"{_SIGNS[told.lean_way][draw.ascii]} {told.lean}, {said}"
    return [beside(*parts)], [push], ((Run(both, Role.STRONG),),)


def _short(lean: str) -> str:
    return lean.replace(" to the ", " ").replace("keep off tooth", "off")


def _joined(parts: Sequence[Rows]) -> Rows:
    """One under the other, a row between."""
    rows: list[Row] = []
    for part in parts:
        rows += [*([()] if rows else []), *part]
    return tuple(rows)


def _feet(texts: Sequence[str], draw: _Letters, room_width: int, *, lines: int = 1) -> Iterator[Rows]:
    """When to stop, the largest first: the longest words that fit a line of letters, more ``lines``, a row of words."""
    for number in range(1, lines + 1):
        for text in texts:
            if rows := _lines(text, number, draw, room_width):
                yield rows
                break
    yield centered(((Run(texts[0][:room_width], Role.STRONG),),), room_width)


def _lines(text: str, lines: int, draw: _Letters, room_width: int) -> Rows:
    """``text`` in so many lines of large letters; empty where a line would be too wide."""
    parts = textwrap.wrap(text, -(-len(text) // lines) + _UNEVEN) if lines > 1 else [text]
    try:
        drawn = [draw(spelled(part)) for part in parts]
    except PictureError:
        return ()
    return (
        () if any(width(one) > room_width for one in drawn) else _joined([centered(one, room_width) for one in drawn])
    )
