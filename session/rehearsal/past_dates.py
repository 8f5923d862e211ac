"""Records moved along the calendar: the demo's past was made once, and ends today whenever it is looked at.

Only days are moved. Times of day, offsets and all else stay, and every seal is made anew.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

from session.log.crc_seals import CRC_LINE, seal

#: A date that an offset time follows, as a record writes it. What a person wrote is text in quotes, and stays.
_MOMENT: Final = re.compile(rb"(?<== )\d{4}-\d\d-\d\d(?=[T ]\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d))")
_NAMED: Final = re.compile(r"^\d{4}-\d\d-\d\d(?=T)")


def moved(data: bytes, days: int) -> bytes:
    """The same record ``days`` later (earlier below 0): a log or a trial cut, with each of its seals made anew.

    Raises OverflowError beyond the calendar.
    """
    found, at = [], 0
    data = _MOMENT.sub(lambda day: _later(day[0].decode("ascii"), days).encode("ascii"), data)
    for line in CRC_LINE.finditer(data):
        body = data[at : line.start()]
        found += [body, seal(body)]
        at = line.end()
    return b"".join([*found, data[at:]])


def name_moved(name: str, days: int) -> str:
    """The name of a record's file ``days`` later.

    >>> name_moved("2025-12-31T09-00-00-a1b2c3.toml", 1)
    '2026-01-01T09-00-00-a1b2c3.toml'
    """
    return _NAMED.sub(lambda day: _later(day[0], days), name)


@lru_cache(maxsize=1024)
def _later(day: str, days: int) -> str:
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()
