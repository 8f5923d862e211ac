"""What a record comes to, for `toothline show`: its account, and what it says to the next sharpening."""

from __future__ import annotations

from pathlib import Path

from session.advice.closing_account import closing_facts, together
from session.advice.saw_advice import advice
from session.advice.scan_change import change_by, pair_of, scans_of
from session.files.scanned_file import KeptScan
from session.log.log_reader import LogFile
from session.log.summary import summary_of
from session.machine.clock import Clock
from session.till.known_saws import KnownSaw
from session.till.past_sharpening import Sharpening
from session.till.saw_history import history
from session.till.till_folder import Till, slug
from session.walk.account import Account

#: Of a record that is not the saw's last finished one.
LATER = "Next time: a later sharpening of this saw tells it."


def account_lines(path: Path, log: LogFile) -> list[str]:
    """The account without its lists, one line each; none before a mark was made."""
    if not log.marks:
        return []
    one = _sharpening(path, log)
    return [*closing_facts(one), *together(Account.of(log.marks)), *change_by(one)]


def scans_beside(path: Path, log: LogFile) -> list[KeptScan]:
    """The scans that tell what this sharpening did, before and after it; the one there is where there are no two."""
    one = _sharpening(path, log)
    pair = pair_of(one)
    return [pair.before, pair.after] if pair is not None else list(scans_of(one)[-1:])


def _sharpening(path: Path, log: LogFile) -> Sharpening:
    return Sharpening(path=path, header=log.header, state=log.state, odd="", summary=summary_of(log))


def next_time_lines(path: Path, name: str, clock: Clock) -> list[str]:
    """What the finished record at ``path`` says to the next sharpening of the saw called ``name``.

    Asked of the till that it lies in, with the records beside it; nothing of a record that lies in none.
    """
    try:
        whole = path.resolve()
        if whole.parent.parent.name != "logs":
            return []
        told = history([Till(whole.parents[2])], KnownSaw(slug(name), name), unfinished=False)
    except (OSError, ValueError, IndexError):
        return []
    paths = [one.path.resolve() for one in told.finished]
    if whole not in paths:
        return []
    if whole != paths[-1]:
        return [LATER]
    return ["Next time:", *(f"  {line.text}" for line in advice(told, clock.now()))]
