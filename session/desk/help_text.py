"""Help: what each key does, and what the thing in front is."""

from __future__ import annotations

from collections.abc import Mapping

from session.desk.key_names import shown
from session.desk.key_table import ACTS
from session.desk.question import Question
from session.sentences.offers import Act
from session.sentences.saying import Saying


def guide(saying: Saying, keymap: Mapping[Act, tuple[str, ...]]) -> Question:
    """The help sheet for this moment."""
    says = [f"Who says so: {saying.source}."] if saying.source else []
    lines = [saying.title, *saying.lines, saying.instruction, *says, ""]
    for row in ACTS:
        keys = "1–9" if row.act is Act.STROKES else " ".join(shown(key) for key in keymap.get(row.act, ()))
        lines.append(f" {keys or '-':<18} {row.told}")
    lines += ["", "Ctrl+C, a closed window or a power cut lose nothing: each mark is on disk before it shows."]
    return Question("Help", tuple(lines))
