"""What is said of the disk when a log is opened and left, the same on the screen and line by line."""

from __future__ import annotations

from session.desk.desk import Desk
from session.log.sitting import Sitting


def torn(sitting: Sitting) -> str:
    """What to say of a torn end that was set aside when the log was opened; empty when there was none."""
    end = sitting.journal.torn
    if end is None:
        return ""
    return f"One mark was torn and set aside ({end.file.name}): look on the saw whether {sitting.state.place} is done."


def saved(desk: Desk) -> str:
    """That all is saved and where, or why it is not and what to note by hand."""
    if desk.fault:
        return desk.fault
    state, name = desk.sitting.state, desk.sitting.journal.path.name
    marks = "1 mark" if len(state.marks) == 1 else f"{len(state.marks)} marks"
    again = "" if state.finished else " Resume at this place any time."
    return f"All is saved: {marks} in {name}.{again}"
