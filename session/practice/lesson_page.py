"""What the practice says at one moment: the five questions answered, what is asked, and what came of the last press."""

from __future__ import annotations

from session.sentences.offers import Act, Offer
from session.value_class import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonPage:
    """One moment of the practice.

    stage: its name. side: where the saw stands, 1 or 2. numeral, of: the tooth or gullet in hand. title: what this is
    about. tool, hold, place, direction, stop: the five questions (bench rule 29). choices: answers picked by a digit,
    in order from 1. instruction: one sentence to act on. shown: the gullet or tooth that the picture is about. flats:
    a sign for the flat of each tooth, as far as it was told. offers: the keys that do something now. ended: whether
    this is the last page.
    """

    stage: str
    side: int
    numeral: str
    of: str
    title: str
    tool: str
    hold: str
    place: str
    direction: str
    stop: str
    instruction: str
    offers: tuple[Offer, ...]
    choices: tuple[str, ...] = ()
    shown: int = 1
    flats: tuple[str, ...] = ()
    ended: bool = False

    @property
    def lines(self) -> tuple[str, ...]:
        """The answers to the five questions, each by its name, and the choices; at the end what was learned."""
        if self.ended:
            return self.choices
        asked = (
            f"Tool: {self.tool}",
            f"Hold: {self.hold}",
            f"Where: {self.place}",
            f"Way: {self.direction}",
            f"Stop: {self.stop}",
        )
        return (*asked, "  ".join(f"{n} {choice}" for n, choice in enumerate(self.choices, 1)))[
            : 5 + bool(self.choices)
        ]


def offers_for(*acts: tuple[Act, str], most: int = 9) -> tuple[Offer, ...]:
    """These acts with their words, then leaving; ``most`` is the highest digit that does something."""
    return (*(Offer(act, word, most=most) for act, word in acts), Offer(Act.QUIT, "leave"))
