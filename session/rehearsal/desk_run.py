"""A sharpening without a screen: the simulated filer works a desk, move by move, as it would the bench."""

from __future__ import annotations

from typing import Final, Self

from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.machine.clock import SetClock
from session.rehearsal.filer import Filer
from session.rehearsal.filer_move import Move
from session.sentences.saying import Saying
from session.value_class import replace

#: Moves without any mark after which the filer and the program have lost each other.
PATIENCE: Final = 20


class LostError(RuntimeError):
    """The simulated filer and the program disagree: a fault of the program, never of the user."""


class DeskRun:
    """One filer at one desk whose clock is ``clock``.

    moves: what it did. heard: what was said before each move, one for one with them.
    """

    def __init__(self, desk: Desk, clock: SetClock, filer: Filer) -> None:
        self.desk: Final = desk
        self.clock: Final = clock
        self.filer: Final = filer
        self.moves: Final[list[Move]] = []
        self.heard: Final[list[Saying]] = []
        self._unchanged = 0

    def run(self) -> Self:
        """Go on until the record is closed. Raises LostError when it does not come to that."""
        while self.step():
            pass
        return self

    def step(self) -> bool:
        """One move; False when the filer has none left. Raises LostError when nothing comes of move after move."""
        saying = self.desk.moment.said
        move = self.filer.next(saying)
        if move is None:
            return False
        self.heard.append(saying)
        self.moves.append(move)
        self.clock.pass_s(max(move.takes_s, self.desk.guards.guard_s))
        before = len(self.desk.sitting.state.marks)
        reply = self.desk.act(move.act, move.digit)
        if reply.opens is not None:
            self._answer(move, reply.opens)
        self._unchanged = 0 if len(self.desk.sitting.state.marks) > before else self._unchanged + 1
        if self._unchanged > PATIENCE:
            raise LostError(f"nothing comes of {move.act} at {saying.title}: {reply.note}")
        return True

    def _answer(self, move: Move, opens: QuestionKind) -> Reply:
        question = questions(self.desk, opens, {})
        text = self.filer.choose(question) if move.text is None else move.text
        wrong = None if text in question.choices else question.check(text)
        if wrong is not None and opens is QuestionKind.SET_PLACE and question.then is not None:
            second = self.filer.tally.second_answer(question, text, wrong)
            if second is None:
                return Reply(wrong, refused=True)
            text, wrong = second, None
        if question.then is None or wrong is not None:
            raise LostError(f"{question.title}: {text} is no answer: {wrong}")
        reply = question.then(text)
        if reply.opens is None:
            return reply
        # What was answered asks for more: of that nothing was planned with the move.
        return self._answer(replace(move, text=None), reply.opens)
