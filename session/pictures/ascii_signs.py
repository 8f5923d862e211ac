"""Our own signs in the words of the screen, for a terminal that has only ASCII. Letters of names are left alone."""

from __future__ import annotations

from typing import Final

# One cell for one cell wherever the width of a row was counted already; only the keys grow.
_SIGNS: Final = str.maketrans(
    {
        "·": "-",
        "–": "-",
        "—": "-",
        "…": "~",
        "│": "|",
        "■": "#",
        "◆": "@",
        "×": "x",
        "▶": ">",
        "◀": "<",
        "→": ">",
        "←": "<",
        "↑": "^",
        "↓": "v",
        "⌫": "Bsp",
        "“": '"',
        "”": '"',
        "’": "'",
        "°": " deg",
    }
)


def drawn(text: str, *, ascii_only: bool) -> str:
    """``text`` as it is drawn: unchanged, or with our signs in ASCII."""
    return text.translate(_SIGNS) if ascii_only else text
