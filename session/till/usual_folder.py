"""Where a till is for whoever names no folder: a system's own place for a user's data."""

from __future__ import annotations

from pathlib import Path

import platformdirs


def usual_folder() -> Path:
    """The folder; it need not be there."""
    return platformdirs.user_data_path("toothline", appauthor=False)
