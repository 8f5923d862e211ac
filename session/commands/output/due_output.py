"""When a saw is due, as every command tells it: in one line, and as plain values."""

from __future__ import annotations

from typing import Any

from session.till.due_date import Due


def due_line(due: Due) -> str:
    """The date with its range and what it rests on, or what is missing."""
    return f"Due: {due.why}" if due.in_days is None else f"Due{due.when}. {due.why}"


def due_data(due: Due) -> dict[str, Any]:
    """The key ``due`` of the commands that give JSON; days from now, dates as ISO 8601, None where not told.

    ``earliest`` and ``latest`` are the range that holds the day about seven times in ten.
    """
    dulling = due.dulling
    days = {"date": due.day, "earliest": due.earliest, "latest": due.latest}
    return {
        "enough_cuts": dulling.enough,
        "why": due.why,
        "cuts": dulling.cuts,
        "cuts_missing": due.missing,
        "sharpenings": dulling.sharpenings,
        "share_now": dulling.share_now,
        "loss_per_day": dulling.loss_per_day,
        "in_days": due.in_days,
        "earliest_in_days": due.earliest_in_days,
        "latest_in_days": due.latest_in_days,
        **{name: None if day is None else day.isoformat() for name, day in days.items()},
    }
