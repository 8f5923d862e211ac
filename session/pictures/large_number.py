"""The large number: the tooth, pass or step in hand, to be read from a bench away."""

from __future__ import annotations

from session.pictures.numerals import SIZES, best_rows, numeral
from session.pictures.picture_rows import Role, Rows, centered, padded, words


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

    told: "gullet of 155 points", "6.6 in from the heel". counting: a second number with what it counts, shown as large
    under the first, of which only the first thing is told (bench rules 5 and 23).
    """
    if counting is None:
        return _large(number, told, width, height, most_rows, ascii=ascii)
    left, what = counting
    place = _large(number, told[:1], width, height - height // 2, most_rows, ascii=ascii)
    # Smaller where it can be and in another color, not to be taken for the number of the place.
    return (*place, *_large(left, (what,), width, height // 2, SIZES[-1], Role.HANDLE, ascii=ascii))


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
    size = best_rows(width, min(height - len(under), most_rows), number)
    big = numeral(number, size, ascii=ascii, role=role) if size else (words(number, width, role),)
    gap: Rows = ((),) if len(big) + len(under) < height else ()
    group = (*centered(big, width), *gap, *under)
    above = (height - len(group) + 1) // 2
    return padded((*((),) * above, *group), width, height)
