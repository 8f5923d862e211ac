"""What the program will not do: in words that a person can act on, with the exit status that says so."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

#: Exit statuses: bad input or usage; another program holds it; the disk would not take it; the terminal is gone, told
#: as if by the signal that the systems which have one send then; interrupted.
BAD_INPUT: Final = 2
HELD: Final = 3
DISK: Final = 4
HUNG_UP: Final = 129
INTERRUPTED: Final = 130


class Refusal(ValueError):
    """Something that a person can mend: what, where, and what is allowed, one sentence a line.

    code: the exit status, one of those above. A kind of its own is a subclass only where it is caught by itself.
    """

    def __init__(self, words: str | Iterable[str], code: int = BAD_INPUT) -> None:
        super().__init__(words if isinstance(words, str) else "\n".join(words))
        self.code = code

    @property
    def lines(self) -> tuple[str, ...]:
        """The sentences, one by one."""
        return tuple(str(self).splitlines())
