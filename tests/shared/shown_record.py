"""A sharpening of ten gullets in the netloft, written as a log for the command that shows a record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)

#: Writes a log of such a walk and gives its path.
Write = Callable[..., Path]


def filing(tooth: int, side: int, **fields: Any) -> dict[str, Any]:
    """The fields of a mark of one gullet filed with two strokes; ``fields`` replaces any of them."""
    return {"did": Did.DONE, "stage": Stage.FILE, "side": side, "tooth": tooth, "strokes": 2, "by": "key", **fields}


#: Ten gullets of side 1: 1 to 9 done but 5 left out; 7 left out, taken back and then done; 3 flagged.
WALK: list[dict[str, Any]] = [
    filing(1, 1),
    filing(3, 1),
    filing(3, 1, did=Did.FLAGGED, strokes=None, reason="bright"),
    filing(5, 1, did=Did.LEFT_OUT, strokes=None, reason="the tooth is broken"),
    filing(7, 1, did=Did.LEFT_OUT, strokes=None, reason="slip"),
    {"did": Did.TOOK_BACK, "of": 5},
    filing(7, 1),
    filing(9, 1),
]


@pytest.fixture
def write_walk(tmp_path: Path) -> Write:
    """Writes the log of a walk into the till at ``tmp_path``."""

    def make(walk: list[dict[str, Any]] = WALK, *, finished: bool = False, name: str = "Netloft panel saw") -> Path:
        recipe = load_recipe(supplied_folder("recipes") / "crosscut-panel.toml")
        plan = make_plan(recipe.saw).to_dict()
        header = {"session": {"started": DAY0, "saw": name}, "recipe": recipe.values, "plan": plan}
        marks = [Mark(seq=n, at=DAY0 + timedelta(seconds=9 * n), **one) for n, one in enumerate(walk, 1)]
        if finished:
            end = Mark(seq=len(marks) + 1, at=DAY0 + timedelta(hours=1), did=Did.FINISHED)
            marks.append(closing(Account.of(marks), end))
        path = tmp_path / "logs" / "netloft-panel-saw" / "2026-03-07T09-00-00-abcdef.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
        return path

    return make
