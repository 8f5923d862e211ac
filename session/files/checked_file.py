"""The one way in for a file that a person writes: text of unknown origin, read, parsed, checked and told line by line.

A new kind of file needs its model, made of `Table`s, and complaints about what its keys must be to each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final, Generic, Self, TypeVar

from session.files.checked_tables import Table
from session.files.complaints import Complaint, Words, complaints, key_in_words
from session.files.key_path import DEEPEST, KeyPath
from session.files.sound_values import checked
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.machine.untrusted_text import LONGEST_LINE, ReadingError, parse, read_text, shown
from session.value_class import dataclass, field

#: More errors than this help nobody, and a file of other origin may have thousands.
MOST_ERRORS: Final = 50


Model = TypeVar("Model", bound=Table)


@dataclass(slots=True)
class CheckedFile(Generic[Model]):
    """A file, or values of one that stand elsewhere, while they are checked against their model.

    shape: the model. values: what was read and not left out. where: what errors call it. text: has the lines.
    found: complaints so far; cross checks add theirs. unknown: those about keys that the model does not have.
    """

    shape: type[Model]
    values: Mapping[str, Any]
    where: str
    text: str | None = None
    found: list[Complaint] = field(init=False)
    unknown: list[Complaint] = field(init=False)
    _read: Mapping[str, Any] = field(init=False)
    _model: Model | None = field(init=False)

    def __post_init__(self) -> None:
        self._read = self.values
        self._check()

    @classmethod
    def read(cls, shape: type[Model], path: Path, *, longest_line: int = LONGEST_LINE) -> Self:
        """The file at ``path``, each key judged by itself. Raises Refusal for what is no TOML file at all."""
        where = shown(path)
        try:
            text = read_text(path)
            return cls(shape, parse(text, longest_line), where, text)
        except ReadingError as problem:
            raise Refusal(problem.at(where)) from None

    @property
    def model(self) -> Model | None:
        """The values as the model has them; None while a key is wrong by itself."""
        return self._model

    @property
    def bad(self) -> list[KeyPath]:
        """The keys complained of so far."""
        return [path for path, _ in self.found]

    def sound(self) -> Model:
        """The model of a file that nothing is wrong with. Raises Refusal with everything that is."""
        if self._model is None or self.found:
            raise self.refusal(self.found)
        return self._model

    def refusal(self, found: Iterable[Complaint]) -> Refusal:
        """``found`` as an error for each: ``FILE:LINE: key: what is wrong; what is allowed``."""
        return Refusal(self.told(found, MOST_ERRORS, "more errors"))

    def told(self, found: Iterable[Complaint], most: int, rest: str) -> tuple[str, ...]:
        """The first ``most`` of ``found`` by line, a sentence each, and how many are the ``rest``."""
        all_of = list(found)
        if not all_of:
            return ()
        placed: Sequence[tuple[int | None, KeyPath, Words]] = (
            self._placed(all_of, most) if self.text is not None else [(None, *one) for one in all_of]
        )
        words = [
            clean(
                f"{self.where}{'' if line is None else f':{line}'}: {key_in_words(path)}: "
                f"{wrong if isinstance(wrong, str) else wrong()}"
            )
            for line, path, wrong in placed[:most]
        ]
        if len(all_of) > most:
            words.append(f"{self.where}: and {len(all_of) - most:,} {rest}")
        return tuple(words)

    def _placed(self, found: Sequence[Complaint], most: int) -> list[tuple[int, KeyPath, Words]]:
        """The first ``most`` of ``found`` by line, or some more, each with its line.

        A key that is missing stands where the table around it does. What cannot be among the first is looked for no
        further: of a file of other origin that is nearly all.
        """
        # Nearly every file is in order, and needs no lines.
        from session.files.line_numbers import first_lines, line_of

        there = [(_in(self._read, path), path, wrong) for path, wrong in found]
        lines = first_lines(self.text or "", {at for at, *_ in there}, most)
        placed = [(line_of(lines, at), path, wrong) for at, path, wrong in there if not at or at in lines]
        if len(placed) < most:
            placed = [(line_of(lines, at), path, wrong) for at, path, wrong in there]
        return sorted(placed, key=lambda one: one[0])

    def leave_out(self, those: Iterable[Complaint]) -> None:
        """Go on without the keys that ``those`` are about: a later version's, or a slip that need not stop anything."""
        self.values = _without(self.values, (path for path, _ in those))
        self._check()

    def _check(self) -> None:
        self._model, self.found, self.unknown = None, [], []
        try:
            self._model = checked(self.shape, self.values)
        except ValueError as problems:
            from pydantic_core import ValidationError  # loaded by now

            if not isinstance(problems, ValidationError):
                raise
            self.found, self.unknown = complaints(self.shape, problems)


def is_absent(path: Path) -> bool:
    """Whether nothing at all has this name, not even a link to nowhere: then there is nothing to read or to say."""
    try:
        path.lstat()
    except FileNotFoundError:
        return True
    except (OSError, ValueError):
        pass  # reading says why
    return False


def _in(values: Mapping[str, Any], path: KeyPath) -> KeyPath:
    """As much of ``path`` as leads to something in ``values`` and has a line of its own."""
    here: Any = values
    for depth, part in enumerate(path[:DEEPEST]):
        try:
            here = None if isinstance(here, str) else here[part]
        except (TypeError, LookupError):
            return path[:depth]
    return path[:DEEPEST]


def _without(values: Mapping[str, Any], paths: Iterable[KeyPath]) -> dict[str, Any]:
    """``values`` without the keys at ``paths``; a place in a list stands for the whole list.

    Each table on the way is copied once, however many keys it loses.
    """
    kept: dict[str, Any] = dict(values)
    copies: dict[KeyPath, Any] = {(): kept}
    for path in paths:
        while path and isinstance(path[-1], int):
            path = path[:-1]
        if path and (table := _copied(copies, path[:-1])) is not None:
            table.pop(path[-1], None)
    return kept


def _copied(copies: dict[KeyPath, Any], path: KeyPath) -> Any:
    """The copy of the table at ``path``; None when it is gone already."""
    if path not in copies:
        above = _copied(copies, path[:-1])
        try:
            inner = above[path[-1]]
        except (TypeError, LookupError):
            return None
        copies[path] = above[path[-1]] = list(inner) if isinstance(inner, list) else dict(inner)
    return copies[path]
