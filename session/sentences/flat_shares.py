"""How much of a flat one gullet takes, in words: the share that the plan says, and never "half" when it says a hair."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final

from session.trade.evening import EveningPlan

#: Up to which share each word stands, least first; what is more is all of it: judgment.
_WORDS: Final = (
    (0.02, "none"),
    (0.12, "a hair"),
    (0.29, "a quarter"),
    (0.42, "a third"),
    (0.58, "half"),
    (0.71, "two thirds"),
    (0.88, "three quarters"),
    (0.98, "all but a hair"),
)


def share_word(share: float) -> str:
    """The word for ``share`` of a flat, 0 to 1."""
    return next((word for most, word in _WORDS if share <= most), "all")


#: The same as figures, where there is no room for words.
_FIGURES: Final = {"a quarter": "1/4", "a third": "1/3", "half": "1/2", "two thirds": "2/3", "three quarters": "3/4"}


def shares_to_stop_at(plan: EveningPlan, gullet: int, goes: Collection[int]) -> tuple[str, ...]:
    """When to stop in gullet ``gullet``, longest words first; none where it is the same as for every flat.

    goes: the teeth whose flat has given its other share already: of them the rest goes here. Nothing is said where each
    flat gives half, or all that is left of it: the usual words say that.
    """
    told = [(tooth, share_word(share)) for tooth, share in _shares(plan, gullet)]
    if all(word != "none" if tooth in goes else word == "half" for tooth, word in told):
        return ()
    named = [(tooth, word if tooth not in goes or word == "none" else "the rest") for tooth, word in told]
    whole = ", ".join(f"{word} of flat {tooth}" for tooth, word in named)
    figures = [(tooth, _FIGURES.get(word, word)) for tooth, word in named]
    short = ", ".join(f"{word} of flat {tooth}" for tooth, word in figures)
    shortest = ", ".join(f"{word} of {'flat ' if n == 0 else ''}{tooth}" for n, (tooth, word) in enumerate(figures))
    return whole, short, shortest


def shares_of_gullet(plan: EveningPlan, gullet: int) -> str:
    """What gullet ``gullet`` (1 … N) takes of the two flats beside it: "all but a hair of flat 12, none of flat 13".

    The gullet in front of a tooth takes ``share_front`` of its flat, the gullet behind it the rest. A tooth without a
    flat is not named; where neither has one, nothing is said.
    """
    return ", ".join(f"{share_word(share)} of flat {tooth}" for tooth, share in _shares(plan, gullet))


def _shares(plan: EveningPlan, gullet: int) -> Iterator[tuple[int, float]]:
    """The teeth beside a gullet that have a flat, each with the share that the gullet takes of it."""
    shares = plan.share_front
    behind = shares[gullet - 1]
    ahead = shares[gullet] if gullet < len(shares) else None
    if behind is not None:
        yield gullet, behind
    if ahead is not None:
        yield gullet + 1, 1.0 - ahead
