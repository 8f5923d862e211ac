"""What was seen of a saw, SEEN.toml: the answers of one looking over, for advice without sitting at the bench.

Every key may be missing: then nobody looked. Whether a figure can be is judged later, against the saw it was seen on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Annotated, Any, Final

from session.files.checked_file import CheckedFile
from session.files.checked_tables import CheckedBy, Table, holds
from session.files.complaints import Complaint
from session.machine.clean_text import clean
from session.trade.lengths import Length as _Length
from session.trade.lengths import parse_length
from session.trade.observation import MOST_WIDTHS, Crack, Look, Seen
from session.trade.pitch import MOST_POINTS
from session.trade.saw import Leans
from session.trade.seen_words import AT_ODDS, Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.trade.tooth_numbers import WRITTEN, read_numbers
from session.trade.trade_error import TradeError

LONGEST_WOOD: Final = 80

#: No plate is longer.
_LONGEST_MM: Final = 2_000.0


def load_seen(path: Path) -> Seen:
    """Read and check a file of observations. Raises Refusal with ``FILE:LINE: key: what is wrong; what is allowed``."""
    file = CheckedFile.read(SeenModel, Path(path))
    file.found.extend(_at_odds(file.values))
    return _seen(file.sound())


def _length(value: object) -> _Length:
    if not isinstance(value, str):
        raise ValueError('not a text with a unit, such as "0.047 in"; allowed units: mm, cm, m, in or thou')
    length = parse_length(clean(value))
    if length.mm > _LONGEST_MM:
        raise ValueError(f"{length.text} is longer than any plate; allowed: up to {_LONGEST_MM:g} mm")
    return length


def _widths(value: object) -> tuple[_Length, ...]:
    given = value if isinstance(value, list) else [value]
    if not 1 <= len(given) <= MOST_WIDTHS:
        raise ValueError(f"{len(given)} widths; allowed: 1 to {MOST_WIDTHS}, taken along the line")
    widths = []
    for number, one in enumerate(given, 1):
        try:
            width = _length(one)
        except TradeError as wrong:
            raise ValueError(f"width {number}: {wrong}") from None
        if width.mm <= 0:
            raise ValueError(f"width {number}: {width.text} is no width; allowed: above zero")
        widths.append(width)
    return tuple(widths)


def _teeth(value: object) -> tuple[int, ...]:
    found: set[int] = set()
    for one in value if isinstance(value, list) else [value]:
        if isinstance(one, bool) or not isinstance(one, int | str):
            raise ValueError(f"a list of teeth holds something else; allowed: {WRITTEN}")
        try:
            found.update(read_numbers(str(one)))
        except TradeError as wrong:
            raise ValueError(str(wrong)) from None
    return tuple(sorted(found))


def _plate(value: object) -> frozenset[Plate]:
    given = value if isinstance(value, list) else [value]
    allowed = ", ".join(Plate)
    for one in given:
        if not isinstance(one, str) or one not in list(Plate):
            shown_as = f'"{clean(one)[:20]}"' if isinstance(one, str) else "something that is no text"
            raise ValueError(f"{shown_as} is not known of a plate; allowed: a list out of {allowed}")
    if not given:
        raise ValueError(f"an empty list says nothing; allowed: a list out of {allowed}")
    plate = frozenset(Plate(str(one)) for one in given)
    for one, other in AT_ODDS:
        if {one, other} <= plate:
            raise ValueError(f'"{one}" cannot stand beside "{other}"; allowed: one of the two')
    return plate


def _count(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError("is not a number; allowed: points counted, both end points too, such as 8 or 8.5")
    if not 1 < value <= MOST_POINTS:
        raise ValueError(f"{value:g} points; allowed: more than 1, up to {MOST_POINTS}")
    return float(value)


def _day(value: object) -> date:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, str):
        try:
            return date.fromisoformat(value.strip())
        except ValueError:
            pass
    raise ValueError("is not a day; allowed: a date such as 2026-11-25")


def _wood(value: object) -> str:
    wood = " ".join(clean(value).split()) if isinstance(value, str) else ""
    if not 1 <= len(wood) <= LONGEST_WOOD:
        raise ValueError(f'is not a wood; allowed: a text of 1 to {LONGEST_WOOD} characters, such as "dry hardwood"')
    return wood


class CrackTable(Table):
    """The table of a crack: where it is and how long."""

    gullet: int | None = holds(None, ge=1, le=MOST_POINTS, description="the gullet, from 1 at the heel")
    length: Annotated[_Length, CheckedBy(_length)] | None = holds(None, description='a length such as "1/8 in"')


_Teeth = Annotated[tuple[int, ...], CheckedBy(_teeth)]


def _out_of(words: type[Any]) -> str:
    return " or ".join(f'"{word}"' for word in words)


class SeenModel(Table):
    """The keys of the file, which are those of `Look`."""

    format: int = holds(1, ge=1, le=1, description="1, the only format there is so far")
    first_leans: Leans | None = holds(None, strict=False, description=_out_of(Leans))
    points_in_an_inch: Annotated[float, CheckedBy(_count)] | None = holds(None, description="a count such as 8")
    points_in_25mm: Annotated[float, CheckedBy(_count)] | None = holds(None, description="a count such as 8")
    points_in_line: int | None = holds(None, ge=2, le=MOST_POINTS, description=f"a whole number, 2 to {MOST_POINTS}")
    plate: Annotated[frozenset[Plate], CheckedBy(_plate)] | None = holds(
        None, description=f"a list out of {', '.join(Plate)}"
    )
    crack: CrackTable | None = holds(None, description='a table such as { gullet = 40, length = "1/8 in" }')
    hard_teeth: bool | None = holds(None, description="true or false")
    handle: Handle | None = holds(None, strict=False, description=_out_of(Handle))
    line: LineShape | None = holds(None, strict=False, description=_out_of(LineShape))
    line_gap: Annotated[_Length, CheckedBy(_length)] | None = holds(None, description='a length such as "1/32 in"')
    sizes: Sizes | None = holds(None, strict=False, description=_out_of(Sizes))
    high: _Teeth | None = holds(None, description=WRITTEN)
    low: _Teeth | None = holds(None, description=WRITTEN)
    broken: _Teeth | None = holds(None, description=WRITTEN)
    bright: Bright | None = holds(None, strict=False, description=_out_of(Bright))
    over_points: Annotated[tuple[_Length, ...], CheckedBy(_widths)] | None = holds(
        None, description='a list of widths such as ["0.047 in", "0.048 in"]'
    )
    last_cut: Cutting | None = holds(None, strict=False, description=_out_of(Cutting))
    wanders_to: Toward | None = holds(None, strict=False, description=_out_of(Toward))
    cut: Grain | None = holds(None, strict=False, description=_out_of(Grain))
    wood: Annotated[str, CheckedBy(_wood)] | None = holds(None, description='a text such as "dry hardwood"')
    last_sharpened: Annotated[date, CheckedBy(_day)] | None = holds(None, description="a date")


def _at_odds(values: Mapping[str, Any]) -> Iterator[Complaint]:
    """What cannot be true at the same time, told even while a key is wrong by itself."""
    plate, last_cut = values.get("plate"), values.get("last_cut", Cutting.WANDERS)
    if "crack" in values and isinstance(plate, list) and Plate.SOUND in plate:
        yield ("plate",), '"sound" cannot stand beside a crack; allowed: one of the two'
    if "wanders_to" in values and last_cut != Cutting.WANDERS:
        yield ("wanders_to",), 'goes with last_cut = "wanders" only; allowed: leave one of them out'


def _seen(model: SeenModel) -> Seen:
    found = {str(look): getattr(model, look) for look in Look if getattr(model, look) is not None}
    if model.crack is not None:
        found["crack"] = Crack(model.crack.gullet, model.crack.length)
    if model.last_cut is None and model.wanders_to is not None:
        found["last_cut"] = Cutting.WANDERS
    return Seen(**found)
