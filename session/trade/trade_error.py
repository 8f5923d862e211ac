"""What trade says of a value that no saw, file or vise can have."""

from __future__ import annotations


class TradeError(ValueError):
    """A value, or a text for one, that cannot be; the message says which one and what is allowed."""
