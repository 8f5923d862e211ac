"""The words where the saw has to be held otherwise for a whole stage: clamped points up, or laid flat on the bench."""

from __future__ import annotations

from typing import Final

from session.sentences.asked_words import Asked
from session.walk.place import Place
from session.walk.stages import SawHold, Stage, facts_of
from session.walk.state import State

#: For what it is clamped points up, what needs the room above the jaws, and why (derived: the block of the leveling
#: file runs down beside the plate, and so do the jaws of a saw set).
_CLAMPED: Final = {
    Stage.LEVEL: ("leveling", "the file's block", "The block runs beside the plate, along the whole line."),
    Stage.SET: ("setting", "the saw set", "The saw set goes down over both sides of each tooth."),
}


def hold_words(state: State, place: Place) -> Asked:
    """How the saw is held for the passes or teeth of the stage of ``place``."""
    handle = "right" if state.side == 1 else "left"
    stands = state.stand.hold
    before = ("It stands low for filing so far: open the vise.",) if stands is SawHold.LOW else ()
    if facts_of(place.stage).hold is SawHold.FLAT:
        out = ("Out of the vise first.",) if stands in (SawHold.LOW, SawHold.UP) else ()
        return Asked(
            title="Lay the saw flat",
            lines=(*out, "The teeth just past the bench's edge."),
            instruction=f"Lay the saw flat on the bench: side {state.side} up, handle {handle}, points away from you.",
        )
    doing, tool, why = _CLAMPED[place.stage]
    return Asked(
        title=f"Clamp the saw for {doing}",
        lines=(*before, why),
        instruction=f"Clamp the saw points up, handle {handle}, the jaws clear of {tool}.",
    )
