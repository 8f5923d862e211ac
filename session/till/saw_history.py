"""What is known of each saw: its sharpenings and its trial cuts, from one till or from several.

A finished log is summarized from its header and its last block; only one that is not finished, or tells no whole
summary of itself, is read from end to end. Nothing is kept between two looks, so nothing can go stale.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Final

from session.files.cut_file import RecordedCut
from session.log.log_bytes import LogStanding
from session.log.log_reader import LogEnds
from session.machine.clean_text import clean
from session.machine.untrusted_text import told_of
from session.till.copy_names import first_name
from session.till.kept_cuts import KeptCut, cuts
from session.till.known_saws import KnownSaw
from session.till.log_copies import told_apart
from session.till.past_sharpening import Sharpening, sharpening
from session.till.till_folder import Till
from session.trade.dulling import Dulling, fit_dulling
from session.trade.trade_error import TradeError
from session.trade.trial_cut import TrialCut
from session.value_class import dataclass, field

_DAY_S: Final = 86_400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SawHistory:
    """One saw's records, oldest first.

    sharpenings: those that could be read, finished or not. cuts: those made between sharpenings.
    unread: files that could not be read, with the reason. copies: files that hold another version of one of these, and
    do not count, with a sentence.
    """

    saw: KnownSaw
    sharpenings: tuple[Sharpening, ...] = ()
    cuts: tuple[tuple[Path, RecordedCut], ...] = ()
    unread: tuple[tuple[Path, str], ...] = ()
    copies: tuple[tuple[Path, str], ...] = ()

    @property
    def finished(self) -> tuple[Sharpening, ...]:
        """The finished sharpenings whose end is known."""
        return tuple(one for one in self.sharpenings if one.finished and one.ended is not None)

    @property
    def series(self) -> list[list[TrialCut]]:
        """The trial cuts of each finished sharpening, its own first; a cut of before the first is in none."""
        series: list[list[TrialCut]] = []
        spans = [*self.finished, None]
        for one, following in pairwise(spans):
            assert one is not None
            begun = _ended_s(one)
            until = _ended_s(following) if following is not None else float("inf")
            own = [] if (cut := one.trial) is None else [cut]
            after = [cut for _, cut in self.cuts if begun <= cut.at.timestamp() < until]
            series.append(own + [cut.trial((cut.at.timestamp() - begun) / _DAY_S) for cut in after])
        return series

    @property
    def dulling(self) -> Dulling:
        """What the cuts say of when the saw is due again; honest about too few of them."""
        try:
            return fit_dulling(self.series)
        except TradeError as wrong:
            return Dulling(0, 0, False, f"Not known: {wrong}")

    @property
    def since_set(self) -> int | None:
        """Finished sharpenings after the last one that set the teeth; None when no record has set them."""
        for count, one in enumerate(reversed(self.finished)):
            if one.was_set:
                return count
        return None

    def days_after(self, cut: RecordedCut) -> float | None:
        """Days from the last finished sharpening before ``cut``; None when there is none."""
        at = cut.at.timestamp()
        ends = [_ended_s(one) for one in self.finished if _ended_s(one) <= at]
        return (at - max(ends)) / _DAY_S if ends else None


def _ended_s(one: Sharpening) -> float:
    return one.ended.timestamp() if one.ended is not None else float("-inf")


def history(tills: Sequence[Till], saw: KnownSaw, *, unfinished: bool = True, newest: int | None = None) -> SawHistory:
    """All that ``tills`` know of ``saw``. A record that several of them hold a copy of counts once.

    unfinished: whether logs without an end are wanted too; each of them has to be read whole. newest: only so
    many logs of each till, the last ones begun.
    """
    files = _Records()
    for till in tills:
        for folder in saw.slugs:
            for ends in till.ends(folder, newest):
                if unfinished or ends.state is not LogStanding.INTERRUPTED:
                    files.add_log(ends)
            for file in cuts(till, folder):
                files.add_cut(file)
    return files.told(saw)


@dataclass(slots=True)
class _Records:
    """The records of one saw from several tills; of copies, the one that goes furthest."""

    logs: list[LogEnds] = field(default_factory=list)
    cuts: list[tuple[Path, RecordedCut]] = field(default_factory=list)
    unread: list[tuple[Path, str]] = field(default_factory=list)

    def add_log(self, ends: LogEnds) -> None:
        if ends.header:
            self.logs.append(ends)
        else:
            self.unread.append((ends.path, str(ends.odd or "no header")))

    def add_cut(self, file: KeptCut) -> None:
        if file.cut is None:
            self.unread.append((file.path, file.wrong))
        else:
            self.cuts.append((file.path, file.cut))

    def told(self, saw: KnownSaw) -> SawHistory:
        sharpenings: list[Sharpening] = []
        counting, copies = told_apart(self.logs)
        for ends in counting:
            one = sharpening(ends)
            sharpenings.append(one)
            if one.odd:
                self.unread.append((one.path, one.odd))
        cuts, versions = _each_once(self.cuts)
        return SawHistory(
            saw=saw,
            sharpenings=tuple(sorted(sharpenings, key=_begun)),
            cuts=tuple(sorted(cuts, key=lambda one: (one[1].at.timestamp(), one[0].name))),
            unread=tuple(sorted(self.unread)),
            copies=tuple(sorted([*((copy.path, copy.words) for copy in copies), *versions])),
        )


def _each_once(
    found: Iterable[tuple[Path, RecordedCut]],
) -> tuple[list[tuple[Path, RecordedCut]], list[tuple[Path, str]]]:
    """The cuts that count, of each the file with the plainest name, and the second versions of them, in words."""
    counting: dict[tuple[str, float], tuple[Path, RecordedCut]] = {}
    versions: list[tuple[Path, str]] = []
    for path, cut in sorted(found, key=lambda one: (len(one[0].name), one[0])):
        # Two benches may record the same cut at the same moment: their files have names of their own.
        first, counts = counting.setdefault((first_name(path.stem), cut.at.timestamp()), (path, cut))
        if str(counts) != str(cut):
            versions.append((path, f"a second version of {clean(first.name)}; that one counts"))
        elif first.name != path.name:
            versions.append((path, f"the same cut as {clean(first.name)}, and counted once"))
    return list(counting.values()), versions


def _begun(one: Sharpening) -> tuple[float, str]:
    return (one.started.timestamp() if one.started is not None else float("-inf")), one.path.name


def in_words(unread: Iterable[tuple[Path, str]]) -> list[str]:
    """One line for each file that could not be read or may only be read, its path in front once."""
    return [told_of(path, why) for path, why in unread]
