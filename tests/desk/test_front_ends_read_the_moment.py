"""Front ends read the moment that the desk made: none of them works its parts out itself."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import session

ROOT = Path(session.__file__).parent

#: What works a part of the moment out, by the module that has it.
WORKED_OUT = {
    "session.advice.gullet_advice": {"expected"},
    "session.advice.look_over": {"advice", "against", "findings"},
    "session.sentences.front_words": {"words"},
    "session.sentences.offers": {"offers"},
    "session.sentences.saying": {"say"},
    "session.walk.graded_flats": {"bite_by", "bite_here", "leaning", "usable_flats"},
    "session.walk.line_states": {"line_standing", "line_states"},
    "session.walk.pace": {"idle_limit_s", "pace"},
    "session.walk.rules": {"allowed"},
}


def taken(source: str) -> Iterator[str]:
    """Full names of what a module imports that works a part of the moment out."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            names = {alias.name for alias in node.names} & WORKED_OUT.get(node.module, set())
            yield from (f"{node.module}.{name}" for name in names)


@pytest.mark.parametrize("room", ["pictures", "desk", "bench", "rehearsal"])
def test_no_front_end_works_it_out(room: str) -> None:
    paths = sorted((ROOT / room).rglob("*.py"))
    assert len(paths) > 5
    assert [(path.name, name) for path in paths for name in taken(path.read_text(encoding="utf-8"))] == []


def test_what_makes_the_moment_is_seen() -> None:
    # Else the test above could never fail.
    found = {
        name
        for one in ("moment_numbers.py", "saying.py")
        for name in taken((ROOT / "sentences" / one).read_text(encoding="utf-8"))
    }
    assert {"session.walk.graded_flats.leaning", "session.advice.gullet_advice.expected"} <= found
