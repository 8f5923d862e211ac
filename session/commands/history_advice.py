"""What a saw's records say to its next sharpening."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from session.counsel.next_time import Finished, Line, next_time
from session.counsel.set_due import least_set_mm
from session.records.history import SawHistory
from session.records.sharpening import Sharpening
from session.trade.kerf import KerfError
from session.trade.leveling import LineLoss, line_loss
from session.trade.setting import set_state
from session.trade.tooth import ToothError, tooth_of

_DAY_S: Final = 86_400.0


def advice(told: SawHistory, now: datetime) -> tuple[Line, ...]:
    """The lines of counsel that rest on the last finished sharpening; none before there is one."""
    if not told.finished:
        return ()
    last = told.finished[-1]
    facts, saw = last.summary.line, last.saw
    trial = last.trial
    return next_time(
        Finished(
            unit=saw.unit if saw is not None else "mm",
            left_out=dict(facts.left_out),
            low=facts.low or (),
            broken=last.summary.broken,
            passes=facts.passes or None,
            taken_off_mm=last.off_mm,
            strokes=facts.strokes_each,
            set_mm=last.left_set_mm,
            least_set_mm=least_set_mm(saw) if saw is not None else None,
            outlives=_outlives(last, loss(told.finished).each_mm),
            area_mm2=trial.area_mm2 if trial is not None else None,
            due_in_days=due_in_days(told, now),
            cut_fault=last.cut_went,
        )
    )


def due_in_days(told: SawHistory, now: datetime) -> float | None:
    """Days from ``now`` until the cuts say that the saw is due, 0 when it is; None when they do not say."""
    due, cut_at = told.dulling.due_in_days, told.last_cut_at
    if due is None or cut_at is None:
        return None
    return max(0.0, due - (now.timestamp() - cut_at.timestamp()) / _DAY_S)


def loss(sharpenings: Sequence[Sharpening]) -> LineLoss:
    """What the line has lost in the sharpenings of which that is known; no limit is stated."""
    return line_loss([off for one in sharpenings if (off := one.off_mm) is not None], 0.0)


def _outlives(last: Sharpening, each_mm: float | None) -> int | None:
    saw, left = last.saw, last.left_set_mm
    least = least_set_mm(saw) if saw is not None else None
    if saw is None or left is None or least is None:
        return None
    try:
        return set_state(left, least, 0.0, each_mm, tooth_of(saw).depth_mm, saw.bent_share).outlives
    except (KerfError, ToothError):
        return None
