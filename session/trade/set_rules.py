"""How much set: every rule that could be read, with its source, and what the program takes when asked.

The printed figures disagree, and few of them are for hand saws. So the rules stand side by side; the
proposal made from them says where it comes from, and a recipe overrides it.
"""

from __future__ import annotations

from typing import Final

from session.trade.lengths import MM_PER
from session.trade.saw import Cut
from session.value_class import dataclass

MEMORY: Final = "from memory"
JUDGMENT: Final = "judgment"

#: The three conditions of wood that a recipe knows.
WOODS: Final = ("dry hardwood", "dry softwood", "green or wet")

#: Kinds with a stiffening back: NOYES and GRIF art. 14 give them little set or none.
BACKED: Final = frozenset({"tenon", "sash", "carcass", "dovetail"})

#: From this pitch up (5.5 points per inch) a rip saw counts as coarse here: judgment.
COARSE_PITCH_MM: Final = 25.4 / 4.5


@dataclass(frozen=True, slots=True)
class SetRule:
    """One rule for the set per side.

    low_mm, high_mm: the range in millimeters per side; both None for a rule without a number.
    source: ids of the trade's sources, parted by "; ", or "from memory".
    says: what it says and what it is about, in our words.
    """

    low_mm: float | None
    high_mm: float | None
    source: str
    says: str

    @property
    def from_memory(self) -> bool:
        """True when nobody could point to a page for it."""
        return self.source == MEMORY


@dataclass(frozen=True, slots=True)
class SetAdvice:
    """A proposal and everything it can be held against.

    least_mm: under this the work wants the saw set again (half or a little more of the usual low end: judgment).
    low_mm, high_mm: the usual range per side.
    source: where the proposal is from: "from memory", or "judgment" for a range put between two remembered ones.
    rules: the rules that bear on this saw, printed ones first.
    """

    least_mm: float
    low_mm: float
    high_mm: float
    source: str
    rules: tuple[SetRule, ...]

    @property
    def printed_spread_mm(self) -> tuple[float, float]:
        """The smallest and largest number among the printed rules, per side: how far print disagrees."""
        printed = [rule for rule in self.rules if not rule.from_memory]
        lows = [rule.low_mm for rule in printed if rule.low_mm is not None]
        highs = [rule.high_mm for rule in printed if rule.high_mm is not None]
        return min(lows), max(highs)


def set_advice(kind: str, cut: Cut, wood: str, plate_mm: float, pitch_mm: float) -> SetAdvice:
    """The usual and the least set per side for a saw of this kind, cut, plate and pitch in this wood.

    Wetter and softer wood is given more (KING, FIT, GRIF, MTS, HOLTZ, SPON, NOYES agree on the direction);
    the amounts are from memory, and lie within the printed spread. Raises ValueError for a wood not in ``WOODS``.
    """
    if wood not in WOODS:
        raise ValueError(f'wood "{wood}" is not known; allowed: {", ".join(WOODS)}')
    ranges = _BACKED if kind in BACKED else _COARSE if cut is Cut.RIP and pitch_mm >= COARSE_PITCH_MM else _FINE
    least, low, high, source = ranges[WOODS.index(wood)]
    return SetAdvice(_in(least), _in(low), _in(high), source, _rules(kind, cut, wood, plate_mm))


def _in(inches: float) -> float:
    return inches * MM_PER["in"]


# Least, usual low and usual high, inches per side, by wood in the order of WOODS. Remembered are fine back saws (dry
# softwood taken for their ordinary work), panel saws in dry hardwood, and coarse rip or damp softwood; what stands
# between them, and every least, is judgment. That dry hardwood asks less than soft is printed (KING, SHOP1, GRIF, MTS
# of dry wood; SPON, HOLTZ of hard), for a coarse rip saw as for any other.
_Range = tuple[float, float, float, str]
_BACKED: Final[tuple[_Range, ...]] = (
    (0.0015, 0.002, 0.004, JUDGMENT),
    (0.002, 0.003, 0.005, MEMORY),
    (0.003, 0.004, 0.007, JUDGMENT),
)
_FINE: Final[tuple[_Range, ...]] = (
    (0.003, 0.005, 0.008, MEMORY),
    (0.004, 0.006, 0.010, JUDGMENT),
    (0.006, 0.010, 0.015, MEMORY),
)
_COARSE: Final[tuple[_Range, ...]] = (
    (0.005, 0.008, 0.012, JUDGMENT),
    (0.006, 0.010, 0.015, MEMORY),
    (0.007, 0.012, 0.018, JUDGMENT),
)


def _rules(kind: str, cut: Cut, wood: str, plate_mm: float) -> tuple[SetRule, ...]:
    third = plate_mm / 3.0
    rules = [
        SetRule(third, third, "MTS", "a third of the plate in ordinary work, read as meant for each side"),
        SetRule(
            third / 2, third / 2, "MTS", "a third of the plate in ordinary work, read as meant for both sides together"
        ),
        SetRule(_in(0.010), _in(0.010), "FSMAN", "a figure to start from, for two-man saws"),
        SetRule(
            0.0, _in(0.030), "FSMAN", "two-man saws: from almost none in dry hardwood to the most in soft punky wood"
        ),
        SetRule(_in(0.012), _in(0.015), "FSTOOL", "two-man saws, usual"),
        SetRule(None, None, "GRIF; FSMAN; RECIPE", "no more than lets the plate move freely"),
        SetRule(None, None, "KING; SLOJD; SHOP1; FSMAN", "a taper-ground plate wants less, sometimes none"),
    ]
    if wood == "green or wet":
        rules.append(
            SetRule(None, None, "KING; FIT; GRIF; MTS; HOLTZ; SPON; NOYES", "wet, green or soft wood wants more")
        )
    else:
        rules.append(SetRule(None, None, "KING; SHOP1; GRIF; MTS", "dry, seasoned wood wants less"))
    if wood == "dry hardwood":
        rules.append(SetRule(None, None, "SPON; HOLTZ", "hard wood wants less than soft"))
    if kind in BACKED:
        rules.append(SetRule(None, None, "NOYES; GRIF art. 14", "a back saw wants little or none"))
    if cut is Cut.RIP:
        rules.append(SetRule(None, None, "KING", "a rip saw wants more than a crosscut"))
    rules += [
        SetRule(_in(0.003), _in(0.005), MEMORY, "fine back saws"),
        SetRule(_in(0.005), _in(0.008), MEMORY, "panel saws in dry hardwood"),
        SetRule(_in(0.010), _in(0.015), MEMORY, "coarse rip saws, or damp softwood"),
    ]
    return tuple(rules)
