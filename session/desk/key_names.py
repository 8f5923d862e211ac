"""What keys are called: Textual's names for them, the signs they print, and how they are told to a person."""

from __future__ import annotations

import unicodedata
from typing import Final

#: Signs whose name on the keyboard is not their name in Unicode.
_CALLED: Final = {
    "solidus": "slash",
    "reverse_solidus": "backslash",
    "commercial_at": "at",
    "hyphen_minus": "minus",
    "plus_sign": "plus",
    "low_line": "underscore",
}
_UNICODE: Final = {
    **{called: name for name, called in _CALLED.items()},
    # A hyphen in a name of Unicode's is lost in Textual's.
    "minus": "hyphen-minus",
    "less_than_sign": "less-than sign",
    "greater_than_sign": "greater-than sign",
}

#: Keys that print nothing, as they are told.
_SHOWN: Final = {
    "space": "Space",
    "enter": "Enter",
    "pagedown": "PgDn",
    "pageup": "PgUp",
    "right": "→",
    "left": "←",
    "down": "↓",
    "backspace": "⌫",
    "escape": "Esc",
}


def named(key: str) -> str:
    """The name of a key that is written as the sign it prints: "full_stop" for "."; any other is its own name."""
    if len(key) != 1 or key.isalnum():
        return key
    name = unicodedata.name(key, key).lower().replace("-", "_").replace(" ", "_")
    return _CALLED.get(name, name)


def printed(key: str) -> str | None:
    """The sign that a key prints: "." for "full_stop", "b" for "b"; None for a key that prints none."""
    if len(key) == 1:
        return key
    try:
        sign = unicodedata.lookup(_UNICODE.get(key, key).replace("_", " "))
    except KeyError:
        return None
    return sign if sign.isprintable() and not sign.isspace() else None


def shown(key: str) -> str:
    """A key as it is printed on a keyboard or in a line of help."""
    if len(key) == 1:
        return key
    return _SHOWN.get(key) or printed(key) or key.upper()
