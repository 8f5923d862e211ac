"""What a stage is and how it is worked, at three levels of guidance.

The instruction line (session.sentences.instruction) is shown at every level. Beside it a learner gets the
how, the why, and what goes wrong when one does not stop; somebody who has done it before the how; an old hand nothing.
"""

from __future__ import annotations

from enum import StrEnum

from session.texts.word_files import cited, entry
from session.value_class import dataclass
from session.walk.stages import Stage


class Level(StrEnum):
    """How much is said beside the instruction line."""

    TAUGHT = "taught"
    BRIEF = "brief"
    BARE = "bare"


@dataclass(frozen=True, slots=True)
class StageWords:
    """The words of one stage, each one sentence of at most 75 characters.

    wrong: what goes wrong; it begins with when to stop where the instruction line does not say it. of_flats: what
    ``how`` ends with where flats were left to file to; empty where it has nothing of them.
    """

    title: str
    why: str
    how: str
    wrong: str
    source: str
    of_flats: str = ""


def words(stage: Stage) -> StageWords:
    """The words of ``stage``, with who says so."""
    found = entry("guidance", stage.value)
    return StageWords(
        title=found["title"],
        why=found["why"],
        how=found["how"],
        wrong=found["wrong"],
        source=cited(found["source"]),
        of_flats=found.get("of_flats", ""),
    )


def reasons(stage: Stage) -> tuple[str, ...]:
    """The common reasons for leaving out a place of ``stage``, most common first: offers, so that one key tells what a
    hand with filings on it cannot type."""
    return tuple(entry("guidance", stage.value)["reasons"])


def beside(stage: Stage, level: Level, *, to_flats: bool = True) -> tuple[str, ...]:
    """The sentences to show beside the instruction line while the stage is worked, most needed first.

    to_flats: whether there are flats to file to; a touch up has none.
    """
    said = words(stage)
    how = f"{said.how} {said.of_flats}" if said.of_flats and to_flats else said.how
    if level is Level.TAUGHT:
        return (how, said.why, said.wrong)
    return (how,) if level is Level.BRIEF else ()
