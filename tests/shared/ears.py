"""Someone who works line by line: types lines, hears lines, and sees nothing else."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from typing import Any

from bench_shed import Shed
from session.desk.desk import Desk
from session.desk.key_table import keymap
from session.desk.line_mode import Plain
from session.log.sitting import Sitting


class Ears:
    """Someone who types lines and hears lines, ``after_s`` apart on the shed's clock, and sees nothing else."""

    def __init__(
        self, shed: Shed, sitting: Sitting, *, keys: Mapping[str, tuple[str, ...]] | None = None, after_s: float = 5.0
    ) -> None:
        self.clock, self.sitting, self.after_s = shed.clock, sitting, after_s
        self.heard: list[str] = []
        self.plain = Plain(Desk(sitting, guard_s=0.0), keymap(keys or {}), self)
        self._to_type: list[str] = []
        self.plain.begin()

    def tell(self, line: str) -> None:
        assert "\n" not in line
        self.heard.append(line)

    def typed(self, prompt: str) -> str:
        self.clock.pass_s(self.after_s)
        if not self._to_type:
            raise EOFError
        return self._to_type.pop(0) + "\n"

    def type(self, *lines: str) -> list[str]:
        """Type lines, as many as are asked for; what was said to them."""
        self._to_type, begun = list(lines), len(self.heard)
        while self._to_type:
            assert self.plain.hear(), "it has left"
        return self.heard[begun:]

    def talk(self, *lines: str) -> list[str]:
        """Type lines to a whole dialogue, after which the input ends; what was said from its beginning on."""
        self._to_type, begun = list(lines), len(self.heard)
        self.status = self.plain.talk()
        return self.heard[begun:]

    def get_on(self, until: Callable[[Ears], bool]) -> list[str]:
        """Type the first thing on offer until ``until(self)``; what was said."""
        begun = len(self.heard)
        for _ in range(400):
            if until(self):
                return self.heard[begun:]
            offer = next(line for line in reversed(self.heard) if line.startswith("Type: "))
            first = offer.removeprefix("Type: ").removeprefix("a number (your choice), ")
            self.type("" if first.startswith("Enter") else first.partition(" ")[0])
        raise AssertionError(f"never came to what was wanted; last heard: {self.heard[-5:]}")

    def marks(self) -> list[dict[str, Any]]:
        """The marks in the file, read by nothing of ours."""
        marks = tomllib.loads(self.sitting.journal.path.read_text(encoding="utf-8")).get("mark", [])
        assert [mark["seq"] for mark in marks] == list(range(1, len(marks) + 1))
        return list(marks)

    def text(self) -> str:
        return "\n".join(self.heard)


#: Makes a listener at a sitting.
Listening = Callable[..., Ears]
