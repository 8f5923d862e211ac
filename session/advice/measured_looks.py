"""What a scan measured of a saw as answers to looks: offered, and the person's to change."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from itertools import pairwise
from typing import Final

from session.texts.wording import times
from session.trade.lengths import Length
from session.trade.middle_values import median
from session.trade.rounding import decimals
from session.trade.scanned_line import ScannedLine, ToothState, is_measured
from session.trade.seen_words import LineShape, Sizes
from session.trade.tooth_numbers import numbers_in_words
from session.value_class import dataclass
from session.walk.measurables import SOMETHING, Measurable

#: A space off those around it by this share of them, and every other space off by the second, are seen as uneven
#: (our own limits: half a grade of a flat).
UNEVEN_SHARE: Final = 0.1
ALTERNATE_SHARE: Final = 0.03


@dataclass(frozen=True, slots=True)
class MeasuredLooks:
    """The newest line that a scan measured of a saw. filed_since: whether a sharpening was finished after it.

    older: those measured before it with no file on the line since, the newest first. older_filed: whether there is
    another on which a file was.
    """

    at: datetime
    line: ScannedLine
    filed_since: bool = False
    older: tuple[MeasuredLooks, ...] = ()
    older_filed: bool = False

    def offered(self, what: Measurable, unit: str) -> str:
        """The answer to a look as a person would type it, lengths in ``unit``; empty where the scan has none.

        What a sharpening changes is not offered when one was finished since.
        """
        line = self.line
        match what:
            case Measurable.POINTS:
                return str(line.count)
            case Measurable.BROKEN_TEETH:
                return numbers_in_words(line.those(ToothState.BROKEN))
            case _ if self.filed_since:
                return ""
            case Measurable.ALL_ROUND:
                # A line without an odd tooth says nothing of plate and handle.
                return SOMETHING if self._odd() else ""
            case Measurable.HIGH_TEETH:
                return numbers_in_words(line.those(ToothState.HIGH))
            case Measurable.LOW_TEETH:
                return numbers_in_words(line.those(ToothState.LOW))
            case Measurable.LINE:
                return str(line.shape)
            case Measurable.LINE_GAP if line.shape is not LineShape.STRAIGHT:
                return Length.of(abs(line.line_gap_mm), unit).text
            case Measurable.SIZES:
                return str(sizes_of(line))
        return ""

    def told(self, what: Measurable, unit: str, today: date | None) -> str:
        """The sentence beside the look: what was measured, and how long ago; empty where nothing was."""
        answer = self.offered(what, unit)
        if not answer:
            return ""
        more = ""
        if what is Measurable.ALL_ROUND:
            more = f", {', '.join(self._odd())}"
        elif what is Measurable.LINE:
            gap, unsure = decimals(abs(self.line.line_gap_mm), 2), decimals(self.line.se_line_gap_mm, 2)
            more = f" by {gap} ± {unsure} mm"
        elif what in (Measurable.HIGH_TEETH, Measurable.LOW_TEETH, Measurable.BROKEN_TEETH):
            unseen = self.line.those(ToothState.NOT_SEEN)
            more = f"; not seen: {numbers_in_words(unseen)}" if unseen else ""
        return f"Measured by a scan {age(self.at, today)}: {answer}{more}."

    def _odd(self) -> list[str]:
        """The teeth that are not as the others, each kind with its numbers."""
        kinds = (ToothState.HIGH, ToothState.LOW, ToothState.BROKEN)
        return [f"{state} {numbers_in_words(those)}" for state in kinds if (those := self.line.those(state))]


def unseen_in_words(line: ScannedLine) -> str:
    """The teeth that a scan did not see, each with its place along the line, by reason; empty where it saw all.

    "17 at 66.2 mm, 27 at 109.9 mm (dust or a hair on it)"
    """
    reasons: dict[str, list[str]] = {}
    for tooth in line.teeth:
        if tooth.state is ToothState.NOT_SEEN:
            reasons.setdefault(tooth.why, []).append(f"{tooth.tooth} at {decimals(tooth.place_mm, 1)} mm")
    return "; ".join(f"{', '.join(those)}{f' ({why})' if why else ''}" for why, those in reasons.items())


def age(at: datetime, today: date | None) -> str:
    """ "today", "3 days ago": how old a scan is; its day where nobody knows today's."""
    if today is None:
        return f"on {at:%Y-%m-%d}"
    days = (today - at.date()).days
    return "today" if days <= 0 else f"{times(days, 'day')} ago"


def sizes_of(line: ScannedLine) -> Sizes:
    """How the teeth of a measured line compare, by their spaces."""
    spaces = _spaces(line)
    told = [(at, space) for at, space in enumerate(spaces) if space is not None]
    if len(told) > 3:
        from statistics import mean

        usual = mean(space for _, space in told)
        turned = mean((space - usual) * (-1) ** at for at, space in told)
        if abs(turned) > ALTERNATE_SHARE * usual:
            return Sizes.ALTERNATE
    for at, space in told:
        around = median(one for one in spaces[max(0, at - 4) : at + 5] if one is not None)
        if abs(space - around) > UNEVEN_SHARE * around:
            return Sizes.HERE_AND_THERE
    return Sizes.EVEN


def _spaces(line: ScannedLine) -> Sequence[float | None]:
    """From each tooth to the next, mm; None where one of the two was not measured."""
    return [
        ahead.place_mm - one.place_mm if is_measured(one.state) and is_measured(ahead.state) else None
        for one, ahead in pairwise(line.teeth)
    ]
