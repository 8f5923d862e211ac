"""What stands on a printed page: its title, and how it is made and used."""

from __future__ import annotations

from session.texts.word_files import cited, entry
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class PageWords:
    """The words of one page. how: sentences, in the order in which they are done; source: who says so."""

    title: str
    how: tuple[str, ...]
    source: str


def page_words(name: str, **amounts: str) -> PageWords:
    """The words of the page called ``name``, with the ``amounts`` that they name.

    Raises NoEntryError for a name there is none of, and KeyError for an amount that is not given.
    """
    found = entry("printed_pages", name)
    how = tuple(sentence.format(**amounts) for sentence in found["how"])
    return PageWords(found["title"], how, cited(found["source"]))
