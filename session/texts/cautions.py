"""Cautions: what can hurt the person, the saw or the file, and how not to let it."""

from __future__ import annotations

from enum import StrEnum

from session.texts.word_files import cited, entry
from session.value_class import dataclass


class Signal(StrEnum):
    """Signal words as ANSI Z535 uses them; DANGER (death is certain) has no place at a saw vise."""

    WARNING = "WARNING"  # death or grave injury is possible
    CAUTION = "CAUTION"  # a small or middling injury is possible
    NOTICE = "NOTICE"  # nobody is hurt: the saw or the file is spoiled


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution, shown whole before the first step it concerns.

    hazard, consequence, avoid: one short sentence each.
    in_effect: at most 24 characters, shown as long as the caution applies.
    source: who says so, in the short names of session.texts.sources.
    """

    name: str
    signal: Signal
    hazard: str
    consequence: str
    avoid: str
    in_effect: str
    source: str


def caution(name: str) -> Caution:
    """The caution of that name. Raises NoEntryError for a name there is none of."""
    found = entry("cautions", name)
    return Caution(
        name=name,
        signal=Signal(found["signal"]),
        hazard=found["hazard"],
        consequence=found["consequence"],
        avoid=found["avoid"],
        in_effect=found["in_effect"],
        source=cited(found["source"]),
    )
