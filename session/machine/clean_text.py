"""Text that came from outside, made safe to show: one line without anything a terminal would obey.

Control sequences and signs that reverse the reading direction pass through every text widget to the
terminal. So they are taken out where text enters: files, pastes, the command line, the keyboard.
"""

from __future__ import annotations

import re
from typing import Final

#: ESC and all other C0 and C1 controls, DEL, the signs of the bidirectional algorithm, line and
#: paragraph separators, and halves of surrogate pairs, which cannot be written as UTF-8: none of them is printable.
#: Compiled when the first text with one is met, as next to none has any.
_WHITE: Final = "[\t\n\v\f\r\x85\u2028\u2029]"
_UNSAFE: Final = "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff]"


def clean(text: str) -> str:
    """``text`` on one line: tabs and line ends as spaces, controls and direction signs left out."""
    if text.isprintable():
        # As nearly every text is: there is nothing to take out of it.
        return text
    return re.sub(_UNSAFE, "", re.sub(_WHITE, " ", text))
