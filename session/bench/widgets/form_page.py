"""The page of the field in hand of the form: what it asks, its line, its choices, the answer, notes and picture."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input

from session.bench.widgets.choice_list import ChoiceList
from session.bench.widgets.field_picture import field_picture
from session.bench.widgets.form_line import FormLine
from session.bench.widgets.page_notes import page_answer, page_asks, page_notes
from session.bench.widgets.words import Words
from session.form.form_fields import FormField
from session.form.form_reading import Reading
from session.form.last_page import asked_last, told_last
from session.form.own_saw_form import FieldPage, OwnSawForm
from session.pictures.picture_rows import plain


class FormPage(Vertical):
    """Shows one field of ``form`` at a time, or what comes after the last; picks and leads are those of the line."""

    def __init__(self, form: OwnSawForm, picks: Callable[[int], bool], leads: Callable[[str], bool]) -> None:
        super().__init__(id="form-page")
        self._form = form
        self._picks, self._leads = picks, leads
        self._field: FormField | None = None
        self._reading: Reading | None = None

    def compose(self) -> ComposeResult:
        """From above: the question, the line, what was answered, the choices, the notes, the picture."""
        yield Words("", id="form-asks")
        yield FormLine(self._picks, self._leads, id="form-line")
        yield Words("", id="form-answer")
        choices = ChoiceList(id="form-choices")
        choices.can_focus = False
        yield choices
        yield Words("", id="form-notes")
        yield Words("", id="form-picture")

    @property
    def line(self) -> FormLine:
        """Where the answer is typed."""
        return self.query_one(FormLine)

    def enter(self, field: FormField | None) -> None:
        """Begin with ``field`` as it is kept; None for what comes after the last."""
        self._field, line = field, self.line
        with self.prevent(Input.Changed):
            line.value = self._form.answers.text(field) if field is not None else ""
        line.cursor_position = len(line.value)
        line.refused = field is not None and bool(self._form.page(field).wrong)
        line.display = field is not None
        rows = self._form.page(field).rows if field is not None else ()
        listed = self.query_one("#form-choices", ChoiceList)
        listed.display = bool(rows)
        if rows:
            listed.fill(rows, chosen=None)

    def refuse(self) -> None:
        """What was refused stays to be mended, as at the bench, or to be typed over."""
        self.line.cursor_position = len(self.line.value)
        self.line.refused = True

    def show(self, page: FieldPage, reading: Reading, notice: str, *, typing: bool) -> None:
        """Show ``page`` with what ``reading`` comes to, and ``notice`` where its answer needs no words."""
        self._reading = reading
        most = len(page.choices)
        picks = (f"1 {'or' if most == 2 else 'to'} {most} picks at once",) if 1 < most <= 9 else ()
        self.line.placeholder = "; ".join((*picks, *((f"Enter: {page.enter}",) if page.enter else ())))
        answer = page_answer(page, typing=typing) or notice
        self.say(answer)
        asks = page_asks(page, answer, self.size.width - 2, self.size.height)
        self.query_one("#form-asks", Words).say(asks)
        notes = page_notes(page, answer, self.size.width - 2, self.size.height)
        self.query_one("#form-notes", Words).say(notes)
        self.call_after_refresh(self.draw_picture)

    def show_end(self, notice: str) -> None:
        """Show what comes after the last field."""
        self.query_one("#form-asks", Words).say(asked_last(self._form))
        self.say(notice)
        self.query_one("#form-notes", Words).say("\n".join(told_last(self._form)))
        self.query_one("#form-picture", Words).say("")

    def say(self, words: str) -> None:
        """Say ``words`` where what was answered stands."""
        self.query_one("#form-answer", Words).say(words)

    def draw_picture(self) -> None:
        """Draw the picture of the field in hand in the rows that its words leave."""
        reading = self._reading or self._form.reading
        field, sketch = self._field, reading.sketch()
        here = self.query_one("#form-picture", Words)
        if field is None or sketch is None or (field is FormField.CUT and field in reading.missing):
            # The nearest saw's file, square or askew, would look like the answer.
            here.say("")
            return
        used = sum(one.size.height for one in self.children if one.display and one is not here)
        room = self.size.height - used
        rows = field_picture(field, sketch.saw, self.size.width - 2, room, ascii=getattr(self.app, "ascii_only", False))
        here.say("\n".join(plain(rows)))
