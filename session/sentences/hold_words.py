"""The words where the saw has to be held otherwise for a whole stage: clamped points up, or laid flat on the bench."""

from __future__ import annotations

from typing import Final

from session.sentences.asked_words import Asked
from session.trade.saw import Saw
from session.trade.set_rules import BACKED
from session.walk.place import Place
from session.walk.stages import SawHold, Stage, facts_of
from session.walk.state import State

#: For what it is clamped points up, what needs the room above the jaws, and why (derived: the block of the leveling
#: file runs down beside the plate, and so do the jaws of a saw set).
_CLAMPED: Final = {
    Stage.LEVEL: ("leveling", "the file's block", "The block reaches down beside the plate: try it at both ends."),
    Stage.SET: ("setting", "the saw set", "It reaches down over both sides of each tooth: try it at both ends."),
}


#: The same as a measure, for the picture.
_REACH: Final = {Stage.LEVEL: "a block's depth", Stage.SET: "a saw set's reach"}


def room_above(stage: Stage) -> str:
    """How far the points stand above the jaws where ``stage`` wants its tool to clear them."""
    return _REACH[stage]


def _mostly(saw: Saw) -> tuple[str, ...]:
    """The room as a length, where the plate has so much: judgment. Under a back it is what the back leaves."""
    if saw.kind in BACKED:
        return ()
    return (f"Mostly {'1 1/2 in' if saw.unit in ('in', 'thou') else '40 mm'} above the jaws will do (judgment).",)


def hold_words(state: State, saw: Saw, place: Place) -> Asked:
    """How the saw is held for the passes or teeth of the stage of ``place``."""
    handle = "right" if state.side == 1 else "left"
    stands = state.stand.hold
    before = ("It stands close in the jaws, for filing: open the vise.",) if stands is SawHold.LOW else ()
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
        lines=(*before, why, *_mostly(saw)),
        instruction=f"Clamp mid-saw in the vise, points up, handle {handle}, clear of {tool}.",
    )
