"""Bench rule 30: what the screen shows is said aloud where it is asked for, and never more than that depends on it."""

from __future__ import annotations

import itertools
import re
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bench_person import Person
from bench_shed import Shed
from heard import Heard, listening
from own_plan import keep_plan
from session.bench.app import BenchApp
from session.files.settings import Settings
from session.texts.cautions import caution
from session.walk.stages import FACTS, Stage
from speaking import PATIENCE_S, Said, wait_gone

ALOUD = Settings(spoken=True)

#: Two gullets of side 1 as they are said, the second without its first letter.
GULLET_5 = "Gullet 5, between teeth 5 and 6, side 1"
GULLET_7 = "ullet 7, between teeth 7 and 8, side 1"

#: All that a voice is given: letters, digits and the stops that it pauses at.
SAYABLE = re.compile(r"[A-Za-z0-9 .,:?!'’-]+")

Golden = Callable[[str, str], None]


@pytest.fixture
def heard(monkeypatch: pytest.MonkeyPatch) -> Heard:
    """What is said, heard by nobody else."""
    return listening(monkeypatch)


async def test_rule_30_off_unless_asked_for(shed: Shed, heard: Heard) -> None:
    async with shed.program(shed.at("file", 1, 2)) as person:
        await person.press("2", "escape")
    assert heard.sentences == []


async def test_rule_30_place_strokes_direction_and_stop_are_said_at_each_mark(shed: Shed, heard: Heard) -> None:
    async with shed.program(shed.at("file", 1, 2), settings=ALOUD) as person:
        [first] = heard.new()
        assert first.startswith(
            "Stage: file, side 1 of 2, handle on your right. Gullet 5, between teeth 5 and 6, side 1, "
        )
        await person.press("3")
        assert heard.new() == [f"Gullet 5: 3 strokes. G{GULLET_7}, light strokes, stop when half of each flat is gone."]
        await person.press("space")
        assert heard.new() == [
            "Gullet 9, between teeth 9 and 10, side 1, light strokes, stop when half of each flat is gone."
        ]
        await person.press("backspace")
        [back] = heard.new()
        assert back.startswith(f"Took back: done gullet 7. G{GULLET_7}")


async def test_rule_30_a_mere_redraw_says_nothing(shed: Shed, heard: Heard) -> None:
    async with shed.program(shed.at("file", 1, 2), settings=ALOUD) as person:
        heard.new()
        for size in ((120, 36), (200, 60), (80, 24)):
            await person.resize(*size)
        await person.press("f")
        # That it is the far view now is said, and not the place once more.
        assert heard.new() == ["Far view while work goes on, the same key leads back."]
        person.bench.show()
        await person.settle()
        assert heard.new() == []


async def test_rule_30_a_press_that_did_nothing_says_why_and_names_the_place(shed: Shed, heard: Heard) -> None:
    async with shed.program(shed.at("file", 1, 2), settings=ALOUD) as person:
        await person.press("space")
        heard.new()
        await person.press("space", after_s=0.1)
        assert heard.new() == [f"Ignored: a second press within 300 milliseconds. Still g{GULLET_7}."]
        await person.press("y")
        assert heard.new() == [f"Nothing is asked that a yes would answer. Still g{GULLET_7}."]


async def test_rule_30_questions_their_choices_and_what_is_wrong_are_said(shed: Shed, heard: Heard) -> None:
    async with shed.program(shed.at("file", 1, 2), settings=ALOUD) as person:
        heard.new()
        await person.press("p")
        [question] = heard.new()
        assert "Escape closes" in question
        await person.type("900")
        await person.press("enter")
        [wrong] = heard.new()
        assert "allowed" in wrong
        await person.press("escape")
        [closed] = heard.new()
        assert closed.startswith("Closed, nothing was changed. Stage: file, side 1 of 2")
        assert "Gullet 5, between teeth 5 and 6" in closed
        await person.press("l")
        [reasons] = heard.new()
        assert re.search(r" 1: .+\. 2: ", reasons)
        await person.press("escape", "q")
        assert heard.new()[-1].startswith("Leave the bench?")


@pytest.mark.wide
async def test_rule_30_every_caution_is_said_whole(shed: Shed, heard: Heard) -> None:
    async with shed.bench(size=(80, 24), settings=ALOUD, points=12, jaw=20) as person:
        await person.go_on(lambda p: p.boxes()[0][1] == "to the till")
    said = " ".join(heard.sentences)
    for name in {name for stage, facts in FACTS.items() for name in facts.cautions if stage is not Stage.RESHAPE}:
        told = caution(name)
        start = said.index(f"{told.signal} before this stage. {told.hazard}")
        whole = said[start : start + 600]
        assert told.consequence.split(";")[0].rstrip(".") in whole
        assert "Press y: understood" in whole


@pytest.mark.wide
async def test_rule_30_a_whole_sharpening_in_words_that_a_voice_can_say(
    shed: Shed, heard: Heard, golden: Golden
) -> None:
    told: list[str] = []

    def listen(person: Person) -> bool:
        key, word = person.boxes()[0]
        told.extend([*heard.new(), f"    [{key}: {word}]"])
        return word == "to the till"

    sitting = keep_plan(shed.sitting(points=12, jaw=20))
    async with shed.program(sitting, size=(120, 36), settings=ALOUD) as person:
        await person.go_on(listen)
    spoken = [line for line in told if not line.startswith("    [")]
    assert [line for line in spoken if not SAYABLE.fullmatch(line)] == []
    # Every press is answered by one sentence or more, said at once.
    assert all(before.startswith("    [") != after.startswith("    [") for before, after in itertools.pairwise(told))
    golden("spoken-whole-sharpening.txt", "\n".join(told) + "\n")


async def test_rule_30_the_countdown_warns_aloud(shed: Shed, heard: Heard) -> None:
    async with shed.program(shed.at("file", 1, 2), settings=ALOUD) as person:
        await person.press("h")
        await person.type("20")
        await person.press("enter")
        heard.new()
        for passed in (5, 12, 1, 1):
            shed.clock.pass_s(passed)
            person.bench.tick()
            await person.settle()
        assert heard.new() == ["In 3 seconds: 5 is marked by the timer. Any key holds it."]


@pytest.fixture
def said(tmp_path: Path) -> Iterator[Said]:
    """What a real program was given to say."""
    said = Said(tmp_path)
    yield said
    said.close()


async def test_rule_30_a_program_of_ones_own_speaks_and_is_ended_with_the_bench(shed: Shed, said: Said) -> None:
    settings = Settings(spoken=True, speech=said.program("input forever"), speech_text="input")
    async with shed.program(shed.at("file", 1, 2), settings=settings) as person:
        process, text = said.next()
        assert text.startswith("Stage: file")
        # It never ends its sentence, and nothing waits for it.
        await person.press("4")
        assert person.last()["strokes"] == 4
        wait_gone(process)
        process, text = said.next()
        assert text.startswith("Gullet 5: 4 strokes.")
    wait_gone(process)


async def test_rule_30_a_missing_program_is_told_once_and_the_work_goes_on(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    told, tell = threading.Event(), BenchApp._unspoken

    def telling(app: BenchApp, why: str) -> None:
        tell(app, why)
        told.set()

    monkeypatch.setattr(BenchApp, "_unspoken", telling)
    settings = Settings(spoken=True, speech=("/no/such/voice",))
    async with shed.program(shed.at("file", 1, 2), settings=settings) as person:
        assert told.wait(PATIENCE_S)
        await person.settle()
        assert "Not spoken: /no/such/voice cannot be started: No such file or directory." in person.words()
        await person.press("space")
        assert "Not spoken" in person.words()
        await person.press("space")
        assert "Not spoken" not in person.words()
        assert person.last()["did"] == "done"
