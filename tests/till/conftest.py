"""What the tests of this room build on."""

from __future__ import annotations

from log_fixtures import begun, filing, log_bytes, log_header
from made_backup import backup, saws

__all__ = ["backup", "begun", "filing", "log_bytes", "log_header", "saws"]
