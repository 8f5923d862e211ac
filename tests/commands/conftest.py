"""What the tests of the commands build on."""

from __future__ import annotations

from shown_record import write_walk

__all__ = ["write_walk"]
