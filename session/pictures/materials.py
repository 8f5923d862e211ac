"""What things are made of, each with a texture of its own, so that a picture reads without color and in ASCII too."""

from __future__ import annotations

from typing import Final

from session.pictures.picture_rows import Role
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Material:
    """The character of a cell that is full of it, its stand-in in ASCII, and its role.

    edged: whether its edges are drawn finer than a cell; those of a light texture would outshine it.
    """

    full: str
    plain: str
    role: Role
    edged: bool = True

    def cell(self, *, ascii: bool) -> str:
        """A cell full of it."""
        return self.plain if ascii else self.full


STEEL: Final = Material("█", "#", Role.STEEL)
FILE: Final = Material("▒", "%", Role.FILE)
#: Jaws, anvils, plungers, needles: what touches the teeth and takes nothing off.
TOOL: Final = Material("▒", "%", Role.BLOCK)
WOOD: Final = Material("░", ":", Role.BLOCK, edged=False)
HANDLE: Final = Material("█", "@", Role.HANDLE)
#: Cheeks of a vise, battens, the edge of a bench.
JAW: Final = Material("░", ":", Role.VISE)
#: A tooth or a tool part that stands behind what is shown.
BEHIND: Final = Material("░", ".", Role.PLAIN, edged=False)
#: What is lit: the flat that shines, chalk, light under a straight edge.
LIGHT: Final = Material("▓", "=", Role.FLAT)
