"""What one sharpening came to, from its marks: the few numbers that history compares.

The last block of a finished log carries them as well (`closing`), so that a till can be listed from the
two ends of each file. They are never believed over the marks: whoever has the marks counts them.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final

from session.log.crc_seals import key_line
from session.log.line_facts import LONGEST_REASON, LineFacts, amount, line_facts, listed, table, whole
from session.log.log_bytes import LogFile
from session.machine.untrusted_text import LONGEST_LINE
from session.trade.file_names import corner_in
from session.trade.rounding import half_up
from session.trade.strokes import DEFAULT_BITE, LEAST_BITE_MM3, MOST_BITE_MM3, Bite
from session.value_class import dataclass, field, replace
from session.walk.account import Account
from session.walk.corner_work import CornerWork, corner_work
from session.walk.mark import Did, Mark
from session.walk.measurables import GOOD, SOMETHING, Measurable, teeth_in

#: Key of a finished mark that holds the summary.
KEY: Final = "summary"

#: Key of a summary from which something was left out, because a block has one line a key and a line has its limit.
SHORT: Final = "short"

#: Faults kept at most, the last ones: a line has its limit.
_MOST_FAULTS: Final = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """One sharpening in numbers; what was taken back counts nowhere.

    marks: how many marks, those taken back among them. first, last: their times, None without marks.
    minutes: working time, rests taken out, as `session.walk.pace` counts it.
    done: places done, by stage; of setting, the teeth. strokes: file strokes, by stage.
    left_out, flagged: how many places.
    measured: last value of each measured thing that still held at the end, as (value, unit or None).
    files: what each corner of each file did.
    line: what was done to the line. faults: what each trial cut before the last showed, in order, those that were good
    left out. bite: steel taken by one stroke, the default when the marks teach none; None where it was not told and the
    log itself has to be asked (session/till/learned_bite.py).
    """

    marks: int = 0
    first: datetime | None = None
    last: datetime | None = None
    minutes: float = 0.0
    done: Mapping[str, int] = field(default_factory=dict)
    strokes: Mapping[str, int] = field(default_factory=dict)
    left_out: int = 0
    flagged: int = 0
    taken_back: int = 0
    measured: Mapping[str, tuple[float | int | str | bool, str | None]] = field(default_factory=dict)
    files: tuple[CornerWork, ...] = ()
    line: LineFacts = field(default_factory=LineFacts)
    faults: tuple[str, ...] = ()
    bite: Bite | None = None

    @property
    def all_strokes(self) -> int:
        """File strokes of the whole sharpening."""
        return sum(self.strokes.values())

    @property
    def broken(self) -> tuple[int, ...]:
        """The broken teeth that were found at the look over."""
        value, _ = self.measured.get(Measurable.BROKEN_TEETH, ("", None))
        return teeth_in(value)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON and for a log; an absent time or unit is left out."""
        values: dict[str, Any] = {
            "marks": self.marks,
            "minutes": self.minutes,
            "done": dict(self.done),
            "strokes": dict(self.strokes),
            "left_out": self.left_out,
            "flagged": self.flagged,
            "taken_back": self.taken_back,
            "measured": {
                what: {"value": value} if unit is None else {"value": value, "unit": unit}
                for what, (value, unit) in self.measured.items()
            },
            "files": [_file_to_dict(one) for one in self.files],
            "line": self.line.to_dict(),
        }
        if self.faults:
            values["faults"] = list(self.faults)
        if self.bite is not None:
            values["bite"] = bite_to_dict(self.bite)
        times = {"first": self.first, "last": self.last}
        return values | {name: time for name, time in times.items() if time is not None}

    @classmethod
    def from_dict(cls, values: Mapping[str, Any]) -> Summary:
        """The summary from the plain values of `to_dict`. Raises ValueError when they are anything else."""
        first, last = values.get("first"), values.get("last")
        if not all(isinstance(at, datetime) and at.tzinfo is not None for at in (first, last) if at is not None):
            raise ValueError("first or last is no time with its offset")
        return cls(
            marks=whole(values["marks"]) if "marks" in values else 0,
            first=first,
            last=last,
            minutes=amount(values.get("minutes", 0.0)),
            done={stage: whole(count) for stage, count in table(values.get("done", {})).items()},
            strokes={stage: whole(count) for stage, count in table(values.get("strokes", {})).items()},
            left_out=whole(values.get("left_out", 0)),
            flagged=whole(values.get("flagged", 0)),
            taken_back=whole(values.get("taken_back", 0)),
            measured={what: _measured(table(told)) for what, told in table(values.get("measured", {})).items()},
            files=tuple(_file_from_dict(one) for one in listed(values.get("files", []))),
            line=LineFacts.from_dict(values.get("line", {})),
            faults=tuple(str(fault) for fault in listed(values.get("faults", []))),
            bite=bite_from_dict(values["bite"]) if "bite" in values else None,
        )

    def lines(self) -> list[str]:
        """The same as sentences for a screen, each of them one line."""
        if self.first is None or self.last is None:
            return ["No mark was made."]
        lines = [
            f"From {_when(self.first)} to {_when(self.last)}, {self.minutes:g} minutes of work, {self.marks} marks."
        ]
        for stage, places in self.done.items():
            strokes = self.strokes.get(stage)
            lines.append(f"{stage}: {places} done" + (f", {strokes} strokes" if strokes else ""))
        if self.line.on_strip:
            lines.append(f"flats told on a strip: {self.line.on_strip}")
        if self.line.by_scan:
            lines.append(f"flats measured by a scan: {self.line.by_scan}")
        if self.faults:
            lines.append(f"trial cuts before the last: {', '.join(self.faults)}")
        for what, (value, unit) in self.measured.items():
            if what == Measurable.ALL_ROUND and value == SOMETHING:
                lines.append("looked at all round: there was something to see")
            else:
                lines.append(f"{what}: {value}{f' {unit}' if unit else ''}")
        counts = {"left out": self.left_out, "flagged": self.flagged, "taken back": self.taken_back}
        return lines + [f"{words}: {count}" for words, count in counts.items() if count]


def _when(time: datetime) -> str:
    return f"{time:%Y-%m-%d %H:%M}"


def summary_of(log: LogFile) -> Summary:
    """The summary of a log's whole marks."""
    return summarize(Account.of(log.marks))


def summarize(account: Account) -> Summary:
    """The summary of what the marks of a log come to; its bite is not told."""
    marks = account.marks
    stages = dict(sorted(account.tally.stages.items(), key=lambda one: one[1].first_done))
    return Summary(
        marks=len(marks),
        first=marks[0].at if marks else None,
        last=marks[-1].at if marks else None,
        minutes=half_up(account.worked.seconds / 60, 1),
        done={str(stage): one.done for stage, one in stages.items() if one.done},
        strokes={str(stage): one.strokes for stage, one in stages.items() if one.strokes},
        left_out=sum(one.left_out for one in stages.values()),
        flagged=len(account.flags),
        taken_back=len(account.taken),
        measured={what: (mark.value, mark.unit) for what, mark in account.measured.items() if mark.value is not None},
        files=corner_work(account),
        line=line_facts(account),
        faults=_faults(account),
    )


def _faults(account: Account) -> tuple[str, ...]:
    """What the trial cuts before the last showed that were not good, as last answered of each; shortened for a line."""
    marks = (mark for mark in account.marks if mark.what == Measurable.TRIAL_CUT and mark.did is Did.MEASURED)
    by_round = {mark.round or 1: str(mark.value) for mark in marks if mark.seq not in account.taken}
    earlier = [told for _, told in sorted(by_round.items())][:-1]
    return tuple(told[:LONGEST_REASON] for told in earlier if told != GOOD)[-_MOST_FAULTS:]


def _file_to_dict(one: CornerWork) -> dict[str, Any]:
    told = {"name": one.file, "corner": one.corner}
    counts = {"gullets": one.gullets, "counted": one.counted, "strokes": one.strokes}
    return {name: value for name, value in told.items() if value} | counts


def _file_from_dict(values: Any) -> CornerWork:
    told = table(values)
    gullets, counted, strokes = (whole(told.get(name)) for name in ("gullets", "counted", "strokes"))
    if not counted <= min(gullets, strokes):
        raise ValueError("more gullets counted than filed, or fewer strokes than that")
    corner = corner_in(told.get("corner"))
    return CornerWork(file=str(told.get("name", "")), corner=corner, gullets=gullets, counted=counted, strokes=strokes)


def bite_to_dict(bite: Bite) -> dict[str, Any]:
    """Plain values of a bite, mm³ a stroke; of one that no gullet taught only that."""
    if not bite.learned:
        return {"gullets": 0}
    amounts = {"mm3": bite.mm3, "low_mm3": bite.low_mm3, "high_mm3": bite.high_mm3}
    return {name: half_up(mm3, 6) for name, mm3 in amounts.items()} | {"gullets": bite.gullets}


def bite_from_dict(values: Any) -> Bite:
    """The bite from the plain values of `bite_to_dict`. Raises ValueError for anything else, or a bite no file has."""
    told = table(values)
    gullets = whole(told.get("gullets"))
    if not gullets:
        return DEFAULT_BITE
    low, middle, high = (amount(told.get(name)) for name in ("low_mm3", "mm3", "high_mm3"))
    if not LEAST_BITE_MM3 <= low <= middle <= high <= MOST_BITE_MM3:
        raise ValueError(f"a bite of {low!r} to {high!r} mm³ a stroke, {middle!r} in the middle")
    return Bite(middle, low, high, gullets)


def _measured(told: Mapping[str, Any]) -> tuple[float | int | str | bool, str | None]:
    value, unit = told.get("value"), told.get("unit")
    if not isinstance(value, float | int | str | bool) or not isinstance(unit, str | None):
        raise ValueError("a measured thing without its value")
    return value, unit


def closing(before: Account, finished: Mark, bite: Bite | None = None) -> Mark:
    """``finished``, the mark that ends a log, with the summary of all marks and the ``bite`` in it.

    before: what the marks before it come to.
    """
    told = replace(summarize(before.after(finished)), bite=bite)
    return replace(finished, extra={**finished.extra, KEY: _fitting(told.to_dict())})


def _fitting(values: dict[str, Any]) -> dict[str, Any]:
    """``values``, the longest parts left out until they fit a line: the end of a log must never fail for its length."""
    for part in ("line", "measured", "files"):
        if len(key_line(KEY, values)) <= LONGEST_LINE - 200:
            break
        values = {name: value for name, value in values.items() if name != part} | {SHORT: True}
    return values


def from_last(last: Mark | None) -> dict[str, Any] | None:
    """The summary that a log's last mark carries, as plain values; None when it carries none."""
    values = last.extra.get(KEY) if last is not None and last.did is Did.FINISHED else None
    return dict(values) if isinstance(values, Mapping) else None


def told_by(last: Mark | None) -> Summary | None:
    """The whole summary that a log's last mark carries; None when the marks have to be counted for it.

    So it is for a log of a version that told less, a summary cut short, and one that makes no sense.
    """
    values = from_last(last)
    if values is None or SHORT in values or not {"line", "files"} <= values.keys():
        return None
    try:
        return Summary.from_dict(values)
    except (ValueError, TypeError, OverflowError):
        return None
