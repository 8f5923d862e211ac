"""On how many examples a law is tried: on its own number in each run, on as many times more as the profile asks for."""

from __future__ import annotations

from typing import Any

from hypothesis import settings

#: What tests/conftest.py has laws tried on that say nothing of their own.
USUAL = 40


def examples(usual: int, **how: Any) -> settings:
    """Settings for a law that is worth ``usual`` examples where others are worth `USUAL`.

    A profile that raises the number of those, as ``--hypothesis-profile=soak`` does, raises this one in proportion.
    A test that is a soak itself has its whole length in its own `settings`. how: the other settings.
    """
    return settings(max_examples=max(1, usual * settings().max_examples // USUAL), **how)
