"""From a saw's name to a file name that is safe on every disk."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from session.till.till_names import LOGS, NOT_SAWS

#: Longest slug; a log's name and its `.torn-…` and `.lock` endings are added to other names than this one.
LONGEST: Final = 80

_SIGNS: Final = 8
_ORDINARY: Final = re.compile(r"[A-Z][a-z0-9]*(?: [a-z0-9]+)*")
#: Names of devices on Windows, and of files and folders that the till itself has.
_DEVICES: Final = frozenset(
    {
        "con",
        "prn",
        "aux",
        "nul",
        "conin",
        "conout",
        *(f"{port}{number}" for port in ("com", "lpt") for number in range(10)),
    }
)
_OWN: Final = frozenset({LOGS, *(name.removesuffix(".toml") for name in NOT_SAWS)})


def file_stem(name: str) -> str:
    """The name of the recipe file of the saw ``name``, without its ending, for a person to find it by: its words alone
    where these may stand on any disk, else its slug.

    >>> file_stem("Boat-shed crosscut"), file_stem("Settings")
    ('boat-shed-crosscut', 'settings-74a883a0')
    """
    plain = _plain(name)
    return plain if 0 < len(plain) <= LONGEST and not _taken(plain) else slug(name)


def slug(name: str) -> str:
    """A file name for the saw ``name``: lower-case ASCII letters, digits and single hyphens, 1 to `LONGEST` of them.

    An ordinary name (a capital, then lower-case words and numbers) is kept as its words. Any other gets eight
    signs of its digest as well, so that names which differ only in case, accents or signs stay apart, on a
    disk that does not tell case from case too.

    >>> slug("Netloft panel saw")
    'netloft-panel-saw'
    >>> slug("../../Boat shed")
    'boat-shed-df5ed62b'
    """
    plain = _plain(name)
    if _ORDINARY.fullmatch(name) and len(plain) <= LONGEST and not _taken(plain):
        return plain
    # Slow to load, and most names need none of it.
    import hashlib

    # One accent may be written as one sign or two, and is the same name.
    digest = hashlib.sha256(unicodedata.normalize("NFC", name).encode("utf-8", "surrogatepass")).hexdigest()[:_SIGNS]
    plain = plain[: LONGEST - _SIGNS - 1].strip("-") or "saw"
    return f"{plain}-{digest}"


def _taken(plain: str) -> bool:
    return plain in _OWN or plain in _DEVICES


def _plain(name: str) -> str:
    words = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    return re.sub(r"[^a-z0-9]+", "-", words).strip("-")
