"""Someone with closed eyes: what the bench has said, in order, without a program that speaks."""

from __future__ import annotations

import pytest

from session.bench import app


class Heard:
    """Keeps every sentence that is to be spoken."""

    def __init__(self) -> None:
        self.sentences: list[str] = []
        self.closed = False

    def say(self, text: str) -> None:
        """Keep it."""
        self.sentences.append(text)

    def close(self) -> None:
        """It is over."""
        self.closed = True

    def new(self) -> list[str]:
        """What was said since this was asked last."""
        said, self.sentences = self.sentences, []
        return said


def listening(monkeypatch: pytest.MonkeyPatch) -> Heard:
    """Have the bench spoken to nobody but the one who is returned."""
    heard = Heard()
    monkeypatch.setattr(app, "begin_speech", lambda settings, unspoken: heard if settings.spoken else None)
    return heard
