"""What is asked in words: a title, the sentences under it, one instruction, and what may be picked."""

from __future__ import annotations

from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Asked:
    """A title, the sentences under it, the one instruction, what may be picked by digit, and who says so.

    angles: the part of the title that stands alone where a row has no room for the whole of it; empty for none.
    first: so many of the sentences are needed at every glance, and stand beside the picture whatever it leaves.
    """

    title: str
    lines: tuple[str, ...]
    instruction: str
    signal: str = ""
    choices: tuple[str, ...] = ()
    source: str = ""
    angles: str = ""
    first: int = 0
