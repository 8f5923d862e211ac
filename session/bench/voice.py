"""The bench aloud: says what the screen shows, from the same moment, and nothing again for a mere redraw."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, Protocol

from session.desk.key_names import shown
from session.desk.question import Question
from session.files.settings import Settings
from session.machine.clean_text import clean
from session.machine.speech import USUAL, Speech, SpeechProgram, usual_program
from session.sentences.aloud import sentences
from session.sentences.moment import Moment
from session.sentences.offers import Act
from session.sentences.voiced import heading, moment_words, note_words, place_words, question_words

#: Signs of keys that a voice cannot say.
_KEYS: Final = {"→": "right", "←": "left", "⌫": "backspace", "PgDn": "page down", "PgUp": "page up", "Esc": "escape"}


class Speaker(Protocol):
    """What speaks."""

    def say(self, text: str) -> None:
        """Speak ``text`` in place of what is being said, and come back at once."""

    def close(self) -> None:
        """Fall silent."""


class Voice:
    """Says moments, notes and questions with ``speaker``; says nothing without one."""

    def __init__(self, speaker: Speaker | None, keymap: Mapping[Act, tuple[str, ...]]) -> None:
        self._speaker: Final = speaker
        self._keymap: Final = keymap
        self._said = ""
        self._heading = ""

    def moment(self, moment: Moment, note: str, fault: str, *, refused: bool = False, again: bool = False) -> None:
        """Say this moment with what came of a press; the moment alone where it is another than was said last.

        refused: the press did nothing; then the place in hand is named once more. again: what was said last has been
        interrupted by a question.
        """
        if self._speaker is None:
            return
        if fault:
            self.words(fault)
            return
        now, head = moment_words(moment, self._key), heading(moment.said)
        told = [note_words(note)]
        if now != self._said or again:
            told += [head if head != self._heading or again else "", now]
        elif refused:
            told.append(place_words(moment))
        self._said, self._heading = now, head
        if text := sentences(*told):
            self._speaker.say(text)

    def question(self, question: Question) -> None:
        """Say a question that stands over the bench."""
        lines = (*question.lines, *question.rows)
        how = question.how_to_type
        self._say(question_words(question.title, lines, question.choices, f"{how}. Escape closes" if how else ""))

    def words(self, *parts: str) -> None:
        """Say sentences that belong to no moment: an error, a warning."""
        self._say(sentences(*parts))

    def _say(self, text: str) -> None:
        if self._speaker is not None and text:
            self._speaker.say(text)

    def _key(self, act: Act) -> str:
        keys = self._keymap.get(act, ())
        sign = shown(keys[0]) if keys else ""
        return _KEYS.get(sign, sign.casefold())


def begin_speech(settings: Settings, unspoken: Callable[[str], None]) -> Speech | None:
    """What speaks, where the settings ask for it; ``unspoken`` is told, once for each kind, what is wrong with it."""
    if not settings.spoken:
        return None
    words = settings.speech
    program = usual_program() if words is None else SpeechProgram(words, by_stdin=settings.speech_text == "input")
    if program is None:
        unspoken(f"none of {', '.join(one.words[0] for one in USUAL)} is there")
        return None
    name = clean(program.words[0])
    return Speech(program, lambda what: unspoken(f"{name} {what}"))
