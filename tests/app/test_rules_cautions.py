"""Bench rules 1 and 3: cautions stand before the step, whole, not passed by advancing, then in effect."""

from __future__ import annotations

import re
import tomllib
from functools import partial
from pathlib import Path

import pytest

import session.texts.cautions as words_of
from bench_shed import Shed
from session.log.sitting import Sitting
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.stages import FACTS, Stage
from whole_walk import whole_walk

#: What is done to the saw where it has to be held otherwise.
STOOD = ("shifted", "clamped", "laid flat")

ADVANCES = ("space", "enter", "pagedown", "right")
CAUTION = re.compile(r"(WARNING|CAUTION|NOTICE) before this stage")
TOLD = tomllib.loads((Path(words_of.__file__).parent / "cautions.toml").read_text(encoding="utf-8"))


def asked(panel: str) -> list[str]:
    """The names of the cautions that stand whole in ``panel``."""
    return [
        name for name, told in TOLD.items() if all(told[part] in panel for part in ("hazard", "consequence", "avoid"))
    ]


def with_reshaping(shed: Shed) -> Sitting:
    """A sharpening with every stage in it that there is."""
    sitting = shed.answered(shed.sitting(), lambda s: s.state.front.ask is Ask.WORK)
    sitting.make(acts.decide(sitting.state, shed.clock.now(), Stage.RESHAPE, True, "uneven"))
    return sitting


async def test_rule_01_advancing_alone_never_passes_a_caution_from_the_start_on(shed: Shed) -> None:
    async with shed.bench() as person:
        for _ in range(5):
            await person.press(*ADVANCES)
        assert CAUTION.search(person.panel())
        assert person.marks_on_disk() == []


@pytest.mark.wide
async def test_rule_01_every_caution_of_the_stage_is_whole_and_holds(shed: Shed) -> None:
    sitting = with_reshaping(shed)
    for stage in (stage for stage in Stage if FACTS[stage].cautions):
        # As after a restart, when all of the stage's cautions are asked again (rule 3).
        shed.answered(sitting, partial(is_at, stage))
        met = []
        sitting = shed.reopened(sitting)
        async with shed.program(sitting) as person:
            await person.press("y")
            while (box := person.boxes()[0][1]) not in ("done", "both done", "both", "skip it", "skip"):
                assert box in (
                    "understood",
                    "yes, done",
                    "found",
                    "it does",
                    "fitted",
                    "shifted",
                    "clamped",
                    "laid flat",
                    "agrees",
                ), stage
                if box == "understood":
                    caution = asked(person.panel())
                    assert len(caution) == 1, person.text()
                    assert f"{TOLD[caution[0]]['signal']} before this stage" in person.panel()
                    before = person.marks_on_disk()
                    await person.press(*ADVANCES, "1")
                    assert asked(person.panel()) == caution
                    assert person.marks_on_disk() == before
                    met += caution
                await person.press("space" if box in STOOD else "y")
        assert met == list(FACTS[stage].cautions), stage
        sitting = shed.reopened(sitting)


def is_at(stage: Stage, sitting: Sitting) -> bool:
    return sitting.state.place is not None and sitting.state.place.stage is stage


@pytest.mark.wide
async def test_rule_01_no_work_is_marked_before_its_cautions_in_a_whole_walk(shed: Shed) -> None:
    agreed, worked = set(), 0
    for mark in (await whole_walk(shed, (80, 24))).marks:
        if mark["did"] == "acknowledged":
            agreed.add(mark["what"])
        elif mark["did"] == "done":
            assert agreed >= set(FACTS[Stage(mark["stage"])].cautions)
            worked += 1
    assert worked > 48


async def test_rule_03_what_was_agreed_to_stays_on_screen_in_words_and_is_asked_again_on_resume(shed: Shed) -> None:
    sitting = shed.at("file", side=1, done=2)
    async with shed.program(sitting) as person:
        shown = " ".join(person.words().split())
        for name in FACTS[Stage.FILE].cautions:
            assert TOLD[name]["in_effect"] in shown
        assert "IN EFFECT: " in shown
    async with shed.program(shed.reopened(sitting)) as person:
        await person.press("y")
        again = []
        while person.boxes()[0][1] == "understood":
            again += asked(person.panel())
            await person.press("y")
        assert again == list(FACTS[Stage.FILE].cautions)
        assert person.boxes()[0][1] == "done"
