"""The trade's terms, in our own words."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from session.texts import faults
from session.texts.word_files import cited, entry, table
from session.value_class import dataclass

#: The endings of plurals and of verbs, the longer before those that they end in.
_ENDINGS: Final = ("ings", "ing", "ed", "es", "s")

#: What is left of a word without its ending has so many letters at least.
_SHORTEST: Final = 3


@dataclass(frozen=True, slots=True)
class Term:
    """A term, its meaning in one or two sentences, other names for it, and who uses it so."""

    name: str
    meaning: str
    also: tuple[str, ...]
    source: str


def search(text: str) -> tuple[Term, ...]:
    """The terms that ``text`` asks for; all for an empty text.

    First the one so called, then those of which it is a form ("gullets", "leaning"), then those that hold every word
    of it in the name, then the faults that hold it, each with its causes and remedies, then those that are told by it.
    """
    wanted = text.casefold().split()

    def hit(where: str) -> bool:
        return all(word in where.casefold() for word in wanted)

    every = [_term(name) for name in names()]
    if not wanted:
        return tuple(every)
    stems = _stems(text)
    called = [one for one in every if " ".join(wanted) in (name.casefold() for name in (one.name, *one.also))]
    formed = [one for one in every if stems in _patterns()[one.name]]
    by_name = [one for one in every if hit(" ".join((one.name, *one.also)))]
    by_fault = [found for found in map(_trouble, faults.names()) if hit(f"{found.name} {found.also[0]}")]
    by_meaning = [one for one in every if hit(f"{one.name} {one.meaning}")]
    return tuple(dict.fromkeys((*called, *formed, *by_name, *by_fault, *by_meaning)))


def within(text: str) -> tuple[Term, ...]:
    """The terms that ``text`` uses, in whatever form, in the order in which it does; the longer where one is part of
    another."""
    words = _stems(text)
    found: dict[str, tuple[int, int]] = {}
    for name, called in _patterns().items():
        spans = ((at, at + len(one)) for one in called for at in range(len(words)) if words[at : at + len(one)] == one)
        if first := min(spans, default=None):
            found[name] = first
    inside = {
        name
        for name, (begin, end) in found.items()
        if any(b <= begin and end <= e and (b, e) != (begin, end) for b, e in found.values())
    }
    return tuple(_term(name) for name in sorted(found, key=lambda name: found[name][0]) if name not in inside)


@cache
def _patterns() -> dict[str, tuple[tuple[str, ...], ...]]:
    """For each term its names, each as the stems of its words."""
    return {name: tuple(_stems(called) for called in (name, *_term(name).also)) for name in names()}


def _stems(text: str) -> tuple[str, ...]:
    return tuple(_stem(word) for word in re.findall(r"\w+", text.casefold()))


def _stem(word: str) -> str:
    """What the forms of ``word`` have in common: one and several of a thing, the forms of a verb."""
    if not word.endswith("ss"):
        ending = next((end for end in _ENDINGS if word.endswith(end) and len(word) - len(end) >= _SHORTEST), "")
        word = word.removesuffix(ending)
    if len(word) > _SHORTEST and word[-1] == word[-2] and word[-1] not in "aeiou":
        word = word[:-1]
    return word[:-1] if word.endswith("e") and len(word) > _SHORTEST else word


def names() -> tuple[str, ...]:
    """The names of all terms, in the order of the data file, which is alphabetical."""
    return tuple(table("terms"))


def _term(name: str) -> Term:
    found = entry("terms", name)
    return Term(name, found["means"], tuple(found.get("also", ())), cited(found["source"]))


def _trouble(name: str) -> Term:
    """A fault told like a term: by what is seen of it, or by its name."""
    found = faults.fault(name)
    told = " ".join(f"{one.cause} {one.remedy}" for one in found.causes)
    said_by = dict.fromkeys(part for one in found.causes for part in one.source.split("; "))
    return Term(name, told, (found.sees,), "; ".join(said_by))
