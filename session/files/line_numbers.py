"""On which line of a TOML text each key stands.

The standard reader gives values without their places, and an error in a recipe has to say where it
is. This scanner reads nothing but keys; it expects a text that ``tomllib`` has already accepted, and
gives what it has found so far when it meets one that is not TOML. It keeps its own stack, so that
deep nesting cannot exhaust Python's.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from contextlib import suppress
from typing import Final

from session.files.key_path import DEEPEST, KeyPath
from session.value_class import dataclass

#: Keys past this number go without a line of their own, so that a hostile text costs no memory.
MOST_KEYS: Final = 100_000

_BLANK: Final = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE: Final = re.compile(r"[ \t]*")
_BARE_KEY: Final = re.compile(r"[A-Za-z0-9_-]+")
_STRING: Final = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}' r"|'''.*?'{3,5}" r'|"(?:[^"\\\n]|\\.)*"' r"|'[^'\n]*'",
    re.DOTALL,
)
_SCALAR: Final = re.compile(r"[^,\]}#\n]*")


def key_lines(text: str) -> dict[KeyPath, int]:
    """The line (from 1) on which each key, table and array element of a TOML text first appears.

    A table counts as appearing where any header or dotted key first names it. Never raises.
    """
    scanner = _Scanner(text)
    with suppress(_LostError):
        scanner.document()
    return scanner.lines


def first_lines(text: str, wanted: Collection[KeyPath], most: int) -> dict[KeyPath, int]:
    """The lines of those of ``wanted`` that appear first: of ``most``, and of all that share a line with the last.

    The whole document, the empty path, is not among them. No more of ``text`` is gone through than that takes. Never
    raises.
    """
    enough = min(most, len(wanted) - (() in wanted))
    if not enough:
        return {}
    scanner = _Scanner(text, wanted, enough)
    with suppress(_LostError, _EnoughError):
        scanner.document()
    return scanner.lines


def line_of(lines: Mapping[KeyPath, int], path: KeyPath) -> int:
    """The line of ``path``; failing that, of the nearest table around it; failing that, 1."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return 1


class _LostError(Exception):
    """The text is not TOML here."""


class _EnoughError(Exception):
    """All that is wanted of the text has been found."""


@dataclass(slots=True)
class _Open:
    """An array or inline table whose end has not been reached; ``count`` numbers an array's elements."""

    path: KeyPath
    is_array: bool
    count: int = 0


class _Scanner:
    """``wanted``: the keys whose lines are noted, ``enough`` of them; without them every key's."""

    def __init__(self, text: str, wanted: Collection[KeyPath] | None = None, enough: int = MOST_KEYS) -> None:
        self.text = text
        self.wanted = wanted
        self.enough = enough
        self.last_line = 0
        self.at = 0
        self.counted_to = 0
        self.newlines = 0
        self.lines: dict[KeyPath, int] = {}
        self.tables_in: dict[KeyPath, int] = {}

    def document(self) -> None:
        table: KeyPath = ()
        while True:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._value(self._key(table))
            self._skip(_SPACE)
            if self.at < len(self.text) and self.text[self.at] not in "#\r\n":
                raise _LostError

    def _header(self) -> KeyPath:
        repeated = self.text.startswith("[[", self.at)
        line = self._line()
        self.at += 2 if repeated else 1
        names = self._names()
        self._expect("]]" if repeated else "]")
        path: KeyPath = ()
        for number, name in enumerate(names, start=1):
            path = self._note(path, name, line)
            if repeated and number == len(names):
                count = self.tables_in.get(path, 0)
                self.tables_in[path] = count + 1
                path = self._note(path, count, line)
            elif path in self.tables_in:
                # A header under an array of tables means its latest table.
                path = self._note(path, self.tables_in[path] - 1, line)
        return path

    def _key(self, table: KeyPath) -> KeyPath:
        """Read ``a.b.c =``, note the lines of its parts, and give the whole path."""
        line = self._line()
        path = table
        for name in self._names():
            path = self._note(path, name, line)
        self._expect("=")
        self._skip(_SPACE)
        return path

    def _names(self) -> list[str]:
        names = []
        while True:
            self._skip(_SPACE)
            if found := _BARE_KEY.match(self.text, self.at):
                names.append(found[0])
            elif (found := _STRING.match(self.text, self.at)) and not found[0].startswith(('"""', "'''")):
                names.append(_unquoted(found[0]))
            else:
                raise _LostError
            self.at = found.end()
            self._skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return names
            self.at += 1

    def _value(self, path: KeyPath) -> None:
        """Pass over one value and everything inside it."""
        nested: list[_Open] = []
        inside: KeyPath | None = path
        while inside is not None:
            if self.text.startswith(("[", "{"), self.at):
                nested.append(_Open(inside, is_array=self.text[self.at] == "["))
                self.at += 1
            elif self.text.startswith(('"', "'"), self.at):
                if (found := _STRING.match(self.text, self.at)) is None:
                    raise _LostError
                self.at = found.end()
            else:
                before = self.at
                self._skip(_SCALAR)
                if self.at == before:
                    raise _LostError
            inside = self._next_inside(nested)

    def _next_inside(self, nested: list[_Open]) -> KeyPath | None:
        """Go to the start of the next value inside ``nested``; None when all of it is closed."""
        while nested:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                raise _LostError
            sign = self.text[self.at]
            if sign in ",]}":
                self.at += 1
                if sign != ",":
                    nested.pop()
            elif nested[-1].is_array:
                nested[-1].count += 1
                return self._note(nested[-1].path, nested[-1].count - 1, self._line())
            else:
                return self._key(nested[-1].path)
        return None

    def _note(self, path: KeyPath, part: str | int, line: int) -> KeyPath:
        """The path to ``part`` under ``path``, with its line noted unless it was noted before."""
        if len(path) >= DEEPEST:
            return path
        path = (*path, part)
        if self.wanted is None:
            if len(self.lines) < MOST_KEYS:
                self.lines.setdefault(path, line)
            return path
        if len(self.lines) >= self.enough and line > self.last_line:
            raise _EnoughError
        if path in self.wanted and path not in self.lines:
            self.lines[path], self.last_line = line, line
        return path

    def _line(self) -> int:
        # The scanner only goes forward, so each line end is counted once.
        self.newlines += self.text.count("\n", self.counted_to, self.at)
        self.counted_to = self.at
        return self.newlines + 1

    def _skip(self, pattern: re.Pattern[str]) -> None:
        if found := pattern.match(self.text, self.at):
            self.at = found.end()

    def _expect(self, sign: str) -> None:
        if not self.text.startswith(sign, self.at):
            raise _LostError
        self.at += len(sign)


def _unquoted(quoted: str) -> str:
    try:
        return str(tomllib.loads(f"key = {quoted}")["key"])
    except ValueError:
        raise _LostError from None
