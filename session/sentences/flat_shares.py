"""How much of a flat one gullet takes, in words: the share that the plan says, and never "half" when it says a hair."""

from __future__ import annotations

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


def shares_of_gullet(plan: EveningPlan, gullet: int) -> str:
    """What gullet ``gullet`` (1 … N) takes of the two flats beside it: "all but a hair of flat 12, none of flat 13".

    The gullet in front of a tooth takes ``share_front`` of its flat, the gullet behind it the rest. A tooth without a
    flat is not named; where neither has one, nothing is said.
    """
    shares = plan.share_front
    behind = shares[gullet - 1]
    ahead = shares[gullet] if gullet < len(shares) else None
    told = [] if behind is None else [f"{share_word(behind)} of flat {gullet}"]
    if ahead is not None:
        told.append(f"{share_word(1.0 - ahead)} of flat {gullet + 1}")
    return ", ".join(told)
