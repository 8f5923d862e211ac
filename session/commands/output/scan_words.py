"""What a scan measured, as tables in words and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState

if TYPE_CHECKING:
    from session.scan.saw_scan import SawScan
    from session.trade.saw import Saw

#: A pitch that is off the recipe's by more than this share is told.
PITCH_OFF: Final = 0.01

_COLUMNS: Final = ("tooth", "at", "flat", "under", "±", "front", "back", "gullet", "state")


def scan_plain(found: SawScan) -> dict[str, Any]:
    """The scan as JSON has it: lengths in mm, angles in degrees, None for what was not seen."""
    line = found.line
    return {
        "dots_per_mm": list(found.dots_per_mm),
        "scale_se": line.se_scale,
        "heel": found.heel,
        "steel": "light" if found.light_steel else "dark",
        "steel_sure": found.sure,
        "count": line.count,
        "pitch_mm": line.pitch_mm,
        "zones": [{"first": zone.first, "last": zone.last, "pitch_mm": zone.pitch_mm} for zone in line.zones],
        "line": str(line.shape),
        "line_gap_mm": line.line_gap_mm,
        "se_line_gap_mm": line.se_line_gap_mm,
        "height_spread_mm": line.height_spread_mm,
        "spacing_error_mm": line.spacing_error_mm,
        "worst_spacing_error_mm": line.worst_spacing_error_mm,
        "depth_mm": line.depth_mm,
        "teeth": [_tooth(tooth) for tooth in line.teeth],
    }


def _tooth(tooth: ScannedTooth) -> dict[str, Any]:
    return {
        "tooth": tooth.tooth,
        "place_mm": tooth.place_mm,
        "a_mm": tooth.a_mm,
        "b_mm": tooth.b_mm,
        "height_mm": tooth.height_mm,
        "front_deg": tooth.front_deg,
        "back_deg": tooth.back_deg,
        "gullet_mm": tooth.gullet_mm,
        "depth_mm": tooth.depth_mm,
        "state": str(tooth.state),
        "se_mm": tooth.se_mm,
        "se_place_mm": tooth.se_place_mm,
        "se_flat_mm": tooth.se_flat_mm,
        "se_front_deg": tooth.se_front_deg,
        "se_back_deg": tooth.se_back_deg,
    }


def scan_tables(found: SawScan, saw: Saw) -> None:
    """The scan in words: what is to be known of the line, then tooth by tooth."""
    from session.commands.output.printed_tables import print_line, print_table

    for sentence in scan_sentences(found.line, saw):
        print_line(sentence)
    for sentence in _taken(found):
        print_line(f"Take care: {sentence}")
    rows = [_row(tooth) for tooth in found.line.teeth]
    title = "Every tooth from the heel, mm and degrees; under the line, high ones negative"
    print_table(title, _COLUMNS, rows, right=_COLUMNS[:-1])


def scan_sentences(line: ScannedLine, saw: Saw) -> Iterator[str]:
    """What the line is like, one sentence each."""
    from session.trade.rounding import decimals

    yield f"{saw.name}: {line.count} teeth, pitch {decimals(line.pitch_mm, 3)} mm."
    if line.count != saw.points:
        yield f"The recipe has {saw.points} points."
    if not saw.zones and abs(line.pitch_mm / saw.pitch_mm - 1.0) > PITCH_OFF:
        yield f"The recipe's pitch is {decimals(saw.pitch_mm, 3)} mm."
    if len(line.zones) > 1:
        parts = [f"teeth {one.first} to {one.last}: {decimals(one.pitch_mm, 2)} mm" for one in line.zones]
        yield f"The pitch changes along the line: {'; '.join(parts)}."
    gap = decimals(abs(line.line_gap_mm), 2)
    way = "over" if line.line_gap_mm > 0.0 else "under"
    yield (
        f"The line is {line.shape}: its middle lies {gap} mm {way} its ends, ± {decimals(line.se_line_gap_mm, 2)} mm."
    )
    yield (
        f"Heights spread by {decimals(line.height_spread_mm, 3)} mm; spacings by "
        f"{decimals(line.spacing_error_mm, 3)} mm, at worst {decimals(line.worst_spacing_error_mm, 2)} mm."
    )
    for state in (ToothState.LOW, ToothState.HIGH, ToothState.BROKEN, ToothState.NOT_SEEN):
        if those := line.those(state):
            yield f"{str(state).capitalize()}: {_listed(those)}."


def _listed(teeth: Sequence[int]) -> str:
    return ", ".join(map(str, teeth))


def _taken(found: SawScan) -> Iterator[str]:
    """What was taken for granted of the pictures."""
    if not found.sure:
        side = "light" if found.light_steel else "dark"
        yield f"no end of the plate is to be seen, and the {side} side was taken for steel; --steel says otherwise."
    if found.line.se_scale > 0.0:
        from session.trade.rounding import decimals

        off = found.line.se_scale * 1000.0
        if found.scale_measured:
            yield f"by the rule that was scanned, lengths are right to {decimals(off, 1)} in 1,000."
        else:
            yield f"the scanner's own scale was believed; lengths may be off by {decimals(off, 0)} in 1,000, all alike."


def _row(tooth: ScannedTooth) -> Sequence[str]:
    return (
        str(tooth.tooth),
        _figure(tooth.place_mm, 2),
        _figure(tooth.flat_mm, 2),
        _figure(tooth.height_mm, 3),
        _figure(tooth.se_mm, 3),
        _figure(tooth.front_deg, 1),
        _figure(tooth.back_deg, 1),
        _figure(tooth.depth_mm, 2),
        str(tooth.state),
    )


def _figure(value: float | None, places: int) -> str:
    from session.trade.rounding import decimals

    return "–" if value is None else decimals(value, places)
