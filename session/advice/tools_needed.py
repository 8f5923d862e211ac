"""What is laid out before a sharpening of one saw, by name and size, and what can be done without."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from session.advice.own_files import OwnFile
from session.advice.sourced_figure import amount
from session.texts.word_files import cited, entry, table
from session.trade.file_choice import face_needs, tooth_to_fit
from session.trade.lengths import by_inches
from session.trade.saw import Saw
from session.value_class import dataclass
from session.walk.stages import Stage

#: The names of all tools, in the order in which they are laid out.
TOOLS: Final = tuple(table("tools"))

#: Tools that only one stage wants.
_STAGE: Final = {
    "level file": Stage.LEVEL,
    "saw set": Stage.SET,
    "stone": Stage.DRESS,
    "needle": Stage.PROVE,
    "board": Stage.PROVE,
}

#: Tools that only a saw with fleam wants: without, there is no trough between two rows of points.
_OF_FLEAM: Final = frozenset({"fleam guide", "needle"})


@dataclass(frozen=True, slots=True)
class Laid:
    """One thing to lay out. missing: it was told that it is not there; then ``words`` say what can be done."""

    name: str
    title: str
    words: str
    source: str
    missing: bool = False


def laid_out(
    saw: Saw, taken_in: Iterable[Stage], own: Sequence[OwnFile], missing: Iterable[str] = ()
) -> tuple[Laid, ...]:
    """What a sharpening of ``saw`` with these stages wants. own: the files of the drawer, the best first.

    missing: names out of TOOLS that are not there.
    """
    gone, stages = frozenset(missing), frozenset(taken_in)
    found = []
    for name in TOOLS:
        wanted = name not in _STAGE or _STAGE[name] in stages
        if not wanted or (name in _OF_FLEAM and not saw.fleam):
            continue
        told = entry("tools", name)
        words = told["without"] if name in gone else " ".join((told["what"], *_sized(name, saw, own)))
        found.append(Laid(name, told["title"], words, cited(told["source"]), name in gone))
    return tuple(found)


def _sized(name: str, saw: Saw, own: Sequence[OwnFile]) -> Iterable[str]:
    """What is this saw's alone: sizes, angles, the file of the drawer."""
    unit = "in" if by_inches(saw.unit) else "mm"
    if name == "file":
        needs = face_needs(tooth_to_fit(saw))
        serves = next((one for one in own if one.serves), None)
        if serves is not None:
            yield f"Yours: {serves.pick}, {serves.choice.fit}."
        elif own:
            yield "None of yours serves."
        least, best = amount(needs.at_outer_face_mm, unit), amount(needs.advised_mm, unit)
        yield f"Its face measures over {least}, best {best} (from memory)."
    elif name == "guide block":
        yield f"Rake {saw.rake:g}°{f', the handle {saw.slope:g}° below the tip' if saw.slope else ''}."
    elif name == "fleam guide":
        yield f"Fleam {saw.fleam:g}°, the tip to the {saw.file_points}; both ways, for the two sides."
    elif name == "saw set" and saw.set_per_side is not None:
        yield f"{saw.set_per_side} on each side, on a plate of {saw.plate}."
    elif name == "vise":
        yield f"It holds {saw.vise_jaw} at once; a longer line is shifted."
