"""The tool in hand: its name, how it is held, where one stands and which way it goes, for each kind of work."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from session.advice.own_files import OwnFile, by_name
from session.advice.set_advice import PLENTY
from session.advice.sourced_figure import amount
from session.sentences.instruction import anvil_words
from session.texts.guidance import Level
from session.texts.wording import LEVELED, fine
from session.trade.file_choice import face_needs, tooth_to_fit
from session.trade.lengths import Length, by_inches
from session.trade.rounding import half_up
from session.trade.saw import Saw
from session.value_class import dataclass
from session.walk.added_stages import FIRST_LATER
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: What each stage but those of the triangular file is worked with, in fewest words.
_NAMED: Final = {
    Stage.LEVEL: "Flat mill file in its block.",
    Stage.SET: "With the saw set, upright.",
    Stage.DRESS: "Oilstone, laid flat.",
}

#: How a file without a name of its own is called.
ANY_FILE = "Triangular file"


@dataclass(frozen=True, slots=True)
class ToolWords:
    """What is said of the tool: ``first`` always, beside the picture; ``more`` where there is room, or a page on."""

    first: tuple[str, ...] = ()
    more: tuple[str, ...] = ()


def tool_words(state: State, saw: Saw, place: Place, level: Level, files: Iterable[OwnFile] = ()) -> ToolWords:
    """The tool for ``place``, a pass, a tooth or a gullet; for an old hand, who asked for few words, its name.

    files: those of the drawer, whose faces are known.
    """
    if place.kind is Kind.STEP:
        return ToolWords()
    if level is Level.BARE:
        return ToolWords((_NAMED[place.stage] if place.stage in _NAMED else f"{file_in_hand(state)} and block level.",))
    match place.stage:
        case Stage.LEVEL if place.kind is Kind.PASS:
            again = _again(place)
            first = "Flat mill file in its square block, both hands; the saw in the vise."
            stand = "Stand beside it to reach both ends."
            held = "Push lightly, and lift it coming back."
            enough = f"Then look: when {LEVELED}, stop; else one more pass."
            told = ToolWords((first, stand, enough), (*again, held))
        case Stage.SET:
            number = (
                "Its anvil is turned or slid: lower bends deeper. A number on it is a start, what you measure decides."
            )
            every = "Every second tooth, those that lean away; then turn the saw for the others."
            point = "The width, over two neighbors once both are bent, tells whether the saw set stands right."
            told = ToolWords(_saw_set(saw, place), (point, *_most(saw), every, number))
        case Stage.FILE | Stage.RESHAPE:
            told = _file(state, saw, place, files)
        case Stage.DRESS:
            # The handle is thicker than the plate: on the bench it would hold it up.
            lies = "Plate flat on the bench, handle off the end, teeth just past the far edge; stand before it."
            stone = "Fine oilstone or whetstone, lightly."
            over = "The stone flat, half of it on the plate; touch lightly (KING, MTS)."
            which = "Which grit and how hard no work says: one that sharpens a chisel (common practice, no source)."
            told = ToolWords((lies, stone), (over, which))
        case _:
            return ToolWords()
    return told if level is Level.TAUGHT else ToolWords(told.first)


def file_in_hand(state: State) -> str:
    """The file by the person's own name for it, with its corner; by its kind where nobody told a name."""
    name, corner = state.measured.get(Measurable.FILE), state.measured.get(Measurable.FILE_CORNER)
    if name is None:
        return ANY_FILE
    return f"File {name.value}, corner {corner.value}" if corner is not None else f"File {name.value}"


#: How low it may stand at most: jaws close below the gullets (GOR p. 155), and no file on them (common practice).
NOT_LOWER: Final = "Keep the gullets just clear of the jaws, or the file strikes them."


def jaw_height(saw: Saw) -> str:
    """How far the points may stand above the jaws, in the saw's own system (HASL p. 74)."""
    return "1/2 in" if by_inches(saw.unit) else "13 mm"


def set_width(saw: Saw) -> str:
    """The width over two neighbors that are set as the recipe asks; empty where it asks for no set."""
    if saw.set_per_side is None:
        return ""
    return str(Length.of(saw.plate.mm + 2 * saw.set_per_side.mm, saw.unit))


def _again(place: Place) -> tuple[str, ...]:
    """Why the points are leveled once more, of any pass but the first."""
    if place.round >= FIRST_LATER:
        return ("Once more to one line; the flats it leaves are filed away after it.",)
    if place.round > 1:
        return ("Again, as reshaping left points of unlike height; its small flats are filed to.",)
    return ("Another pass: it reaches points that the last one left without a flat.",) if place.number > 1 else ()


def face_size(saw: Saw) -> str:
    """The face of a triangular file that serves ``saw`` best."""
    return amount(face_needs(tooth_to_fit(saw)).advised_mm, saw.unit)


def _face(state: State, saw: Saw, files: Iterable[OwnFile]) -> str:
    """The width of the file's face: as measured in the drawer, else as it serves best."""
    name = state.measured.get(Measurable.FILE)
    own = None if name is None else by_name(files, str(name.value))
    return f"about {face_size(saw)} serves best" if own is None else f"{own.choice.file.face} wide"


def _file(state: State, saw: Saw, place: Place, files: Iterable[OwnFile]) -> ToolWords:
    fleam = saw.at(place.tooth).fleam if place.stage is Stage.FILE else 0.0
    # Which tooth it is pressed to changes from gullet to gullet, and the way of its tip does not.
    to = f"to the {saw.file_points} whichever tooth is pressed"
    swung = f"swung {fleam:g}° for the fleam, {to}" if fleam else "square across the plate"
    slope = saw.slope if place.stage is Stage.FILE else 0.0
    high = "its tip as high as its handle" if slope == 0 else f"its handle {_lower(slope)} than its tip"
    level = "handle and block level" if slope == 0 else f"block level, handle {_lower(slope)}"
    along = " along the fleam guide" if fleam else ""
    return ToolWords(
        (f"{file_in_hand(state)}, {level}; stand at gullet, push away{along}.",),
        (
            f"Its face: {_face(state, saw, files)}.",
            f"Both hands: {high}, {swung}.",
        ),
    )


def _lower(slope: float) -> str:
    return f"{half_up(abs(slope), 1):g}° {'lower' if slope > 0 else 'higher'}"


def _most(saw: Saw) -> tuple[str, ...]:
    """How much is bent, and how much at most; empty where the recipe asks for no set."""
    if saw.set_per_side is None:
        return ()
    want, most = fine(saw.set_per_side.mm, saw.unit), fine(PLENTY * saw.set_per_side.mm, saw.unit)
    return (f"Limit: {most} a side; what is over {want} the stone evens.",)


def _saw_set(saw: Saw, place: Place) -> tuple[str, ...]:
    """How the saw set is held and adjusted, and what two set neighbors measure, from the first tooth on."""
    wide = set_width(saw)
    over = "Caliper over two bent" if place.side == 2 else "Caliper, both sides bent"
    return (
        "Saw in vise. With the saw set, held upright here, plunger on your side.",
        anvil_words(saw.at(place.tooth)),
        # On the first side a tooth's neighbors are not bent yet, and two bent ones lean alike.
        *((f"{over}: {wide}.",) if wide else ()),
    )
