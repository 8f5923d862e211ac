"""What was seen of a saw as the marks of a walk have it, read from them and written to them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final, Protocol, TypeVar

from session.trade.lengths import MM_PER, Length, parse_length
from session.trade.observation import (
    MOST_WIDTHS,
    Bright,
    Crack,
    Cutting,
    Grain,
    Handle,
    LineShape,
    Plate,
    Seen,
    Sizes,
    Toward,
)
from session.trade.rounding import half_up
from session.trade.saw import Leans
from session.trade.tooth_numbers import numbers_in_words
from session.trade.trade_error import TradeError
from session.walk.measurables import IN_THE_LINE, MEASURABLES, NOTHING_TO_SEE, Measurable, length_mm, teeth_in

_Word = TypeVar("_Word", bound=StrEnum)

#: No crack was found.
NO_CRACK: Final = "none"

_CRACK: Final = re.compile(r"cracked(?: at gullet ([0-9]{1,5}))?(?:, (.{1,40}))?")


class TellsValue(Protocol):
    """What a mark of a measurement tells, or an answer that is about to become one."""

    @property
    def value(self) -> float | int | str | bool | None:
        """The amount or the word."""

    @property
    def unit(self) -> str | None:
        """Its unit, where it has one."""

    @property
    def entered(self) -> str | None:
        """The text as typed."""


@dataclass(frozen=True, slots=True)
class SeenAnswer:
    """One answer as a mark holds it: what, its value, its unit and the text it was entered as."""

    what: Measurable
    value: float | int | str
    unit: str | None
    entered: str


def seen_in(measured: Mapping[str, TellsValue]) -> Seen:
    """What the marks tell was seen. A value that is none of its kind, in a log of other origin, was not looked at."""
    nothing = _said(measured, Measurable.ALL_ROUND) == NOTHING_TO_SEE
    plate = _plate(measured) if Measurable.PLATE in measured or not nothing else _FINE_PLATE
    handle = _word(measured, Measurable.HANDLE, Handle)
    hard = {"yes": True, "no": False}.get(str(_said(measured, Measurable.HARD_TEETH)))
    counts = _counts(measured)
    return Seen(
        first_leans=_word(measured, Measurable.FIRST_LEANS, Leans),
        in_line=int(counts[IN_THE_LINE]) if IN_THE_LINE in counts else None,
        in_an_inch=counts.get("in 1 in"),
        in_25mm=counts.get("in 25 mm"),
        plate=plate,
        crack=crack_in(str(_said(measured, Measurable.CRACK))),
        hard_teeth=False if hard is None and nothing else hard,
        handle=Handle.TIGHT if handle is None and nothing else handle,
        line=_word(measured, Measurable.LINE, LineShape),
        line_gap=_length(measured.get(Measurable.LINE_GAP)),
        sizes=_word(measured, Measurable.SIZES, Sizes) or (Sizes.EVEN if nothing else None),
        high=_teeth(measured, Measurable.HIGH_TEETH, nothing=nothing),
        low=_teeth(measured, Measurable.LOW_TEETH, nothing=nothing),
        broken=_teeth(measured, Measurable.BROKEN_TEETH, nothing=nothing),
        bright=_word(measured, Measurable.BRIGHT_POINTS, Bright),
        over_points=_widths(measured),
        last_cut=_word(measured, Measurable.LAST_CUT, Cutting),
        wanders_to=_word(measured, Measurable.WANDERS_TO, Toward),
        cut=_word(measured, Measurable.GRAIN, Grain),
        wood=None if (wood := _said(measured, Measurable.WOOD)) is None else str(wood),
    )


def answers_of(seen: Seen) -> Iterator[SeenAnswer]:
    """The answers that hold ``seen``, in the order of the looks; what was not looked at is not among them."""
    words: list[tuple[Measurable, StrEnum | None]] = [
        (Measurable.BRIGHT_POINTS, seen.bright),
        (Measurable.LAST_CUT, seen.last_cut),
        (Measurable.GRAIN, seen.cut),
    ]
    yield from (_told(what, str(word)) for what, word in words if word is not None)
    if seen.wood is not None:
        yield _told(Measurable.WOOD, seen.wood)
    if seen.wanders_to is not None:
        yield _told(Measurable.WANDERS_TO, str(seen.wanders_to))
    # That no crack was found is told by the look for one.
    if plate := ", ".join(one for one in Plate if seen.is_plate(one) and one is not Plate.SOUND):
        yield _told(Measurable.PLATE, plate)
    if seen.handle is not None:
        yield _told(Measurable.HANDLE, str(seen.handle))
    if seen.crack is not None or seen.is_plate(Plate.SOUND):
        yield _told(Measurable.CRACK, crack_words(seen.crack))
    if seen.hard_teeth is not None:
        yield _told(Measurable.HARD_TEETH, "yes" if seen.hard_teeth else "no")
    if seen.sizes is not None:
        yield _told(Measurable.SIZES, str(seen.sizes))
    many = (
        (Measurable.HIGH_TEETH, seen.high),
        (Measurable.LOW_TEETH, seen.low),
        (Measurable.BROKEN_TEETH, seen.broken),
    )
    for what, numbers in many:
        if numbers is not None:
            yield teeth_answer(what, numbers)
    if seen.line is not None:
        yield _told(Measurable.LINE, str(seen.line))
    if seen.line_gap is not None:
        yield length_answer(Measurable.LINE_GAP, seen.line_gap)
    yield from width_answers(seen.over_points)
    counts = ((IN_THE_LINE, seen.in_line), ("in 1 in", seen.in_an_inch), ("in 25 mm", seen.in_25mm))
    for over, count in counts:
        if count is not None:
            yield SeenAnswer(Measurable.POINTS, int(count) if count == int(count) else count, over, f"{count:g} {over}")
    if seen.first_leans is not None:
        yield _told(Measurable.FIRST_LEANS, str(seen.first_leans))


def width_answers(widths: tuple[Length, ...]) -> tuple[SeenAnswer, ...]:
    """Widths over the points: the middle one as one amount, and all of them where there are several."""
    if not widths:
        return ()
    middle = sorted(widths)[(len(widths) - 1) // 2]
    told = ", ".join(str(width) for width in widths)
    one = SeenAnswer(Measurable.OVER_POINTS, _amount(middle), middle.unit, told)
    return (one,) if len(widths) == 1 else (one, SeenAnswer(Measurable.WIDTHS, told, None, told))


def length_answer(what: Measurable, length: Length) -> SeenAnswer:
    """A length as a mark holds it."""
    return SeenAnswer(what, _amount(length), length.unit, str(length))


def teeth_answer(what: Measurable, numbers: tuple[int, ...], entered: str | None = None) -> SeenAnswer:
    """Numbers of teeth as a mark holds them: one by one, entered shortly."""
    if not numbers:
        return SeenAnswer(what, "none", None, entered or "none")
    every = ", ".join(str(number) for number in numbers)
    return SeenAnswer(what, every, "from the heel", entered or numbers_in_words(numbers))


def crack_words(crack: Crack | None) -> str:
    """A crack as a mark names it; NO_CRACK for none."""
    if crack is None:
        return NO_CRACK
    where = f" at gullet {crack.gullet}" if crack.gullet is not None else ""
    return f"cracked{where}{f', {crack.length}' if crack.length is not None else ''}"


def crack_in(text: str) -> Crack | None:
    """The crack that a mark names; None for none and for what names none."""
    found = _CRACK.fullmatch(text)
    if found is None:
        return None
    try:
        length = parse_length(found[2]) if found[2] else None
    except TradeError:
        length = None
    return Crack(int(found[1]) if found[1] else None, length)


_FINE_PLATE: Final = frozenset({Plate.STRAIGHT, Plate.CLEAN, Plate.SOUND})


def _said(measured: Mapping[str, TellsValue], what: Measurable) -> object:
    mark = measured.get(what)
    return None if mark is None else mark.value


def _word(measured: Mapping[str, TellsValue], what: Measurable, words: type[_Word]) -> _Word | None:
    said = _said(measured, what)
    return words(said) if isinstance(said, str) and said in list(words) else None


def _counts(measured: Mapping[str, TellsValue]) -> dict[str, float]:
    mark = measured.get(Measurable.POINTS)
    if mark is None or isinstance(mark.value, bool) or not isinstance(mark.value, int | float):
        return {}
    whole = mark.unit in (None, IN_THE_LINE)
    can_be = 1 < mark.value <= MEASURABLES[Measurable.POINTS].most and not (whole and mark.value % 1)
    return {mark.unit or IN_THE_LINE: mark.value} if can_be else {}


def _plate(measured: Mapping[str, TellsValue]) -> frozenset[Plate] | None:
    said = str(_said(measured, Measurable.PLATE) or "").split(", ")
    found = {Plate(word) for word in said if word in list(Plate)}
    if _said(measured, Measurable.CRACK) == NO_CRACK:
        found.add(Plate.SOUND)
    return frozenset(found) or None


def _teeth(measured: Mapping[str, TellsValue], what: Measurable, *, nothing: bool) -> tuple[int, ...] | None:
    mark = measured.get(what)
    if mark is None:
        return () if nothing else None
    return tuple(sorted(set(teeth_in(mark.value))))


def _length(mark: TellsValue | None) -> Length | None:
    mm = None if mark is None else length_mm(mark.value, mark.unit)
    return (
        None
        if mark is None or mm is None
        else Length(mm, mark.entered or f"{mark.value} {mark.unit}", mark.unit or "mm")
    )


def _widths(measured: Mapping[str, TellsValue]) -> tuple[Length, ...]:
    """All widths that were kept, else the one."""
    several = measured.get(Measurable.WIDTHS)
    if several is not None:
        try:
            parts = re.split(r",\s+", str(several.value)[:200])[:MOST_WIDTHS]
            return tuple(parse_length(part) for part in parts)
        except TradeError:
            pass  # of other origin: the middle one tells
    one = _length(measured.get(Measurable.OVER_POINTS))
    return () if one is None or one.mm <= 0 else (one,)


def _amount(length: Length) -> float:
    return half_up(length.mm / MM_PER[length.unit], 6)


def _told(what: Measurable, text: str) -> SeenAnswer:
    return SeenAnswer(what, text, None, text)
