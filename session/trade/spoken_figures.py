"""Figures as people say them, written in digits: "twenty-six inches", "an eighth of an inch", "2 ft 2 in", "about 15".

Only how a figure is said changes here, never what it is: what can be meant in two ways stays as it was typed.
"""

from __future__ import annotations

import re
from typing import Final

#: Signs that look like others, by those.
_SIGNS: Final = str.maketrans({"−": "-", "–": "-", "·": ".", "⁄": "/", "\N{NO-BREAK SPACE}": " ", "’": "'", "×": "x"})

_ONES: Final = {
    "zero": 0,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "thirteen": 13,
    "fourteen": 14,
    "fifteen": 15,
    "sixteen": 16,
    "seventeen": 17,
    "eighteen": 18,
    "nineteen": 19,
}
_TENS: Final = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60}

#: What a figure is divided by, by the words for it; a thousandth of an inch has a unit of its own.
_PARTS: Final = {
    "hal(?:f|ves)": 2,
    "thirds?": 3,
    "quarters?": 4,
    "fifths?": 5,
    "sixths?": 6,
    "eighths?": 8,
    "tenths?": 10,
    "twelfths?": 12,
    "sixteenths?": 16,
    "hundredths?": 100,
    "32nds?": 32,
    "64ths?": 64,
    "16ths?": 16,
    "8ths?": 8,
}

#: Words around a figure that change nothing of it; "nearly" and "over" would.
_AROUND: Final = re.compile(
    r"~|≈|(?<![a-z])(?:about|approx(?:imately|\.)?|roughly|circa|ca\.?|around|exactly|just|or so|(?:on )?each side|"
    r"per side|a side|each|long|wide|thick|measured|by (?:my )?calipers)(?![a-z])"
)

_FEET: Final = re.compile(
    r"\s*([0-9]+)\s*(?:ft\.?|foot|feet|'(?!'))\s*(?:and\s+)?"
    r"(?:([0-9]+(?:[.,][0-9]+)?)((?:\s+|-)[0-9]+/[0-9]+)?\s*(?:in(?:ch(?:es)?)?\.?|\"|″|”|'')?)?\s*"
)


def in_digits(text: str) -> str:
    """``text`` with its numbers in digits, and without what is only said around them; in small letters.

    >>> in_digits("Twenty-six inches"), in_digits("an eighth of an inch"), in_digits("about 1 and 1/16")
    ('26 inches', '1/8 inch', '1 1/16')
    >>> in_digits("20 thousandths of an inch"), in_digits("2 ft 2 in"), in_digits("five and a half points")
    ('20 thou', '26 in', '5 1/2 points')
    """
    told = _AROUND.sub(" ", text.translate(_SIGNS).casefold())
    told = re.sub(r"(?<=/)([0-9]+)\s*(?:st|nd|rd|th)s?(?![a-z])", r"\1", told)
    told = re.sub(r"thirty[\s-]second(?=s?(?![a-z]))", "32nd", re.sub(r"sixty[\s-]fourth(?=s?(?![a-z]))", "64th", told))
    told = _parts(_counted(told))
    told = re.sub(r"(?<=[0-9])[\s-]*thousand(?:th)?s?\s+of\s+(?:an?\s+|1\s+)?inch(?![a-z])", " thou", told)
    # "26 inches and 1/2" is 26 1/2 inches.
    told = re.sub(r"(?<![0-9/])([0-9]+)\s*([a-z\"″]+)\s*(?:and|&|\+)\s*([0-9]+/[0-9]+)(?![0-9])", r"\1 \3 \2", told)
    told = re.sub(r"(?<=[0-9])\s*(?:and|&|\+)\s*(?=[0-9]+/)", " ", told)
    told = re.sub(r"(?<=[0-9])\s+(?:(?:of\s+)?an?|of\s+1)\s+(?=(?:inch|in|mm|millimet(?:er|re))(?![a-z]))", " ", told)
    told = " ".join(re.sub(r"(?<=[0-9])\s*of\s+(?=(?:inch|in|mm)(?![a-z]))", " ", told).split())
    feet = _FEET.fullmatch(told)
    if feet is None:
        return told
    inches = int(feet[1]) * 12 + float((feet[2] or "0").replace(",", "."))
    return " ".join(f"{inches:g} {feet[3] or ''} in".replace("-", " ").split())


def _counted(told: str) -> str:
    """Words for whole numbers up to sixty-nine as digits."""
    tens, ones = "|".join(_TENS), "|".join(_ONES)
    told = re.sub(
        rf"(?<![a-z])({tens})[\s-]+({'|'.join(list(_ONES)[1:10])})(?![a-z])",
        lambda found: str(_TENS[found[1]] + _ONES[found[2]]),
        told,
    )
    return re.sub(rf"(?<![a-z])({tens}|{ones})(?![a-z])", lambda found: str((_TENS | _ONES)[found[1]]), told)


def _parts(told: str) -> str:
    """Words for parts of one as fractions: "3 quarters", "an eighth", "half"."""
    for words, under in _PARTS.items():
        told = re.sub(
            rf"(?<![a-z0-9/])(?:([0-9]+)[\s-]+|an?\s+)?{words}(?![a-z0-9])",
            lambda found, under=under: f"{found[1] or 1}/{under}",  # type: ignore[misc]
            told,
        )
    return re.sub(r"^\s*an?\s+(?=inch)", "1 ", told)
