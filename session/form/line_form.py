"""The form line by line: for screen readers, simple terminals and pipes."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Protocol

from session.form.field_terms import field_terms
from session.form.form_fields import FormField
from session.form.form_outlook import Outlook
from session.form.last_page import told_last
from session.form.own_saw_form import FieldPage, OwnSawForm
from session.machine.clean_text import clean
from session.machine.refusal import Refusal


class FormLines(Protocol):
    """Where lines are told and typed."""

    def tell(self, line: str) -> None:
        """Say one line."""
        ...

    def typed(self, prompt: str) -> str:
        """The next line typed. Raises EOFError when there is none."""
        ...


_HOW: Final = (
    'Line by line. Enter alone takes what is usual, or passes by; "back" goes back, "so far" says what follows, '
    '"list" names all fields, a field\'s name goes to it, "words" says what the trade\'s words mean, "leave" leaves. '
    "Every answer is kept at once."
)


class LineForm:
    """Asks a form's fields one after another, until the saw hangs or the form is left."""

    def __init__(self, form: OwnSawForm, lines: FormLines) -> None:
        self._form: Final = form
        self._lines: Final = lines
        self._told: Outlook | None = None
        #: The field whose last answer was not understood: it is asked again without all of its words.
        self._again: FormField | None = None

    def talk(self) -> Path | None:
        """Ask until the saw is hung up; its file, or None when it was left. What was answered is kept.

        Raises Refusal when the disk will not take an answer or the file.
        """
        self._lines.tell(_HOW)
        if kept := self._form.begun_before:
            self._lines.tell(f"Going on with a form begun before: {kept} answer{'s are' if kept > 1 else ' is'} kept.")
        self._told = self._form.outlook
        at: FormField | None = self._form.first_open()
        try:
            while True:
                if at is None:
                    at, done = self._end()
                    if done is not None or at is None:
                        return done
                    continue
                if self._again is not at:
                    self._ask(self._form.page(at))
                self._again = None
                typed = " ".join(clean(self._lines.typed(self._prompt(at))).split())
                if typed.casefold() in ("leave", "quit"):
                    break
                at = self._heard(at, typed)
        except EOFError:
            self._lines.tell("The input has ended.")
        self._lines.tell("Nothing is written yet; every answer is kept, and the same command goes on.")
        return None

    def _heard(self, at: FormField, typed: str) -> FormField | None:
        """What one line does; the field asked next, None for the end."""
        fields = self._form.fields
        word = typed.casefold()
        if word == "back":
            return fields[max(0, fields.index(at) - 1)]
        if word == "so far":
            self._say_outlook(self._form.outlook)
            return at
        if word == "list":
            self.say_all()
            return at
        if word == "words":
            for line in field_terms(self._form.page(at)) or ("It uses none of the trade's.",):
                self._lines.tell(f"  {line}")
            return at
        if at is not FormField.NAME and (other := self._named(word)) is not None and other is not at:
            return other
        # Enter alone keeps what was answered before, unless that was not understood.
        before = self._form.page(at)
        page = before if not typed and before.typed and not before.wrong else self._form.answer(at, typed)
        if page.wrong:
            self._lines.tell(f"  Not understood: {page.wrong}")
            self._again = at
            return at
        if not page.understood and page.name in self._form.reading.missing:
            self._lines.tell("  This has to be told, unless the saw is like another one: see “start from”.")
            self._again = at
            return at
        taken = "Understood" if page.told else "As it is" if self._form.kept is not None else "Usual taken"
        if page.understood:
            self._lines.tell(f"  {taken}: {page.understood.removeprefix('usual: ')}")
        if page.doubt:
            self._lines.tell(f"  Is that so? {page.doubt}")
        self._say_changes()
        place = fields.index(at) + 1
        return fields[place] if place < len(fields) else None

    def _end(self) -> tuple[FormField | None, Path | None]:
        """All was asked: show it, and hang the saw up on a yes; where to go on, or the new file."""
        wrong = self._form.first_wrong()
        if wrong is not None:
            self._lines.tell("Before it can hang, this is to be put right:")
            return wrong, None
        self.say_all()
        for line in told_last(self._form):
            self._lines.tell(f"  {line}")
        self._say_outlook(self._form.outlook)
        last = self._form.words[1].capitalize()
        while True:
            typed = clean(self._lines.typed(f'{last}? "y", or the name of a field to change, or "leave"> ')).strip()
            if typed.casefold() in ("y", "yes"):
                try:
                    return None, self._form.hang_up()
                except Refusal as refused:
                    self._lines.tell(str(refused))
                    continue
            if typed.casefold() in ("leave", "quit", "n", "no"):
                raise EOFError
            if (named := self._named(typed.casefold())) is not None:
                return named, None
            self._lines.tell('  Allowed: "y", "leave", or a field\'s name.')

    def say_all(self) -> None:
        """Every field with its answer, or what counts in its place."""
        for number, name in enumerate(self._form.fields, 1):
            page = self._form.page(name)
            answer = f"WRONG: {page.wrong}" if page.wrong else page.understood or "-"
            self._lines.tell(f"  {number:>2} {page.words.title}: {answer}")

    def _ask(self, page: FieldPage) -> None:
        fields = self._form.fields
        self._lines.tell("")
        place = fields.index(page.name) + 1
        self._lines.tell(f"{place} of {len(fields)}, {page.words.title}: {page.words.asks}")
        for sentence in (*page.words.how, f"{page.words.follows} ({page.words.source})"):
            self._lines.tell(f"  {sentence}")
        if page.choices:
            told = page.beside or ("",) * len(page.choices)
            each = (f"{one} ({what})" if what else one for one, what in zip(page.choices, told, strict=True))
            self._lines.tell("  " + ", ".join(f"{number} {one}" for number, one in enumerate(each, 1)))
        self._lines.tell(f"  {page.stands}")
        if page.typed:
            self._lines.tell(f"  Answered before: {page.typed}")

    def _prompt(self, at: FormField) -> str:
        title = self._form.page(at).words.title
        return f"{title} [{self._form.unit_word}]> "

    def _named(self, word: str) -> FormField | None:
        return next((name for name in self._form.fields if word in (name, self._form.page(name).words.title)), None)

    def _say_changes(self) -> None:
        now = self._form.outlook
        before = dict(self._told.lines) if self._told is not None else {}
        changed = tuple(line for line in now.lines if before.get(line[0]) != line[1])
        old = self._told.warnings if self._told is not None else ()
        self._say_outlook(Outlook(changed, tuple(one for one in now.warnings if one not in old), now.supposed))
        self._told = now

    def _say_outlook(self, told: Outlook) -> None:
        for heading, words in told.lines:
            self._lines.tell(f"  {heading}{' so far' if told.supposed else ''}: {words}")
        for warning in told.warnings:
            self._lines.tell(f"  Take care: {warning}")
