"""The form for one's own saw on the screen: fields on the left, the one in hand on the right, what follows below."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Input, OptionList

from session.bench.screens.fresh_styles import FreshStyles
from session.bench.screens.prompt import Prompt
from session.bench.widgets.choice_list import ChoiceList
from session.bench.widgets.form_page import FormPage
from session.bench.widgets.page_notes import what_follows
from session.bench.widgets.too_small import TooSmall
from session.bench.widgets.touch_row import TouchRow
from session.bench.widgets.words import Words
from session.desk.press_guards import Guards
from session.desk.question import Question
from session.form.field_list import field_rows
from session.form.field_terms import field_terms
from session.form.form_fields import FormField
from session.form.form_outlook import outlook
from session.form.form_reading import Reading
from session.form.last_page import told_so_far
from session.form.own_saw_form import OwnSawForm
from session.machine.clean_text import clean
from session.machine.refusal import Refusal

#: An Enter that follows a digit within so many seconds was meant for the digit, which has picked already (judgment).
MEANT_FOR_THE_DIGIT_S: Final = 1.0


class FormScreen(FreshStyles, Screen[Path | None]):
    """Gives the new recipe's file, or None when the form was left; what was answered is kept."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "take", show=False),
        Binding("up,shift+tab", "move(-1)", show=False),
        Binding("down,tab", "move(1)", show=False),
        Binding("pageup", "move(-6)", show=False),
        Binding("pagedown", "move(6)", show=False),
        Binding("escape,f5,ctrl+q,ctrl+c", "leave", show=False),
        Binding("f9", "anew", show=False),
        Binding("f1", "terms", show=False),
    ]

    def __init__(self, form: OwnSawForm, guard_s: float) -> None:
        """guard_s: Enters so many seconds apart or less are a held key, as at the bench (rule 19)."""
        super().__init__()
        self._form: Final = form
        first = form.first_open()
        #: Which row is in hand: a field by its place, or the last row, where the saw is hung up.
        self._at = len(form.fields) if first is None else form.fields.index(first)
        self._clearing = False
        self._guards: Final = Guards(form.clock, guard_s)
        #: What a digit has just picked, and when; empty once another key was pressed.
        self._picked = ("", 0.0)
        #: What is said once, where the answer of the field in hand needs no words.
        self._notice = ""
        if kept := form.begun_before:
            self._notice = f"Going on: {kept} answer{'s' if kept > 1 else ''} of before kept; F9 begins anew."

    def compose(self) -> ComposeResult:
        """Title, fields, the page of the one in hand, what follows, and the boxes."""
        yield Words("", id="form-title")
        with Horizontal(id="form-body"):
            fields = ChoiceList(id="form-fields")
            fields.can_focus = False
            yield fields
            yield FormPage(self._form, self.picks, self.leads)
        yield Words("", id="form-outlook")
        yield TouchRow(id="form-boxes")
        yield TooSmall(id="small")

    def on_mount(self) -> None:
        """Begin at the first field that was not answered yet."""
        self.set_class(getattr(self.app, "ascii_only", False), "ascii")
        self.query_one(TouchRow).boxes = (
            ("next", "Enter", "take, next"),
            ("back", "↑", "back"),
            ("ahead", "↓", "on"),
            ("terms", "F1", "words"),
            ("leave", "Esc", "leave, kept"),
            ("anew", "F9", "begin anew"),
        )
        self._enter()

    def on_resize(self, event: events.Resize) -> None:
        """Ask for room where there is too little, and draw the picture for the new room."""
        self.set_class(not self.query_one(TooSmall).fit(event.size), "small")
        self.call_after_refresh(self._page.draw_picture)

    @property
    def field(self) -> FormField | None:
        """The field in hand; None on the last row."""
        return self._form.fields[self._at] if self._at < len(self._form.fields) else None

    @property
    def _page(self) -> FormPage:
        return self.query_one(FormPage)

    def picks(self, number: int) -> bool:
        """Whether ``number`` picks a choice of the field in hand at once; then it does."""
        field = self.field
        choices = self._form.page(field).choices if field is not None else ()
        if not 1 <= number <= len(choices) <= 9:
            return False
        self._take(str(number))
        self._picked = (choices[number - 1], self._form.clock.steady_s())
        return True

    def leads(self, key: str) -> bool:
        """Whether ``key`` leads through the form, whatever is being typed; then it does."""
        if key != "f9":
            self._clearing = False
        (picked, at), self._picked = self._picked, ("", 0.0)
        match key:
            case "enter" if picked and self._form.clock.steady_s() - at < MEANT_FOR_THE_DIGIT_S:
                self._say(f"“{picked}” was taken by its digit already. Enter again answers this one.")
            case "enter":
                self.action_take()
            case "up" | "shift+tab":
                self.action_move(-1)
            case "down" | "tab":
                self.action_move(1)
            case "pageup" | "pagedown":
                self.action_move(-6 if key == "pageup" else 6)
            case "escape" | "f5" | "ctrl+q" | "ctrl+c":
                self.action_leave()
            case "f9":
                self.action_anew()
            case "f1":
                self.action_terms()
            case "question_mark" if self.field is not FormField.NAME:
                # A saw's name may hold it; anywhere else it asks for help.
                self.action_terms()
            case _:
                return False
        return True

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what follows from what is being typed; nothing of it is kept yet."""
        if (field := self.field) is not None:
            # Keys may have gone on to another field before this one is heard of.
            text = clean(self._page.line.value).strip()
            self._show(self._form.with_answer(field, text) if text else self._form.reading, typing=True)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A field that is touched is gone to, a choice that is touched is taken."""
        if event.option_list.id == "form-fields":
            self._go(event.option_index)
        else:
            self._take(str(event.option_index + 1))

    def on_touch_row_box_touched(self, event: TouchRow.BoxTouched) -> None:
        """A box does what its key does."""
        keys = {"next": "enter", "back": "up", "ahead": "down", "terms": "f1", "leave": "escape", "anew": "f9"}
        self._picked = ("", 0.0)
        self.leads(keys[event.box])

    def action_take(self) -> None:
        """Take the answer and go on, or say what is wrong with it; on the last row, hang the saw up."""
        if self._guards.repeats() and self.field is None:
            # A held key passes what is usual by; it hangs nothing up.
            self._say("Read this page first; Enter again does it.")
            return
        self._take(self._page.line.value)

    def action_move(self, by: int) -> None:
        """Go ``by`` rows on; what was typed is kept as it stands, right or wrong."""
        self._go(max(0, min(len(self._form.fields), self._at + by)))

    def action_leave(self) -> None:
        """Leave with every answer kept, what stands on the line among them."""
        if self._kept():
            self.dismiss(None)

    def action_terms(self) -> None:
        """Show the terms of the page in hand, each with its meaning."""
        if (field := self.field) is not None:
            page = self._form.page(field)
            lines = (what_follows(page), *field_terms(page))
            self.app.push_screen(Prompt(Question("The words of this page", lines)))

    def action_anew(self) -> None:
        """Throw all answers away, at the second press: no single key does it."""
        if not self._clearing:
            self._clearing = True
            self._say("F9 again throws every answer of this form away; any other key keeps them.")
            return
        self._clearing = False
        try:
            self._form.begin_anew()
        except Refusal as wrong:
            self._say(str(wrong))
            return
        self._at = 0
        self._enter()

    def on_key(self, event: events.Key) -> None:
        """Any other key takes the throwing away back."""
        if event.key != "f9":
            self._clearing = False

    def _take(self, text: str) -> None:
        field = self.field
        if field is None:
            self._hang_up()
            return
        try:
            page = self._form.answer(field, text)
        except Refusal as wrong:
            self._say(str(wrong))
            return
        if page.wrong or field in self._form.reading.missing:
            self._show(self._form.reading)
            self._page.refuse()
            if not page.wrong:
                self._say("This has to be told, unless the saw is like another one: see “start from”.")
            return
        self._at += 1
        self._notice = ""
        self._enter()

    def _kept(self) -> bool:
        """Keep what stands on the line; whether the disk took it."""
        field = self.field
        text = clean(self._page.line.value).strip()
        if field is None or text == self._form.answers.text(field):
            return True
        try:
            self._form.answer(field, text)
        except Refusal as wrong:
            self._say(str(wrong))
            return False
        return True

    def _go(self, at: int) -> None:
        if self._kept():
            self._at, self._notice = at, ""
            self._enter()

    def _hang_up(self) -> None:
        if (wrong := self._form.first_wrong()) is not None:
            self._at = self._form.fields.index(wrong)
            self._enter()
            return
        try:
            self.dismiss(self._form.hang_up())
        except Refusal as refused:
            self._say(str(refused))

    def _enter(self) -> None:
        """Show the row in hand as it is kept."""
        field = self.field
        self._page.enter(field)
        self._show(self._form.reading)
        if field is not None:
            self._page.line.focus()
        else:
            self.set_focus(None)

    def _show(self, reading: Reading, *, typing: bool = False) -> None:
        """Show what ``reading`` comes to."""
        field, unit = self.field, self._form.unit_word
        place = f"{self._at + 1} of {len(self._form.fields)}" if field is not None else told_so_far(self._form)
        self.query_one("#form-title", Words).say(f"{self._form.words[0]} · a bare number is in {unit} · {place}")
        self.query_one("#form-fields", ChoiceList).fill(field_rows(self._form, reading), chosen=self._at)
        told = outlook(reading, self._form.unit)
        lines = [f"{heading:<8}{words}" for heading, words in told.lines]
        lines += [f"Take care: {warning}" for warning in told.warnings]
        below = self.query_one("#form-outlook", Words)
        below.say("\n".join(lines))
        below.border_title = (
            "what follows so far, the usual where nothing was told" if told.supposed else "what follows"
        )
        if field is None:
            self._page.show_end(self._notice)
        else:
            self._page.show(self._form.page(field, reading), reading, self._notice, typing=typing)

    def _say(self, words: str) -> None:
        self._page.say(words)
