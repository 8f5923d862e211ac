"""What a sharpening did to the line of teeth, small enough for the last block of its log."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from session.trade.grades import OLD_SHARES, SHARES, nearest
from session.trade.middle_values import median
from session.value_class import dataclass, field
from session.walk.account import Account
from session.walk.mark import Did
from session.walk.stages import Stage
from session.walk.tally import Leveling, counted_by_hand, unfiled

#: Teeth named one by one; a line with more of them is told by their number alone. A log's line has its limit.
MOST_LOW: Final = 60
MOST_LEFT_OUT: Final = 20
LONGEST_REASON: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class LineFacts:
    """Leveling, low teeth and strokes of one sharpening.

    passes: leveling passes done. levelings: the rounds that they were done in; None where that was not told.
    flats: by round of leveling, how many flats had each grade: six counts in the scale of session.trade.grades, five in
    its old one; a round is absent when its flats were not graded, or a pass was made after the grading.
    on_strip, by_scan: how many flats of the last of those rounds were told against a printed strip, and measured by a
    scan.
    low: the first `MOST_LOW` teeth graded 0 and not broken, None when no flat was graded; low_count: all of them.
    strokes_each: median of file strokes in a gullet; None when they were counted in fewer than half of the gullets, or
    every gullet has one.
    left_out: the first `MOST_LEFT_OUT` teeth left out in any stage, with the reason shortened.
    """

    passes: int = 0
    levelings: int | None = None
    flats: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    on_strip: int = 0
    by_scan: int = 0
    low: tuple[int, ...] | None = None
    low_count: int = 0
    strokes_each: float | None = None
    left_out: Mapping[int, str] = field(default_factory=dict)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for TOML and JSON; what is not known is left out."""
        values: dict[str, Any] = {"passes": self.passes}
        if self.levelings is not None:
            values["levelings"] = self.levelings
        if self.flats:
            values["flats"] = {str(number): list(counts) for number, counts in self.flats.items()}
        if self.on_strip:
            values["on_strip"] = self.on_strip
        if self.by_scan:
            values["by_scan"] = self.by_scan
        if self.low is not None:
            values |= {"low": list(self.low), "low_count": self.low_count}
        if self.strokes_each is not None:
            values["strokes_each"] = self.strokes_each
        if self.left_out:
            values["left_out"] = {str(tooth): reason for tooth, reason in self.left_out.items()}
        return values

    @classmethod
    def from_dict(cls, values: Any) -> LineFacts:
        """The facts from plain values. Raises ValueError when they are not what `to_dict` gives."""
        if not isinstance(values, Mapping):
            raise ValueError("line is not a table")
        low, each, levelings = values.get("low"), values.get("strokes_each"), values.get("levelings")
        return cls(
            passes=whole(values.get("passes", 0)),
            levelings=None if levelings is None else whole(levelings),
            flats={int(number): _counts(counts) for number, counts in table(values.get("flats", {})).items()},
            on_strip=whole(values.get("on_strip", 0)),
            by_scan=whole(values.get("by_scan", 0)),
            low=None if low is None else tuple(whole(tooth) for tooth in listed(low)),
            low_count=whole(values.get("low_count", 0)),
            strokes_each=None if each is None else amount(each),
            left_out={int(tooth): str(why) for tooth, why in table(values.get("left_out", {})).items()},
        )


def line_facts(account: Account) -> LineFacts:
    """The facts from what the marks of a log come to; broken teeth do not count as low."""
    rounds = account.tally.rounds
    # A pass after the grading has made every flat of that round wider than its grade says.
    graded = sorted(rounds.items(), key=lambda one: one[1].graded_at)
    flats = {number: level for number, level in graded if level.flats and not level.spoiled}
    newest = flats[max(flats)] if flats else Leveling()
    last = newest.flats
    low = sorted(tooth for tooth, share in last.items() if not share and tooth not in account.broken)
    filed = [
        mark.strokes or 0
        for place, mark in account.outcomes.items()
        if place.stage is Stage.FILE and place.tooth and mark.did is Did.DONE and not unfiled(place, mark)
    ]
    out: dict[int, str] = {}
    for place, mark in account.passed_over().items():
        if place.tooth and len(out) < MOST_LEFT_OUT:
            out.setdefault(place.tooth, (mark.reason or "")[:LONGEST_REASON])
    return LineFacts(
        passes=sum(level.passes for level in rounds.values()),
        levelings=sum(level.passes > 0 for level in rounds.values()),
        flats={number: _tally(level.flats.values(), level.scale) for number, level in flats.items()},
        on_strip=len(newest.told.keys() - newest.placed),
        by_scan=len(newest.scanned),
        low=tuple(low[:MOST_LOW]) if flats else None,
        low_count=len(low),
        strokes_each=_middle(filed),
        left_out=out,
    )


def _middle(filed: Sequence[int]) -> float | None:
    """The middle of the strokes counted, where they were counted in half of the gullets at least: one count among many
    gullets says nothing of the others."""
    counts = [count for count in filed if count]
    if not counted_by_hand(filed) or 2 * len(counts) < len(filed):
        return None
    return float(median(counts))


def _tally(shares: Iterable[float], scale: tuple[float, ...]) -> tuple[int, ...]:
    found = [nearest(share, scale) for share in shares]
    return tuple(found.count(grade) for grade in range(len(scale)))


def whole(value: Any) -> int:
    """``value`` when it is a whole number of 0 or more. Raises ValueError."""
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise ValueError(f"{value!r} is not a whole number of 0 or more")
    return value


def amount(value: Any) -> float:
    """``value`` when it is a finite number of 0 or more. Raises ValueError."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < float("inf"):
        raise ValueError(f"{value!r} is not a finite number of 0 or more")
    return float(value)


def table(value: Any) -> Mapping[str, Any]:
    """``value`` when it is a table. Raises ValueError."""
    if not isinstance(value, Mapping):
        raise ValueError("not a table")
    return value


def listed(value: Any) -> list[Any]:
    """A list of a summary. Raises ValueError for anything else."""
    if not isinstance(value, list):
        raise ValueError("not a list")
    return value


def _counts(value: Any) -> tuple[int, ...]:
    counts = tuple(whole(count) for count in listed(value))
    if len(counts) not in (len(SHARES), len(OLD_SHARES)):
        raise ValueError("a count for each grade is wanted")
    return counts
