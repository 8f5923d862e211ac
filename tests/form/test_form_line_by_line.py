"""The form line by line, as a pipe or a screen reader has it."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from session.files.recipe import load_recipe
from session.form.form_fields import FormField
from session.form.line_form import LineForm
from session.form.own_saw_form import OwnSawForm

NewForm = Callable[[], OwnSawForm]


class Script:
    """Types lines one after another, and keeps what was told."""

    def __init__(self, lines: Iterable[str]) -> None:
        self.ahead = list(lines)
        self.told: list[str] = []

    def tell(self, line: str) -> None:
        self.told.append(line)

    def typed(self, prompt: str) -> str:
        self.told.append(prompt)
        if not self.ahead:
            raise EOFError
        return self.ahead.pop(0)

    def text(self) -> str:
        return "\n".join(self.told)


#: Up to the teeth, then what is usual to the end.
SAW = ["", "Boat-shed crosscut", "", "hand", "crosscut", "26", "7", *[""] * 10, "y"]


def test_five_answers_and_enter_hang_up_a_saw(new_form: NewForm) -> None:
    script = Script(SAW)
    path = LineForm(new_form(), script).talk()
    assert path is not None
    assert load_recipe(path).saw.points == 157
    assert script.ahead == []


def test_what_is_not_understood_is_asked_again_at_once(new_form: NewForm) -> None:
    script = Script([*SAW[:5], "banana", *SAW[5:]])
    assert LineForm(new_form(), script).talk() is not None
    at = script.told.index("toothed length [inches]> ")
    assert "Not understood" in script.told[at + 1]
    assert "allowed units: mm, cm, m, in or thou; a bare number is in inches" in script.told[at + 1]
    assert script.told[at + 2] == "toothed length [inches]> "


def test_back_a_name_and_so_far_lead_through_the_form(new_form: NewForm) -> None:
    script = Script([*SAW[:7], "back", "9", "so far", "rake", "15", "teeth", "10 ppi", *[""] * 10, "wood", "2", "y"])
    path = LineForm(new_form(), script).talk()
    assert path is not None
    saw = load_recipe(path).saw
    assert (saw.count_as, saw.rake, saw.wood) == ("10 points per inch", 15, "dry softwood")
    assert "Tooth: 209 points" in script.text(), "9 points were told for a while: 26 · 8 spaces and the first point"


def test_the_end_of_the_input_keeps_every_answer(new_form: NewForm) -> None:
    assert LineForm(new_form(), Script(SAW[:6])).talk() is None
    form = new_form()
    assert form.answers.text(FormField.LENGTH) == "26"
    script = Script(SAW[6:])
    path = LineForm(form, script).talk()
    assert path is not None
    assert "Going on with a form begun before: 4 answers are kept." in script.told
    assert load_recipe(path).saw.points == 157


def test_passing_by_what_has_to_be_told_does_not_go_on(new_form: NewForm) -> None:
    script = Script(["", "", "", "", "hand"])
    assert LineForm(new_form(), script).talk() is None
    assert script.text().count("This has to be told") == 3


def test_a_pipe_hangs_up_a_saw(tmp_path: Path) -> None:
    typed = "".join(f"{line}\n" for line in [*SAW[:6], "fine", *SAW[6:]])
    command = [sys.executable, "-m", "session", "--till", str(tmp_path), "new"]
    done = subprocess.run(command, input=typed, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    (path,) = tmp_path.glob("*.toml")
    assert path.read_text(encoding="utf-8") in done.stdout, "the recipe is shown"
    assert "Start it: toothline start boat-shed-crosscut" in done.stdout
