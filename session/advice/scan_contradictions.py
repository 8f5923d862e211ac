"""A measured line against the saw's recipe: what of the two cannot both be so, what it may be, and what to do.

A picture of another saw, of a part of the line, or read by the wrong dots per inch makes a line that is even and whole,
and of no use: only the recipe tells.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, sqrt
from typing import Final

from session.advice.plausibility import by_count
from session.texts.wording import capital
from session.trade.middle_values import fmean, median
from session.trade.observation import Seen
from session.trade.rounding import decimals
from session.trade.saw import Saw
from session.trade.scanned_line import ScannedLine, ScannedTooth, is_measured
from session.trade.tooth import tooth_of
from session.value_class import dataclass

#: A count that is off by so many, or by this share where the recipe's was worked out and not counted, may be a slip.
SLIP_TEETH: Final = 2
SLIP_SHARE: Final = 0.03

#: A pitch that is off the recipe's by more than the first share is told, by more than the second is not believed.
PITCH_OFF: Final = 0.01
PITCH_WRONG: Final = 0.05

#: Flanks that lean otherwise than the recipe's by more than the first, degrees beyond twice the uncertainty of their
#: middle, are told; by more than the second they are not believed (our own limits: a guide block is held to two).
LEAN_OFF_DEG: Final = 3.0
LEAN_WRONG_DEG: Final = 10.0

#: So near to a whole factor a pitch is one that the wrong dots per inch make, and what scanners are set to.
FACTOR_NEAR: Final = 0.03
USUAL_DPI: Final = (300, 400, 600, 800, 1200, 1600, 2400, 4800)
_FACTORS: Final = {2.0: "twice", 0.5: "half", 4.0: "four times", 0.25: "a quarter of"}


@dataclass(frozen=True, slots=True)
class Contradiction:
    """what: how line and recipe differ, a clause that begins with "it". perhaps: what it may be, and what to do, in
    whole sentences. held: whether so much that the line is not to be used before it is settled."""

    what: str
    perhaps: str
    held: bool

    @property
    def told(self) -> str:
        """Both, in words that go on behind a colon."""
        return f"{self.what}. {self.perhaps}"

    @property
    def text(self) -> str:
        """Both, as sentences of their own."""
        return capital(self.told)


def contradictions(
    line: ScannedLine, saw: Saw, named: str = "SAW", *, dpi: float | None = None, heel: str | None = None
) -> tuple[Contradiction, ...]:
    """What of ``line`` and the recipe of ``saw`` cannot both be so; nothing where they agree.

    Where anything holds the line back that alone is told: what else differs follows from it.

    named: how commands call the saw. dpi: the dots per inch that its pictures were read by; heel: "left" or "right",
    where the heel was taken to lie; None where that is not known any more.
    """
    found = (*_size(line, saw, named, dpi), *_leans(line, saw, named, heel))
    return tuple(one for one in found if one.held) or found


def why_not_used(line: ScannedLine, saw: Saw, points: int | None = None) -> str:
    """Why nothing of ``line`` is used for ``saw``, in short; empty where nothing speaks against it.

    points: those that a person has counted in the line today, who is believed before the recipe; None where nobody did.
    """
    if points is not None:
        saw = by_count(saw, Seen(points_in_line=points))
    return next((one.what for one in contradictions(line, saw) if one.held), "")


def _size(line: ScannedLine, saw: Saw, named: str, dpi: float | None) -> Iterator[Contradiction]:
    """Count and pitch: together they tell a part of a line from another saw's."""
    has = fmean(saw.line.pitch_at(tooth) for tooth in range(1, saw.points))
    share = line.pitch_mm / has
    like = abs(share - 1.0) <= PITCH_WRONG
    off = line.count - saw.points
    slip = max(SLIP_TEETH, 0.0 if saw.points_counted else SLIP_SHARE * saw.points)
    mend = f"If the saw is the right one, mend its recipe: toothline edit {named}."
    teeth = f"it shows {line.count} teeth where the recipe has {saw.points} points"
    apart = f"{decimals(line.pitch_mm, 2)} mm apart, by the recipe {decimals(has, 2)} mm"
    if (factor := _factor(share)) is not None and (abs(off) <= slip or off < 0):
        told = "" if dpi is None else _dpi(dpi * factor)
        ask = f"Is it {told} dots per inch? Read it again with --dpi {told}" if told else "Say its own --dpi"
        size = f"its pitch, {decimals(line.pitch_mm, 2)} mm, is {_FACTORS[factor]} the recipe's {decimals(has, 2)} mm"
        part = f"; {teeth}" if abs(off) > slip else ""
        yield Contradiction(f"{size}{part}", f"{ask}; else it is another saw's picture.", held=True)
    elif abs(off) > slip and not like:
        yield Contradiction(f"{teeth}, {apart}", f"It may be another saw's picture. {mend}", held=True)
    elif off < -slip:
        yield Contradiction(
            f"{teeth}, at the recipe's spacing",
            "It may be a part of the line: scan all of it in overlapping pictures, each with eight teeth of the one "
            f"before, and name them all in one command. {mend}",
            held=True,
        )
    elif off > slip:
        yield Contradiction(
            f"{teeth}, at the recipe's spacing", f"It may be another, longer saw's picture. {mend}", held=True
        )
    elif not like:
        yield Contradiction(
            f"its points stand {apart}",
            f"Measure ten spaces with calipers: they tell whether --dpi is wrong, or the recipe. {mend}",
            held=True,
        )
    else:
        if off:
            yield Contradiction(teeth, f"Count them by hand once: one of the two has a slip. {mend}", held=False)
        if abs(share - 1.0) > max(PITCH_OFF, 2.0 * line.se_scale):
            yield Contradiction(f"its points stand {apart}", "Ten spaces by calipers tell which is right.", held=False)


def _factor(share: float) -> float | None:
    return next((factor for factor in _FACTORS if abs(share / factor - 1.0) <= FACTOR_NEAR), None)


def _dpi(value: float) -> str:
    """The usual dots per inch that ``value`` is meant to be; empty for none."""
    nearest = min(USUAL_DPI, key=lambda one: abs(one - value))
    return str(nearest) if abs(nearest / value - 1.0) <= FACTOR_NEAR else ""


def _leans(line: ScannedLine, saw: Saw, named: str, heel: str | None) -> Iterator[Contradiction]:
    """Fronts and backs, against what the recipe's angles make of them on the plate."""
    inner = [tooth for tooth in line.teeth[1:-1] if is_measured(tooth.state)]
    fronts = [(tooth, tooth.front_deg) for tooth in inner if tooth.front_deg is not None]
    backs = [(tooth, tooth.back_deg) for tooth in inner if tooth.back_deg is not None]
    if not fronts or not backs:
        return
    from statistics import pstdev

    expected = {tooth.tooth: _planned(saw, tooth) for tooth in inner}
    front, back = median(lean for _, lean in fronts), median(lean for _, lean in backs)
    front_has = median(expected[tooth.tooth][0] for tooth, _ in fronts)
    back_has = median(expected[tooth.tooth][1] for tooth, _ in backs)
    off = median(lean - expected[tooth.tooth][0] for tooth, lean in fronts)
    spread = pstdev(lean for _, lean in fronts)
    beyond = abs(off) - 2.0 * _se([lean for _, lean in fronts], [tooth.se_front_deg for tooth, _ in fronts])
    told = (
        f"its fronts lean {decimals(front, 1)} ± {decimals(spread, 1)}° on the plate, by the recipe "
        f"{decimals(front_has, 1)}°"
    )
    mend = f"Hold the angle against a protractor; where the scan is right, mend the rake: toothline edit {named}."
    turned = abs(front - back_has) + abs(back - front_has) < 0.5 * (abs(front - front_has) + abs(back - back_has))
    if turned and beyond > LEAN_WRONG_DEG:
        other = {"left": "right", "right": "left"}.get(heel or "")
        say = f"Read it again with --heel {other}." if other else "Scan it again with the right --heel."
        yield Contradiction(told, f"The heel lies at the other side of the picture, it seems. {say}", held=True)
    elif beyond > LEAN_WRONG_DEG:
        yield Contradiction(told, f"It may be another saw's picture. {mend}", held=True)
    elif beyond > LEAN_OFF_DEG:
        yield Contradiction(told, mend, held=False)


def _planned(saw: Saw, tooth: ScannedTooth) -> tuple[float, float]:
    made = tooth_of(saw.at(min(tooth.tooth, saw.points)) if saw.zones else saw)
    return made.front_deg, made.back_deg


def _se(leans: Sequence[float], each: Sequence[float | None]) -> float:
    """Standard uncertainty of the middle of ``leans``, each of them known to ``each``."""
    from statistics import pstdev

    own = fmean(one or 0.0 for one in each)
    return hypot(pstdev(leans), own) / sqrt(len(leans))
