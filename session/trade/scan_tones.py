"""Which tones the pictures of a scan were taken to have: what a dot's code says of its light, and who told so."""

from __future__ import annotations

from enum import StrEnum

from session.value_class import dataclass


class Tones(StrEnum):
    """What the code of a dot says of its light: as screens have it (sRGB), in proportion, by a curve of the file's
    own, or otherwise in each picture."""

    USUAL = "usual"
    LINEAR = "linear"
    OTHER = "other"
    MIXED = "mixed"


class TonesBy(StrEnum):
    """Who told the tones: the person, the picture's file, or the edges in the picture, or of each picture another.
    Where nobody did, they were taken for the usual ones, and what that leaves in doubt is in every uncertainty."""

    PERSON = "person"
    FILE = "file"
    EDGES = "edges"
    MIXED = "mixed"
    NOBODY = "nobody"


@dataclass(frozen=True, slots=True)
class TakenTones:
    """The tones that a scan was read by, and who told them; "mixed" where its pictures differ.

    doubt_mm: half of what a flat differs by, read by usual or by linear tones, the middle one; 0 where they were told.
    """

    tones: Tones
    by: TonesBy
    doubt_mm: float = 0.0
