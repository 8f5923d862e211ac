"""The large number: the tooth, pass or step in hand, to be read from a bench away."""

from __future__ import annotations

from session.pictures.numerals import SIZES, best_rows, numeral
from session.pictures.picture_rows import Role, Rows, Run, beside, centered, first_that_fits, padded, plain, words


def large_number(
    number: str,
    told: tuple[str, ...],
    width: int,
    height: int,
    *,
    most_rows: int,
    ascii: bool = False,
    counting: tuple[str, str] | None = None,
) -> Rows:
    """``number`` in the largest numerals up to ``most_rows`` that there is room for, what is ``told`` of it under it.

    told: "gullet of 155 points", "6.6 in from the heel". counting: a second number with what it counts, shown
    under the first, of which only the first thing is told, and smaller where the room allows (bench rules 5 and 23).
    """
    if counting is None:
        return _large(number, told, width, height, most_rows, ascii=ascii)
    left, what = counting
    least, room = SIZES[-1], height - SIZES[-1]
    if _size(number, told[:1], width, height - height // 2, most_rows) <= least < min(room - 1, most_rows):
        # The place keeps the larger numerals: a row for the word of the count would cost it its size.
        count = numeral(left, least, ascii=ascii, role=Role.HANDLE)
        word = first_that_fits(width - len(plain(count)[0]) - 1, (what, what[:1]))
        aside: Rows = (*((),) * (least - 1), (Run(word, Role.STRONG),))
        place = _large(number, told[:1], width, room, most_rows, ascii=ascii)
        return (*place, *centered(beside(count, aside), width, least))
    half = _large(number, told[:1], width, height - height // 2, most_rows, ascii=ascii)
    # Smaller where it can be and in another color, not to be taken for the number of the place.
    return (*half, *_large(left, (what,), width, height // 2, least, Role.HANDLE, ascii=ascii))


def _size(number: str, told: tuple[str, ...], width: int, height: int, most_rows: int) -> int:
    """Rows of the largest numerals that leave a row for each thing that is ``told``; 0 where none do."""
    return best_rows(width, min(height - len(told), most_rows), number)


def _large(
    number: str,
    told: tuple[str, ...],
    width: int,
    height: int,
    most_rows: int,
    role: Role = Role.NUMERAL,
    *,
    ascii: bool,
) -> Rows:
    first, *others = told
    under = (words(first, width, Role.STRONG), *(words(text, width, Role.PLAIN) for text in others))
    size = _size(number, told, width, height, most_rows)
    big = numeral(number, size, ascii=ascii, role=role) if size else (words(number, width, role),)
    gap: Rows = ((),) if len(big) + len(under) < height else ()
    group = (*centered(big, width), *gap, *under)
    above = (height - len(group) + 1) // 2
    return padded((*((),) * above, *group), width, height)
