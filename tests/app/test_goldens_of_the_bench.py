"""Each screen and stage as text, at both sizes that the rules name, compared with what was looked at and found good."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bench_shed import Shed
from golden_bench import (
    LARGE,
    PANEL_SAW,
    SIZES,
    Golden,
    Moment,
    Reel,
    Worker,
    Working,
    asked,
    at,
    begun,
    flats_graded,
    hold,
    tick,
)
from golden_saws import COARSE_RIP, DOVETAIL
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.walk.front_question import Ask
from session.walk.looks import wanted_looks
from session.walk.stages import FACTS, LOOKS, Stage

#: Thousands of rows, on both sizes: what a person sees of nearly every screen.
pytestmark = pytest.mark.wide


@pytest.fixture(scope="module")
def reel(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Reel]:
    """The panel saw, worked once for all tests."""
    reel = Reel(tmp_path_factory.mktemp("reel"))
    yield reel
    reel.close()


@pytest.fixture
def panel_saw(shed: Shed, reel: Reel) -> Working:
    """Gives the panel saw of the invented workshop, or another, worked until a moment."""

    def worked(moment: Moment, *, file: Path = PANEL_SAW, grading: bool = True, reshape: bool = False) -> Sitting:
        if (file, grading, reshape) == (PANEL_SAW, True, False):
            return reel.until(moment, shed)
        return Worker(begun(file, shed), shed.clock, grading=grading, reshape=reshape).until(moment)

    return worked


async def test_the_till(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program() as person:
        await hold(person, golden, "till-empty")
    shed.hang_up()
    panel_saw(at(Stage.FILE, 15, side=1)).close()
    async with shed.program() as person:
        await hold(person, golden, "till")


async def test_looking_over(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(asked(Ask.CAUTION, "points"))) as person:
        await hold(person, golden, "look-over-caution", (*SIZES, LARGE))
        await person.press("y", "y")
        await hold(person, golden, "look-over-caution-teaching")
        await person.press("y")
        for step in wanted_looks(LOOKS, {}):
            await hold(person, golden, f"look-over-{step.replace(' ', '-')}")
            await person.press("space")


async def test_answers_and_the_plan_that_follows(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.LOOK_OVER, step="bright points"))) as person:
        # Some shine, it was slow across dry hardwood, nothing to see all round, the line is straight.
        await person.press("2", "5", "1", "1", "1", "1", "a")
        await hold(person, golden, "prompt-answer")
        await person.type("lots")
        await person.press("enter")
        await hold(person, golden, "prompt-answer-wrong")
        await person.press(*["backspace"] * 4)
        await person.type("0.039 in")
        await person.press("enter", "space", "1", "space")
        await hold(person, golden, "look-over-plan-after-answers", (*SIZES, LARGE))


async def test_leveling(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(asked(Ask.CAUTION, "eyes"))) as person:
        await hold(person, golden, "level-caution-eyes")
        await person.press("y", "y", "y")
        await hold(person, golden, "level-clamp")
        await person.press("space")
        await hold(person, golden, "level-pass")
        await person.press("space")
        await hold(person, golden, "level-flats")
        await person.press("3")
        await hold(person, golden, "level-grade-first")
        await person.press(*"22321224", "space")
        await hold(person, golden, "level-grade-tenth")
    async with shed.program(panel_saw(flats_graded)) as person:
        await hold(person, golden, "level-flats-graded")
        await person.press("3")
        await hold(person, golden, "level-flats-reshape")


async def test_reshaping(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.RESHAPE, 30), reshape=True)) as person:
        await hold(person, golden, "reshape")


async def test_setting(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(asked(Ask.CAUTION, "bend once"))) as person:
        await hold(person, golden, "set-caution")
        await person.press("y", "y")
        await hold(person, golden, "set-clamp")
    async with shed.program(panel_saw(at(Stage.SET, 31))) as person:
        await hold(person, golden, "set-side-1")
    async with shed.program(panel_saw(asked(Ask.TURN, stage=Stage.SET))) as person:
        await hold(person, golden, "set-turn-saw")
        await person.press("y")
        await hold(person, golden, "set-turn-first-tooth")
    async with shed.program(panel_saw(at(Stage.SET, 32))) as person:
        await hold(person, golden, "set-side-2")
        await person.go_on(lambda p: "NOW measure" in p.places() and p.boxes()[0][1].startswith("skip"))
        await hold(person, golden, "set-measure")


async def test_filing_side_1(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(asked(Ask.CAUTION, "low in the vise"))) as person:
        await hold(person, golden, "file-caution")
    async with shed.program(panel_saw(at(Stage.FILE, 15, side=1))) as person:
        await hold(person, golden, "file-side-1", (*SIZES, LARGE))
        await person.press("g")
        await hold(person, golden, "file-side-1-brief")
        await person.press("g")
        await hold(person, golden, "file-side-1-bare")
        await person.press("g", "full_stop")
        await hold(person, golden, "file-flagged")
        await person.press("backspace", "backspace")
        await hold(person, golden, "file-taken-back")
        await person.press("2", "2", after_s=0.1)
        await hold(person, golden, "file-repeat-ignored")
    async with shed.program(panel_saw(at(Stage.FILE, 21, side=1))) as person:
        await person.press("2")
        await person.go_on(lambda p: p.boxes()[0][1] != "done")
        await hold(person, golden, "file-check")
        await person.press("y")
        await hold(person, golden, "file-shift")


async def test_the_far_view(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.FILE, 15, side=1))) as person:
        await person.press("f")
        await hold(person, golden, "far-file-side-1", (*SIZES, LARGE))
    async with shed.program(panel_saw(at(Stage.SET, 32))) as person:
        await person.press("f")
        await hold(person, golden, "far-set-side-2")
    async with shed.program(panel_saw(at(Stage.LEVEL, 12))) as person:
        await person.press("f")
        await hold(person, golden, "far-grade")


async def test_turning_to_side_2_and_filing_it(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(asked(Ask.TURN, stage=Stage.FILE, side=2))) as person:
        for item in ("saw", "guide", "fleam", "low", "first"):
            await hold(person, golden, f"file-turn-{item}")
            await person.press("y")
    async with shed.program(panel_saw(at(Stage.FILE, 34, side=2))) as person:
        await hold(person, golden, "file-side-2")


async def test_interruptions(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    sitting = panel_saw(at(Stage.FILE, 15, side=1))
    async with shed.program(sitting) as person:
        await person.press("escape")
        await hold(person, golden, "paused")
        shed.clock.pass_s(185)
        await person.press("escape")
        await hold(person, golden, "confirm-after-pause")
        await person.press("y")
        assert person.boxes()[0] == ("Space", "done"), "within a sitting no caution is asked again"
    async with shed.program(shed.reopened(sitting)) as person:
        await hold(person, golden, "confirm-after-restart")
        await person.press("y")
        await hold(person, golden, "caution-again-after-restart")
    async with shed.program(panel_saw(at(Stage.FILE, 15, side=1))) as person:
        await person.press("pageup", "escape")
        await person.press("space", after_s=400)
        await hold(person, golden, "confirm-after-silence")


async def test_questions_over_the_bench(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.FILE, 15, side=1))) as person:
        for key, name in {
            "l": "leave-out",
            "p": "set-place",
            "pageup": "look-back",
            "question_mark": "help",
            "q": "leave",
            "h": "timer",
            "t": "terms",
        }.items():
            await person.press(key)
            await hold(person, golden, f"prompt-{name}")
            await person.press("escape")
        await person.press("p")
        await person.type("21")
        await person.press("enter")
        await hold(person, golden, "prompt-set-place-several")
        await person.press("escape", "t")
        await person.type("fleam")
        await person.press("enter")
        await hold(person, golden, "term-told")


async def test_hands_free(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.FILE, 15, side=1))) as person:
        await person.press("h")
        await person.type("20")
        await person.press("enter")
        await tick(person, 5)
        await hold(person, golden, "timer-counting")
        await tick(person, 13)
        await hold(person, golden, "timer-warns")


async def test_dressing_and_proving(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.DRESS, number=1, side=2))) as person:
        await hold(person, golden, "dress")
    async with shed.program(panel_saw(at(Stage.PROVE, step="sight"))) as person:
        await hold(person, golden, "prove-sight")
        await person.press("1")
        await hold(person, golden, "prove-needle")
        await person.press("1")
        await hold(person, golden, "prove-trial-cut")
        await person.press("a")
        await hold(person, golden, "prompt-trial-cut")
        await person.press("escape", "plus")
        await hold(person, golden, "prompt-more")
        await person.press("escape", "2")
        await hold(person, golden, "prompt-remedy")


async def test_closing(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    async with shed.program(panel_saw(at(Stage.CLOSE, step="left out"))) as person:
        for step in FACTS[Stage.CLOSE].steps:
            await hold(person, golden, f"close-{step.replace(' ', '-')}")
            await person.press("space")
        await hold(person, golden, "end")
        await person.press("space")
        await hold(person, golden, "finished")


@pytest.mark.parametrize("size", [(79, 24), (80, 23), (40, 10), (20, 5)], ids=lambda size: "{}x{}".format(*size))
async def test_less_room_than_the_bench_needs(
    shed: Shed, golden: Golden, panel_saw: Working, size: tuple[int, int]
) -> None:
    async with shed.program(panel_saw(at(Stage.FILE, 15, side=1))) as person:
        await hold(person, golden, "too-small", (size,))


async def test_drawn_in_ascii(shed: Shed, golden: Golden, panel_saw: Working) -> None:
    plain = Settings(drawing="ascii")
    for name, moment in {
        "ascii-caution": asked(Ask.CAUTION, "eyes"),
        "ascii-file": at(Stage.FILE, 15, side=1),
        "ascii-set": at(Stage.SET, 32),
        "ascii-turn": asked(Ask.TURN, "guide", stage=Stage.FILE, side=2),
        "ascii-grade": at(Stage.LEVEL, 12),
    }.items():
        async with shed.program(panel_saw(moment), settings=plain) as person:
            assert person.text().isascii()
            await hold(person, golden, name)


async def test_a_saw_of_520_fine_teeth(shed: Shed, golden: Golden, panel_saw: Working, tmp_path: Path) -> None:
    (tmp_path / "fine.toml").write_text(DOVETAIL, encoding="utf-8")
    sitting = panel_saw(at(Stage.FILE, 409, side=1), file=tmp_path / "fine.toml", grading=False)
    async with shed.program(sitting) as person:
        await hold(person, golden, "fine-dovetail-file", SIZES[:1])
        await person.press("p")
        await hold(person, golden, "fine-dovetail-set-place", SIZES[:1])


async def test_a_coarse_rip_saw_of_60_teeth_filed_from_one_side(
    shed: Shed, golden: Golden, panel_saw: Working, tmp_path: Path
) -> None:
    (tmp_path / "coarse.toml").write_text(COARSE_RIP, encoding="utf-8")
    for name, moment in {
        "coarse-rip-grade": at(Stage.LEVEL, 20),
        "coarse-rip-set": at(Stage.SET, 30),
        "coarse-rip-file-first": at(Stage.FILE, 1),
        "coarse-rip-file": at(Stage.FILE, 58),
    }.items():
        async with shed.program(panel_saw(moment, file=tmp_path / "coarse.toml")) as person:
            await hold(person, golden, name, SIZES[:1])


@pytest.mark.parametrize("theme", ["bench-dark", "bench-light"])
@pytest.mark.parametrize(
    ("name", "moment"),
    [("caution", asked(Ask.CAUTION, "eyes")), ("filing", at(Stage.FILE, 15, side=1))],
    ids=["caution", "filing"],
)
async def test_in_color(shed: Shed, golden: Golden, panel_saw: Working, theme: str, name: str, moment: Moment) -> None:
    async with shed.program(panel_saw(moment), settings=Settings(theme=theme)) as person:
        drawn = person.app.export_screenshot(title="Toothline")
        assert drawn.startswith("<svg")
        golden(f"color-{name}-{theme}.svg", drawn)
