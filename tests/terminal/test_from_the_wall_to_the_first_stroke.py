"""From an empty till to the first stroke of a saw of one's own, by keyboard alone in a real terminal of 80×24."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from soak_table import tried

ENTER = "\r"

#: Fields in which a digit picks a choice.
CHOICES = {"units", "kind", "cut", "tooth 1 leans", "wood"}

#: What a person at the wall knows of each saw, by the field that asks for it; the rest is left to what is usual.
#: Points: 26 in at 7 points hold 26 · 6 spaces and the first point; 10 in at 15 hold 10 · 14; 660 mm at 7 points in
#: 25 mm hold 660 / (25 / 6) = 158.4 spaces; 254 mm at a pitch of 1.8 mm hold 141.1.
SAWS = {
    "crosscut in inches": (
        {"name": "Crosscut", "kind": "3", "cut": "2", "toothed length": '26"', "teeth": "7 ppi", "plate": "20 gauge"},
        157,
    ),
    "dovetail in inches": (
        {"name": "Dovetail", "kind": "8", "cut": "1", "toothed length": "10", "teeth": "15", "plate": "0.022"},
        141,
    ),
    "crosscut in millimeters": (
        {
            "units": "2",
            "name": "Crosscut",
            "kind": "3",
            "cut": "2",
            "toothed length": "660",
            "teeth": "7",
            "plate": "0,9",
        },
        159,
    ),
    "dovetail in millimeters": (
        {"units": "2", "name": "Dovetail", "kind": "8", "cut": "1", "toothed length": "254", "teeth": "1,8 mm"},
        142,
    ),
}

#: Presses from the till until the saw hangs (34 to 43 were counted: the letters of the answers, and at most one more
#: a field), and to the first stroke, after all that a looking over asks (58 to 67).
MOST_TO_HANG = 45
MOST_TO_STROKE = 70

SOAK = pytest.mark.soak("a saw hung up at a terminal")

CASES = [
    pytest.param(name, id=name.replace(" ", "-"), marks=() if name == "dovetail in inches" else SOAK) for name in SAWS
]


class Typist:
    """Types at one terminal and counts every press."""

    def __init__(self, person: Any) -> None:
        self.person = person
        self.presses = 0

    def field(self) -> str:
        """The field that has the sign; empty on any other screen."""
        rows = self.person.terminal.rows()
        return next((row[1:16].strip() for row in rows if row.startswith("▶")), "") if "Hang up a" in rows[0] else ""

    def press(self, key: str) -> None:
        """One press, waited for."""
        self.presses += 1
        self.person.press(key)

    def answer(self, text: str) -> None:
        """Answer the field in hand; a single digit is a choice and is taken at once."""
        before = self.field()
        for key in text:
            if key == " ":
                # A space at the end of a line changes nothing that can be seen.
                self.presses += 1
                self.person.terminal.send(key)
            else:
                self.press(key)
        # A digit alone picks a choice at once; that of a figure still wants Enter.
        if not (len(text) == 1 and before in CHOICES):
            self.presses += 1
            self.person.terminal.send(ENTER)
        self.person.terminal.wait(lambda here: self.field() != before, f"the field after {before}")


def filled(typist: Typist, known: dict[str, str]) -> Iterator[str]:
    """Answer field after field to the last row, each named once it is answered."""
    # A first drawing comes in parts on a busy machine: a key before the sign stands would answer another field.
    typist.person.terminal.wait(lambda _: typist.field(), "the first field")
    while (field := typist.field()) != "hang it up":
        typist.answer(known.get(field, ""))
        yield field


def at_first_stroke(person: Any) -> bool:
    """Whether the file is to go over the points now, the first time that it touches steel."""
    return bool(person.stage()[0] == "level" and person.at_work())


@pytest.mark.wide
@pytest.mark.parametrize("name", CASES)
def test_from_an_empty_till_to_the_first_stroke(name: str, shed: Any, person: Callable[[Any], Any]) -> None:
    known, points = SAWS[name]
    someone = person(shed.open())
    someone.terminal.wait("Enter or Space opens")
    typist = Typist(someone)
    typist.press("n")
    someone.terminal.wait("1 of 17")
    asked = list(filled(typist, known))
    assert set(known) <= set(asked)
    typist.press(ENTER)
    someone.terminal.wait("Hung up:")
    hung = typist.presses
    typist.press("s")
    # Drawn to its boxes: what stands on the last rows before is not of the bench.
    someone.terminal.wait(lambda here: "handle" in here.rows()[0] and "NOW " in here.text() and someone.boxes()[0][1])
    recipe = shed.till / f"{known['name'].lower()}.toml"
    assert tomllib.loads(recipe.read_text(encoding="utf-8"))["saw"]["name"] == known["name"]
    while not at_first_stroke(someone):
        typist.presses += 1
        someone.step()
    log = tomllib.loads(shed.log().read_text(encoding="utf-8"))
    assert log["plan"]["points"] == points
    assert hung <= MOST_TO_HANG
    assert typist.presses <= MOST_TO_STROKE


@pytest.mark.soak("a form killed at a field")
def test_a_kill_at_any_field_loses_at_most_that_field(shed: Any, person: Callable[[Any], Any]) -> None:
    known, _ = SAWS["crosscut in millimeters"]
    kept: Path = shed.till / "drafts" / "new.toml"
    done: list[str] = []
    for _ in range(30):
        someone = person(shed.open("new"))
        typist = Typist(someone)
        someone.terminal.wait(lambda _, typist=typist: typist.field(), "the form")
        field = typist.field()
        if field == "hang it up":
            break
        assert field not in done, "what was answered is asked again"
        # Half of an answer stands on the line, or a whole one was just taken, when the power goes.
        typist.answer(known.get(field, ""))
        done.append(field)
        someone.terminal.send("x")
        someone.terminal.kill()
        tried()
        answers = tomllib.loads(kept.read_text(encoding="utf-8"))["answers"]
        assert len(answers) == len(done)
    assert len(done) == 17
    typist.press(ENTER)
    someone.terminal.wait("Hung up:")
    assert not kept.exists()
