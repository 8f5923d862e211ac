"""Bench rules 22 and 23: sound has its twin for the eye, hands-free claims nothing."""

from __future__ import annotations

import pytest

from at_the_terminal import drawn_rows
from bench_person import Person
from bench_shed import Shed
from session.desk.countdown import LEAST_S, MOST_S, WARNS_AT_S
from session.files.settings import Settings
from sought import sought


async def tick(person: Person, seconds: float = 0.0) -> None:
    """Let time go by, and the bench look at the clock."""
    person.clock.pass_s(seconds)
    person.bench.tick()
    await person.settle()


async def start_timer(person: Person, seconds: float | str) -> None:
    await person.press("h")
    await person.type(str(seconds))
    await person.press("enter")


def reversed_words(person: Person) -> list[str]:
    """The words on screen in reverse: the bell's visible twin among them."""
    person.rows()
    strips = drawn_rows(person.app)
    return [s.text for strip in strips for s in strip if s.style is not None and s.style.reverse and s.text.strip()]


def test_rule_22_sound_is_off_by_default() -> None:
    assert Settings().sound is False


@pytest.mark.parametrize("sound", [pytest.param(False, marks=pytest.mark.wide), True])
async def test_rule_22_at_most_four_signals_each_with_its_visible_twin(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, sound: bool
) -> None:
    rings = []
    async with shed.program(shed.at("file", side=1), settings=Settings(sound=sound)) as person:
        monkeypatch.setattr(person.app, "bell", lambda: rings.append(reversed_words(person)))
        kinds = {}

        async def after(kind: str, *keys: str, after_s: float = 0.5) -> bool:
            heard = len(rings)
            await person.press(*keys, after_s=after_s)
            kinds[kind] = len(rings) - heard
            return any("FILE" in text for text in reversed_words(person))

        assert not await after("done", "space")
        assert not await after("strokes", "2")
        assert not await after("flag", "full_stop")
        assert not await after("taken back", "backspace")
        assert not await after("help", "question_mark")
        assert not await after("closed", "escape")
        assert await after("refused", "space", "space", after_s=0.1)
        assert not await after("next act", "space")
        await start_timer(person, 10)
        heard = len(rings)
        await tick(person, 10 - WARNS_AT_S)
        assert any("FILE" in text for text in reversed_words(person))
        kinds["timer warns"] = len(rings) - heard
        await person.press("z")
        await person.press("space")
        while person.boxes()[0][1] != "agrees":
            assert not any("FILE" in text for text in reversed_words(person))
            heard = len(rings)
            await person.press("space")
            kinds["check" if person.boxes()[0][1] == "agrees" else "done again"] = len(rings) - heard
        assert any("FILE" in text for text in reversed_words(person))
        await person.go_on(lambda p: p.boxes()[0][1] == "yes, done")
        assert any("FILE" in text for text in reversed_words(person))
        signals = {kind for kind, times in kinds.items() if times}
        assert signals == ({"refused", "timer warns", "check"} if sound else set())
        assert max(kinds.values()) <= 1
        assert bool(rings) is sound


async def test_rule_22_nothing_flashes(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        seen = set()
        for _ in range(12):
            await tick(person, 0.25)
            seen.add(person.text() + "".join(reversed_words(person)))
        assert len(seen) == 1


async def test_rule_23_it_is_off_at_every_start(shed: Shed) -> None:
    sitting = shed.at("file", side=1)
    async with shed.program(sitting) as person:
        await start_timer(person, 5)
        await tick(person, 5)
        assert person.last()["by"] == "timer"
    async with shed.program(shed.reopened(sitting)) as person:
        count = len(person.marks_on_disk())
        for _ in range(5):
            await tick(person, 30)
        assert len(person.marks_on_disk()) == count
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        count = len(person.marks_on_disk())
        await tick(person, 50)
        assert len(person.marks_on_disk()) == count


async def test_rule_23_it_counts_down_in_big_digits_beside_the_place_and_warns_before_it_moves(
    shed: Shed, size: tuple[int, int]
) -> None:
    async with shed.program(shed.at("file", side=1, done=7), size=size) as person:
        place = sought(r"NOW (\d+)", person.places())[1]
        await start_timer(person, 12)
        for left in range(12, 0, -1):
            await tick(person)
            assert person.large(str(left)), person.text()
            assert person.large(place)
            assert ("is marked by the timer" in person.words()) == (left <= WARNS_AT_S)
            await tick(person, 1)
        assert person.last()["tooth"] == int(place)
        assert f"Marked by the timer: gullet {place}." in person.words()


async def test_rule_23_its_marks_say_that_the_timer_made_them(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        await start_timer(person, 6)
        for _ in range(3):
            await tick(person, 6)
        made = person.marks_on_disk()[-3:]
        assert [(mark["did"], mark["by"]) for mark in made] == [("done", "timer")] * 3
        await person.press("space", "2")
        assert person.last()["by"] == "key"


async def test_rule_23_any_key_holds_it_and_does_nothing_else(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        for key in ("space", "escape", "pageup", "q", "z", "tab", "5"):
            await start_timer(person, 6)
            count, place = len(person.marks_on_disk()), person.places()
            await person.press(key)
            assert "The countdown is held; nothing was marked." in person.words(), key
            assert person.large(sought(r"NOW (\d+)", place)[1]), key
            await tick(person, 60)
            assert (len(person.marks_on_disk()), person.places()) == (count, place), key
            assert person.boxes()[0][1] == "done", key


@pytest.mark.wide
async def test_rule_23_it_never_passes_anything_that_is_asked(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        stops = []
        for _ in range(60):
            if person.at_work() and " FILE " in person.rows()[0]:
                await start_timer(person, 3)
                for _ in range(30):
                    await tick(person, 3)
                stops.append(person.boxes()[0][1])
                assert "The countdown is held: this needs you." in person.words()
                count = len(person.marks_on_disk())
                await tick(person, 100)
                assert len(person.marks_on_disk()) == count
            if " DRESS " in person.rows()[0]:
                break
            key = person.boxes()[0][0]
            await person.press({"Space": "space"}.get(key, key))
        assert {"agrees"} <= set(stops)
        asked = [m["by"] for m in person.marks_on_disk() if m["did"] in ("checked", "turned", "shifted") and "by" in m]
        assert "timer" not in asked
        timed = [m for m in person.marks_on_disk() if m.get("by") == "timer"]
        assert {m["stage"] for m in timed} == {"file"}
        assert len(timed) == 24


async def test_rule_23_it_is_held_when_the_window_is_made_too_small(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        await start_timer(person, 6)
        count = len(person.marks_on_disk())
        await person.resize(60, 20)
        await tick(person, 60)
        await person.resize(80, 24)
        await tick(person, 60)
        assert len(person.marks_on_disk()) == count
        assert "The countdown is held" in person.words()


async def test_rule_23_the_pace_of_the_stage_is_taken_by_one_key(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        for _ in range(5):
            await person.press("space", after_s=17)
        await person.press("h")
        assert "Your own pace in this stage: 17 s a place; y takes it." in person.words()
        await person.press("y", "enter")
        assert "Hands-free: 17 s for each place." in person.words()


@pytest.mark.wide
async def test_rule_23_a_length_that_cannot_be_is_refused_in_words(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1)) as person:
        count = len(person.marks_on_disk())
        for seconds in (LEAST_S - 1, MOST_S + 1, "soon", "-5"):
            await start_timer(person, seconds)
            assert f"allowed: {LEAST_S} to {MOST_S} seconds" in person.words(), seconds
            await person.press("escape")
            await tick(person, 300)
            assert len(person.marks_on_disk()) == count, seconds
