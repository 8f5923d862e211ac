"""How fast a saw dulls, by its trial cuts, and when it is due again.

The area cut per stroke falls as a saw dulls. Set against the first cut after the same sharpening, the falls of several
sharpenings can be laid over one another, and a straight line through them tells when the rest of the sharpness is used
up. With too few cuts, nothing is foretold, and what is foretold has the range that holds about seven times in ten.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from session.trade.seven_in_ten import either_side
from session.trade.trade_error import TradeError
from session.trade.trial_cut import TrialCut
from session.value_class import dataclass

#: A saw is due when it cuts this share of its first cut's area per stroke: judgment, a setting.
DUE_SHARE: Final = 0.7

#: Cuts after the first ones that a forecast must rest on: judgment.
ENOUGH_CUTS: Final = 4

#: How far two cuts of one saw, one day and one board may differ by the hand and by counting whole strokes, as a share,
#: and of how many cuts that knowledge is worth: judgment. Four cuts alone may agree by chance.
HAND_DIFFERS: Final = 0.03
HAND_WORTH: Final = 3

#: How far the loss a day of one sharpening may differ from the next, as a share of it, and of how many sharpenings
#: that knowledge is worth: judgment. The work is not the same each month.
USE_DIFFERS: Final = 0.25
USE_WORTH: Final = 2


@dataclass(frozen=True, slots=True)
class Dulling:
    """What past cuts say about how fast a saw dulls.

    cuts: the cuts after the first ones that this rests on; sharpenings: how many they are from.
    enough: False when nothing is foretold; ``why`` then says what is missing.
    share_now: area per stroke of the latest cut against the first after its sharpening; None without a second cut.
    loss_per_day: share of the first area that is lost each day in the latest sharpening; None when not enough.
    due_in_days: days from the latest cut of the latest sharpening, from that sharpening itself where it has none, until
        ``due_share`` is reached, 0 when it is reached already; None when not enough, or no fall is seen.
    earliest_days, latest_days: the range that holds it about seven times in ten; latest None when open.
    counted_from: days after the latest sharpening from which these are counted.
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
    counted_from: float = 0.0


@dataclass(frozen=True, slots=True)
class _Falls:
    """The falls of one sharpening: days and fall since its first cut, of the ``count`` cuts after it.

    The first cut was itself luckier or less lucky than the saw deserved, and all falls share that. So with a line
    through the origin their errors are not independent: s²·(I + 1·1ᵀ), whose inverse gives what stands here
    (generalized least squares). weight: 1 / variance of ``loss`` for s = 1. misses: the squares that the line leaves.
    """

    loss: float
    weight: float
    misses: float
    count: int

    @classmethod
    def of(cls, falls: Sequence[tuple[float, float]]) -> _Falls:
        share = 1.0 / (len(falls) + 1)
        days, fall = math.fsum(day for day, _ in falls), math.fsum(fall for _, fall in falls)
        weight = math.fsum(day * day for day, _ in falls) - days * days * share
        loss = (math.fsum(day * fall for day, fall in falls) - days * fall * share) / weight
        squares = math.fsum(fall * fall for _, fall in falls) - fall * fall * share
        return cls(loss, weight, max(0.0, squares - loss * loss * weight), len(falls))


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
        return Dulling(0, 0, False, f"Not enough cuts yet: none is recorded; needed: a first and {enough} later ones.")
    wood = flat[-1].wood
    share_now: float | None = None
    counted_from = age = 0.0
    falls: list[list[tuple[float, float]]] = []
    for cuts in series:
        alike = [cut for cut in cuts if cut.wood == wood]
        if any(late.days < early.days for early, late in pairwise(alike)):
            raise TradeError("the cuts of a sharpening are out of order; allowed: days that do not go back")
        share_now = alike[-1].area_mm2 / alike[0].area_mm2 if len(alike) > 1 else None
        counted_from = alike[-1].days if alike else 0.0
        age = counted_from - alike[0].days if alike else 0.0
        later = [(c.days - alike[0].days, 1.0 - c.area_mm2 / alike[0].area_mm2) for c in alike[1:]]
        falls.append([(days, fall) for days, fall in later if days > 0.0])
    known, used = sum(map(len, falls)), sum(map(bool, falls))
    if known < enough:
        why = f"Not enough cuts yet: {known} in this wood, on days after the first cut of a sharpening; "
        why += f"needed: {enough}."
        return Dulling(known, used, False, why, share_now, counted_from=counted_from)
    loss, spread = _loss_now(falls)
    rests = f"Rests on {known} cuts from {used} sharpening{'s' if used != 1 else ''}."
    if not falls[-1]:
        rests = f"{rests[:-1]}, none of them of the last one: its own later cuts would narrow it."
    if loss <= 0.0:
        return Dulling(known, used, True, f"No fall is seen. {rests}", share_now, loss, counted_from=counted_from)
    left = 1.0 - due_share

    def from_now(loss_per_day: float) -> float:
        return max(0.0, left / loss_per_day - age)

    return Dulling(
        cuts=known,
        sharpenings=used,
        enough=True,
        why=rests,
        share_now=share_now,
        loss_per_day=loss,
        due_in_days=from_now(loss),
        earliest_days=from_now(loss + spread),
        latest_days=from_now(loss - spread) if loss > spread else None,
        counted_from=counted_from,
    )


def _loss_now(falls: Sequence[Sequence[tuple[float, float]]]) -> tuple[float, float]:
    """The loss a day of the latest sharpening, and how far to either side of it the truth lies seven times in ten.

    What its own cuts say, and what the other sharpenings did, are weighed by how well each is known: by how far the
    cuts lie off their lines, and by how far one sharpening's loss lies off the next one's (the moments of DerSimonian
    and Laird). Both spreads begin from a judgment and are learned.
    """
    seen = [_Falls.of(one) if one else None for one in falls]
    fitted = [one for one in seen if one is not None]
    free = HAND_WORTH + sum(one.count - 1 for one in fitted)
    error = (HAND_WORTH * HAND_DIFFERS**2 + math.fsum(one.misses for one in fitted)) / free
    use = _use_varies(fitted, error)
    own = seen[-1]
    before = [(one.loss, error / one.weight + use) for one in seen[:-1] if one is not None]
    told = [] if own is None else [(own.loss, error / own.weight)]
    if before:
        usual, varies = _weighed(before)
        told.append((usual, varies + use))
    loss, varies = _weighed(told)
    return loss, either_side(free) * math.sqrt(varies)


def _use_varies(fitted: Sequence[_Falls], error: float) -> float:
    """The variance of the loss a day from one sharpening to the next."""
    middle, _ = _weighed((one.loss, error / one.weight) for one in fitted)
    judged = USE_WORTH * (USE_DIFFERS * middle) ** 2
    more = len(fitted) - 1
    if not more:
        return judged / USE_WORTH
    weights = [one.weight / error for one in fitted]
    apart = math.fsum(weight * (one.loss - middle) ** 2 for weight, one in zip(weights, fitted, strict=True))
    scale = math.fsum(weights) - math.fsum(weight * weight for weight in weights) / math.fsum(weights)
    return (judged + more * max(0.0, (apart - more) / scale)) / (USE_WORTH + more)


def _weighed(told: Iterable[tuple[float, float]]) -> tuple[float, float]:
    """The mean of (value, variance), each weighed by how well it is known, and the variance of that mean."""
    known = [(value, 1.0 / variance) for value, variance in told]
    weight = math.fsum(one for _, one in known)
    return math.fsum(value * one for value, one in known) / weight, 1.0 / weight
