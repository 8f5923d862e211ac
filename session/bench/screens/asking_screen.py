"""A screen over which questions are asked: which sheet an act opens, and what becomes of its answer."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Mapping

from textual.screen import Screen

from session.bench.screens.fresh_styles import FreshStyles
from session.bench.voice import Speaker, Voice
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.desk.question import Question
from session.sentences.offers import Act
from session.value_class import replace


class AskingScreen(FreshStyles, Screen[str]):
    """Opens the sheets of one desk and has them spoken. Closes with "till" or "quit"."""

    def __init__(self, desk: Desk, keymap: Mapping[Act, tuple[str, ...]], speaker: Speaker | None) -> None:
        super().__init__()
        self.desk = desk
        self.keymap = keymap
        self.voice = Voice(speaker, keymap)

    @abstractmethod
    def show(self, note: str = "", *, refused: bool = False, again: bool = False) -> None:
        """Show this moment; again: a sheet has stood over it."""

    @abstractmethod
    def do(self, work: Callable[[], Reply | None]) -> None:
        """Do what may write to disk, and show what came of it."""

    def open_sheet(self, reply: Reply) -> None:
        """Open what ``reply`` asks to be opened, if anything."""
        if reply.opens is QuestionKind.LEAVE:
            # The first screen does not wait for the sheets that may come over it.
            from session.bench.screens.leave import Leave

            leave = Leave(self.desk.making.saved())
            self.voice.words(*leave.told)
            self.app.push_screen(leave, self._left)
        elif reply.opens is QuestionKind.TILL:
            self.dismiss("till")
        elif reply.shows:
            self._ask(Question(reply.shows[0], reply.shows[1:]))
        elif reply.opens is not None:
            from session.desk.act_questions import questions

            self._ask(replace(questions(self.desk, reply.opens, self.keymap), typed=reply.typed))

    def _ask(self, question: Question) -> None:
        from session.bench.screens.prompt import Prompt

        self.voice.question(question)
        self.app.push_screen(Prompt(question, self.voice.words), self._after(question.then))

    def _after(self, then: Callable[[str], Reply] | None) -> Callable[[str | None], None]:
        def answered(text: str | None) -> None:
            self.desk.touched()
            if text is None or then is None:
                self.show("Closed; nothing was changed." if then is not None else "", again=True)
            else:
                self.do(lambda: then(text))

        return answered

    def _left(self, answer: str | None) -> None:
        if answer in ("till", "quit"):
            self.dismiss(answer)
        else:
            self.show(again=True)
