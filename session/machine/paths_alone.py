"""The standard library's paths without its URLs: a fifteenth of what a command takes that only prints.

`pathlib` brings in all that parses URLs and network addresses, for one function by which a path is written as a URL,
which nothing here does. From Python 3.13 on it waits with that by itself.
"""

from __future__ import annotations

import sys
from types import ModuleType


def load_paths() -> None:
    """Load `pathlib` so that it loads ``urllib.parse`` when it first quotes a path; nothing where it is loaded."""
    if "pathlib" in sys.modules or "urllib.parse" in sys.modules:
        return
    later = ModuleType("urllib.parse")
    vars(later)["quote_from_bytes"] = _quoted
    sys.modules["urllib.parse"] = later
    try:
        import pathlib  # noqa: F401 (loaded, for all that import it after)
    finally:
        # Whoever else asks for it gets the real one.
        del sys.modules["urllib.parse"]


def _quoted(path: bytes) -> str:
    from urllib.parse import quote_from_bytes

    return quote_from_bytes(path)
