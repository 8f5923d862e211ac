"""The shape of a recipe: its tables and keys, what each may hold, and the words that say so.

Only single keys are judged here; what depends on two of them is in ``recipe_rules``. The description
of each key is what an error gives as "allowed".
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, get_args

from session.files.checked_tables import CheckedBy, Table, holds
from session.files.sound_values import checked
from session.files.written_lengths import length_check
from session.machine.clean_text import clean
from session.trade.gauge import THICKEST, THINNEST
from session.trade.lengths import Length, parse_length
from session.trade.pitch import MOST_POINTS
from session.trade.saw import Cut, End, FilePoints, Leans, Order
from session.trade.set_rules import WOODS

FORMAT: Final = 1
LONGEST_NAME: Final = 80
MOST_ZONES: Final = 12
MOST_NAMES: Final = 12

#: The four ways to say how fine the teeth are; a recipe has exactly one of them.
COUNTS: Final = ("points_per_inch", "teeth_per_inch", "points_per_25mm", "pitch")

Kind = Literal["rip", "half rip", "hand", "panel", "tenon", "sash", "carcass", "dovetail", "other"]
KINDS: Final[tuple[str, ...]] = get_args(Kind)
Wood = Literal["dry hardwood", "dry softwood", "green or wet"]

_NAME_ALLOWED: Final = f"a text of 1 to {LONGEST_NAME} characters"


def _name(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError(f"not a text; allowed: {_NAME_ALLOWED}")
    name = " ".join(clean(value).split())
    if not any(sign.isprintable() and not sign.isspace() for sign in name):
        raise ValueError(f"empty, or nothing that can be shown; allowed: {_NAME_ALLOWED}")
    if len(name) > LONGEST_NAME:
        raise ValueError(f"{len(name)} characters; allowed: {_NAME_ALLOWED}")
    return name


ToothedLength = Annotated[Length, CheckedBy(length_check("22 in", 10.0, 3_000.0))]
PlateThickness = Annotated[Length, CheckedBy(length_check("0.035 in", 0.05, 10.0))]
ZoneBegins = Annotated[Length, CheckedBy(length_check("22 in", 0.3, 3_000.0))]
Pitch = Annotated[Length, CheckedBy(length_check("3.6 mm", 0.3, 60.0))]
SetPerSide = Annotated[Length, CheckedBy(length_check("0.006 in", 0.0, 5.0))]
Face = Annotated[Length, CheckedBy(length_check("0.33 in", 0.5, 60.0))]
ViseJaw = Annotated[Length, CheckedBy(length_check("14 in", 10.0, 3_000.0))]


def _one_of(*words: str) -> str:
    return "one of " + ", ".join(f'"{word}"' for word in words)


class SawTable(Table):
    """``[saw]``: the saw as it is."""

    name: Annotated[str, CheckedBy(_name)] = holds(description=_NAME_ALLOWED)
    kind: Kind = holds(description=_one_of(*KINDS))
    cut: Cut = holds(strict=False, description=_one_of(*Cut))
    toothed_length: ToothedLength = holds(description='a length such as "22 in"')
    plate_thickness: PlateThickness | None = holds(None, description='a length such as "0.035 in"')
    plate_gauge: int | None = holds(
        None, ge=THICKEST, le=THINNEST, description=f"a whole number of the Birmingham gauge, {THICKEST} to {THINNEST}"
    )
    points_counted: int | None = holds(
        None, ge=2, le=MOST_POINTS, description=f"a whole number from 2 to {MOST_POINTS:,}"
    )
    formerly: list[Annotated[str, CheckedBy(_name)]] | None = holds(
        None, max_length=MOST_NAMES, description=f"a list of up to {MOST_NAMES} names"
    )


class Count(Table):
    """The keys that say how fine teeth are."""

    points_per_inch: float | None = holds(None, ge=1.5, le=80, description="a number from 1.5 to 80")
    teeth_per_inch: float | None = holds(None, ge=0.5, le=79, description="a number from 0.5 to 79")
    points_per_25mm: float | None = holds(None, ge=1.5, le=80, description="a number from 1.5 to 80")
    pitch: Pitch | None = holds(None, description='a length such as "3.6 mm"')


class ZoneTable(Count):
    """``[[teeth.zone]]``: what changes along a progressive line, from there on toward the toe."""

    begins: ZoneBegins = holds(description='a length from the heel, such as "18 in"')
    rake: float | None = holds(None, ge=-15, le=45, description="degrees from -15 to 45")


class TeethTable(Count):
    """``[teeth]``: the teeth as they are to be filed; angles in degrees as the guide block holds the file."""

    rake: float = holds(ge=-15, le=45, description="degrees from -15 to 45")
    fleam: float = holds(0.0, ge=0, le=45, description="degrees from 0 to 45")
    slope: float = holds(0.0, ge=-30, le=30, description="degrees from -30 to 30")
    first_leans: Leans = holds(Leans.AWAY, strict=False, description=_one_of(*Leans))
    zone: list[ZoneTable] | None = holds(
        None, max_length=MOST_ZONES, description=f"up to {MOST_ZONES} tables [[teeth.zone]]"
    )


class SetTable(Table):
    """``[set]``: how far the points stand out of the plate, and how much of the tooth is bent."""

    per_side: SetPerSide | None = holds(None, description='a length such as "0.006 in"')
    least_per_side: SetPerSide | None = holds(None, description='a length such as "0.003 in"')
    bent_share: float = holds(0.4, gt=0, le=1, description="a share above 0 and up to 1")


class FileTable(Table):
    """``[file]``: the file in the drawer, as measured."""

    face: Face | None = holds(None, description='a length such as "0.33 in"')


class WorkTable(Table):
    """``[work]``: how the person works."""

    order: Order = holds(Order.SET_FIRST, strict=False, description=_one_of(*Order))
    sides: int = holds(2, ge=1, le=2, description="1 or 2")
    start: End = holds(End.HEEL, strict=False, description=_one_of(*End))
    file_points: FilePoints = holds(FilePoints.TOE, strict=False, description=_one_of(*FilePoints))
    vise_jaw: ViseJaw = holds(parse_length("12 in"), description='a length such as "14 in"')
    wood: Wood = holds("dry hardwood", description=_one_of(*WOODS))
    dressing_passes: int = holds(1, ge=0, le=10, description="a whole number from 0 to 10")


class RecipeModel(Table):
    """A whole recipe. The tables that may be left out have usual values throughout."""

    format: int = holds(ge=FORMAT, le=FORMAT, description=f"{FORMAT}, the only format there is so far")
    saw: SawTable = holds(description="a table [saw]")
    teeth: TeethTable = holds(description="a table [teeth]")
    set: SetTable = holds(make=lambda: checked(SetTable, {}), description="a table [set]")
    file: FileTable = holds(make=lambda: checked(FileTable, {}), description="a table [file]")
    work: WorkTable = holds(make=lambda: checked(WorkTable, {}), description="a table [work]")
