"""Help: what each key does, and what the thing in front is."""

from __future__ import annotations

from collections.abc import Mapping

from session.desk.key_table import MEANINGS, shown
from session.desk.question import Question
from session.sentences.offers import Act
from session.sentences.saying import Saying


def guide(saying: Saying, keymap: Mapping[Act, tuple[str, ...]]) -> Question:
    """The help sheet for this moment."""
    says = [f"Who says so: {saying.source}."] if saying.source else []
    lines = [saying.title, *saying.lines, saying.instruction, *says, ""]
    for act, meaning in MEANINGS.items():
        keys = "1–9" if act is Act.STROKES else " ".join(shown(key) for key in keymap.get(act, ()))
        lines.append(f" {keys or '-':<18} {meaning}")
    lines += ["", "Ctrl+C, a closed window or a power cut lose nothing: each mark is on disk before it shows."]
    return Question("Help", tuple(lines))
