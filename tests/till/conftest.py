"""What the tests of this room build on."""

from __future__ import annotations

from log_fixtures import begun, filing, log_bytes, log_header

__all__ = ["begun", "filing", "log_bytes", "log_header"]
