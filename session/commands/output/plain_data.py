"""Values of a record as JSON can hold them, and text as this terminal or pipe can take it."""

from __future__ import annotations

import math
import sys
from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any


def print_json(value: Any) -> None:
    """``value`` as JSON on stdout."""
    import json

    write(json.dumps(plain(value), indent=2, ensure_ascii=False, allow_nan=False) + "\n")


def plain(value: Any) -> Any:
    """``value`` with times as ISO 8601 text and numbers that JSON has no sign for ("nan", "inf") as text."""
    if isinstance(value, Mapping):
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    return value


def write(text: str) -> None:
    """``text`` to stdout; a sign that its encoding lacks goes out as "?" instead of ending the program."""
    encoding = sys.stdout.encoding or "utf-8"
    sys.stdout.write(text.encode(encoding, "replace").decode(encoding))


def can_show(text: str) -> bool:
    """Whether stdout's encoding has every sign of ``text``."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        return False
    return True
