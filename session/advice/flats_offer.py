"""What a scan made after this leveling has measured of its flats: offered at the look at them, taken or refused.

A scan of before the leveling shows other flats, and is named as what it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Final

from session.advice.measured_looks import MeasuredLooks
from session.advice.scan_contradictions import why_not_used
from session.texts.wording import teeth
from session.trade.flats_by_scan import FlatByScan, flats_by_scan
from session.trade.saw import Saw
from session.value_class import dataclass
from session.walk.mark import Did
from session.walk.place import looks_at_flats
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: The fewest teeth with a flat from which anything can be evened.
FEWEST_FLATS: Final = 2


@dataclass(frozen=True, slots=True)
class FlatsOffer:
    """The newest scan at the look at the flats. at: when its pictures were saved. flats: what it tells, by tooth; none
    where it is not to be used, and then ``why_not`` says why. unseen: the teeth left to the eye."""

    at: datetime
    flats: Mapping[int, FlatByScan]
    unseen: tuple[int, ...] = ()
    why_not: str = ""

    @property
    def name(self) -> str:
        """Which scan it is, as the record keeps it."""
        return f"scan of {self.at:%Y-%m-%d %H:%M}"


def flats_offer(state: State, saw: Saw, scanned: MeasuredLooks | None) -> FlatsOffer | None:
    """What the newest scan offers at the look at the flats that is in hand; None elsewhere, without a scan, before any
    pass of the leveling file, and where the flats were told already."""
    here = state.place
    if here is None or scanned is None or not looks_at_flats(here):
        return None
    leveled = _leveled_at(state)
    if leveled is None or here.round not in state.tally.rounds or state.tally.flats_of(here.round):
        return None
    line, at = scanned.line, scanned.at

    def no(why: str) -> FlatsOffer:
        return FlatsOffer(at, {}, why_not=f"The scan of {_when(at, leveled)} is not used: {why}.")

    if at <= leveled:
        return no(f"the last pass came after it, at {leveled.astimezone(at.tzinfo):%H:%M}; scan again now")
    if line.count != state.plan.points:
        return no(f"it shows {line.count} teeth, this line has {state.plan.points}")
    if against := why_not_used(line, saw, state.plan.points):
        return no(against)
    spaces = [saw.line.pitch_at(tooth) for tooth in range(1, line.count + 1)]
    flats = flats_by_scan(line, spaces)
    if sum(flat.share > 0.0 for flat in flats.values()) < FEWEST_FLATS:
        return no("it shows no flats; scan again now")
    unseen = (tooth for tooth in range(1, line.count + 1) if tooth not in flats and tooth not in state.stumps)
    return FlatsOffer(at, flats, tuple(unseen))


def offer_words(offer: FlatsOffer) -> str:
    """The sentence beside the look at the flats."""
    if offer.why_not:
        return offer.why_not
    return f"Scanned at {offer.at:%H:%M}, after this pass: {teeth_in_words(offer)}. Any can be told anew."


def teeth_in_words(offer: FlatsOffer) -> str:
    """How many flats the scan tells, and which teeth it leaves to the eye."""
    none = sum(not flat.share for flat in offer.flats.values())
    without = f", {none} without" if none else ""
    unseen = f"; to grade by eye: {teeth(offer.unseen)}" if offer.unseen else ""
    return f"{len(offer.flats) - none} flats measured{without}{unseen}"


def _leveled_at(state: State) -> datetime | None:
    """When the line was last changed by a file: a pass of leveling, or a gullet; None when no pass was made."""
    marks = [
        (place, mark)
        for place, mark in state.outcomes.items()
        if mark.did is Did.DONE
        and (place.stage in (Stage.RESHAPE, Stage.FILE) or (place.stage is Stage.LEVEL and place.kind is Kind.PASS))
    ]
    if not any(place.stage is Stage.LEVEL for place, _ in marks):
        return None
    return max(mark.at for _, mark in marks)


def _when(at: datetime, beside: datetime) -> str:
    """The time of a scan: its hour on the day of ``beside``, else its day too."""
    return f"{at:%H:%M}" if at.date() == beside.astimezone(at.tzinfo).date() else f"{at:%Y-%m-%d %H:%M}"
