"""Who stands behind a short name such as "KING"."""

from __future__ import annotations

import re
from typing import Final

from session.texts.word_files import table

#: What may stand in place of a work, and what it means. Nothing marked so is a published fact.
UNPUBLISHED: Final[dict[str, str]] = {
    "common practice, no source": "Done so in many shops; no work that was read prints it.",
    "from memory": "Remembered, not read. Check it before relying on it.",
    "derived": "Follows by arithmetic from facts that have a source.",
    "judgment": "This program's own choice, open to yours.",
}


def all_works() -> dict[str, str]:
    """Every work by its short name, and what stands in place of one."""
    return {**table("sources"), **UNPUBLISHED}


def works(source: str) -> dict[str, str]:
    """The works named in a source such as "KING 64; ROSS p. 9", by short name, in the order named.

    A part that is one of UNPUBLISHED stands under its own words. Raises ValueError for a part that is neither.
    """
    known = table("sources")
    found: dict[str, str] = {}
    for part in (piece.strip() for piece in source.split(";")):
        if part in UNPUBLISHED:
            found[part] = UNPUBLISHED[part]
            continue
        name = re.split(r"\s", part, maxsplit=1)[0]
        if name not in known:
            raise ValueError(f'source "{part}" begins with no known work; allowed: {", ".join(known)}')
        found[name] = known[name]
    return found
