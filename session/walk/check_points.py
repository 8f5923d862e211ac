"""After which teeth of a leg the place is checked on the saw."""

from __future__ import annotations

from session.walk.stages import FACTS, Stage
from session.walk.work_plan import Plan


def check_points(plan: Plan, stage: Stage, teeth: tuple[int, ...]) -> frozenset[int]:
    """Indexes after which the place is checked: at each vise shift and at the end of the line, and
    between those in equal spans of at most the plan's spacing (bench rule 15)."""
    ends = [len(teeth) - 1]
    if FACTS[stage].in_vise:
        reach_ends = {(first, last) for first, last in plan.reaches}
        for first, last in reach_ends:
            inside = [i for i, tooth in enumerate(teeth) if first <= tooth <= last]
            if inside:
                ends.append(inside[-1])
    checks: set[int] = set()
    before = -1
    for end in sorted(set(ends)):
        span = end - before
        parts = -(-span // plan.check_spacing)
        checks.update(before + round(span * part / parts) for part in range(1, parts + 1))
        before = end
    return frozenset(checks)
