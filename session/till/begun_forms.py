"""Forms of saws that were begun and left: what each holds, so that the till can name it.

A form keeps its answers in `drafts/`, as session.form.saw_draft has it; here they are only counted.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from session.files.saw_names import name_inside
from session.machine.clean_text import clean
from session.machine.untrusted_text import ReadingError, parse, read_text
from session.till.till_folder import Till
from session.till.till_names import DRAFTS
from session.value_class import dataclass

#: The draft of a saw that is being hung up, and what the drafts of changes begin with.
NEW: Final = "new"
EDIT: Final = "edit-"

#: Of a name, so many characters are shown.
_LONGEST: Final = 40


@dataclass(frozen=True, slots=True)
class BegunForm:
    """A form with at least one answer. recipe: the saw that is changed, None for a new one. answers: how many."""

    name: str
    recipe: Path | None
    answers: int

    @property
    def words(self) -> str:
        """What it is, and that nothing of it is lost."""
        count = f"{self.answers} answer{'s' if self.answers != 1 else ''} kept"
        if self.recipe is None:
            return f"BEGUN  {self.name or 'a new saw'}: {count}, not hung up yet"
        return f"BEGUN  a change of {self.name}: {count}, nothing changed yet"


def begun_forms(till: Till) -> list[BegunForm]:
    """The forms of ``till`` that wait, the new saw's first. One that cannot be read counts for none, as its form has
    it. Raises Refusal when the till's folder cannot be read."""
    told = _answers(till, NEW)
    found = [BegunForm(_name(told), None, len(told))] if told else []
    changed = ((recipe, _answers(till, f"{EDIT}{recipe.stem}")) for recipe in till.saws())
    return found + [BegunForm(name_inside(one) or clean(one.stem), one, len(told)) for one, told in changed if told]


def _answers(till: Till, draft: str) -> dict[str, str]:
    """The answers that were typed; one that was passed by says nothing yet."""
    try:
        values: Any = parse(read_text(till.path / DRAFTS / f"{draft}.toml")).get("answers")
    except ReadingError:
        return {}
    given = values.items() if isinstance(values, dict) else ()
    typed = {name: one.get("typed") for name, one in given if isinstance(one, dict)}
    return {name: clean(text) for name, text in typed.items() if isinstance(text, str) and text}


def _name(told: dict[str, str]) -> str:
    name = told.get("name", "")
    return name if len(name) <= _LONGEST else f"{name[: _LONGEST - 1]}…"
