"""One key press at a gullet works each thing of the new moment out once: what is asked, the numbers, words, picture."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable
from functools import cached_property
from typing import Any

import pytest

from bench_shed import Shed
from golden_bench import PANEL_SAW, Worker, at
from session.advice.gullet_advice import expected
from session.files.recipe import load_recipe
from session.log.sitting import Sitting
from session.pictures.from_above import above
from session.pictures.gullet_closeup import closeup
from session.pictures.line_strip import strip
from session.pictures.panel_layout import panel
from session.sentences.moment import Moment
from session.sentences.offers import offers
from session.sentences.saying import say
from session.walk.front_question import Ask
from session.walk.graded_flats import leaning, usable_flats
from session.walk.line_states import line_standing, worked_teeth
from session.walk.pace import idle_limit_s
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

#: Of the state and of its moment, worked out once for each and kept.
KEPT: tuple[tuple[type, str], ...] = (
    (State, "front"),
    (Moment, "leaning"),
    (Moment, "expected"),
    (Moment, "said"),
)

#: What works the numbers, the words and the rows out, each for one state.
ONCE: tuple[Callable[..., Any], ...] = (
    usable_flats,
    leaning,
    expected,
    offers,
    say,
    line_standing,
    worked_teeth,
    panel,
    closeup,
    above,
    strip,
)

NEVER: tuple[Callable[..., Any], ...] = (idle_limit_s,)

#: Room for the close-up and the view from above beside it.
SIZE = (120, 36)


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each of them is called, wherever in the program its name is bound."""
    counts: Counter[str] = Counter()

    def counted(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            counts[name] += 1
            return function(*args, **kwargs)

        return call

    for function in (*ONCE, *NEVER):
        call = counted(function.__name__, function)
        bound = [
            (module, name)
            for title, module in list(sys.modules.items())
            if title.startswith("session.")
            for name, value in vars(module).items()
            if value is function
        ]
        assert bound, function
        for module, name in bound:
            monkeypatch.setattr(module, name, call)
    for owner, name in KEPT:
        kept = cached_property(counted(f"{owner.__name__}.{name}", getattr(owner, name).func))
        kept.__set_name__(owner, name)
        monkeypatch.setattr(owner, name, kept)
    return counts


def worked_to_a_gullet(shed: Shed) -> Sitting:
    """The panel saw with its flats graded and gullet 21 of side 1 in hand, the third that was counted out."""
    recipe = load_recipe(PANEL_SAW)
    sitting = Sitting.start(shed.till.log_folder("saw"), recipe, make_plan(recipe.saw), shed.clock)
    return Worker(sitting, shed.clock).until(at(Stage.FILE, 21, side=1))


async def test_a_key_at_a_gullet_works_everything_out_once(shed: Shed, calls: Counter[str]) -> None:
    sitting = worked_to_a_gullet(shed)
    async with shed.program(sitting, size=SIZE) as person:
        assert sitting.state.front.ask is Ask.WORK
        before = len(sitting.state.marks)
        calls.clear()
        await person.press("2", after_s=4)
        assert len(sitting.state.marks) == before + 1
        assert person.places().count("NOW 23") == 1
        wanted = [function.__name__ for function in ONCE] + [f"{owner.__name__}.{name}" for owner, name in KEPT]
        assert calls == dict.fromkeys(wanted, 1)


async def test_a_key_that_changes_nothing_works_nothing_out_but_what_is_drawn(shed: Shed, calls: Counter[str]) -> None:
    sitting = worked_to_a_gullet(shed)
    async with shed.program(sitting, size=SIZE) as person:
        calls.clear()
        # A yes where nothing is asked is refused, and says so.
        await person.press("y", after_s=4)
        assert calls == dict.fromkeys(("panel", "closeup", "above", "strip"), 1)


async def test_only_a_silence_asks_how_long_one_may_be(shed: Shed, calls: Counter[str]) -> None:
    sitting = worked_to_a_gullet(shed)
    async with shed.program(sitting) as person:
        await person.press("y", after_s=4)
        calls.clear()
        await person.press("2", after_s=61)
        assert calls["idle_limit_s"] == 1
