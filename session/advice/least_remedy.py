"""Of the causes that still stand, the one whose least remedy is taken, and the looks that would decide between them."""

from __future__ import annotations

from session.advice.causes import SuspectedCause, Suspicion
from session.advice.work import FREE, What
from session.trade.observation import Look, Seen
from session.trade.seen_words import Cutting


def least_remedy(suspected: tuple[SuspectedCause, ...], seen: Seen) -> tuple[SuspectedCause | None, tuple[Look, ...]]:
    """The least remedy that meets a cause still standing, and the looks that would decide between causes.

    A cause that was seen comes before one that is only possible. Of those only possible and not yet looked for, no
    remedy is taken that costs more than time.
    """
    found = next((one for one in suspected if one.standing is Suspicion.SEEN), None)
    before = suspected if found is None else suspected[: suspected.index(found)]
    pending = tuple(dict.fromkeys(one.look for one in before if one.look is not None))
    if found is not None:
        later = [one for one in suspected[suspected.index(found) :] if one.standing is Suspicion.POSSIBLE]
        costs = not FREE.issuperset(found.works) and bool(found.works)
        more = tuple(one.look for one in later if one.look in (Look.PLATE, Look.WOOD) and one.look is not None)
        return found, tuple(dict.fromkeys((*pending, *(more if costs else ()))))
    for one in suspected:
        if one.works == (What.WAX,) or (one.look is None and one.works and not pending):
            return one, pending
    if seen.last_cut is Cutting.WANDERS and pending:
        why = "Let the saw find its own way, the eye over its back; look at plate and rows before any steel."
        return SuspectedCause(Suspicion.POSSIBLE, (What.TECHNIQUE,), None, why, "FSMAN; judgment"), pending
    return None, pending
