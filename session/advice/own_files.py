"""Which of one's own files to take to a saw, and with which corner."""

from __future__ import annotations

from collections.abc import Iterable

from session.advice.corner_advice import CornerCounsel, corner_counsel
from session.trade.file_choice import FileChoice, FileOwned, rank, tooth_to_fit
from session.trade.file_names import called
from session.trade.saw import Saw
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class OwnFile:
    """One file of the drawer: how it suits the saw, and its corner."""

    choice: FileChoice
    corner: CornerCounsel

    @property
    def name(self) -> str:
        """Its name in the drawer."""
        return self.choice.file.name

    @property
    def serves(self) -> bool:
        """Whether it can be taken: its face covers the flank, and a corner is left."""
        return self.choice.ok and self.corner.corner is not None

    @property
    def pick(self) -> str:
        """Its name and the corner to begin with, as they are told at the look over."""
        return self.name if self.corner.corner is None else f"{self.name}, corner {self.corner.corner}"

    @property
    def against(self) -> str:
        """What speaks against taking it, with its source; empty when nothing does."""
        if not self.choice.ok:
            # A corner too blunt for the tooth is told after the face.
            wrong = self.choice.reasons[-1 if self.choice.fit.covers else 0]
            return f"{wrong.text} ({wrong.source})"
        return self.corner.text if self.corner.corner is None else ""


def own_files(owned: Iterable[FileOwned], saw: Saw, limit: int) -> tuple[OwnFile, ...]:
    """The files of a drawer for ``saw``, the best first; ``limit`` (1 or more) is teeth a corner."""
    ranked = rank(owned, tooth_to_fit(saw))
    return tuple(OwnFile(choice, corner_counsel(choice.file, saw.points, limit)) for choice in ranked)


def by_name(files: Iterable[OwnFile], name: str) -> OwnFile | None:
    """The one called ``name``, whatever the capitals and blanks; None for a file that is not in the drawer."""
    return next((one for one in files if called(one.name) == called(name)), None)
