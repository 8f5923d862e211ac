"""The line-by-line mode: the bench for screen readers, simple terminals and pipes.

It is a second front end over the same `Desk`. Each moment is a few short lines and a prompt; each answer is a
word or a number and Enter. Nothing moves the cursor, nothing is told by color.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Protocol

from session.desk.act_questions import looking_back, questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.desk.line_mode_text import Spoken, fresh, in_ascii, spoken
from session.desk.line_mode_words import SAY, help_lines, meaning, number_in
from session.desk.question import LONGEST, Question
from session.machine.clean_text import clean
from session.sentences.offers import Act
from session.walk.place import looks_at_flats
from session.walk.rules import MOST_STROKES

#: Marks that "look" tells, newest first.
LOOKS_BACK: Final = 10

#: The exit status of a sharpening left while the disk would not take a mark (session/cli.py).
DISK: Final = 4

_CLOSED: Final = "Closed; nothing was changed."


class Lines(Protocol):
    """Where lines are told and typed."""

    def tell(self, line: str) -> None:
        """Say one line."""
        ...

    def typed(self, prompt: str) -> str:
        """The next line typed. Raises EOFError when there is none."""
        ...


class Plain:
    """Talks one sitting through, until it is finished or left."""

    def __init__(self, desk: Desk, keymap: Mapping[Act, tuple[str, ...]], lines: Lines) -> None:
        self.desk: Final = desk
        self._keymap: Final = keymap
        self._lines: Final = lines
        self._said: Spoken | None = None

    def talk(self, note: str = "") -> int:
        """Work from ``note`` about the opening to the end, and give the exit status. An end of input leaves."""
        self.begin(note)
        try:
            while not self.desk.sitting.state.finished:
                if not self.hear():
                    return self._status
        except EOFError:
            self._lines.tell("The input has ended.")
        return self.leave()

    def begin(self, note: str = "") -> None:
        """Say how it is done, ``note``, and the first moment."""
        self._lines.tell('Line by line. Type "help" for the words, "say" to hear all of a moment again.')
        self._answer(Reply(note))

    def leave(self) -> int:
        """Say that all is saved, or what is not; the exit status."""
        self._lines.tell(in_ascii(self.desk.making.saved()))
        return self._status

    @property
    def _status(self) -> int:
        return DISK if self.desk.fault else 0

    def _typed(self, prompt: str = "> ") -> str:
        """A line as typed, made safe; one that is too long is asked for again."""
        while True:
            text = clean(self._lines.typed(prompt)).strip()
            if len(text) <= LONGEST:
                return text
            self._lines.tell(f"{len(text):,} characters; allowed: at most {LONGEST}. Nothing was changed.")

    def hear(self) -> bool:
        """Read one line and do what it means; False when it leaves. Raises EOFError when there is none."""
        text = self._typed()
        if looks_at_flats(self.desk.moment.place):
            # A scan read meanwhile is offered; no choice before it takes another number.
            self.desk.told_more()
        if text.casefold() == SAY:
            self._said = None
            self._answer(Reply())
            return True
        number = number_in(text)
        if number is not None:
            reply = self.desk.act(Act.STROKES, number)
            if reply.opens is QuestionKind.STROKES:
                # Typed, a count of any length stands for itself.
                reply = Reply(f"{text}: allowed: 1 to {MOST_STROKES} strokes.", refused=True)
            self._answer(reply)
            return True
        meant = meaning(text, self._keymap, self.desk.moment.said.offers)
        if meant is None:
            self._lines.tell(f'"{text[:20]}" is not a word known here; help tells them. Nothing was changed.')
            return True
        act, rest = meant
        if act is Act.HELP and not self.desk.fault:
            # Typed words have a help of their own; the bench's tells keys.
            for line in help_lines():
                self._lines.tell(line)
            return True
        return self._answer(self.desk.act(act), rest)

    def _answer(self, reply: Reply, rest: str = "") -> bool:
        """Say what came of an act, ask what it opens, and say the moment after it; False when it leaves."""
        asked = False
        while reply.opens is not None and reply.opens is not QuestionKind.TILL:
            if reply.note:
                self._lines.tell(in_ascii(reply.note))
            if reply.opens is QuestionKind.LEAVE:
                return not self._leaves()
            question = questions(self.desk, reply.opens, self._keymap)
            if reply.opens is QuestionKind.LOOK_BACK:
                question = looking_back(self.desk.moment.state, LOOKS_BACK)
            asked = reply.opens is QuestionKind.ANSWER
            reply, rest = self._ask(question, rest or reply.typed), ""
        if reply.note:
            self._lines.tell(in_ascii(reply.note))
        self._say_moment(again=asked)
        if self.desk.fault:
            self._lines.tell("Nothing more is marked before that. Type: y (read the log again), quit.")
        return True

    def _say_moment(self, *, again: bool) -> None:
        """What changed; ``again``: the choices too, when an answer was typed and one of them may still be wanted."""
        now = spoken(self.desk.moment.said)
        told = fresh(now, self._said)
        for line in told + [choice for choice in now.choices if again and choice not in told]:
            self._lines.tell(line)
        self._said = now

    def _leaves(self) -> bool:
        self._lines.tell(in_ascii(self.desk.making.saved()))
        self._lines.tell("Leave? Type quit once more to leave; anything else stays.")
        meant = meaning(self._typed(), self._keymap, ())
        if meant is not None and meant[0] is Act.QUIT:
            return True
        self._lines.tell("Stayed.")
        return False

    def _ask(self, question: Question, text: str) -> Reply:
        """Ask until there is an answer that will do, or none; ``text`` is one given beforehand."""
        told = not text or question.then is None
        if told:
            self._tell(question)
        if question.then is None:
            return Reply()
        while True:
            text = text or self._typed(": ")
            if not text or text.casefold() in ("esc", "escape"):
                return Reply(_CLOSED)
            answer, wrong = _read(question, text)
            if not wrong and self._agreed(question, answer):
                return question.then(answer)
            if not wrong:
                return Reply(_CLOSED)
            self._lines.tell(in_ascii(f"{wrong}. An empty line closes."))
            if not told:
                self._tell(question)
            text, told = "", True

    def _agreed(self, question: Question, answer: str) -> bool:
        """Whether an answer that marks several places is meant, once they have been named (bench rule 9)."""
        named = question.several(answer)
        if not named:
            return True
        self._lines.tell(in_ascii(f"{named} Type y to do so; anything else changes nothing."))
        return self._typed(": ").casefold() in ("y", "yes")

    def _tell(self, question: Question) -> None:
        for line in (f"{question.title}.".replace("?.", "?").replace("..", "."), *question.lines, *question.rows):
            self._lines.tell(in_ascii(line))
        for number, choice in enumerate(question.choices, 1):
            self._lines.tell(in_ascii(f"{number}: {choice}"))
        if question.then is not None:
            how = question.how_to_type or f"Type a number, 1 to {len(question.choices)}"
            self._lines.tell(in_ascii(f"{how}. An empty line closes; nothing changes."))


def _read(question: Question, text: str) -> tuple[str, str]:
    """The answer that ``text`` gives, and what is wrong with it; empty when it will do."""
    number = number_in(text)
    if number is not None and 1 <= number <= len(question.choices):
        return question.choices[number - 1], ""
    if question.hint is None:
        return text, f'"{text[:20]}" is not one of them; allowed: 1 to {len(question.choices)}'
    return text, question.check(text) or ""
