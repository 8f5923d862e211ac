"""What a person types or picks at a step, read and checked: amounts as entered, with the unit they had."""

from __future__ import annotations

import re
from typing import Final

from session.advice.flats_verdict import meant_by
from session.desk.typed_lengths import parted, typed_lengths
from session.sentences.step_words import cut_size
from session.texts.steps import AskKind, Asks
from session.trade.file_names import CORNERS
from session.trade.lengths import MM_PER, Length, by_inches
from session.trade.observation import MOST_WIDTHS, Crack
from session.trade.rounding import decimals, half_up
from session.trade.saw import Saw
from session.trade.seen_words import AT_ODDS
from session.trade.tooth_numbers import read_numbers
from session.trade.trade_error import TradeError
from session.walk.measurable_facts import MEASURABLES, whole_in
from session.walk.measurables import IN_THE_LINE, Measurable
from session.walk.seen_marks import NO_CRACK, SeenAnswer, crack_words, teeth_answer, width_answers

#: The corners of a file, as they are typed.
_CORNERS: Final = tuple(map(str, CORNERS))

#: A file's name with a corner after it; without a comma before it, "corner" may be part of a name.
_CORNER: Final = re.compile(r"(.*?)\s*[,;]\s*corner(?![a-z])\s*(.*)|(?:(.*)\s)?corner\s*(\d+)", re.IGNORECASE)


#: The unit of a number that is typed without one, in words.
UNIT_WORDS: Final = {"in": "inches", "mm": "millimeters", "thou": "thou", "cm": "centimeters", "m": "meters"}


class AnswerError(ValueError):
    """A text that does not answer the question; the message says what is allowed."""


def read(asks: Asks, text: str, saw: Saw) -> tuple[SeenAnswer, ...]:
    """The answers in ``text`` to ``asks``. Raises AnswerError.

    A cut is written in one line: length, thickness, strokes, then if it wandered how far and which way,
    such as "6 in, 3/4 in, 20 strokes, 1/32 in right".
    """
    text = " ".join(text.split())
    if not text:
        raise AnswerError("nothing was typed; Escape leaves the step unanswered")
    match asks.kind:
        case AskKind.COUNT:
            return (_count(asks, text, saw),)
        case AskKind.LENGTH:
            return (_length(asks.what, text, saw),)
        case AskKind.WIDTHS:
            return _widths(asks.what, text, saw)
        case AskKind.CHOICE:
            return (_choice(asks, text),)
        case AskKind.CHOICES:
            return (_choices(asks, text),)
        case AskKind.CRACK:
            return (_crack(asks.what, text, saw),)
        case AskKind.NAME:
            return (_name(asks, text),)
        case AskKind.TEETH:
            return (_teeth(asks.what, text, saw),)
        case AskKind.FILE:
            return _file(asks.what, text, saw)
        case AskKind.FLATS:
            return (_flats(asks, text, saw),)
        case AskKind.CUT:
            return _cut(asks, text, saw)


def example(asks: Asks, saw: Saw) -> str:
    """What an answer looks like, for the prompt."""
    length, other = _small(saw)
    bare = f"a bare number is in {UNIT_WORDS[saw.unit]}"
    match asks.kind:
        case AskKind.COUNT:
            return f"such as {saw.points}, or 8 {asks.choices[1]}" if len(asks.choices) > 1 else "a number"
        case AskKind.LENGTH:
            return f'such as "{length}" or "{other}"; {bare}'
        case AskKind.WIDTHS:
            return f'such as "{_some_widths(saw)}", parted by commas; {bare}'
        case AskKind.CHOICE:
            return ", ".join(asks.choices)
        case AskKind.CHOICES:
            return 'such as "straight, clean"'
        case AskKind.CRACK:
            return '0 for none, or such as "7, 1/8 in"'
        case AskKind.NAME:
            return "the number of one of them, or its name"
        case AskKind.TEETH:
            return '0 for none, or such as "3, 5-9"'
        case AskKind.FILE:
            return 'such as "6 in slim, corner 2"'
        case AskKind.FLATS:
            return f"how many points show no flat, such as 2, or {', '.join(asks.choices)}"
        case AskKind.CUT:
            return f'such as "{a_cut(saw)}"; the last is how far off the line, "0" for none'


def _count(asks: Asks, text: str, saw: Saw) -> SeenAnswer:
    found = re.fullmatch(r"(\d+(?:[.,]\d+)?)(?:\s*(.*))?", text)
    if found is None:
        raise AnswerError(f'"{text[:20]}" is not a number; write the count, such as "155"')
    value = float(found[1].replace(",", "."))
    over = (found[2] or "").strip() or asks.choices[0]
    if over not in asks.choices:
        raise AnswerError(f'"{over[:20]}" is not known; allowed after the number: {", ".join(asks.choices)}')
    facts = MEASURABLES[asks.what]
    if not facts.least <= value <= facts.most:
        raise AnswerError(f"{value:g} points; allowed: {facts.least:g} to {facts.most:g}")
    if over == IN_THE_LINE and value != int(value):
        raise AnswerError(f"{value:g} points in the line; a whole line has a whole number of points")
    if over == IN_THE_LINE and not 0.75 * saw.points <= value <= 1.25 * saw.points:
        raise AnswerError(
            f"{value:g} is far from the {saw.points} points that the recipe gives; count again, or change the recipe"
        )
    return SeenAnswer(asks.what, int(value) if value == int(value) else value, over, text)


def _length(what: Measurable, text: str, saw: Saw) -> SeenAnswer:
    try:
        (length,) = typed_lengths((text,), saw.unit, _small(saw)[0])
    except TradeError as wrong:
        raise AnswerError(str(wrong)) from None
    return _measured(what, length)


def _small(saw: Saw) -> tuple[str, str]:
    """A length as small as those measured at a step, in inches and millimeters, first as ``saw`` is measured."""
    return ("0.047 in", "1.2 mm") if by_inches(saw.unit) else ("1.2 mm", "0.047 in")


def _measured(what: Measurable, length: Length) -> SeenAnswer:
    if length.mm < MEASURABLES[what].least:
        raise AnswerError(f"{what} of {length.text[:20]}: nothing was measured; allowed: above zero")
    amount = length.mm / MM_PER[length.unit]
    return SeenAnswer(what, half_up(amount, 6), length.unit, length.text)


def _choice(asks: Asks, text: str) -> SeenAnswer:
    if text.isdecimal() and 1 <= int(text) <= len(asks.choices):
        text = asks.choices[int(text) - 1]
    matching = [choice for choice in asks.choices if choice.startswith(text.lower())]
    if len(matching) != 1:
        raise AnswerError(f'"{text[:20]}" is not one of: {", ".join(asks.choices)}')
    return SeenAnswer(asks.what, matching[0], None, matching[0])


def _flats(asks: Asks, text: str, saw: Saw) -> SeenAnswer:
    """How many points of the line show no flat, or one of the words for the flats."""
    if not text.isdecimal():
        return _choice(asks, meant_by(text))
    if not int(text[:9]) <= saw.points:
        raise AnswerError(f"{text[:9]} points without a flat; allowed: 0 to {saw.points}, all points of the line")
    return SeenAnswer(Measurable.UNTOUCHED, int(text), MEASURABLES[Measurable.UNTOUCHED].units[0], text)


def _choices(asks: Asks, text: str) -> SeenAnswer:
    """One or more of the choices, by number or by the beginning of a word; what cannot be together is refused."""
    found: set[str] = set()
    for part in re.split(r"[,;]\s*|\s+and\s+|\s+", text.strip(", ")):
        found.add(str(_choice(asks, part).value))
    for one, other in AT_ODDS:
        if {one, other} <= found:
            raise AnswerError(f'"{one}" cannot stand beside "{other}"; allowed: one of the two')
    told = ", ".join(choice for choice in asks.choices if choice in found)
    return SeenAnswer(asks.what, told, None, told)


def _widths(what: Measurable, text: str, saw: Saw) -> tuple[SeenAnswer, ...]:
    """One to five widths; a unit written once holds for all, and where none is written that of the saw."""
    parts = parted(text)
    if not 1 <= len(parts) <= MOST_WIDTHS:
        raise AnswerError(f"{len(parts)} widths; allowed: 1 to {MOST_WIDTHS}, taken along the line")
    try:
        widths = typed_lengths(parts, saw.unit)
    except TradeError as wrong:
        odd = next((part for part in parts if not _is_length(part, saw.unit)), "")
        allowed = f'allowed: such as "{_some_widths(saw)}", commas between, a point for decimals'
        raise AnswerError(f'"{odd[:20]}" is not a width; {allowed}' if odd else str(wrong)) from None
    if nothing := [width for width in widths if width.mm < MEASURABLES[what].least]:
        raise AnswerError(f"{what} of {nothing[0]}: nothing was measured; allowed: above zero")
    if saw.unit == "in" and all(_BARE_COUNT.fullmatch(part) for part in parts):
        meant = ", ".join(decimals(int(part) / 1000, 3) for part in parts)
        raise AnswerError(f'{parts[0]} in is no width; if you mean thou: "{", ".join(parts)} thou", or "{meant}"')
    return width_answers(widths, what)


#: A whole number of two or three digits: no width in inches over the points of a saw, and what one in thou looks like.
_BARE_COUNT: Final = re.compile(r"[1-9][0-9]{1,2}")


def _is_length(part: str, unit: str) -> bool:
    try:
        typed_lengths((part,), unit)
    except TradeError:
        return False
    return True


def _some_widths(saw: Saw) -> str:
    """Three widths over the points of ``saw``, as they are typed without their unit: that of the saw."""
    wide_mm = saw.plate.mm + 2 * (saw.set_per_side.mm if saw.set_per_side is not None else 0.0)
    inches = by_inches(saw.unit)
    steps_mm = (0.0, 0.0005 * MM_PER["in"], -0.001 * MM_PER["in"]) if inches else (0.0, 0.01, -0.02)
    finest = {"in": 4, "thou": 1, "mm": 2, "cm": 3, "m": 5}[saw.unit]
    return ", ".join(f"{half_up((wide_mm + step) / MM_PER[saw.unit], finest):g}" for step in steps_mm)


#: None, in one digit where the others of an answer are digits too. It is taken as a text of its own, and at no step by
#: its key alone: a "10" that was typed before the line was open would end in it.
_NONE: Final = "0"


def _crack(what: Measurable, text: str, saw: Saw) -> SeenAnswer:
    """No crack, or one with its gullet and length as far as they are told: "none", "yes", "40", "40, 1/8 in"."""
    if text.lower() in ("none", "no", _NONE):
        return SeenAnswer(what, NO_CRACK, None, NO_CRACK)
    bare = re.sub(r"^(?:at |in |near )?(?:(?:gullet|tooth) )?", "", text, flags=re.IGNORECASE)
    head, _, tail = bare.partition(",")
    gullet, long = (head, tail.strip()) if head.isdecimal() else (None, tail.strip() if head == "yes" else text)
    if gullet is not None and not 1 <= int(gullet) <= saw.points:
        raise AnswerError(f"there is no gullet {gullet}; allowed: 1 to {saw.points} from the heel")
    try:
        length = typed_lengths((long,), saw.unit, "1/8 in")[0] if long else None
    except TradeError as wrong:
        # Where a gullet was named it is the length that is wrong; else nobody knows which of the two was meant.
        told = str(wrong) if gullet is not None else f'"{text[:40]}" is neither "none" nor a gullet and a length'
        raise AnswerError(f'{told}; write "none", or the gullet and length, such as "7, 1/8 in"') from None
    told = crack_words(Crack(None if gullet is None else int(gullet), length))
    return SeenAnswer(what, told, None, told)


def _name(asks: Asks, text: str) -> SeenAnswer:
    if text.isdecimal() and 1 <= int(text) <= len(asks.choices):
        text = asks.choices[int(text) - 1]
    if len(text) > (longest := MEASURABLES[asks.what].most):
        raise AnswerError(f"{len(text)} characters; allowed: at most {longest:g}")
    return SeenAnswer(asks.what, text, None, text)


def _teeth(what: Measurable, text: str, saw: Saw) -> SeenAnswer:
    if text == _NONE:
        return teeth_answer(what, ())
    try:
        return teeth_answer(what, read_numbers(text, saw.points), text)
    except TradeError as wrong:
        raise AnswerError(str(wrong)) from None


def told_face(text: str, saw: Saw) -> str:
    """The width of a face told after a file's name, as in "6 in slim, 0.29 in, 2"; empty where none is."""
    for part in re.split(r"[;,]\s", text)[1:]:
        if not re.fullmatch(r"[\d./ ,]+(?:mm|in|thou)", part.strip(), re.ASCII):
            continue
        try:
            (width,) = typed_lengths((part.strip(),), saw.unit)
        except TradeError:
            continue
        # What is longer is the length of a file, and belongs to its name.
        if width.mm <= _WIDEST_FACE_MM:
            return part.strip()
    return ""


#: No face of a saw file is wider (from memory).
_WIDEST_FACE_MM: Final = 20.0


def _file(what: Measurable, text: str, saw: Saw) -> tuple[SeenAnswer, ...]:
    """A file by its name, then its corner if one is told: "6 in slim, corner 2", "6 in slim, 2", or only "6 in slim".

    The width of its face is no part of its name, and the log has no place for it.
    """
    if face := told_face(text, saw):
        text = re.sub(rf"\s*[;,]\s+{re.escape(face)}", "", text, count=1)
    if lone := re.fullmatch(r"(.*[^\s,;])\s*[,;]\s*([1-3])", text):
        text = f"{lone[1]}, corner {lone[2]}"
    found = _CORNER.fullmatch(text)
    name, corner = (found[1] or found[3] or "", found[2] or found[4] or "") if found else (text, None)
    name = name.strip(" ,;")
    if corner is not None and corner not in _CORNERS:
        raise AnswerError(f'corner "{corner[:12]}"; allowed: {", ".join(_CORNERS[:-1])} or {_CORNERS[-1]}')
    if not name:
        raise AnswerError('the file has no name; write its name first, such as "6 in slim, corner 2"')
    if len(name) > (longest := MEASURABLES[what].most):
        raise AnswerError(f"{len(name)} characters for the file's name; allowed: at most {longest}")
    told = SeenAnswer(what, name, None, name)
    if corner is None:
        return (told,)
    return told, SeenAnswer(Measurable.FILE_CORNER, int(corner), None, f"corner {corner}")


def a_cut(saw: Saw) -> str:
    """A trial cut as it is typed, of the length and in the board that its step asks for."""
    return f"{', '.join(cut_size(saw))}, 20 strokes, {_OFF[by_inches(saw.unit)]} right"


#: How far a cut may leave its line, as it is typed: whether by inches, and what.
_OFF: Final = {True: "1/32 in", False: "1 mm"}


#: What says of a cut that it stayed on its line.
_ON_THE_LINE: Final = re.compile(
    r"(?:on (?:the |its )?line|none|straight|0(?:[.,]0+)?(?: ?(?:in|mm|thou|cm|m))?(?: (?:left|right))?)", re.IGNORECASE
)


def _cut(asks: Asks, text: str, saw: Saw) -> tuple[SeenAnswer, ...]:
    parts = [part.strip() for part in re.split(r"[;,](?!\d)", text)]
    if verdict := next((part for part in parts if part.lower() in asks.choices), ""):
        # How it cut is one of the choices, and is asked once the figures are told.
        raise AnswerError(f'"{verdict}" is asked for next, by digit; write only the figures: "{a_cut(saw)}"')
    if len(parts) not in (3, 4):
        raise AnswerError(f'a cut is length, thickness, strokes and wander: "{a_cut(saw)}"')
    try:
        lengths = typed_lengths(parts[:2], saw.unit, cut_size(saw)[0])
    except TradeError as wrong:
        raise AnswerError(str(wrong)) from None
    answers = [_measured(Measurable.CUT_LENGTH, lengths[0]), _measured(Measurable.CUT_THICKNESS, lengths[1])]
    strokes = re.fullmatch(r"(\d{1,5})(?: ?strokes?)?", parts[2])
    count, allowed = Measurable.CUT_STROKES, MEASURABLES[Measurable.CUT_STROKES]
    if strokes is None or whole_in(count, int(strokes[1])) is None:
        raise AnswerError(
            f'"{parts[2][:20]}" is not a number of strokes; allowed: {allowed.least:g} to {allowed.most:g}'
        )
    answers.append(SeenAnswer(count, int(strokes[1]), allowed.units[0], parts[2]))
    if len(parts) == 4:
        answers += _wander(parts, saw, lengths[0].unit)
    return tuple(answers)


def _wander(parts: list[str], saw: Saw, unit: str) -> tuple[SeenAnswer, ...]:
    """How far a cut left its line, and which way; a bare number has the one unit of the cut's other lengths. One that
    stayed on it is told as such, or as nothing, which is recorded in ``unit``."""
    if _ON_THE_LINE.fullmatch(parts[3]):
        return (SeenAnswer(Measurable.CUT_WANDER, 0, unit, "on the line"),)
    found = re.fullmatch(r"(.+?) (left|right)", parts[3])
    if found is None:
        such = f"{_OFF[by_inches(saw.unit)]} right"
        raise AnswerError(f'"{parts[3][:20]}" does not say how far and which way, such as "{such}", or "on the line"')
    try:
        off = typed_lengths((*parts[:2], found[1]), saw.unit, _OFF[by_inches(saw.unit)])[2]
    except TradeError as wrong:
        raise AnswerError(str(wrong)) from None
    told = SeenAnswer(Measurable.CUT_WANDER_TO, found[2], None, f"{off} {found[2]}")
    return _measured(Measurable.CUT_WANDER, off), told
