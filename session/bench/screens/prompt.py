"""A question over the bench: pick from a list, or type an answer that is checked before it is taken."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList

from session.bench.screens.fresh_styles import FreshStyles
from session.bench.widgets.choice_list import ChoiceList
from session.bench.widgets.words import Words
from session.desk.key_names import shown
from session.desk.question import LONGEST, Question
from session.machine.clean_text import clean

#: Keys that a list takes for itself, to move aside where nothing is wider than it is shown.
_LED_IN: Final = frozenset({"left", "right"})


class _Line(Input):
    """An input that gives a digit to the choices while nothing is typed yet, and right after a text was refused."""

    def __init__(self, choices: int, begun: str) -> None:
        # What the line begins with is gone on with: the next key does not take its place.
        super().__init__(begun, compact=True, max_length=LONGEST, id="typed", select_on_focus=False)
        self._choices = choices
        self.refused = False

    def on_key(self, event: events.Key) -> None:
        """Pick a choice with one press; the next character typed makes it a text."""
        begins, self.refused = not self.value or self.refused, False
        if begins and event.character and event.character.isdecimal() and 1 <= int(event.character) <= self._choices:
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


class Prompt(FreshStyles, ModalScreen[str | None]):
    """Asks one thing. Gives the answer as text, or None when it was closed with Escape."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f5", "close", "close", priority=True),
        Binding("up", "choose('up')", "the choice above", show=False),
        Binding("down", "choose('down')", "the choice below", show=False),
    ]

    def __init__(self, question: Question, heard: Callable[[str], None] = lambda _: None) -> None:
        """heard: is given what is wrong with an answer, to say it aloud."""
        super().__init__()
        self._heard: Final = heard
        self.question = question
        #: The answer whose several places have been named, and that a second Enter takes (bench rule 9).
        self.named = ""

    def compose(self) -> ComposeResult:
        """Title, words, choices, the line to type on, and what is wrong with it."""
        asked = self.question
        with Vertical(classes="sheet both" if asked.lines and self._rows else "sheet"):
            yield Words(asked.title, classes="sheet-title")
            if asked.lines:
                with VerticalScroll(classes="sheet-body", can_focus=asked.hint is None and not self._rows):
                    yield Words("\n".join(asked.lines))
            if self._rows:
                # What is looked through is begun at once; what is picked waits for a key that means to pick.
                chosen = 0 if asked.rows else None
                yield ChoiceList(self._rows, chosen=chosen, classes="sheet-list")
            if asked.hint is not None:
                yield Words(asked.how_to_type, classes="hint")
                yield _Line(len(asked.choices), asked.typed)
            yield Words("", id="wrong")
            yield Words(self._foot(), classes="foot")

    @property
    def _rows(self) -> tuple[str, ...]:
        return self.question.rows or tuple(f" {n}  {choice}" for n, choice in enumerate(self.question.choices, 1))

    def on_mount(self) -> None:
        """Put the focus where typing goes, or where choosing or scrolling does."""
        self.set_class(getattr(self.app, "ascii_only", False), "ascii")
        long = next(iter((*self.query(ChoiceList), *self.query(".sheet-body"))), None)
        target = self.query_one("#typed") if self.question.hint is not None else long
        if target is not None:
            target.focus()
        # That there is more than the sheet shows is said in words too; a scroll bar alone is easily overlooked.
        if long is not None:
            self.watch(long, "show_vertical_scrollbar", self._say_foot)

    def on_key(self, event: events.Key) -> None:
        """Pick by digit where there is nothing to type."""
        if self.question.hint is not None:
            return
        if event.character and event.character.isdecimal():
            event.stop()
            self.pick(int(event.character))
        elif event.key in _LED_IN or event.key not in self.active_bindings:
            # What led in may do nothing here, but not in silence; the foot says the rest already.
            self._say_wrong(f"{shown(event.key)} does nothing here; Esc closes.")

    def pick(self, number: int) -> None:
        """Answer with choice ``number``; a number that is no choice changes nothing, and one that answers for several
        places is picked twice."""
        if not 1 <= number <= len(self.question.choices):
            return
        choice = self.question.choices[number - 1]
        if choice != self.named and (several := self.question.several(choice)):
            self.named = choice
            self._say_wrong(f"{several} Pick {number} again to do so.")
            return
        self.dismiss(choice)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A choice that is touched, or pointed at and taken, is picked."""
        self.pick(event.option_index + 1)

    def action_choose(self, step: str) -> None:
        """Move along the choices while the line to type on has the keys."""
        for choices in self.query(ChoiceList):
            choices.action_cursor_down() if step == "down" else choices.action_cursor_up()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the typed answer when it will do; else say in words what is wrong with it."""
        text = clean(event.value).strip()
        chosen = next((one.highlighted for one in self.query(ChoiceList)), None)
        if not text and chosen is not None:
            self.pick(chosen + 1)
            return
        wrong = "nothing was typed; Esc closes" if not text else self.question.check(text)
        if wrong is None and text != self.named and (several := self.question.several(text)):
            self.named, wrong = text, f"{several} Enter again does so."
        if wrong is None:
            self.dismiss(text)
        else:
            # What was refused stays to be mended, the reason under it.
            self._say_wrong(wrong)
            event.input.cursor_position = len(event.input.value)
            self.query_one(_Line).refused = True

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show how the text is understood so far; nothing of it is taken yet, and what was said of another is gone."""
        self.named = ""
        told, row = self.question.understood(clean(event.value).strip()), self.query_one("#wrong", Words)
        row.set_class(bool(told), "told")
        row.say(told)

    def _say_wrong(self, wrong: str) -> None:
        row = self.query_one("#wrong", Words)
        row.remove_class("told")
        row.say(wrong)
        self._heard(wrong)

    def action_close(self) -> None:
        """Close without an answer."""
        self.dismiss(None)

    def _say_foot(self, scrolls: bool) -> None:
        more = scrolls and (self.question.hint is None or bool(self.question.choices))
        self.query_one(".foot", Words).say(("↑ ↓ show the rest · " if more else "") + self._foot())

    def _foot(self) -> str:
        parts = []
        if self.question.choices:
            parts.append(f"1–{min(9, len(self.question.choices))} picks")
        if self.question.hint is not None:
            parts.append("Enter takes it")
        parts.append("Esc closes, nothing changes")
        return " · ".join(parts)
