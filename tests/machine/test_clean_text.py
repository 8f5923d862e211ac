"""Cleaning text: one line, nothing a terminal obeys, everything else untouched."""

from __future__ import annotations

import sys
import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from session.machine.clean_text import clean

TURNS = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


def test_every_code_point_is_kept_or_taken_out_for_a_reason() -> None:
    for first in range(0, sys.maxunicode + 1, 256):
        block = [chr(number) for number in range(first, first + 256)]
        assert clean("".join(f"a{sign}b" for sign in block)) == "".join(map(cleaned, block)), hex(first)


def cleaned(sign: str) -> str:
    """What is left of it between an a and a b, by what the standard says of it."""
    unsafe = unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") or unicodedata.bidirectional(sign) in TURNS
    if unsafe or sign in "\u200e\u200f\u061c\ufeff":
        return "a b" if sign.isspace() and sign not in "\x1c\x1d\x1e\x1f" else "ab"
    return f"a{sign}b"


def test_control_sequences_lose_what_makes_them_one() -> None:
    assert clean("\x1b[31mred\x1b]0;title\x07 \x9b2J\u202eabc") == "[31mred]0;title 2Jabc"
    assert clean("[/] [@click=app.quit]") == "[/] [@click=app.quit]"


@given(st.text())
def test_cleaning_twice_changes_nothing_more(text: str) -> None:
    assert clean(clean(text)) == clean(text)
