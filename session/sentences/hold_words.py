"""The words where the saw has to be held otherwise for a whole stage: clamped points up, or laid flat on the bench."""

from __future__ import annotations

from typing import Final

from session.sentences.asked_words import Asked
from session.sentences.mark_words import DOING
from session.sentences.tool_words import jaw_height
from session.trade.lengths import by_inches
from session.trade.saw import Saw
from session.trade.set_rules import BACKED
from session.value_class import dataclass
from session.walk.place import Place
from session.walk.stages import SawHold, Stage, facts_of
from session.walk.state import State


@dataclass(frozen=True, slots=True)
class _Room:
    """The room above the jaws that the tool of a stage needs.

    clear: the jaws of what, and how much. why: what of the tool needs it (derived: the block of the leveling file runs
    down beside the plate, and so do the jaws of a saw set). reach: the same as a measure. inches, mm: the same as a
    length, mostly: judgment.
    """

    clear: str
    why: str
    reach: str
    inches: str
    mm: str


_ROOM: Final = {
    Stage.LEVEL: _Room(
        clear="clear of the file's block",
        why="The block reaches down beside the plate: try it at both ends.",
        reach="a block's depth",
        inches="1 1/2 in",
        mm="40 mm",
    ),
    # What stands out of the jaws springs: higher than the tool asks it is left to leveling.
    Stage.SET: _Room(
        clear="just clear of the saw set",
        why="A saw set reaches down both sides: try it at both ends.",
        reach="a saw set's reach",
        inches="3/4 in",
        mm="20 mm",
    ),
}


def room_above(stage: Stage) -> str:
    """How far the points stand above the jaws where ``stage`` wants its tool to clear them."""
    return _ROOM[stage].reach


def moved_toward(held: tuple[int, int] | None, wanted: tuple[int, int]) -> str:
    """Toward which end the saw is moved for the teeth ``wanted``, "handle" or "toe"; empty where none were held."""
    return "" if held is None or held == wanted else "handle" if wanted > held else "toe"


def room_figure(saw: Saw, stage: Stage) -> str:
    """The room as a length, where the plate has so much: judgment. Under a back it is what the back leaves, so none."""
    if saw.kind in BACKED:
        return ""
    return _ROOM[stage].inches if by_inches(saw.unit) else _ROOM[stage].mm


def figure_above(saw: Saw, stage: Stage) -> str:
    """How far the points stand above the jaws while ``stage`` is worked, "at most 1/2 in"."""
    if stage not in _ROOM:
        return f"at most {jaw_height(saw)}"
    figure = room_figure(saw, stage)
    return f"about {figure}" if figure else room_above(stage)


def _stood_before(stands: SawHold | None, stage: Stage) -> tuple[str, ...]:
    """How the saw stands now, where the vise has to be opened first."""
    if stands is SawHold.LOW:
        return ("It stands close in the jaws, for filing: open the vise.",)
    if stands is SawHold.UP and stage is Stage.SET:
        return ("It stands high: lower it.",)
    return ("It stands low, as set: raise it.",) if stands is SawHold.NEAR else ()


def hold_words(state: State, saw: Saw, place: Place) -> Asked:
    """How the saw is held for the passes or teeth of the stage of ``place``."""
    handle = "right" if state.side == 1 else "left"
    stands = state.stand.hold
    if facts_of(place.stage).hold is SawHold.FLAT:
        out = ("Out of the vise first.",) if stands in (SawHold.LOW, SawHold.NEAR, SawHold.UP) else ()
        return Asked(
            title="Lay the saw flat",
            lines=(*out, "The plate lies flat: handle off the bench's end, teeth just past its far edge."),
            instruction=f"Lay the saw flat on the bench: side {state.side} up, handle {handle}, points away from you.",
        )
    room = _ROOM[place.stage]
    figure = room_figure(saw, place.stage)
    mostly = (f"Mostly {figure} above the jaws will do (judgment).",) if figure else ()
    return Asked(
        title=f"Clamp the saw for {DOING[place.stage]}",
        lines=(*_stood_before(stands, place.stage), room.why, *mostly),
        instruction=f"Clamp mid-saw in the vise, points up, handle {handle}, {room.clear}.",
    )
