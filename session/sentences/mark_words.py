"""One mark of the record as the person would say it: what was done, where, how much, and why."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from session.sentences.guide_words import item_word
from session.texts.wording import times
from session.trade.grades import GRADE, share_of
from session.trade.grades import WORDS as GRADE_WORDS
from session.trade.rounding import decimals
from session.trade.saw import Leans
from session.trade.scan_readings import scanned_share
from session.value_class import replace
from session.walk.added_stages import REST_NOT_SEEN, STRIP_ASIDE
from session.walk.mark import Did, Mark
from session.walk.measurables import NOT_ANSWERED, NOT_LOOKED, Measurable
from session.walk.place import Place, place_of
from session.walk.stages import FACTS, SawHold, Stage

#: What was done to the saw where it was not clamped for a reach, and what for.
STOOD: Final = {
    stage: "laid flat" if facts.hold is SawHold.FLAT else "clamped"
    for stage, facts in FACTS.items()
    if facts.hold in (SawHold.UP, SawHold.NEAR, SawHold.FLAT)
}

#: Stages that have the saw held so, as work that goes on.
DOING: Final = {Stage.LEVEL: "leveling", Stage.SET: "setting", Stage.DRESS: "dressing"}


def brief(place: Place) -> str:
    """A place as short as it can be said within its stage: "47" for a tooth or gullet."""
    if place.on_strip:
        return f"{place.tooth} on strip"
    return str(place.tooth) if place.tooth else str(place)


def lean_told(leans: str) -> str:
    """Which way tooth 1 leans: "away", "toward" or "unset", in words."""
    return "no tooth leans yet" if leans == Leans.UNSET else f"tooth 1 leans {leans}"


def told(mark: Mark, *, short: bool = False) -> str:
    """``mark`` in words; short where its stage and the scale of grades are known to whoever reads it."""
    place = _place(mark)
    if mark.did is Did.DONE and place is not None and mark.reason in (NOT_LOOKED, NOT_ANSWERED):
        return f"skipped {brief(place)}, no answer"
    if mark.did is Did.MEASURED and mark.what == Measurable.FIRST_LEANS:
        return f"measured: {lean_told(str(mark.value))}"
    return " ".join((_did(mark, place, short), *_amounts(mark, short)))


def _place(mark: Mark) -> Place | None:
    """Where it was done; of a check the place counted, the last one marked, which a place set by hand moves."""
    place = place_of(mark)
    if mark.did is Did.CHECKED and place is not None and place.tooth and isinstance(mark.value, int):
        return replace(place, tooth=mark.value)
    return place


def _did(mark: Mark, place: Place | None, short: bool) -> str:
    """What was done, and to what."""
    match mark.did:
        case Did.MEASURED if mark.what == Measurable.CHOSEN:
            return "chose" if mark.entered else "chose a plan"
        case Did.ACKNOWLEDGED | Did.MEASURED if mark.what:
            return f"{mark.did} {item_word(mark.what)}"
        case Did.ADDED if mark.what == STRIP_ASIDE:
            return f"{STRIP_ASIDE} at {mark.tooth}"
        case Did.ADDED if mark.what == REST_NOT_SEEN:
            return f"flats not seen from {mark.tooth} on"
        case Did.TOOK_BACK | Did.PUT_BACK:
            return f"{mark.did} mark {mark.of}"
        case Did.SHIFTED if place is not None:
            held = STOOD.get(place.stage)
            return f"{held} for {DOING[place.stage]}" if held else f"{mark.did} to {_named(place, short)}"
        case Did.DECIDED:
            return f"{mark.did} {mark.stage} {'in' if mark.value else 'out'}"
        case Did.TURNED:
            return f"{mark.did} to side {mark.side}"
    if place is not None and (place.tooth or place.number or place.step):
        return f"{mark.did} {_named(place, short)}"
    return f"{mark.did} {mark.stage}" if mark.stage is not None else str(mark.did)


def _named(place: Place, short: bool) -> str:
    return brief(place) if short else str(place)


def _amounts(mark: Mark, short: bool) -> Iterator[str]:
    """How much, as counted, graded, measured or typed, and why."""
    if mark.did is Did.DONE and share_of(mark.value, mark.unit) is not None and mark.tooth:
        fine = "" if short or mark.unit != GRADE else f", {GRADE_WORDS[int(str(mark.value))]}"
        yield f"(grade {mark.value}{fine})"
    if mark.did is Did.DONE and (share := scanned_share(mark.value, mark.unit)) is not None:
        yield f"({decimals(100 * share, 1)} %{'' if short else ' of the pitch'}, scan)"
    if mark.many and not short:
        yield f"(one of {mark.many}, marked together)"
    if mark.strokes:
        yield f"({times(mark.strokes, 'stroke')})"
    if mark.entered:
        yield mark.entered if mark.what == Measurable.CHOSEN else f"= {mark.entered}"
    if mark.reason:
        # It may be a sentence, and stands inside of one.
        yield f"– {mark.reason.rstrip('.')}"
