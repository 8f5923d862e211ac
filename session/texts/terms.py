"""The trade's terms, in our own words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from session.texts import faults
from session.texts.word_files import cited, entry, table


@dataclass(frozen=True, slots=True)
class Term:
    """A term, its meaning in one or two sentences, other names for it, and who uses it so."""

    name: str
    meaning: str
    also: tuple[str, ...]
    source: str


def search(text: str) -> tuple[Term, ...]:
    """The terms that hold every word of ``text``, those with it in the name first; all for an empty text.

    After them the faults that hold it, each with its causes and remedies: "chatters" is looked up as well as "burr".
    """
    wanted = text.casefold().split()

    def hit(where: str) -> bool:
        return all(word in where.casefold() for word in wanted)

    every = [_term(name) for name in names()]
    by_name = [found for found in every if hit(" ".join((found.name, *found.also)))]
    by_meaning = [found for found in every if found not in by_name and hit(f"{found.name} {found.meaning}")]
    by_fault = [found for found in map(_trouble, faults.names()) if wanted and hit(f"{found.name} {found.also[0]}")]
    return (*by_name, *by_fault, *by_meaning)


def within(text: str) -> tuple[Term, ...]:
    """The terms that ``text`` uses, in the order in which it does, the longer where one is part of another."""
    told = text.casefold()
    found: dict[str, tuple[int, int]] = {}
    for name, pattern in _patterns().items():
        if used := pattern.search(told):
            found[name] = used.span()
    inside = {
        name
        for name, (begin, end) in found.items()
        if any(b <= begin and end <= e and (b, e) != (begin, end) for b, e in found.values())
    }
    return tuple(_term(name) for name in sorted(found, key=lambda name: found[name][0]) if name not in inside)


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    """For each term its names as they are found in a sentence, one or several of the thing."""
    every = ((name, (name, *_term(name).also)) for name in names())
    return {
        name: re.compile(rf"\b(?:{'|'.join(re.escape(one.casefold()) for one in called)})(?:e?s)?\b")
        for name, called in every
    }


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
