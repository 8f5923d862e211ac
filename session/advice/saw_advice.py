"""What a saw's records say to its next sharpening."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from typing import Final

from session.advice.measured_looks import MeasuredLooks
from session.advice.next_time import Finished, NextLine, next_time
from session.advice.saw_records import SawRecords
from session.advice.scan_contradictions import why_not_used
from session.advice.set_advice import least_set_mm, set_today
from session.log.log_bytes import LogStanding
from session.till.drawer import Drawer, drawer_of
from session.till.due_date import due
from session.till.kept_scans import NewestLine, NewestScan
from session.till.known_saws import saw_named
from session.till.learned_bite import learned_bite
from session.till.past_sharpening import Sharpening
from session.till.saw_history import SawHistory, history
from session.till.scan_pair import filed_after, scans_since
from session.till.set_loss import SetWear, set_wear
from session.till.till_folder import Till
from session.trade.lengths import Length
from session.trade.leveling import LineLoss, line_loss
from session.trade.saw import Saw
from session.trade.scanned_line import ToothState
from session.trade.setting import SetState
from session.trade.trade_error import TradeError
from session.value_class import replace

#: Low teeth that can be told as an answer to choose, at most: more of them are looked for one by one.
MOST_KNOWN: Final = 12


def advice(told: SawHistory, now: datetime) -> tuple[NextLine, ...]:
    """The lines of counsel that rest on the last finished sharpening; none before there is one."""
    if not told.finished:
        return ()
    last = told.finished[-1]
    facts, saw = last.summary.line, last.saw
    trial = last.trial
    worn = set_wear(told.finished)
    today = _set_today(saw, worn)
    when = due(told, now)
    low, count, low_by, broken = facts.low or (), facts.low_count, "", last.summary.broken
    # Of those since then that cannot be of this line one before steps in.
    scan = next((one for one in scans_since(last) if saw is None or not why_not_used(one.line, saw)), None)
    if scan is not None:
        broken = tuple(sorted({*broken, *scan.line.those(ToothState.BROKEN)}))
        low = tuple(tooth for tooth in scan.line.those(ToothState.LOW) if tooth not in broken)
        count, low_by = len(low), f"the scan of {scan.at:%Y-%m-%d}"
    return next_time(
        Finished(
            unit=saw.unit if saw is not None else "mm",
            left_out=dict(facts.left_out),
            low=low,
            low_by=low_by,
            low_count=count,
            broken=broken,
            passes=facts.passes or None,
            taken_off_mm=None if last.lowered is None else last.lowered.most_mm,
            taken_least_mm=None if last.lowered is None else last.lowered.least_mm,
            strokes=facts.strokes_each,
            set_mm=worn.line.left_mm if worn.measured and worn.line is not None else None,
            told_set_mm=worn.told_mm,
            least_set_mm=least_set_mm(saw) if saw is not None else None,
            outlives=None if today is None else today.outlives,
            rests_on=worn.known,
            area_mm2=trial.area_mm2 if trial is not None else None,
            due="" if when.in_days is None else when.when,
            cuts_missing=when.missing,
            cut_fault=last.cut_went,
        )
    )


def records_of(told: SawHistory, may_lose: Length | None = None) -> SawRecords:
    """What the records of a saw add to what is seen of it today. may_lose: what its line may come down in all."""
    limit_mm = None if may_lose is None else may_lose.mm
    if not told.finished:
        return SawRecords(limit_mm=limit_mm)
    last = told.finished[-1]
    low = tuple(tooth for tooth in last.summary.line.low or () if tooth not in last.summary.broken)
    return SawRecords(
        line=set_wear(told.finished).line,
        lost_mm=loss(told.finished).total_mm,
        limit_mm=limit_mm,
        last_sharpened=last.ended.date() if last.ended is not None else None,
        share_now=told.dulling.share_now,
        broken=last.summary.broken,
        low=low if last.summary.line.low_count == len(low) <= MOST_KNOWN else (),
        bite=learned_bite(told.finished),
    )


def loss(sharpenings: Sequence[Sharpening]) -> LineLoss:
    """What the line has lost in the sharpenings of which that is known; no limit is stated."""
    return line_loss([off for one in sharpenings if (off := one.off_mm) is not None], 0.0)


def _set_today(saw: Saw | None, worn: SetWear) -> SetState | None:
    """The set by now, as `toothline plan` tells it too; None where it is not known."""
    if saw is None:
        return None
    try:
        return set_today(saw, worn.line, down_mm=worn.each_mm)
    except TradeError:
        return None


def next_visit(till: Till, name: str, now: datetime) -> tuple[str, ...]:
    """What the records of the saw called ``name`` say to its next sharpening, one line each; none without records.

    Never raises: advice is not worth a screen that does not open.
    """
    try:
        told = history([till], saw_named(till, name), unfinished=False)
    except (OSError, ValueError):
        return ()
    return tuple(line.text for line in advice(told, now))


def saw_records(till: Till, name: str) -> SawRecords:
    """What the records of the saw called ``name`` add to what is seen of it, and the files of the drawer.

    Nothing where they cannot be read: the bench opens without.
    """
    told, drawer, scanned, rescanned = SawRecords(), Drawer(), None, None
    with suppress(OSError, ValueError):
        past = history([till], saw_named(till, name), unfinished=False)
        told = records_of(past)
        rescanned = _NewestLooks(till, past, NewestScan(till, past.saw))
        scanned = rescanned()
    with suppress(OSError, ValueError):
        drawer = drawer_of(till)
    owned = tuple(one.file for one in drawer.worn)
    return replace(
        told,
        owned=owned,
        corner_teeth=drawer.limit,
        first_time=_is_first(till),
        scanned=scanned,
        rescanned=rescanned,
    )


class _NewestLooks:
    """What the newest scan tells, asked again and again; worked out where there are others than before."""

    def __init__(self, till: Till, past: SawHistory, newest: NewestScan) -> None:
        self._till, self._past, self._newest = till, past, newest
        self._told: tuple[NewestLine | None, MeasuredLooks | None] = (None, None)

    def __call__(self) -> MeasuredLooks | None:
        newest = self._newest()
        if newest is not self._told[0]:
            self._told = newest, looks_of(newest, self._past, self._till)
        return self._told[1]


def looks_of(newest: NewestLine, past: SawHistory, till: Till) -> MeasuredLooks | None:
    """What the newest scan tells of the saw of ``past``, whether that saw was sharpened since, and the older ones that
    show the same line; None without a scan."""
    if newest.scan is None:
        return None
    filed = any(one.ended is not None and one.ended > newest.scan.at for one in past.finished)
    older: list[MeasuredLooks] = []
    for scan in newest.older:
        if filed or filed_after(till, past.saw, past.finished, scan.at):
            return MeasuredLooks(newest.scan.at, newest.scan.line, filed, tuple(older), older_filed=True)
        older.append(MeasuredLooks(scan.at, scan.line))
    return MeasuredLooks(newest.scan.at, newest.scan.line, filed, tuple(older))


def _is_first(till: Till) -> bool:
    """Whether nothing was ever finished in ``till``; looked at no further than the first that was."""
    return not any(ends.state is LogStanding.FINISHED for ends in till.ends())
