"""One thing that the simulated filer does at the program."""

from __future__ import annotations

from dataclasses import dataclass

from session.sentences.offers import Act


@dataclass(frozen=True, slots=True)
class Move:
    """One thing the filer does: the act, the digit for STROKES, what is typed when the act asks for words,
    and how many seconds of work come before it."""

    act: Act
    digit: int = 0
    text: str | None = None
    takes_s: float = 3.0
