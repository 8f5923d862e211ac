"""A question as a value: the screen shows it as a sheet over the bench, the line-by-line mode prints it."""

from __future__ import annotations

from collections.abc import Callable

from session.desk.act_reply import Reply
from session.value_class import dataclass

#: Longest text a person may type as an answer, in characters.
LONGEST = 200


def _will_do(text: str) -> str | None:
    return None


def _says_nothing(text: str) -> str:
    return ""


@dataclass(frozen=True, slots=True)
class Question:
    """One thing asked, or only shown where ``then`` is None.

    rows: a list to look through, a row each, its first cell blank. choices: picked by digit or from a list; the
    answer is then the choice's own text. hint: what a typed answer looks like, empty for own words; None when nothing
    can be typed. check: what is wrong with a typed text, or None when it will do. then: takes the answer. several:
    for an answer that would mark more than one place, the sentence to agree to first, which names the first and the
    last (bench rule 9); else empty. understood: how a typed text is understood so far, where that is not the text
    itself, as a number whose unit was not typed; else empty. typed: what stands on the line as it opens.
    """

    title: str
    lines: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    hint: str | None = None
    check: Callable[[str], str | None] = _will_do
    then: Callable[[str], Reply] | None = None
    several: Callable[[str], str] = _says_nothing
    understood: Callable[[str], str] = _says_nothing
    typed: str = ""

    @property
    def how_to_type(self) -> str:
        """What to type, in a few words; empty when nothing can be typed."""
        if self.hint is None:
            return ""
        if self.hint:
            return f"Type it, {self.hint}"
        return "Or type your own words" if self.choices else "Type a word or two"
