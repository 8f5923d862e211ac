"""What a person types for a figure of a saw, read in the unit that the form shows: a bare number takes that unit.

A recipe file is stricter: there a length says its unit. Here nothing is guessed either; what can be read two ways is
refused with both.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from typing import Final

from session.trade.gauge import THICKEST, THINNEST, thickness_mm
from session.trade.lengths import EXAMPLE, Length, parse_length, plain_fractions
from session.trade.pitch import MOST_POINTS
from session.trade.rounding import significant
from session.trade.spoken_figures import in_digits
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: The units that a form can be filled in.
FORM_UNITS: Final = ("in", "mm")

#: Longest answer that is looked at.
LONGEST_ANSWER: Final = 80

_NUMBER: Final = r"[0-9]+(?:[.,][0-9]+)?(?:(?:\s+|-)[0-9]+\s*/\s*[0-9]+)?"
_BARE: Final = re.compile(r"\s*[0-9.,/\s½¼¾⅛⅜⅝⅞-]+\s*")
_DEGREES: Final = re.compile(rf"\s*([+-]?{_NUMBER}|[.,][0-9]+)\s*(?:°|º|deg|degs|degree|degrees|d)?\.?\s*")

#: What may stand beside an angle and changes nothing of it, and what says that there is none.
_OF_AN_ANGLE: Final = re.compile(r"(?<![a-z])(?:of|rake|fleam|back|off|from|square|to the rear)(?![a-z])")
_SQUARE: Final = frozenset(
    {
        "square",
        "dead square",
        "straight",
        "straight across",
        "square across",
        "plumb",
        "upright",
        "none",
        "no rake",
        "no fleam",
    }
)
_GAUGE: Final = re.compile(
    r"\s*(?:(?:#|no\.?|number|gauge|gage|ga\.?|bwg)\s*([0-9]+)|([0-9]+)[\s-]*(?:gauge|gage|ga\.?|g|bwg))\s*"
)
#: The gauge by its name: of all gauges it is the one that a saw's plate is told in here.
_BIRMINGHAM: Final = re.compile(r"\(?(?:birmingham(?: wire)?|b\.w\.g\.?)\)?|(?<=[a-z])\s+steel")
_OTHER_GAUGE: Final = re.compile(r"(?<![a-z])(?:swg|awg|s\.w\.g|standard wire|american)(?![a-z])")
_COUNT: Final = re.compile(rf"\s*({_NUMBER})\s*(.*?)\s*")
_ALONG: Final = re.compile(
    r"\s*([0-9]+)\s*(?:points?|pts?)?\s*(?:in|along|on|over|across|per|to(?=.*[a-z\"″]))\s*([0-9.,].*?)\s*"
)
_PITCH_SAID: Final = re.compile(r"^\s*(?:a\s+)?pitch(?:\s+of)?(?=\s)|(?:\s+of)?\s*(?:pitch|apart|between points)\s*$")

#: The words behind a count, without their blanks, hyphens and dots.
_COUNT_WORDS: Final[dict[str, str]] = {
    "ppi": "points_per_inch",
    "tpi": "teeth_per_inch",
    "inaninch": "points_per_inch",
    **{
        f"{points}{per}": key
        for words, key in (
            (("points", "point", "pts", "pt"), "points_per_inch"),
            (("teeth", "tooth"), "teeth_per_inch"),
        )
        for points in words
        for per in ("perinch", "perin", "totheinch", "toaninch", "aninch", "inaninch", "in1inch", "/inch", "/in")
    },
    **dict.fromkeys(("pp25", "pp25mm", "per25mm", "pointsper25mm", "pointsin25mm", "ppin25mm"), "points_per_25mm"),
    **dict.fromkeys(("/25mm", "points/25mm", "ptsper25mm", "in25mm"), "points_per_25mm"),
}

#: Words behind a count that do not say whether points were counted or the teeth between them.
_POINTS_OR_TEETH: Final = frozenset({"teeth", "tooth", "perinch", "perin", "/inch", "/in", "totheinch", "aninch"})

_COUNTS_ALLOWED: Final = (
    '"8" or "8 ppi" for points in an inch, "7 tpi" for spaces in an inch, "8 per 25 mm", "31 in 4 inches" for points '
    'counted along a length, "3.6 mm pitch"'
)


@dataclass(frozen=True, slots=True)
class ToldCount:
    """How fine the teeth are, as it was told: the key that a recipe has for it, and its value there."""

    key: str
    value: float | Length
    words: str


def told_length(text: str, unit: str) -> Length:
    """A length; a bare number, or a bare fraction, is in ``unit``, "in" or "mm". Raises TradeError.

    >>> told_length("7/8", "in").text, told_length("0,9 mm", "in").text, told_length('26"', "mm").text
    ('7/8 in', '0,9 mm', '26 in')
    """
    _checked(text)
    try:
        length = parse_length(_with_unit(in_digits(text), unit))
    except TradeError:
        try:
            # What is wrong is told in the words that were typed.
            length = parse_length(_with_unit(text, unit))
        except TradeError as wrong:
            raise TradeError(_said(wrong, unit)) from None
    # As a recipe has it, whatever word or sign the unit was written with.
    number = re.sub(r"\s*(?:[A-Za-z]+\.?|[\"″”]|'')\s*$", "", length.text)
    return Length(length.mm, f"{number.strip()} {length.unit}", length.unit)


def said_length(text: str, example: str = EXAMPLE) -> Length:
    """A length with its unit, as a recipe has it or as it is said: "43 thou", "43 thousandths of an inch". Raises
    TradeError with ``example``, a bare number being none.

    >>> said_length("three quarters of an inch").text, said_length("0.047 inches").text
    ('3/4 inch', '0.047 inches')
    """
    _checked(text)
    try:
        return parse_length(text, example)
    except TradeError as wrong:
        try:
            return parse_length(in_digits(text))
        except TradeError:
            raise wrong from None


def told_degrees(text: str) -> float:
    """An angle in degrees: "15", "15°", "15 degrees", "12,5". Raises TradeError.

    >>> told_degrees("15 degrees"), told_degrees("12 1/2°")
    (15.0, 12.5)
    """
    _checked(text)
    told = in_digits(text)
    if told in _SQUARE:
        return 0.0
    ahead = re.search(r"(?<![a-z])forward(?![a-z])", told) is not None
    told = re.sub(r"^(?:minus|negative)\s+", "-", re.sub(r"(?<![a-z])forward(?![a-z])", " ", _written_out(told)))
    found = _DEGREES.fullmatch(_OF_AN_ANGLE.sub(" ", told))
    if found is None or (ahead and found[1].startswith("-")):
        raise TradeError(f'"{text.strip()}" is not an angle; allowed: degrees, such as "15", "15°" or "15 degrees"')
    return -_number(found[1]) if ahead else _number(found[1])


def told_plate(text: str, unit: str) -> Length | int:
    """The plate's thickness, or its number in the Birmingham gauge: "0.035", "0,9 mm", "20 gauge". Raises TradeError.

    A bare whole number of 2 or more is no thickness of a saw in inches or millimeters, and may be a gauge: it is
    refused with what it can be.
    """
    _checked(text)
    told = in_digits(text)
    if _OTHER_GAUGE.search(told):
        raise TradeError(
            f'"{text.strip()}" is no Birmingham gauge; allowed: such as "20 gauge" (Birmingham), or the thickness'
        )
    if found := _GAUGE.fullmatch(_BIRMINGHAM.sub(" gauge " if "gauge" not in told else " ", told)):
        number = int((found[1] or found[2])[:6])
        thickness_mm(number)
        return number
    bare = text.strip()
    if bare.isascii() and bare.isdigit() and THICKEST <= int(bare[:6]) <= THINNEST and int(bare[:6]) > 1:
        raise TradeError(
            f'{bare} can be read two ways; allowed: "{bare} gauge", "{bare} thou", or a thickness in {unit}'
        )
    return told_length(text, unit)


def told_count(text: str, unit: str) -> ToldCount:
    """How fine the teeth are. A bare number is points in an inch, in a form in millimeters points in 25 mm.

    ``31 in 4 inches`` is 31 points counted along 4 inches, both end points among them: a pitch of 4 in / 30.
    Raises TradeError.

    >>> told_count("7 tpi", "in").key, told_count("8", "mm").key, told_count("31 in 4 in", "in").value.text
    ('teeth_per_inch', 'points_per_25mm', '0.13333 in')
    """
    _checked(text)
    told = _written_out(in_digits(text))
    counted = _COUNT.fullmatch(told)
    if counted is None and not _PITCH_SAID.match(told):
        raise TradeError(f'"{text.strip()}" does not say how fine the teeth are; allowed: {_COUNTS_ALLOWED}')
    number, words = ("", "pitch") if counted is None else (counted[1], re.sub(r"[\s.()-]", "", counted[2]))
    words = words.removesuffix("saw")
    if words not in _COUNT_WORDS and (found := _ALONG.fullmatch(told)):
        return _along(int(found[1][:9]), told_length(found[2], unit))
    if words in _POINTS_OR_TEETH:
        raise TradeError(
            f'"{text.strip()}" can be read two ways; allowed: "{_plain(number)} ppi", both end points of an inch '
            f'counted, or "{_plain(number)} tpi", the spaces in an inch'
        )
    if not words or words in ("points", "point", "pts", "pt", "pointer"):
        key = "points_per_inch" if unit == "in" else "points_per_25mm"
        return ToldCount(key, _number(number), f"{_plain(number)} {_NAMED[key]}")
    if words in _COUNT_WORDS:
        key = _COUNT_WORDS[words]
        return ToldCount(key, _number(number), f"{_plain(number)} {_NAMED[key]}")
    try:
        pitch = parse_length(_PITCH_SAID.sub("", told))
    except TradeError:
        raise TradeError(f'"{text.strip()}" does not say how fine the teeth are; allowed: {_COUNTS_ALLOWED}') from None
    pitch = told_length(pitch.text, unit)
    return ToldCount("pitch", pitch, f"{pitch} from point to point")


def told_whole(text: str, least: int, most: int, what: str) -> int:
    """A whole number of ``what`` such as "183" or "183 points", from ``least`` to ``most``. Raises TradeError."""
    _checked(text)
    found = re.fullmatch(r"\s*([0-9]{1,9})\s*(?:points?|teeth|pts?)?\s*", text, re.IGNORECASE)
    allowed = f"allowed: a whole number from {least} to {most:,}"
    if found is None:
        raise TradeError(f'"{text.strip()}" is no number of {what}; {allowed}')
    if not least <= int(found[1]) <= most:
        raise TradeError(f"{int(found[1]):,} {what} cannot be; {allowed}")
    return int(found[1])


def told_choice(text: str, choices: Iterable[str], also: Mapping[str, str] | None = None) -> str:
    """The one of ``choices`` that is meant: by its number in their order, its word, or a beginning that no other has.

    also: other words for choices. Capitals, blanks and hyphens make no difference. Raises TradeError.

    >>> told_choice("cross-cut", ["rip", "crosscut"]), told_choice("2", ["rip", "crosscut"])
    ('crosscut', 'crosscut')
    """
    _checked(text)
    words = tuple(choices)
    wanted = _joined(text)
    if wanted.isdecimal() and wanted.isascii() and 1 <= int(wanted) <= len(words):
        return words[int(wanted) - 1]
    known = {_joined(word): word for word in words} | {_joined(word): one for word, one in (also or {}).items()}
    if wanted in known:
        return known[wanted]
    begun = {one for word, one in known.items() if wanted and word.startswith(wanted)}
    if len(begun) == 1:
        return begun.pop()
    what = "may mean several" if begun else "is none of them"
    if not begun and (near := get_close_matches(wanted, known, n=1, cutoff=_NEAR)):
        what += f", nearest is {words.index(known[near[0]]) + 1} {known[near[0]]}"
    numbered = ", ".join(f"{number} {word}" for number, word in enumerate(words, 1))
    raise TradeError(f'"{text.strip()}" {what}; allowed: {numbered}')


#: How alike a misspelt word is to the one that is named beside it, 0 to 1 (judgment).
_NEAR: Final = 0.7

#: What each key of a count is called.
_NAMED: Final = {
    "points_per_inch": "points per inch",
    "teeth_per_inch": "teeth per inch",
    "points_per_25mm": "points per 25 mm",
}


def _along(points: int, length: Length) -> ToldCount:
    if not 2 <= points <= MOST_POINTS or not 0 < length.mm < math.inf:
        raise TradeError(f"{points} points along {length}; allowed: 2 to {MOST_POINTS:,} points along a length above 0")
    pitch_mm = length.mm / (points - 1)
    per = {"in": 25.4, "thou": 0.0254, "cm": 10.0, "m": 1000.0}.get(length.unit, 1.0)
    pitch = Length(pitch_mm, f"{significant(pitch_mm / per, 5)} {length.unit}", length.unit)
    return ToldCount("pitch", pitch, f"{pitch} from point to point, {points} points along {length}")


def _number(text: str) -> float:
    """A number with a point or a comma, and a fraction behind it where there is one."""
    whole, *fraction = re.split(r"\s+|(?<=[0-9])-", text.strip(), maxsplit=1)
    value = abs(float(whole.replace(",", ".")))
    if fraction:
        over, under = (float(part) for part in fraction[0].split("/"))
        if under == 0:
            raise TradeError(f'"{text.strip()}" is not a fraction that can be read; allowed: such as 7/8')
        value += over / under
    return -value if text.strip().startswith("-") else value


def _with_unit(text: str, unit: str) -> str:
    return f"{text.strip()} {unit}" if _BARE.fullmatch(text) and any(map(str.isdigit, text)) else text


def _written_out(told: str) -> str:
    """``told`` with fractions that have a sign of their own written out."""
    return " ".join(plain_fractions(told).split())


def _plain(number: str) -> str:
    return f"{_number(number):g}"


def _joined(text: str) -> str:
    return re.sub(r"[\W_]+", "", text.casefold())


def _checked(text: str) -> None:
    if len(text) > LONGEST_ANSWER:
        raise TradeError(f"{len(text)} characters; allowed: at most {LONGEST_ANSWER}")


def _said(wrong: TradeError, unit: str) -> str:
    """A refusal of a length with what a bare number would have meant."""
    named = "inches" if unit == "in" else "millimeters"
    return f"{wrong}; a bare number is in {named}"
