"""The tool in hand: its name, how it is held, where one stands and which way it goes, for each kind of work."""

from __future__ import annotations

from dataclasses import dataclass

from session.texts.guidance import Level
from session.trade.lengths import Length, in_unit
from session.trade.rounding import half_up
from session.trade.saw import Saw
from session.trade.tooth import tooth_of
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: How a file without a name of its own is called.
ANY_FILE = "Triangular file"


@dataclass(frozen=True, slots=True)
class ToolWords:
    """What is said of the tool: ``first`` always, beside the picture; ``more`` where there is room, or a page on."""

    first: tuple[str, ...] = ()
    more: tuple[str, ...] = ()


def tool_words(state: State, saw: Saw, place: Place, level: Level) -> ToolWords:
    """The tool for ``place``, a pass, a tooth or a gullet; nothing for an old hand, who asked for no words."""
    if level is Level.BARE or place.kind is Kind.STEP:
        return ToolWords()
    handle = "right" if state.side == 1 else "left"
    match place.stage:
        case Stage.LEVEL if place.kind is Kind.PASS:
            first = "The saw in the vise, points up; flat mill file in its square block."
            stand = f"Stand where you can push it along the whole line, the handle on your {handle}."
            held = "Push lightly, lift it coming back."
            enough = "When all but the low points shine, it is enough."
            told = ToolWords((first, enough), (held, stand))
        case Stage.SET:
            told = ToolWords(_saw_set(saw, place), (f"Every second tooth, the handle on your {handle}; then turn.",))
        case Stage.FILE | Stage.RESHAPE:
            told = _file(state, saw, place, handle)
        case Stage.DRESS:
            first = "Fine oilstone, whetstone or slip stone; saw flat on the bench, points away from you."
            told = ToolWords((first,), ("The teeth just past the bench's edge, the stone half on the plate.",))
        case _:
            return ToolWords()
    return told if level is Level.TAUGHT else ToolWords(told.first)


def file_in_hand(state: State) -> str:
    """The file by the person's own name for it, with its corner; by its kind where nobody told a name."""
    name, corner = state.measured.get(Measurable.FILE), state.measured.get(Measurable.FILE_CORNER)
    if name is None:
        return ANY_FILE
    return f"File {name.value}, corner {corner.value}" if corner is not None else f"File {name.value}"


def jaw_height(saw: Saw) -> str:
    """How far the points may stand above the jaws, in the saw's own system (HASL p. 74)."""
    return "1/2 in" if saw.unit in ("in", "thou") else "13 mm"


def set_width(saw: Saw) -> str:
    """The width over two neighbors that are set as the recipe asks; empty where it asks for no set."""
    if saw.set_per_side is None:
        return ""
    return str(Length.of(saw.plate.mm + 2 * saw.set_per_side.mm, saw.unit))


def _file(state: State, saw: Saw, place: Place, handle: str) -> ToolWords:
    fleam = saw.at(place.tooth).fleam if place.stage is Stage.FILE else 0.0
    swung = (
        f"swung {fleam:g}° seen from above, its tip to the {saw.file_points}" if fleam else "square across the plate"
    )
    slope = saw.slope if place.stage is Stage.FILE else 0.0
    high = "its tip as high as its handle" if slope == 0 else f"its handle {_lower(slope)} than its tip"
    return ToolWords(
        (f"{file_in_hand(state)}: push away from you.",),
        (
            f"Both hands: {high}, {swung}.",
            f"Stand at this gullet, the saw's handle on your {handle}; the block's top edge level.",
        ),
    )


def _lower(slope: float) -> str:
    return f"{half_up(abs(slope), 1):g}° {'lower' if slope > 0 else 'higher'}"


def _saw_set(saw: Saw, place: Place) -> tuple[str, ...]:
    """How the saw set is held and adjusted, and what two set neighbors measure, from the first tooth on."""
    begins = in_unit(tooth_of(saw.at(place.tooth)).depth_mm * saw.bent_share, saw.unit)
    wide = set_width(saw)
    return (
        "Saw in the vise; the saw set held upright, plunger toward you.",
        f"Its anvil bends from {begins} down.",
        *((f"In the end two neighbors: {wide}.",) if wide else ()),
    )
