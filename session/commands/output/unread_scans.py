"""The newest scan of a saw as commands take it, with a word of each that was passed over as it cannot be read."""

from __future__ import annotations

from session.commands.output.standard_streams import say
from session.till.kept_scans import NewestLine, ScanFile, newest_line
from session.till.known_saws import KnownSaw
from session.till.till_folder import Till


def newest_told(till: Till, saw: KnownSaw) -> ScanFile | None:
    """The file of the line of ``saw`` that was measured last; None where none can be read."""
    return lines_told(till, saw).file


def lines_told(till: Till, saw: KnownSaw) -> NewestLine:
    """The same with the few that were measured before it."""
    newest = newest_line(till, saw)
    for wrong in newest.unread:
        say(f"Take care: a scan was not read: {wrong}")
    return newest
