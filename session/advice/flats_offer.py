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
from session.value_class import dataclass, replace
from session.walk.mark import Did, Mark
from session.walk.place import Place, looks_at_flats
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: The fewest teeth with a flat from which anything can be evened.
FEWEST_FLATS: Final = 2


@dataclass(frozen=True, slots=True)
class FlatsOffer:
    """The newest scan at the look at the flats. at: when its pictures were saved. flats: what it tells, by tooth; none
    where it is not to be used, and then ``why_not`` says why. unseen: the teeth left to the eye. passed_over: why a
    newer one is not the one, as a sentence; empty where there is none."""

    at: datetime
    flats: Mapping[int, FlatByScan]
    unseen: tuple[int, ...] = ()
    why_not: str = ""
    passed_over: str = ""

    @property
    def name(self) -> str:
        """Which scan it is, as the record keeps it."""
        return f"scan of {self.at:%Y-%m-%d %H:%M}"


def flats_offer(state: State, saw: Saw, scanned: MeasuredLooks | None) -> FlatsOffer | None:
    """What the newest scan offers at the look at the flats that is in hand, or an older one made after this pass as
    well, where the newest is not to be used; None elsewhere, without a scan, before any pass of the leveling file, and
    where the flats were told already."""
    here = state.place
    if here is None or scanned is None or not looks_at_flats(here):
        return None
    leveled = _leveled_at(state)
    if leveled is None or here.round not in state.tally.rounds or state.tally.flats_of(here.round):
        return None
    newest = _offered(state, saw, scanned, leveled)
    if newest.why_not:
        for older in scanned.older:
            offer = _offered(state, saw, older, leveled)
            if not offer.why_not:
                return replace(offer, passed_over=newest.why_not)
    return newest


def _offered(state: State, saw: Saw, scanned: MeasuredLooks, leveled: datetime) -> FlatsOffer:
    """What one scan offers of a line that was ``leveled`` then."""
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
    told = f"Scanned at {offer.at:%H:%M}, after this pass: {teeth_in_words(offer)}. Any can be told anew."
    return f"{told} {offer.passed_over}" if offer.passed_over else told


def teeth_in_words(offer: FlatsOffer) -> str:
    """How many flats the scan tells, and which teeth it leaves to the eye."""
    none = sum(not flat.share for flat in offer.flats.values())
    without = f", {none} without" if none else ""
    unseen = f"; to grade by eye: {teeth(offer.unseen)}" if offer.unseen else ""
    return f"{len(offer.flats) - none} flats measured{without}{unseen}"


def _leveled_at(state: State) -> datetime | None:
    """When the line was last changed by a file: a pass of leveling, or a gullet; None when no pass was made."""
    return filed_at(state) if any(place.stage is Stage.LEVEL for place, _ in _filed(state)) else None


def filed_at(state: State) -> datetime | None:
    """When a file was last on the line in this sharpening; None where none was."""
    return max((mark.at for _, mark in _filed(state)), default=None)


def _filed(state: State) -> list[tuple[Place, Mark]]:
    return [
        (place, mark)
        for place, mark in state.outcomes.items()
        if mark.did is Did.DONE
        and (place.stage in (Stage.RESHAPE, Stage.FILE) or (place.stage is Stage.LEVEL and place.kind is Kind.PASS))
    ]


def _when(at: datetime, beside: datetime) -> str:
    """The time of a scan: its hour on the day of ``beside``, else its day too."""
    return f"{at:%H:%M}" if at.date() == beside.astimezone(at.tzinfo).date() else f"{at:%Y-%m-%d %H:%M}"
