"""What a record comes to, for `toothline show`: its account, and what it says to the next sharpening."""

from __future__ import annotations

from session.advice.closing_account import closing_facts, scanned_change, together
from session.commands.output.replayed_record import ReplayedRecord
from session.log.log_bytes import LogStanding

#: Of a record that is not the saw's last finished one.
LATER = "Next time: a later sharpening of this saw tells it."


def account_lines(record: ReplayedRecord) -> list[str]:
    """The account without its lists, one line each; none before a mark was made."""
    if not record.log.marks:
        return []
    return [*closing_facts(record.sharpening), *together(record.account), *scanned_change(record.sharpening)]


def next_time_lines(record: ReplayedRecord) -> list[str]:
    """What a finished record says to the next sharpening of its saw.

    Asked of the till that it lies in, with the records beside it; nothing of a record that lies in none.
    """
    if record.log.state is not LogStanding.FINISHED:
        return []
    # A fifth of what there is to load, and asked only here.
    from session.advice.saw_advice import advice
    from session.machine.clock import SystemClock
    from session.till.known_saws import KnownSaw
    from session.till.saw_history import history
    from session.till.till_folder import slug, till_of

    till = till_of(record.path)
    if till is None:
        return []
    told = history([till], KnownSaw(slug(record.saw), record.saw), unfinished=False)
    paths = [one.path.resolve() for one in told.finished]
    whole = record.path.resolve()
    if whole not in paths:
        return []
    if whole != paths[-1]:
        return [LATER]
    return ["Next time:", *(f"  {line.text}" for line in advice(told, SystemClock().now()))]
