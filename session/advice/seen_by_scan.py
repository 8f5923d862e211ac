"""What the newest scan of a saw measured, taken where nobody looked: for an advice without a bench."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, Final

from session.advice.measured_looks import MeasuredLooks, age, sizes_of, unseen_in_words
from session.advice.scan_contradictions import contradictions
from session.advice.scan_in_use import scan_in_use
from session.trade.lengths import Length
from session.trade.observation import Look, Seen
from session.trade.rounding import decimals
from session.trade.saw import Saw
from session.trade.scanned_line import ToothState
from session.trade.seen_words import LineShape
from session.trade.tooth_numbers import numbers_in_words
from session.value_class import dataclass, replace

#: What is done with a scan that is not of this saw.
LAY_ASIDE: Final = "If it is not of this saw, lay it aside: toothline scan {} --lay-aside."


@dataclass(frozen=True, slots=True)
class SeenByScan:
    """scan: the one that was taken, or is not. seen: what was looked at, and for all else what it measured. taken: that
    alone, in words by the look. told: the sentences that say so.
    """

    scan: MeasuredLooks
    seen: Seen
    taken: Mapping[Look, str]
    told: tuple[str, ...]


def seen_by_scan(
    seen: Seen,
    newest: MeasuredLooks,
    saw: Saw,
    today: date,
    named: str = "SAW",
) -> SeenByScan:
    """``seen`` with what the newest scan tells of the line of ``saw``; what was looked at holds.

    Once a sharpening was finished after the scan, only count and broken teeth are taken from it. Where recipe and scan
    contradict each other so that it is held back, an older one of the same line is taken, else none. named: what
    commands call the saw.
    """
    use = scan_in_use(newest, saw)
    if not use.why_not:
        return _seen(seen, newest, saw, today, named)
    by = f"The scan of {newest.at:%Y-%m-%d %H:%M}, {age(newest.at, today)},"
    held = (one for one in contradictions(newest.line, saw, named) if one.held)
    why = (*(f"{by} is not used: {one.told}" for one in held), LAY_ASIDE.format(named))
    if use.looks is None:
        return SeenByScan(newest, seen, {}, (*why, *filter(None, (use.instead(today),))))
    found = _seen(seen, use.looks, saw, today, named)
    return replace(found, told=(*why, use.instead(today), *found.told))


def _seen(seen: Seen, scanned: MeasuredLooks, saw: Saw, today: date, named: str) -> SeenByScan:
    """``seen`` with what one scan tells, which is not held back."""
    line, unit = scanned.line, saw.unit
    by = f"The scan of {scanned.at:%Y-%m-%d %H:%M}, {age(scanned.at, today)},"
    told: dict[Look, tuple[Any, str]] = {
        Look.IN_LINE: (line.count, f"{line.count} points in the line"),
        Look.BROKEN: _teeth("broken", line.those(ToothState.BROKEN)),
    }
    if not scanned.filed_since:
        told |= {Look.HIGH: _teeth("high", line.those(ToothState.HIGH))}
        told |= {Look.LOW: _teeth("low", line.those(ToothState.LOW))}
        told[Look.SIZES] = (sizes_of(line), f"sizes {sizes_of(line)}")
        told[Look.LINE] = (line.shape, f"line {line.shape}")
        if line.shape is not LineShape.STRAIGHT and seen.line is None:
            gap = Length.of(abs(line.line_gap_mm), unit)
            mm, unsure = decimals(abs(line.line_gap_mm), 2), decimals(line.se_line_gap_mm, 2)
            told[Look.LINE_GAP] = (gap, f"by {mm} ± {unsure} mm")
    taken = {look: words for look, (_, words) in told.items() if getattr(seen, look) is None}
    filled = replace(seen, **{str(look): told[look][0] for look in taken})
    since = "; a sharpening was finished since, which changes all else" if scanned.filed_since else ""
    taken_by = f"By the scan of {scanned.at:%Y-%m-%d %H:%M}, {age(scanned.at, today)}"
    sentences: tuple[str, ...] = (f"{taken_by}: {', '.join(taken.values())}{since}.",) if taken else ()
    if unseen := unseen_in_words(line):
        sentences += (f"The scan did not see these teeth: {unseen}.",)
    against = contradictions(line, saw, named)
    sentences += tuple(f"{by} contradicts the recipe: {one.told}" for one in against)
    return SeenByScan(scanned, filled, taken, sentences)


def _teeth(what: str, numbers: tuple[int, ...]) -> tuple[tuple[int, ...], str]:
    return numbers, f"{what} {numbers_in_words(numbers)}"
