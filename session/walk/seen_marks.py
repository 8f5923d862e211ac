"""What was seen of a saw as the marks of a walk have it, read from them and written to them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Any, Final, Protocol

from session.trade.lengths import MM_PER, Length, parse_length
from session.trade.observation import MOST_WIDTHS, Crack, Look, Seen
from session.trade.rounding import half_up
from session.trade.saw import Leans
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.trade.tooth_numbers import numbers_in_words
from session.trade.trade_error import TradeError
from session.value_class import dataclass
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import IN_THE_LINE, NOTHING_TO_SEE, Measurable, length_mm, teeth_in

#: What each look is in a log, in the order in which things are looked at. When a saw was last sharpened, no mark tells.
ASKED_AS: Final[Mapping[Look, Measurable]] = {
    Look.BRIGHT: Measurable.BRIGHT_POINTS,
    Look.LAST_CUT: Measurable.LAST_CUT,
    Look.CUT: Measurable.GRAIN,
    Look.WOOD: Measurable.WOOD,
    Look.WANDERS_TO: Measurable.WANDERS_TO,
    Look.PLATE: Measurable.PLATE,
    Look.HANDLE: Measurable.HANDLE,
    Look.CRACK: Measurable.CRACK,
    Look.HARD_TEETH: Measurable.HARD_TEETH,
    Look.SIZES: Measurable.SIZES,
    Look.HIGH: Measurable.HIGH_TEETH,
    Look.LOW: Measurable.LOW_TEETH,
    Look.BROKEN: Measurable.BROKEN_TEETH,
    Look.LINE: Measurable.LINE,
    Look.LINE_GAP: Measurable.LINE_GAP,
    Look.OVER_POINTS: Measurable.OVER_POINTS,
    Look.IN_LINE: Measurable.POINTS,
    Look.IN_AN_INCH: Measurable.POINTS,
    Look.IN_25MM: Measurable.POINTS,
    Look.FIRST_LEANS: Measurable.FIRST_LEANS,
}

#: The looks that are answered with one of a few words.
_WORDS: Final[Mapping[Look, type[StrEnum]]] = {
    Look.BRIGHT: Bright,
    Look.LAST_CUT: Cutting,
    Look.CUT: Grain,
    Look.WANDERS_TO: Toward,
    Look.HANDLE: Handle,
    Look.SIZES: Sizes,
    Look.LINE: LineShape,
    Look.FIRST_LEANS: Leans,
}

#: The looks that count points, and over what they do.
_COUNTED: Final[Mapping[Look, str]] = {
    Look.IN_LINE: IN_THE_LINE,
    Look.IN_AN_INCH: "in 1 in",
    Look.IN_25MM: "in 25 mm",
}

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
    hard = {"yes": True, "no": False}.get(str(_said(measured, Measurable.HARD_TEETH)))
    counts = _counts(measured)
    found: dict[str, Any] = {look: _word(measured, ASKED_AS[look], words) for look, words in _WORDS.items()}
    found |= {look: _teeth(measured, ASKED_AS[look], nothing=nothing) for look in (Look.HIGH, Look.LOW, Look.BROKEN)}
    found |= {look: counts.get(over) for look, over in _COUNTED.items()}
    if nothing:
        found["handle"] = found["handle"] or Handle.TIGHT
        found["sizes"] = found["sizes"] or Sizes.EVEN
    return Seen(
        plate=_plate(measured) if Measurable.PLATE in measured or not nothing else _FINE_PLATE,
        crack=crack_in(str(_said(measured, Measurable.CRACK))),
        hard_teeth=False if hard is None and nothing else hard,
        line_gap=_length(measured.get(Measurable.LINE_GAP)),
        over_points=_widths(measured),
        wood=None if (wood := _said(measured, Measurable.WOOD)) is None else str(wood),
        **found,
    )


def answers_of(seen: Seen) -> Iterator[SeenAnswer]:
    """The answers that hold ``seen``, in the order of the looks; what was not looked at is not among them."""
    for look, what in ASKED_AS.items():
        value = getattr(seen, look)
        if look is Look.PLATE:
            # That no crack was found is told by the look for one.
            if plate := ", ".join(one for one in Plate if seen.is_plate(one) and one is not Plate.SOUND):
                yield _told(what, plate)
        elif look is Look.CRACK:
            if value is not None or seen.is_plate(Plate.SOUND):
                yield _told(what, crack_words(value))
        elif value is None:
            continue
        elif look is Look.OVER_POINTS:
            yield from width_answers(value)
        elif look in _COUNTED:
            over = _COUNTED[look]
            yield SeenAnswer(what, int(value) if value == int(value) else value, over, f"{value:g} {over}")
        elif look is Look.LINE_GAP:
            yield length_answer(what, value)
        elif isinstance(value, tuple):
            yield teeth_answer(what, value)
        elif isinstance(value, bool):
            yield _told(what, "yes" if value else "no")
        else:
            yield _told(what, str(value))


def width_answers(widths: tuple[Length, ...], what: Measurable = Measurable.OVER_POINTS) -> tuple[SeenAnswer, ...]:
    """Widths over the points: the middle one as one amount, with all of them as they were entered.

    Of the saw as it came all are kept where there are several, as whether they agree is judged by them.
    """
    if not widths:
        return ()
    middle = sorted(widths)[(len(widths) - 1) // 2]
    told = ", ".join(str(width) for width in widths)
    one = SeenAnswer(what, _amount(middle), middle.unit, told)
    if len(widths) == 1 or what is not Measurable.OVER_POINTS:
        return (one,)
    return one, SeenAnswer(Measurable.WIDTHS, told, None, told)


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


def _word(measured: Mapping[str, TellsValue], what: Measurable, words: type[StrEnum]) -> StrEnum | None:
    said = _said(measured, what)
    return words(said) if isinstance(said, str) and said in list(words) else None


def _counts(measured: Mapping[str, TellsValue]) -> dict[str, float]:
    mark = measured.get(Measurable.POINTS)
    if mark is None or isinstance(mark.value, bool) or not isinstance(mark.value, int | float):
        return {}
    whole = mark.unit in (None, IN_THE_LINE)
    can_be = 1 < mark.value <= MEASURABLES[Measurable.POINTS].most and not (whole and mark.value % 1)
    return {mark.unit or IN_THE_LINE: int(mark.value) if whole else mark.value} if can_be else {}


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
