"""What is drawn on a printed page: lines, discs and lettering, in millimeters on paper from its upper left corner.

One drawing serves every format: session.prints.svg_sheets and session.prints.pdf_sheets write the same shapes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from enum import StrEnum
from typing import Final

from session.value_class import dataclass, replace

#: A place on the paper: mm to the right and mm down.
Spot = tuple[float, float]


class Ink(StrEnum):
    """What a line or a face looks like; how wide and how dark stands in ``PENS``."""

    FINE = "fine"  # what is measured or cut along
    LINE = "line"  # what is seen
    BOLD = "bold"  # what is seen from afar
    DASHED = "dashed"  # what is only there to help
    SOLID = "solid"  # a black face
    SHADE = "shade"  # a gray face


@dataclass(frozen=True, slots=True)
class Pen:
    """How an ink is drawn. wide_mm: of its line, 0 for none. gray: 0 black, 1 white; filled: a face and no line."""

    wide_mm: float
    gray: float = 0.0
    dash_mm: tuple[float, float] | None = None
    filled: bool = False


PENS: Final = {
    Ink.FINE: Pen(0.1),
    Ink.LINE: Pen(0.25),
    Ink.BOLD: Pen(0.6),
    Ink.DASHED: Pen(0.15, gray=0.35, dash_mm=(1.0, 1.0)),
    Ink.SOLID: Pen(0.0, filled=True),
    Ink.SHADE: Pen(0.0, gray=0.85, filled=True),
}


class Anchor(StrEnum):
    """Which part of a line of lettering stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Trace:
    """Straight lines from spot to spot; ``closed`` leads back to the first. name: of the one shape that it is."""

    spots: tuple[Spot, ...]
    ink: Ink = Ink.LINE
    closed: bool = False
    name: str = ""
    said: str = ""


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle about ``center``."""

    center: Spot
    radius: float
    ink: Ink = Ink.LINE
    name: str = ""


@dataclass(frozen=True, slots=True)
class Lettering:
    """One line of letters ``size`` mm high with what hangs below, its foot at ``at``, turned clockwise by ``turned``
    degrees about it."""

    at: Spot
    text: str
    size: float
    anchor: Anchor = Anchor.START
    bold: bool = False
    turned: float = 0.0


Shape = Trace | Disc | Lettering


def trace(*spots: Spot, ink: Ink = Ink.LINE, name: str = "") -> Trace:
    """A line through ``spots``."""
    return Trace(spots, ink, name=name)


def box(left: float, top: float, wide: float, high: float, ink: Ink = Ink.LINE, name: str = "") -> Trace:
    """An upright rectangle, in mm."""
    right, foot = left + wide, top + high
    return Trace(((left, top), (right, top), (right, foot), (left, foot)), ink, closed=True, name=name)


def from_plumb(at: Spot, degrees: float, length: float) -> Spot:
    """The spot ``length`` mm from ``at``, upward and leaning to the right by ``degrees``."""
    lean = math.radians(degrees)
    return at[0] + length * math.sin(lean), at[1] - length * math.cos(lean)


def arc(center: Spot, radius: float, first: float, last: float, ink: Ink = Ink.LINE, name: str = "") -> Trace:
    """A piece of a circle from ``first`` to ``last``, degrees clockwise from straight up, as a line of short pieces:
    it nowhere lies further off the circle than a hundredth of a millimeter at a radius of 100 mm."""
    pieces = max(1, math.ceil(abs(last - first) / 1.5))
    step = (last - first) / pieces
    return Trace(tuple(from_plumb(center, first + n * step, radius) for n in range(pieces + 1)), ink, name=name)


def arrow(tail: Spot, head: Spot, wide: float = 2.0) -> tuple[Trace, Trace]:
    """A line from ``tail`` to ``head``, in mm, and a black point at its head, ``wide`` mm across."""
    length = math.dist(tail, head)
    x, y = (head[0] - tail[0]) / length, (head[1] - tail[1]) / length
    neck = (head[0] - 1.5 * wide * x, head[1] - 1.5 * wide * y)
    wings = ((neck[0] - wide / 2 * y, neck[1] + wide / 2 * x), (neck[0] + wide / 2 * y, neck[1] - wide / 2 * x))
    return trace(tail, neck), Trace((head, *wings), Ink.SOLID, closed=True)


def moved(shapes: Iterable[Shape], right: float, down: float) -> tuple[Shape, ...]:
    """The shapes further right and further down, in mm."""
    return tuple(_placed(shape, lambda spot: (spot[0] + right, spot[1] + down), 0.0) for shape in shapes)


def upside_down(shapes: Iterable[Shape], about: Spot) -> tuple[Shape, ...]:
    """The shapes turned by half a turn about a spot, their lettering too."""
    return tuple(
        _placed(shape, lambda spot: (2 * about[0] - spot[0], 2 * about[1] - spot[1]), 180.0) for shape in shapes
    )


def _placed(shape: Shape, to: Callable[[Spot], Spot], turn: float) -> Shape:
    if isinstance(shape, Trace):
        return replace(shape, spots=tuple(map(to, shape.spots)))
    if isinstance(shape, Disc):
        return replace(shape, center=to(shape.center))
    return replace(shape, at=to(shape.at), turned=shape.turned + turn)
