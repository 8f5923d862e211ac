"""Words that a log may hold, those of other versions too: kept and shown, never a reason to refuse."""

from __future__ import annotations

from enum import StrEnum
from typing import Final, Self

#: A longer word was not written by any version.
_LONGEST: Final = 60


class LogWord(StrEnum):
    """A word of a log. Iterating gives those that this version knows."""

    @classmethod
    def of_log(cls, word: str) -> Self:
        """The word as a log has it, be it known or not. Raises ValueError for a text that is no word."""
        try:
            return cls(word)
        except ValueError:
            return cls._of_another_version(word)

    @classmethod
    def _of_another_version(cls, word: str) -> Self:
        if not 1 <= len(word) <= _LONGEST or not word.isprintable() or word != word.strip():
            raise ValueError(f"{word!r} is no word; allowed: {', '.join(cls)}, or a word of another version")
        # Not one of the enumeration, so that no list of what this version does is made longer by a file.
        foreign = str.__new__(cls, word)
        foreign._name_ = foreign._value_ = word
        return foreign

    @property
    def known(self) -> bool:
        """Whether this version knows the word."""
        return self._name_ in type(self).__members__
