"""Made logs and tills of any length, written as the program writes them."""

from __future__ import annotations

import sys
from datetime import datetime, timedelta
from pathlib import Path

from session.files.recipe import Recipe, load_recipe
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.till.saw_file_name import slug
from session.walk import acts
from session.walk.account import Account
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.stages import Kind, Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "shared"))

from as_asked import as_asked
from made_history import DAY0, filed, leveled, numbered, proved
from small_recipe import small_recipe

NAME = "Boat-shed sash saw"
SLUG = slug(NAME)


def recipe_of(folder: Path, teeth: int) -> Recipe:
    """A saw of ``teeth`` teeth that is the only one in ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / "saw.toml"
    # The longest line that a recipe may have sets how far apart the teeth of a long one stand.
    pitch = 3 if teeth <= 400 else 1
    file.write_text(small_recipe(teeth, pitch=pitch, jaw=40 * pitch), encoding="utf-8")
    return load_recipe(file)


def log_at_filing(till: Path, teeth: int, least: int = 0) -> Path:
    """The log of a saw of ``teeth`` teeth with a gullet in hand, more than ``least`` marks made.

    All of it is filed once more as often as that takes.
    """
    recipe = recipe_of(till, teeth)
    plan = make_plan(recipe.saw)
    state, marks = State.start(plan), list[Mark]()
    while not _there(state, least):
        mark = as_asked(state, DAY0 + timedelta(seconds=5 * state.next_seq), _work)
        state = state.after(mark)
        marks.append(mark)
    header = {
        "session": {"started": DAY0, "program": "toothline 0.1.0", "saw": recipe.saw.name},
        "recipe": recipe.values,
        "plan": plan.to_dict(),
    }
    file = till / "logs" / SLUG / f"{DAY0:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
    return file


def _there(state: State, least: int) -> bool:
    """A gullet in hand with some before it and some left before the next check."""
    place = state.place
    if state.front.ask is not Ask.WORK or place is None or place.stage is not Stage.FILE or len(state.marks) <= least:
        return False
    leg, first = state.route.leg_at(state.here)
    return state.here - first in (3, len(leg.places) // 2)


def _work(state: State, at: datetime) -> Mark:
    place = state.place
    if place is not None and place.stage is Stage.CLOSE:
        return acts.add(state, at, Stage.FILE)
    gullet = place is not None and place.kind is Kind.GULLET
    return acts.done(state, at, strokes=2 if gullet else None)


def till_of(folder: Path, finished: int) -> None:
    """A till of one saw with ``finished`` finished sharpenings of it, a day apart, and none in hand."""
    recipe = recipe_of(folder, 24)
    logs = folder / "logs" / SLUG
    logs.mkdir(parents=True)
    fields = [*leveled([2] * 24), *filed(24), *proved(150.0)]
    marks = numbered(fields, DAY0)
    body = b"".join(encode(mark)[0] for mark in marks)
    account, plan = Account.of(marks), make_plan(recipe.saw).to_dict()
    for number in range(finished):
        begun = DAY0 + timedelta(days=number)
        session = {"started": begun, "program": "toothline 0.1.0", "saw": NAME}
        header = make_header({"session": session, "recipe": recipe.values, "plan": plan})
        end = Mark(seq=len(marks) + 1, at=begun + timedelta(hours=1), did=Did.FINISHED)
        data = header + body + encode(closing(account, end))[0]
        (logs / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml").write_bytes(data)
