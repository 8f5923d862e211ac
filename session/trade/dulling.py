"""How fast a saw dulls, by its trial cuts, and when it is due again.

The area cut per stroke falls as a saw dulls. Set against the first cut after the same sharpening, the
falls of several sharpenings can be laid over one another, and a straight line through them tells when the rest
of the sharpness is used up. With too few cuts, nothing is foretold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from session.trade.trade_error import TradeError
from session.trade.trial_cut import TrialCut

#: A saw is due when it cuts this share of its first cut's area per stroke: judgment, a setting.
DUE_SHARE: Final = 0.7

#: Cuts after the first ones that a forecast must rest on: judgment.
ENOUGH_CUTS: Final = 4


@dataclass(frozen=True, slots=True)
class Dulling:
    """What past cuts say about how fast a saw dulls.

    cuts: the cuts after the first ones that this rests on; sharpenings: how many they are from.
    enough: False when nothing is foretold; ``why`` then says what is missing.
    share_now: area per stroke of the latest cut against the first after its sharpening; None without a second cut.
    loss_per_day: share of the first area lost each day; None when not enough.
    due_in_days: days from the latest cut until ``due_share`` is reached, 0 when it is reached already; None when
        not enough, or no fall is seen. earliest and latest: by one standard error of the loss; latest None when open.
    """

    cuts: int
    sharpenings: int
    enough: bool
    why: str
    share_now: float | None = None
    loss_per_day: float | None = None
    due_in_days: float | None = None
    earliest_days: float | None = None
    latest_days: float | None = None


def fit_dulling(
    series: Sequence[Sequence[TrialCut]], due_share: float = DUE_SHARE, enough: int = ENOUGH_CUTS
) -> Dulling:
    """Fit the fall of area per stroke over days, from the cuts of each sharpening, the latest sharpening last.

    Only cuts in the wood of the latest cut are compared. Within a sharpening, cuts are in order of days; the first
    is the one the others are held against. Raises TradeError for a share outside 0…1 or cuts out of order.
    """
    if not 0.0 < due_share < 1.0:
        raise TradeError(f"due at a share of {due_share:g}; allowed: above 0, below 1")
    flat = [cut for cuts in series for cut in cuts]
    if not flat:
        return Dulling(0, 0, False, "Not enough cuts yet: none is recorded.")
    wood = flat[-1].wood
    falls: list[tuple[float, float]] = []
    used = 0
    share_now: float | None = None
    for cuts in series:
        alike = [cut for cut in cuts if cut.wood == wood]
        if any(late.days < early.days for early, late in pairwise(alike)):
            raise TradeError("the cuts of a sharpening are out of order; allowed: days that do not go back")
        share_now = alike[-1].area_mm2 / alike[0].area_mm2 if len(alike) > 1 else None
        later = [(c.days - alike[0].days, 1.0 - c.area_mm2 / alike[0].area_mm2) for c in alike[1:]]
        later = [(days, fall) for days, fall in later if days > 0.0]
        used += bool(later)
        falls += later
    if len(falls) < enough:
        why = (
            f"Not enough cuts yet: {len(falls)} in this wood, on days after the first cut of a sharpening; "
            f"needed: {enough}."
        )
        return Dulling(len(falls), used, False, why, share_now)
    return _forecast(falls, used, share_now, due_share, _age(series, wood))


def _age(series: Sequence[Sequence[TrialCut]], wood: str) -> float:
    """Days from the first to the latest comparable cut of the latest sharpening; 0 when it has only one."""
    alike = [cut for cut in series[-1] if cut.wood == wood] if series else []
    return alike[-1].days - alike[0].days if alike else 0.0


def _forecast(
    falls: Sequence[tuple[float, float]], used: int, share_now: float | None, due_share: float, age: float
) -> Dulling:
    weight = math.fsum(days * days for days, _ in falls)
    loss = math.fsum(days * fall for days, fall in falls) / weight
    spread = math.fsum((fall - loss * days) ** 2 for days, fall in falls)
    error = math.sqrt(spread / max(1, len(falls) - 1) / weight)
    rests = f"Rests on {len(falls)} cuts from {used} sharpening{'s' if used != 1 else ''}."
    if loss <= 0.0:
        return Dulling(len(falls), used, True, f"No fall is seen. {rests}", share_now, loss)
    whole = (1.0 - due_share) / loss
    latest = (1.0 - due_share) / (loss - error) if loss > error else None
    return Dulling(
        len(falls),
        used,
        True,
        rests,
        share_now,
        loss,
        max(0.0, whole - age),
        max(0.0, (1.0 - due_share) / (loss + error) - age),
        None if latest is None else max(0.0, latest - age),
    )
