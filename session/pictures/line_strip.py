"""The whole tooth line from heel to toe as a strip of one to three rows, as the person sees the saw.

On side 1 the handle, and so the heel, is on the right; on side 2 on the left. A long line has several
teeth in a cell. Then the cell never claims more than is true: it is done when all its places are done,
and the place in hand and one left out show however many others share the cell.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from typing import Final

from session.pictures.picture_rows import PictureError, Role, Row, Rows, check_room, first_that_fits, words
from session.pictures.sheet import Sheet
from session.value_class import dataclass
from session.walk.known_teeth import NONE_KNOWN, Known, KnownTeeth
from session.walk.place import Standing

#: A tooth's place in the pass now worked, or None when the pass has no place at that tooth.
PlaceState = Standing | None


@dataclass(frozen=True, slots=True)
class Glyphs:
    """The characters of a strip; ``both`` is a cell with the place in hand and one left out, ``other`` one whose teeth
    have no place in the stage and side in hand."""

    ahead: str
    now: str
    done: str
    left_out: str
    both: str
    flag: str
    reach: str
    here: str
    handle: str
    stump: str
    other: str
    low: str = "L"
    high: str = "H"

    def of(self, known: Known) -> str:
        """The sign over a tooth that is known to be so."""
        return {Known.BROKEN: self.stump, Known.LOW: self.low, Known.HIGH: self.high}[known]


GLYPHS: Final = Glyphs("·", "◆", "■", "×", "◊", "!", "│", "▼", "▐█▌", "▂", "─")
ASCII_GLYPHS: Final = Glyphs(".", "@", "#", "x", "&", "!", "|", "v", "[=]", "_", "-")

#: What a tooth is that has no place in the stage and side in hand.
OTHER_SIDE: Final = "other side"

_LONGEST: Final = 100_000
_WORDS_FROM: Final = 24


@dataclass(frozen=True, slots=True)
class StripLayout:
    """Where everything of a line stands in a row of so many cells.

    heel_left: on side 2. before, after: what stands left and right of the teeth. start, room: the first cell of the
    teeth and how many they have. places: the cell of each tooth counted from the heel. breaks: cells between reaches.
    shared: each cell that has teeth, and which.
    """

    heel_left: bool
    before: str
    after: str
    start: int
    room: int
    places: Sequence[int]
    breaks: Sequence[int]
    shared: Sequence[tuple[int, range]]

    def column(self, cell: int) -> int:
        """The column of a cell that is counted from the heel."""
        return self.start + (cell if self.heel_left else self.room - 1 - cell)


def lay_out(
    teeth: int, reaches: Sequence[tuple[int, int]], side: int, width: int, *, ascii: bool = False
) -> StripLayout:
    """A line of so many teeth laid out in ``width`` cells, as ``strip`` draws it."""
    heel_left = side == 2
    before, after = _ends(width, heel_left, ASCII_GLYPHS if ascii else GLYPHS)
    whole = max(1, width - len(before) - len(after))
    # Few teeth stand at one even step, so that the eye can count along them; what is left over lies past the toe.
    room = _even_room(teeth, reaches, whole)
    start = len(before) if heel_left else len(before) + whole - room
    return StripLayout(heel_left, before, after, start, room, *_places(teeth, tuple(reaches), room))


def strip(
    states: Sequence[PlaceState],
    here: int | None,
    reaches: Sequence[tuple[int, int]],
    side: int,
    width: int,
    *,
    height: int = 3,
    flags: Collection[int] = (),
    known: KnownTeeth = NONE_KNOWN,
    ascii: bool = False,
) -> Rows:
    """The strip of a line of ``len(states)`` teeth, the first one at the heel.

    here: the tooth in hand, 1 … N, or None. reaches: [first, last] teeth that the vise holds at once.
    side: 1 handle on the right, 2 on the left, 0 as 1. flags: teeth with a flag. known: broken, low and high teeth.
    height: 1 the line alone; 2 with the place in hand, flags and what is known of teeth above it; 3 with tooth numbers
    below. Of one cell the flag is shown before the place in hand, and that before what is known.
    Raises PictureError for an empty line, a tooth outside it, and an impossible side or room.
    """
    check_room(width, height)
    teeth = len(states)
    if not 1 <= teeth <= _LONGEST:
        raise PictureError(f"a line of {teeth} teeth: allowed are 1 to {_LONGEST}")
    if here is not None and not 1 <= here <= teeth:
        raise PictureError(f"tooth {here} in hand: allowed are 1 to {teeth}")
    if side not in (0, 1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
    glyphs = ASCII_GLYPHS if ascii else GLYPHS
    laid = lay_out(teeth, reaches, side, width, ascii=ascii)
    column = laid.column
    sheet = Sheet(width, min(3, height))
    line_row = 0 if sheet.height == 1 else 1
    sheet.put(laid.start - len(laid.before), line_row, laid.before, Role.HANDLE if laid.heel_left else Role.LABEL)
    sheet.put(laid.start + laid.room, line_row, laid.after, Role.LABEL if laid.heel_left else Role.HANDLE)
    for cell in laid.breaks:
        sheet.put(column(cell), line_row, glyphs.reach, Role.REACH)
    anything_known = bool(known.kinds)
    for cell, members in laid.shared:
        char, role = _cell(members, states, here, glyphs)
        flagged = bool(flags) and any(tooth in flags for tooth in members)
        if line_row == 0 and flagged and role not in (Role.NOW, Role.LEFT_OUT):
            char, role = glyphs.flag, Role.FLAG
        sheet.put(column(cell), line_row, char, role)
        if line_row == 1:
            if flagged:
                sheet.put(column(cell), 0, glyphs.flag, Role.FLAG)
            elif role is Role.NOW:
                sheet.put(column(cell), 0, glyphs.here, Role.NOW)
            elif anything_known and (sign := _known_in(members, known)) is not None:
                sheet.put(column(cell), 0, glyphs.of(sign), Role.LEFT_OUT if sign is Known.BROKEN else Role.LABEL)
    if sheet.height == 3:
        _numbers(sheet, laid, here, [first for first, _ in reaches])
    return sheet.rows()


def legend(width: int, *, of_a_side: bool = False, kinds: Collection[Known] = tuple(Known), ascii: bool = False) -> Row:
    """One row that says what the strip's characters mean, shorter where the room is small.

    of_a_side: teeth of the other side are on the line. kinds: what is known of teeth on it.
    """
    g = ASCII_GLYPHS if ascii else GLYPHS
    states = f"{g.ahead} not yet  {g.now} in hand  {g.done} done  {g.left_out} left out"
    states += f"  {g.other} {OTHER_SIDE}" if of_a_side else ""
    full = f"{states}  {g.both} both  {g.flag} flag  {g.reach} shift the saw"
    whole = "  ".join((full, *(f"{g.of(kind)} {kind}" for kind in Known if kind in kinds)))
    return words(first_that_fits(width, (whole, full, states)), width)


def known_legend(kinds: Collection[Known], width: int, *, ascii: bool = False) -> Row:
    """One row that says what the signs over the teeth mean, of those ``kinds`` alone."""
    g = ASCII_GLYPHS if ascii else GLYPHS
    return words("  ".join(f"{g.of(kind)} {kind}" for kind in Known if kind in kinds), width)


def _known_in(members: Sequence[int], known: KnownTeeth) -> Known | None:
    """What is shown of the teeth that share a cell: a broken one before a low one, that before a high one."""
    found = {known.of(tooth) for tooth in members}
    return next((kind for kind in Known if kind in found), None)


def _cell(members: range, states: Sequence[PlaceState], here: int | None, glyphs: Glyphs) -> tuple[str, Role]:
    found = set(states[members.start - 1 : members.stop - 1])
    in_hand = here in members or Standing.IN_HAND in found
    if in_hand:
        return (glyphs.both if Standing.LEFT_OUT in found else glyphs.now), Role.NOW
    if Standing.LEFT_OUT in found:
        return glyphs.left_out, Role.LEFT_OUT
    if Standing.AHEAD in found:
        return glyphs.ahead, Role.AHEAD
    if Standing.DONE in found:
        return glyphs.done, Role.DONE
    # Weaker than what is still to do.
    return glyphs.other, Role.OTHER


def _ends(width: int, heel_left: bool, glyphs: Glyphs) -> tuple[str, str]:
    """What stands left and right of the teeth: the toe, and the handle at the heel."""
    if width >= _WORDS_FROM:
        return (f"heel {glyphs.handle} ", " toe") if heel_left else ("toe ", f" {glyphs.handle} heel")
    if width >= 6:
        return (f"{glyphs.handle} ", "") if heel_left else ("", f" {glyphs.handle}")
    return "", ""


def _even_room(teeth: int, reaches: Sequence[tuple[int, int]], room: int) -> int:
    """The most cells up to ``room`` in which each tooth takes the same number; ``room`` when a cell is shared."""
    breaks = len(_ends_of(teeth, reaches, room))
    step = (room - breaks) // teeth
    return teeth * step + breaks if step else room


def _ends_of(teeth: int, reaches: Sequence[tuple[int, int]], room: int) -> list[int]:
    """The last teeth of the reaches but the last one; none where there is no room to show breaks."""
    ends = sorted({last for _, last in reaches if 0 < last < teeth})
    return ends if (len(ends) + 1) * 4 <= room else []


@lru_cache(maxsize=8)
def _places(
    teeth: int, reaches: tuple[tuple[int, int], ...], room: int
) -> tuple[tuple[int, ...], tuple[int, ...], tuple[tuple[int, range], ...]]:
    """The cell of each tooth counted from the heel, the cells of the breaks between reaches, and the cells with the
    teeth that share each."""
    ends = _ends_of(teeth, reaches, room)
    spare = room - len(ends)
    marks = [0, *ends, teeth]
    places: list[int] = []
    breaks: list[int] = []
    cut = 0
    for number, (low, high) in enumerate(pairwise(marks)):
        after = len(marks) - 2 - number
        until = max(cut + 1, min(round(spare * high / teeth), spare - after))
        places += [cut + number + cell for cell in _spread(high - low, until - cut)]
        if after:
            breaks.append(until + number)
        cut = until
    shared: list[tuple[int, range]] = []
    for cell, alike in groupby(places):
        after = shared[-1][1].stop if shared else 1
        shared.append((cell, range(after, after + sum(1 for _ in alike))))
    return tuple(places), tuple(breaks), tuple(shared)


def _spread(teeth: int, cells: int) -> list[int]:
    if teeth > cells:
        return [tooth * cells // teeth for tooth in range(teeth)]
    if teeth == cells:
        return list(range(teeth))
    return [round((tooth + 0.5) * cells / teeth - 0.5) for tooth in range(teeth)]


def _numbers(sheet: Sheet, laid: StripLayout, here: int | None, firsts: Sequence[int]) -> None:
    """Tooth numbers under the strip: the one in hand first, then both ends, then where reaches begin."""
    row = sheet.height - 1
    taken: list[tuple[int, int]] = []
    teeth = len(laid.places)
    wanted = [here, 1, teeth, *firsts]
    for tooth in dict.fromkeys(tooth for tooth in wanted if tooth is not None and 1 <= tooth <= teeth):
        text = str(tooth)
        left = max(0, min(laid.column(laid.places[tooth - 1]) - (len(text) - 1) // 2, sheet.width - len(text)))
        right = left + len(text)
        if all(right + 1 <= low or left >= high + 1 for low, high in taken):
            sheet.put(left, row, text, Role.NOW if tooth == here else Role.LABEL)
            taken.append((left, right))
