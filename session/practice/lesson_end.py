"""What was learned in one practice, as it is told at its end."""

from __future__ import annotations

from session.value_class import dataclass, field


@dataclass(slots=True)
class Learned:
    """What one practice came to.

    grades: the grade that was given and the plate's, tooth by tooth. leans: whether each was where print presses.
    stops: how each gullet was left: "in time", "early" or "far". guide_forgotten, wrong_parity: the traps of the turn
    that were stepped into. low: by tooth that was made low, what it costs. standing: teeth whose flat still stands.
    """

    grades: list[tuple[int, int]] = field(default_factory=list)
    leans: list[bool] = field(default_factory=list)
    stops: list[str] = field(default_factory=list)
    guide_forgotten: bool = False
    wrong_parity: bool = False
    low: dict[int, str] = field(default_factory=dict)
    standing: list[int] = field(default_factory=list)


def learned_lines(told: Learned) -> tuple[str, ...]:
    """A line for each thing, the costly ones first."""
    right = sum(given == truth for given, truth in told.grades)
    near = sum(abs(given - truth) == 1 for given, truth in told.grades)
    counts = {how: told.stops.count(how) for how in ("in time", "early", "far")}
    traps = [
        *(["the guide was not turned over"] if told.guide_forgotten else []),
        *(["a gullet of side 1 was to be filed again"] if told.wrong_parity else []),
    ]
    lines = [*told.low.values()] or ["No tooth was filed low: no steel was wasted."]
    if told.standing:
        teeth = "tooth" if len(told.standing) == 1 else "teeth"
        lines.append(f"A flat still stands on {teeth} {', '.join(map(str, told.standing))}: a light stroke more.")
    rest = f"early {counts['early']}, too far {counts['far']}"
    lines.append(f"Gullets left in time: {counts['in time']} of {len(told.stops)}; {rest}.")
    lines.append(f"Pressed where print does: {sum(told.leans)} of {len(told.leans)}.")
    lines.append(f"Grades: {right} of {len(told.grades)} as the plate has them, {near} more off by one.")
    lines.append(f"At the turn: {' and '.join(traps)}." if traps else "At the turn: both traps seen.")
    lines.append("Not practiced: setting. The ten were set before, as it comes at the bench.")
    return tuple(lines)
