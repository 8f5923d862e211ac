"""What users write is shown literally, or without what a terminal would obey, on every screen."""

from __future__ import annotations

import unicodedata
from functools import partial

import pytest
from textual import events

from at_the_terminal import send
from bench_person import Person
from bench_shed import Shed, works_at
from session.log.journal import Journal
from session.machine.disk import REAL
from session.walk import acts

MARKUP = "[/] [@click=app.quit]x[/] [bold"
CONTROLS = "a\x1b[2Jb\x9b31mc\u202ed\u2066e\x07f\rg\x00"


def toml(text: str) -> str:
    """``text`` as it stands between the quotes of a TOML text."""
    return "".join(f"\\u{ord(c):04x}" if ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or c in '"\\' else c for c in text)


NAMES = [MARKUP, CONTROLS.replace("\x00", "") + "[/]"]


def obeyed(person: Person) -> set[str]:
    """Signs on screen that are not for reading."""
    bad = {c for c in person.text() if unicodedata.category(c) in ("Cc", "Cf", "Cs") and c != "\n"}
    return bad | {c for c in person.text() if c in "\u2028\u2029"}


async def paste(person: Person, text: str) -> None:
    event = events.Paste(text)
    send(person.app, event)
    await person.settle()


def told(words: str, person: Person) -> bool:
    """Whether ``words`` are on screen."""
    return words in person.words()


@pytest.mark.wide
@pytest.mark.parametrize("name", NAMES)
async def test_a_saws_name_on_every_screen(shed: Shed, size: tuple[int, int], name: str) -> None:
    shown = name if name == MARKUP else "a[2Jb31mcdef g[/]"
    sitting = shed.at("file", side=1, done=3, name=toml(name))
    sitting.close()
    async with shed.program(size=size) as person:
        assert person.text().count(shown) >= 2, "interrupted, and as a saw"
        assert not obeyed(person)
        await person.press("space")
        await person.press("y")
        await person.go_on(lambda p: p.boxes()[0][1] == "done")
        assert shown in person.rows()[0]
        for key in ("question_mark", "pageup", "l", "p", "t", "q"):
            await person.press(key)
            assert not obeyed(person)
            await person.press("escape")
            assert shown in person.rows()[0]
        await person.press("escape")
        assert shown in person.rows()[0]
        assert not obeyed(person)
        assert person.app.is_running


@pytest.mark.wide
@pytest.mark.parametrize("pasted", [False, True])
async def test_a_reason_typed_or_pasted(shed: Shed, pasted: str) -> None:
    reason = MARKUP + (" " + CONTROLS if pasted else "")
    shown = MARKUP + (" a[2Jb31mcdef" if pasted else "")
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.press("l")
        if pasted:
            await paste(person, reason)
        else:
            await person.type(reason)
        await person.press("enter")
        assert person.last()["did"] == "left out"
        assert person.last()["reason"].startswith(shown)
        assert not any(unicodedata.category(c) in ("Cc", "Cf") for c in person.last()["reason"])
        assert shown in person.words()
        assert not obeyed(person)
        await person.press("pageup")
        assert shown in person.words()
        assert not obeyed(person)
        await person.press("escape")
        await shed.brought(person, works_at("close"))
        for where in ("NOW left out", "Ready to finish", "Finished"):
            await person.go_on(partial(told, where))
            assert shown in person.panel()
            assert not obeyed(person)


@pytest.mark.wide
async def test_an_answer_typed(shed: Shed) -> None:
    async with shed.program(shed.at("look over")) as person:
        await person.press("a")
        for wrong in ("[/]", "[@click=app.quit]", "[red]12"):
            await person.type(wrong)
            await person.press("enter")
            assert f'"{wrong}"'[:19] in person.words()
            assert not obeyed(person)
            await person.press(*["backspace"] * len(wrong), after_s=0)
        await paste(person, "\x1b[2J[/]\u202e")
        await person.press("enter")
        assert not obeyed(person)
        assert person.app.is_running
        await person.press("escape")
        await person.press("t")
        await person.type("[/]")
        await person.press("enter")
        assert "[/]" in person.words()


async def test_words_in_a_log_from_another_bench(shed: Shed) -> None:
    sitting = shed.at("file", side=1, done=1)
    for reason in (MARKUP, CONTROLS.replace("\x00", "")):
        sitting.make(acts.leave_out(sitting.state, shed.clock.now(), reason))
    sitting.make(acts.flag(sitting.state, shed.clock.now(), MARKUP))
    path = sitting.journal.path
    async with shed.program(shed.reopened(sitting)) as person:
        assert MARKUP in person.panel()
        assert "a[2Jb31mcdef g" in person.panel()
        assert not obeyed(person)
        await person.press("pageup")
        assert MARKUP in person.words()
        assert not obeyed(person)
        await person.press("escape", "backspace")
        assert MARKUP in person.words()
    with Journal.open(path, disk=REAL) as journal:
        assert journal.marks


async def test_files_in_the_till_that_are_not_in_order(shed: Shed) -> None:
    shed.hang_up()
    (shed.till.path / "broken.toml").write_text(f'name = "{MARKUP}"\n', encoding="utf-8")
    (shed.till.path / "[bold]\x1b[31m[@click=app.quit].toml").write_text("format = 1\n", encoding="utf-8")
    async with shed.program() as person:
        assert "[bold][31m[@click=app.quit].toml" in person.text()
        assert not obeyed(person)
        rows = len([row for row in person.rows() if "not in order" in row])
        assert rows == 2
        for _ in range(3):
            await person.press("enter")
            assert not obeyed(person)
            await person.press("q" if "Toothline · the till" not in person.text() else "down")
            await person.press("h")
        assert person.app.is_running
