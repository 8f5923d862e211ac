"""A search that must find something."""

from __future__ import annotations

import re


def sought(pattern: str | re.Pattern[str], text: str) -> re.Match[str]:
    """The first match of ``pattern`` in ``text``; a text without one fails the test and is shown."""
    found = re.search(pattern, text)
    assert found is not None, f"no {pattern!r} in:\n{text}"
    return found
