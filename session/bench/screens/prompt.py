"""A question over the bench: pick by digit, or type an answer that is checked before it is taken."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input

from session.bench.widgets.words import Words
from session.desk.question import LONGEST, Question
from session.machine.clean_text import clean


class _Line(Input):
    """An input that gives a digit to the choices while nothing is typed yet."""

    def __init__(self, choices: int) -> None:
        super().__init__(compact=True, max_length=LONGEST, id="typed")
        self._choices = choices

    def on_key(self, event: events.Key) -> None:
        """Pick a choice with one press; the next character typed makes it a text."""
        if (
            not self.value
            and event.character
            and event.character.isdigit()
            and 1 <= int(event.character) <= self._choices
        ):
            event.stop()
            event.prevent_default()
            prompt = self.screen
            assert isinstance(prompt, Prompt)
            prompt.pick(int(event.character))

    def on_paste(self, event: events.Paste) -> None:
        """Take what is pasted as one line without control signs: the terminal would obey them as it is drawn."""
        event.prevent_default()
        event.stop()
        self.replace(clean(event.text), *self.selection)


class Prompt(ModalScreen[str | None]):
    """Asks one thing. Gives the answer as text, or None when it was closed with Escape."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f5", "close", "close", priority=True),
    ]

    def __init__(self, question: Question) -> None:
        super().__init__()
        self.question = question
        #: The answer whose several places have been named, and that a second Enter takes (bench rule 9).
        self.named = ""

    def compose(self) -> ComposeResult:
        """Title, words, choices, the line to type on, and what is wrong with it."""
        asked = self.question
        with Vertical(classes="sheet"):
            yield Words(asked.title, classes="sheet-title")
            with VerticalScroll(classes="sheet-body", can_focus=asked.hint is None):
                for line in asked.lines:
                    yield Words(line)
                for number, choice in enumerate(asked.choices, 1):
                    yield Words(f" {number}  {choice}", classes="choice")
            if asked.hint is not None:
                yield Words(asked.how_to_type, classes="hint")
                yield _Line(len(asked.choices))
            yield Words("", id="wrong")
            yield Words(self._foot(), classes="foot")

    def on_mount(self) -> None:
        """Put the focus where typing goes, or where scrolling does."""
        self.set_class(getattr(self.app, "ascii_only", False), "ascii")
        target = "#typed" if self.question.hint is not None else ".sheet-body"
        self.query_one(target).focus()
        # That there is more than the sheet shows is said in words too; a scroll bar alone is easily overlooked.
        self.watch(self.query_one(".sheet-body"), "show_vertical_scrollbar", self._say_foot)

    def on_key(self, event: events.Key) -> None:
        """Pick by digit where there is nothing to type."""
        if self.question.hint is None and event.character and event.character.isdigit():
            event.stop()
            self.pick(int(event.character))

    def pick(self, number: int) -> None:
        """Answer with choice ``number``; a number that is no choice changes nothing."""
        if 1 <= number <= len(self.question.choices):
            self.dismiss(self.question.choices[number - 1])

    def on_click(self, event: events.Click) -> None:
        """A choice that is touched is picked."""
        # As the click comes up through the sheet it no longer says on what it fell.
        touched, _ = self.get_widget_at(event.screen_x, event.screen_y)
        for number, choice in enumerate(self.query(".choice"), 1):
            if touched is choice:
                self.pick(number)
                return

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the typed answer when it will do; else say in words what is wrong with it."""
        text = clean(event.value).strip()
        wrong = "nothing was typed; Esc closes" if not text else self.question.check(text)
        if wrong is None and text != self.named and (several := self.question.several(text)):
            self.named, wrong = text, f"{several} Enter again does so."
        if wrong is None:
            self.dismiss(text)
        else:
            self.query_one("#wrong", Words).say(wrong)

    def action_close(self) -> None:
        """Close without an answer."""
        self.dismiss(None)

    def _say_foot(self, scrolls: bool) -> None:
        more = scrolls and self.question.hint is None
        self.query_one(".foot", Words).say(("↑ ↓ show the rest · " if more else "") + self._foot())

    def _foot(self) -> str:
        parts = []
        if self.question.choices:
            parts.append(f"1–{min(9, len(self.question.choices))} picks")
        if self.question.hint is not None:
            parts.append("Enter takes it")
        parts.append("Esc closes, nothing changes")
        return " · ".join(parts)
