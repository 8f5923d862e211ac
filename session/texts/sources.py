"""Who stands behind a short name such as "KING"."""

from __future__ import annotations

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
