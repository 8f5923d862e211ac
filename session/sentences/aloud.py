"""Words of the screen as a voice can say them: signs, units and fractions in words, nothing that is only drawn."""

from __future__ import annotations

import re
from typing import Final

from session.texts.wording import capital

_UNITS: Final = {
    "in": ("inch", "inches"),
    "mm": ("millimeter", "millimeters"),
    "cm": ("centimeter", "centimeters"),
    "thou": ("thousandth of an inch", "thousandths of an inch"),
    "min": ("minute", "minutes"),
    "s": ("second", "seconds"),
    "ms": ("millisecond", "milliseconds"),
    "h": ("hour", "hours"),
}

#: A number with its unit. "Teeth 22 to 41 in the vise" has none.
_MEASURE: Final = re.compile(
    rf"(?<![\w.])((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?) ({'|'.join(_UNITS)})\b"
    r"(?! (?:the|an|all|each|every|this|in|out|your)\b| a (?!side))"
)

#: From one number to another; a date is none.
_RANGE: Final = re.compile(r"(?<![\d-])(\d+(?:\.\d+)?)\s*[–-]\s*(?=\d+(?![\d-]))")

_FRACTION: Final = re.compile(r"(?<![\d/.])(?:(\d+) )?(\d+)/(2|4|8|16|32|64|3)(?![\d/])")
_PARTS: Final = {
    2: ("half", "halves"),
    3: ("third", "thirds"),
    4: ("quarter", "quarters"),
    8: ("eighth", "eighths"),
    16: ("sixteenth", "sixteenths"),
    32: ("thirty-second", "thirty-seconds"),
    64: ("sixty-fourth", "sixty-fourths"),
}

#: Short names of sources behind a sentence, "(KING, MTS p. 9)": they are read, not heard.
_SOURCES: Final = re.compile(r"\s*\((?=[^)]*[A-Z]{2})[A-Z0-9][A-Za-z0-9 .,;:&-]*\)")

_SIGNS: Final = {
    "°": " degrees",
    "%": " percent",
    "×": " by ",
    "≤": " at most ",
    "≥": " at least ",
    "±": " plus or minus ",
    "²": " squared",
    "³": " cubed",
    "½": " a half",
    "+": " plus ",
    "=": ", ",
    "&": " and ",
    "…": ".",
    "·": ",",
    "│": ",",
    "—": ",",
    "–": ",",
    ";": ",",
    "(": ", ",
    ")": ",",
}
_SIGN: Final = re.compile("|".join(map(re.escape, _SIGNS)))

#: What is left of drawings, quotes and brackets.
_SILENT: Final = re.compile(r"[^\w\s.,:?!'’-]|_")


def aloud(text: str) -> str:
    """``text`` for a voice: no sign that it could not say, and no source."""
    text = _SOURCES.sub("", text)
    text = _RANGE.sub(r"\1 to ", text)
    text = re.sub(r"(?<=[A-Za-z])-(?=\d)", " ", text)
    text = _MEASURE.sub(_measured, text)
    text = _FRACTION.sub(_fraction, text)
    text = re.sub(r"(?<=\w)/(?=\w)", " or ", text)
    text = _SIGN.sub(lambda sign: _SIGNS[sign[0]], text)
    text = _SILENT.sub(" ", text)
    text = re.sub(r"\s+", " ", text)
    text = re.sub(r"\s+([.,:?!])", r"\1", text)
    # Where signs fell out, their stops stand together: the last of them tells.
    text = re.sub(r"[.,:](?=[.,:?!])(?!\.\d)", "", text)
    return text.strip(" ,:")


def sentences(*parts: str) -> str:
    """``parts`` one after the other, each a sentence of its own."""
    said = [part for part in map(aloud, parts) if part]
    return " ".join(capital(part) + "." * (part[-1] not in ".?!") for part in said)


def _measured(found: re.Match[str]) -> str:
    number, unit = found[1], found[2]
    one, many = _UNITS[unit]
    if number == "1/2":
        return f"half {'an' if one == 'inch' else 'a'} {one}"
    if "/" in number and " " not in number:
        # "Five eighths of an inch"; a whole number with a fraction is more than one.
        return f"{number} of {'an' if one == 'inch' else 'a'} {one}"
    return f"{number} {one if number == '1' else many}"


def _fraction(found: re.Match[str]) -> str:
    whole, count, parts = found[1], int(found[2]), int(found[3])
    one, many = _PARTS[parts]
    said = f"{count} {many}" if count != 1 else f"{'an' if parts == 8 else 'a'} {one}"
    return f"{whole} and {said}" if whole else said
