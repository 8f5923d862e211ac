"""What all tests share."""

from __future__ import annotations

from hypothesis import settings

# On two shared cores hypothesis's own deadline would be a hidden assertion on time.
settings.register_profile("toothline", deadline=None)
settings.load_profile("toothline")
