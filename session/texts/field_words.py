"""What is asked of one's own saw: each field of the form with how to measure it, and what hangs on it."""

from __future__ import annotations

from session.texts.word_files import cited, entry
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class FieldWords:
    """One field of the form in words.

    title: as it stands in the list. asks: the question. how: how it is measured and with what, a sentence each.
    follows: what hangs on it. source: who says so, in the short names of session.texts.sources.
    """

    title: str
    asks: str
    how: tuple[str, ...]
    follows: str
    source: str


def field_words(name: str) -> FieldWords:
    """The words of the field called ``name``. Raises NoEntryError for a name there is none of."""
    found = entry("saw_form", name)
    return FieldWords(
        title=found["title"],
        asks=found["asks"],
        how=tuple(found["how"]),
        follows=found["follows"],
        source=cited(found["source"]),
    )
