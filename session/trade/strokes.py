"""Strokes: the steel taken in a gullet, the bite of one stroke, and what is left of the work.

A full stroke takes a nearly constant volume for one file, hand and saw: the bite. It starts from a
default and is then learned from the gullets already filed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.trade.middle_values import fmean, median
from session.trade.rounding import whole_number
from session.trade.seven_in_ten import another_day, either_side
from session.trade.trade_error import TradeError
from session.value_class import dataclass, replace

#: Steel taken by one full stroke of a saw file, in mm³: from memory, with the range it may well lie in; of a saw of 8
#: points or so. Of a saw whose pitch and plate are known ``usual_bite`` says more.
DEFAULT_BITE_MM3: Final = 0.10
DEFAULT_BITE_LOW_MM3: Final = 0.04
DEFAULT_BITE_HIGH_MM3: Final = 0.25

#: What one light sharpening takes off the line, one or two passes: from memory.
LIGHT_MM: Final = 0.04

#: Strokes a gullet in a light sharpening, in print: 1 to 3 (NOYES), 1 or 2 (SICK). Fewest, usual, most.
PRINTED_STROKES: Final = (1, 2, 3)

#: An estimate of more strokes than this for a light sharpening is believed of no gullet: judgment.
TOO_MANY_STROKES: Final = 5

#: A bite beyond these limits is a slip of the pen: no file takes so little or so much at a stroke (our own limits).
LEAST_BITE_MM3: Final = 0.001
MOST_BITE_MM3: Final = 10.0

#: A bite or a pace is learned from at least so many places, and from no more than the last so many: judgment.
LEARN_FROM: Final = 5
LEARN_LAST: Final = 40


@dataclass(frozen=True, slots=True)
class Bite:
    """Steel taken by one stroke, in mm³: the middle value, and the range that holds about seven gullets of ten.

    gullets: how many it was learned from; 0 for the default, which is from memory.
    """

    mm3: float
    low_mm3: float
    high_mm3: float
    gullets: int

    @property
    def learned(self) -> bool:
        """False while it is still the remembered default."""
        return self.gullets > 0


@dataclass(frozen=True, slots=True)
class TimeLeft:
    """Seconds of work left at the pace of this walk: likely, and the range that holds about seven times in ten.

    places: how many places the pace rests on.
    """

    likely_s: float
    low_s: float
    high_s: float
    places: int


#: Half of all counts that are rounded to whole strokes are off by this, at most.
ROUNDED: Final = 0.25

#: How far the seconds of one place lie off those of the next, as a share of their mean, and of how many places that
#: knowledge is worth: judgment. The few places seen may not hold the long look that comes now and then.
PLACES_DIFFER: Final = 0.4
PLACES_WORTH: Final = 3

#: How far the pace of the rest lies off the pace so far, as a share of it, however well that is known: judgment. An arm
#: tires, a hand gets into practice, and tomorrow is another day.
PACE_WANDERS: Final = 0.06

#: The bite before anything was learned: from memory.
DEFAULT_BITE: Final = Bite(DEFAULT_BITE_MM3, DEFAULT_BITE_LOW_MM3, DEFAULT_BITE_HIGH_MM3, 0)


def usual_bite(pitch_mm: float, plate_mm: float) -> Bite:
    """The bite of one stroke on a saw of this pitch and plate before anything was learned, in mm³.

    A coarse saw is filed with a larger file and a longer push than a fine one, yet print gives both the same one to
    three strokes (NOYES, SICK). So the bite is what a light sharpening, LIGHT_MM off the line (from memory), takes from
    a gullet, pitch · plate · LIGHT_MM, over those strokes. Raises TradeError for a measure that is not above 0.
    """
    for what, value in (("pitch", pitch_mm), ("plate thickness", plate_mm)):
        if not (math.isfinite(value) and value > 0.0):
            raise TradeError(f"{what} {value:g} mm; allowed: above 0")
    volume = pitch_mm * plate_mm * LIGHT_MM
    fewest, usual, most = PRINTED_STROKES
    return Bite(volume / usual, volume / most, volume / fewest, 0)


def gullet_volume_mm3(take_mm: float, gap_mm: float, rise: float, plate_mm: float) -> float:
    """Steel removed when a gullet ``gap_mm`` wide at the line is filed ``take_mm`` wider, both flanks together.

    ``rise`` is depth / pitch of the tooth: a gullet that is w wide at the line is w·rise deep, so the steel is
    the plate times the difference of two triangles, plate·rise·take·(gap + take/2). A file turned by fleam
    shifts the section along the line through the plate and leaves the volume as it is. Millimeters; raises
    TradeError for a negative take or gap, or a rise or plate that is not above 0.
    """
    for what, value, least in (("take", take_mm, 0.0), ("gap", gap_mm, 0.0)):
        if not (math.isfinite(value) and value >= least):
            raise TradeError(f"{what} {value:g} mm; allowed: 0 mm or more")
    for what, value in (("depth over pitch", rise), ("plate thickness", plate_mm)):
        if not (math.isfinite(value) and value > 0.0):
            raise TradeError(f"{what} {value:g}; allowed: above 0")
    return plate_mm * rise * take_mm * (gap_mm + take_mm / 2.0)


def filing_volume_mm3(flat_mm: float, pitch_mm: float, rise: float, plate_mm: float) -> float:
    """Steel to remove from one gullet of an even line until flats ``flat_mm`` wide are gone, both sides' work together.

    Between two flats the gullet is pitch − flat wide, and it takes the width of one flat, half from each
    of its teeth. Raises TradeError for a flat wider than the pitch.
    """
    if not flat_mm <= pitch_mm:
        raise TradeError(f"a flat of {flat_mm:g} mm; allowed: no wider than the pitch, {pitch_mm:g} mm")
    return gullet_volume_mm3(flat_mm, pitch_mm - flat_mm, rise, plate_mm)


def strokes_for(volume_mm3: float, bite_mm3: float) -> int:
    """Full strokes for a volume: the nearest whole number, at least 1 where there is anything to take, else 0.

    Rounded to the nearest and not up: the flat on the tooth says when to stop, and a stroke too many
    cannot be put back. Raises TradeError for a bite that is not above 0 or a negative volume.
    """
    if not (math.isfinite(bite_mm3) and bite_mm3 > 0.0):
        raise TradeError(f"a bite of {bite_mm3:g} mm³ a stroke; allowed: above 0")
    if not (math.isfinite(volume_mm3) and volume_mm3 >= 0.0):
        raise TradeError(f"a volume of {volume_mm3:g} mm³; allowed: 0 or more")
    return 0 if volume_mm3 == 0.0 else max(1, whole_number(volume_mm3 / bite_mm3))


def learn_bite(volumes_mm3: Sequence[float], strokes: Sequence[int], known: Bite = DEFAULT_BITE) -> Bite:
    """The bite from gullets already filed: the median of volume over strokes of the last ``LEARN_LAST``.

    Its range is the middle half of them. Strokes are counted whole, so that many gullets come to the same bite and
    stand on its edges: with them it holds about seven of ten (200 made records each at 5, 8 and 14 points).

    The two sequences go together, oldest first. Gullets with nothing taken or no strokes are passed over; with
    fewer than ``LEARN_FROM`` left, ``known`` stays (the default, or the bite kept with the saw).
    Raises TradeError when the sequences differ in length.
    """
    if len(volumes_mm3) != len(strokes):
        raise TradeError(f"{len(volumes_mm3)} volumes for {len(strokes)} counts of strokes; allowed: one for each")
    pairs = zip(volumes_mm3, strokes, strict=True)
    bites = [volume / count for volume, count in pairs if count > 0 and math.isfinite(volume) and volume > 0.0]
    bites = bites[-LEARN_LAST:]
    if len(bites) < LEARN_FROM:
        return known
    from statistics import quantiles

    low, middle, high = quantiles(bites, n=4, method="inclusive")
    return Bite(middle, low, high, len(bites))


def spread_by_rounding(bite: Bite, strokes: Sequence[int]) -> Bite:
    """``bite``, learned from gullets of so many ``strokes`` each, with a range no narrower than counting whole strokes
    makes it: ROUNDED of a stroke either way. Where every gullet took the same few, the quartiles alone would say that
    nothing is uncertain. Raises TradeError without a count above 0."""
    if not strokes or min(strokes) < 1:
        raise TradeError("no count of strokes; allowed: one or more, each above 0")
    usual = median(strokes[-LEARN_LAST:])
    low = min(bite.low_mm3, bite.mm3 * usual / (usual + ROUNDED))
    high = max(bite.high_mm3, bite.mm3 * usual / (usual - ROUNDED))
    return replace(bite, low_mm3=max(low, LEAST_BITE_MM3), high_mm3=min(high, MOST_BITE_MM3))


def bite_of_days(bites: Sequence[Bite]) -> Bite:
    """The bite to expect on another day, from those learned on one or more days: the median of them.

    Its range is that of the gullets of a day (the median of theirs) and of one day from the next together, as shares,
    and every day's own bite lies in it. How far days differ is asked of session.trade.seven_in_ten.
    Raises TradeError without a bite.
    """
    if not bites:
        raise TradeError("no bite of any day; allowed: one or more")
    days = [bite.mm3 for bite in bites]
    wide, middle = another_day(days), median(days)
    under = math.hypot(wide, median(math.log(bite.mm3 / bite.low_mm3) for bite in bites))
    over = math.hypot(wide, median(math.log(bite.high_mm3 / bite.mm3) for bite in bites))
    return Bite(
        middle,
        max(LEAST_BITE_MM3, min(*days, middle * math.exp(-under))),
        min(MOST_BITE_MM3, max(*days, middle * math.exp(over))),
        sum(bite.gullets for bite in bites),
    )


def stroke_range(volume_mm3: float, bite: Bite) -> tuple[int, int, int]:
    """Fewest, likely and most strokes for a volume, by the spread of the bite: a big bite needs few."""
    return (
        strokes_for(volume_mm3, bite.high_mm3),
        strokes_for(volume_mm3, bite.mm3),
        strokes_for(volume_mm3, bite.low_mm3),
    )


def time_left(seconds_per_place: Sequence[float], places_left: int) -> TimeLeft | None:
    """Time for ``places_left`` more places at the pace of the last ones, pauses not counted; None until it is known.

    A sum of paces is told by their mean: the median would forget the long looks, which come again. Its range is that of
    a sum of n more paces where m were seen: by the spread s of those, by how well their mean is known from so few, and
    by how far the pace itself wanders: t · √(s²·(n + n²/m) + (PACE_WANDERS · mean · n)²), t of seven in ten.
    Raises TradeError for a negative count.
    """
    if places_left < 0:
        raise TradeError(f"{places_left} places left; allowed: 0 or more")
    paces = [pace for pace in seconds_per_place if math.isfinite(pace) and pace > 0.0][-LEARN_LAST:]
    seen = len(paces)
    if seen < LEARN_FROM:
        return None
    from statistics import variance

    mean, free = fmean(paces), seen - 1
    likely = mean * places_left
    judged = PLACES_WORTH * (PLACES_DIFFER * mean) ** 2
    varies = (free * variance(paces) + judged) / (free + PLACES_WORTH)
    wanders = PACE_WANDERS * likely
    spread = either_side(free) * math.sqrt(varies * (places_left + places_left**2 / seen) + wanders**2)
    return TimeLeft(likely, max(0.0, likely - spread), likely + spread, seen)
