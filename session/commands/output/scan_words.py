"""What a scan measured, as tables in words and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import TYPE_CHECKING, Any, Final

from session.trade.scan_tones import Tones, TonesBy
from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, told_bent_from_mm

if TYPE_CHECKING:
    from session.advice.scan_contradictions import Contradiction
    from session.scan.saw_scan import SawScan
    from session.trade.saw import Saw
    from session.trade.scan_tones import TakenTones

#: Who told the tones, in words.
_TOLD_BY: Final = {
    TonesBy.PERSON: "--tones says",
    TonesBy.FILE: "the file says",
    TonesBy.EDGES: "the edges tell",
    TonesBy.MIXED: "was told",
}

#: A doubt of less is not worth a number on screen, mm.
LEAST_DOUBT_MM: Final = 0.005

#: What stands over the table, and the names of its columns.
_TITLE: Final = "Every tooth from the heel, mm and degrees; under the line, high ones negative; depth of the gullet"
_COLUMNS: Final = ("tooth", "at", "flat", "±", "under", "± ", "front", "back", "depth", "state")


def scan_plain(line: ScannedLine, found: SawScan | None, tones: TakenTones | None) -> dict[str, Any]:
    """A line as JSON has it: lengths in mm, angles in degrees, None for what was not seen. found: how it was taken;
    None for one that was kept. tones: by which it was read; None where that is not known."""
    taken: dict[str, Any] = {}
    if found is not None:
        taken = {
            "dots_per_mm": list(found.dots_per_mm),
            "heel": found.heel,
            "steel": "light" if found.light_steel else "dark",
            "steel_sure": found.sure,
            "other_count": found.other_count,
        }
    told: dict[str, Any] = {}
    if tones is not None:
        doubt = tones.doubt_mm if tones.by is TonesBy.NOBODY else None
        told = {"tones": str(tones.tones), "tones_by": str(tones.by), "tones_doubt_mm": doubt}
    return (
        taken
        | told
        | {
            "scale_se": line.se_scale,
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
    )


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
        "why": tooth.why or None,
        "se_mm": tooth.se_mm,
        "se_place_mm": tooth.se_place_mm,
        "se_flat_mm": tooth.se_flat_mm,
        "se_front_deg": tooth.se_front_deg,
        "se_back_deg": tooth.se_back_deg,
    }


def contradictions_plain(found: Sequence[Contradiction]) -> list[dict[str, Any]]:
    """What line and recipe contradict each other in, as JSON has it."""
    return [{"what": one.what, "perhaps": one.perhaps, "held": one.held} for one in found]


def scan_table(line: ScannedLine) -> None:
    """The line tooth by tooth."""
    from session.commands.output.printed_tables import print_table

    print_table(_TITLE, _COLUMNS, [_row(tooth) for tooth in line.teeth], right=_COLUMNS[:-1])


def scan_summary(
    line: ScannedLine,
    saw: Saw,
    against: Sequence[Contradiction],
    found: SawScan | None,
    tones: TakenTones | None = None,
) -> None:
    """What is to be known of the line in words, under its table: that a terminal shows when the rows have gone by."""
    from session.commands.output.printed_tables import print_line

    # Of a line that cannot be this saw's nothing is right, its scale neither.
    held = any(one.held for one in against)
    how = () if held else (*_scale(line, found), *tones_in_words(tones))
    for sentence in (*scan_sentences(line, saw), *how):
        print_line(sentence)
    if found is not None and not found.sure:
        side = "light" if found.light_steel else "dark"
        print_line(
            f"Take care: no end of the plate is to be seen, and the {side} side was taken for steel; --steel says "
            "otherwise."
        )
    if found is not None and found.other_count is not None:
        few, many = sorted((line.count, found.other_count))
        print_line(f"By the picture there are {few} or {many} teeth; {line.count} by the recipe, which was taken.")
    for one in against:
        print_line(f"Take care: {one.text}")


def scan_sentences(line: ScannedLine, saw: Saw) -> Iterator[str]:
    """What the line is like, one sentence each."""
    from session.advice.measured_looks import unseen_in_words
    from session.trade.rounding import decimals

    yield f"{saw.name}: {line.count} teeth, pitch {decimals(line.pitch_mm, 3)} mm."
    if len(line.zones) > 1:
        parts = [f"teeth {one.first} to {one.last}: {decimals(one.pitch_mm, 2)} mm" for one in line.zones]
        yield f"The pitch changes along the line: {'; '.join(parts)}."
    gap = decimals(abs(line.line_gap_mm), 2)
    way = "over" if line.line_gap_mm > 0.0 else "under"
    yield (
        f"The line is {line.shape}: its middle lies {gap} mm {way} its ends, ± {decimals(line.se_line_gap_mm, 2)} mm; "
        f"from {decimals(told_bent_from_mm(line.se_line_gap_mm), 2)} mm on it is told crowned or hollow."
    )
    yield "Heights are counted from the line as it bends, so that a bow of all of it makes no tooth low or high."
    yield (
        f"Heights spread by {decimals(line.height_spread_mm, 3)} mm; spacings by "
        f"{decimals(line.spacing_error_mm, 3)} mm, at worst {decimals(line.worst_spacing_error_mm, 2)} mm."
    )
    for state in (ToothState.LOW, ToothState.HIGH, ToothState.BROKEN):
        if those := line.those(state):
            yield f"{str(state).capitalize()}: {_listed(those)}."
    if unseen := unseen_in_words(line):
        yield f"Not seen: {unseen}."


def _listed(teeth: Sequence[int]) -> str:
    return ", ".join(map(str, teeth))


def _scale(line: ScannedLine, found: SawScan | None) -> Iterator[str]:
    """How right all lengths are."""
    if not line.se_scale > 0.0:
        return
    from session.trade.rounding import decimals

    off = line.se_scale * 1000.0
    if found is not None and found.scale_measured:
        yield f"By the rule that was scanned, lengths are right to {decimals(off, 1)} in 1,000."
    elif found is not None:
        yield (
            f"Take care: the scanner's own scale was believed; lengths may be off by {decimals(off, 0)} in 1,000, all "
            "alike."
        )
    else:
        yield f"Lengths may be off by {decimals(off, 1)} in 1,000, all alike."


def tones_in_words(tones: TakenTones | None) -> Iterator[str]:
    """Which tones the pictures were taken to have, and who told; what to do where nobody did. Of usual ones that were
    told nothing is said, nor of a scan of before it was noted."""
    if tones is None:
        return
    from session.trade.rounding import decimals

    if tones.by is TonesBy.NOBODY:
        # Sharp points have no flats to differ.
        wide = f", flats to {decimals(tones.doubt_mm, 2)} mm," if tones.doubt_mm >= LEAST_DOUBT_MM else ""
        yield (
            "Take care: neither files nor edges tell whether the tones are usual or linear (raw); usual ones were "
            f"taken, and what is in doubt{wide} is in the ± of each tooth. Say --tones usual or --tones linear, as the "
            "scanner's program was set."
        )
    elif tones.by is TonesBy.EDGES and tones.tones is Tones.LINEAR:
        yield (
            "The edges tell that the tones are linear (raw), and so they were read; if the scanner was set otherwise, "
            "say --tones usual."
        )
    elif tones.tones is Tones.MIXED:
        yield "Take care: the pictures have unlike tones; scan all of them with the scanner set alike."
    elif tones.tones is not Tones.USUAL:
        named = "linear (raw)" if tones.tones is Tones.LINEAR else "by a curve of the file's own"
        yield f"Tones {named}, as {_TOLD_BY[tones.by]}."


def _row(tooth: ScannedTooth) -> Sequence[str]:
    return (
        str(tooth.tooth),
        _figure(tooth.place_mm, 2),
        _flat(tooth),
        _figure(tooth.se_flat_mm, 2) if tooth.flat_mm else "",
        _figure(tooth.height_mm, 3),
        _figure(tooth.se_mm, 3),
        _figure(tooth.front_deg, 1),
        _figure(tooth.back_deg, 1),
        _figure(tooth.depth_mm, 2),
        str(tooth.state),
    )


def _flat(tooth: ScannedTooth) -> str:
    """The flat's width; of a point told sharp, under how much it lies: a narrower flat is not told from none."""
    if tooth.flat_mm == 0.0 and tooth.se_flat_mm:
        return f"<{_figure(ceil(200.0 * tooth.se_flat_mm - 1e-9) / 100.0, 2)}"
    return _figure(tooth.flat_mm, 2)


def _figure(value: float | None, places: int) -> str:
    from session.trade.rounding import decimals

    return "–" if value is None else decimals(value, places)
