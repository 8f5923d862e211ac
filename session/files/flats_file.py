"""A measured tooth line, FLATS.toml: what lies on the bench after leveling, for the evening plan.

Either ``flats``, each from a to b along the line in mm, or ``widths`` in mm; an empty flat or a width of 0 is a low
tooth. Teeth are judged one by one here, so that all wrong ones are told at once, each with its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any, Final

from session.files.checked_file import CheckedFile
from session.files.checked_tables import CheckedBy, Table, holds
from session.files.complaints import Complaint, in_words
from session.files.recipe_tables import Pitch, PlateThickness
from session.files.written_lengths import length_check
from session.trade.lengths import Length
from session.trade.trade_error import TradeError
from session.trade.uneven_line import MOST_TEETH, TOUCH_MM, UnevenLine, line_from_flats, line_from_widths
from session.value_class import dataclass

#: The most teeth of the widest pitch lie within this; larger numbers would only run over in the arithmetic.
FARTHEST_MM: Final = 200_000

#: A program may write a whole line of teeth on one line of the file.
LONGEST_LINE: Final = 200_000


@dataclass(frozen=True, slots=True)
class Measured:
    """A checked line, with the pitch, depth of tooth and plate that it was measured with, as written.

    widths_mm: where only widths were measured, those; then the line's places are guessed and no plan is made of them.
    """

    line: UnevenLine
    pitch: Length
    depth: Length
    plate: Length
    source: Path
    widths_mm: tuple[float, ...] | None = None


_Depth = Annotated[Length, CheckedBy(length_check("3.1 mm", 0.05, 60))]
_Along = Annotated[Length, CheckedBy(length_check("3.1 mm", 0.3, FARTHEST_MM))]


class FlatsModel(Table):
    """The keys of a measured line; its teeth are judged one by one by `load_flats`, so that all slips are told."""

    format: int = holds(1, ge=1, le=1, description="1, the only format there is so far")
    pitch: Pitch = holds(description='a length such as "4.6 mm"')
    depth: _Depth = holds(description='a length such as "3.1 mm"')
    plate_thickness: PlateThickness = holds(description='a length such as "0.9 mm"')
    flats: list[Any] | None = holds(None, description="a list of flats [a, b] in mm, [] for a low tooth")
    widths: list[Any] | None = holds(None, description="a list of widths in mm, 0 for a low tooth")
    broken: list[int] = holds(make=list, description="a list of teeth, numbered from 1 at the heel")
    length: _Along | None = holds(None, description='a length such as "560 mm", over the middles of the end flats')


def load_flats(path: Path) -> Measured:
    """Read and check a measured line. Raises Refusal with ``FILE:LINE: key: what is wrong; what is allowed``."""
    file = CheckedFile.read(FlatsModel, path, longest_line=LONGEST_LINE)
    file.found += _teeth(file.values, None if file.model is None else file.model.pitch.mm)
    model = file.sound()
    try:
        widths = None if model.widths is None else tuple(model.widths)
        return Measured(_line(model), model.pitch, model.depth, model.plate_thickness, path, widths)
    except TradeError as problem:
        key = "flats" if model.flats is not None else "widths"
        raise file.refusal([((key,), str(problem))]) from None


def _line(model: FlatsModel) -> UnevenLine:
    if model.flats is not None:
        return line_from_flats(model.flats, model.pitch.mm, model.broken)
    assert model.widths is not None, "_teeth wants one of the two"
    length_mm = None if model.length is None else model.length.mm
    return line_from_widths(model.widths, model.pitch.mm, model.broken, length_mm)


def _teeth(values: Mapping[str, Any], pitch_mm: float | None) -> Iterator[Complaint]:
    """What is wrong with the list of teeth, tooth by tooth; a pitch that is wrong itself compares with nothing."""
    given = [key for key in values if key in ("flats", "widths")]
    if not given:
        yield (), "lacks flats or widths; allowed: exactly one of the two"
        return
    if len(given) > 1:
        yield (given[1],), f"cannot stand beside {given[0]}; allowed: exactly one of the two"
        return
    key = given[0]
    teeth = values[key]
    if not isinstance(teeth, list):
        return  # said already
    if key == "flats" and "length" in values:
        yield ("length",), "goes with widths only, since flats say where they lie; allowed: leave it out"
    if not 2 <= len(teeth) <= MOST_TEETH:
        yield (key,), f"a line of {len(teeth):,} teeth; allowed: 2 to {MOST_TEETH:,}"
        return
    yield from _flats(teeth, pitch_mm) if key == "flats" else _widths(teeth, pitch_mm)


def _flats(teeth: Sequence[Any], pitch_mm: float | None) -> Iterator[Complaint]:
    behind: tuple[int, float] | None = None
    for tooth, flat in enumerate(teeth, 1):
        if flat == []:
            continue
        path = ("flats", tooth - 1)
        if not isinstance(flat, list) or len(flat) != 2:
            yield path, f"tooth {tooth}: {in_words(flat)} is not a flat; allowed: [a, b] in mm, or [] for a low tooth"
            continue
        wrong = next((words for words in map(_wrong, flat) if words), "")
        if wrong:
            yield path, f"tooth {tooth}: {wrong}"
            continue
        a, b = float(flat[0]), float(flat[1])
        if a > b:
            yield path, f"tooth {tooth}: its flat runs backward, from {a:g} to {b:g} mm; allowed: [a, b] with a ≤ b"
        elif pitch_mm is not None and b - a >= pitch_mm:
            yield path, _too_wide(tooth, b - a, pitch_mm)
        elif behind is not None and a < behind[1] - TOUCH_MM:
            before = f"before that of tooth {behind[0]} ends"
            yield path, f"tooth {tooth}: its flat begins at {a:g} mm, {before}; allowed: {behind[1]:g} mm or more"
        behind = (tooth, max(b, behind[1]) if behind else b)


def _widths(teeth: Sequence[Any], pitch_mm: float | None) -> Iterator[Complaint]:
    for tooth, width in enumerate(teeth, 1):
        path = ("widths", tooth - 1)
        if wrong := _wrong(width):
            yield path, f"tooth {tooth}: {wrong}"
        elif width < 0:
            yield path, f"tooth {tooth}: a flat {width:g} mm wide; allowed: 0 mm (a low tooth) or more"
        elif pitch_mm is not None and width >= pitch_mm:
            yield path, _too_wide(tooth, width, pitch_mm)


def _wrong(value: object) -> str:
    """What keeps a value from being a place along the line in mm; nothing when it is one."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"{in_words(value)} is not a number; allowed: a finite number of mm"
    # Written so that NaN, which compares with nothing, is refused too.
    if not -FARTHEST_MM <= value <= FARTHEST_MM:
        return f"{in_words(value)} mm is out of range; allowed: {-FARTHEST_MM:,} to {FARTHEST_MM:,} mm"
    return ""


def _too_wide(tooth: int, width: float, pitch_mm: float) -> str:
    return f"tooth {tooth}: a flat {width:g} mm wide; allowed: less than the pitch, {pitch_mm:g} mm"
