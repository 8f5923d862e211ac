"""What a check at the edge found, in words that a woodworker can act on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from types import UnionType
from typing import TYPE_CHECKING, Any, Final, get_args, get_origin

from session.files.checked_tables import Key, Table
from session.files.key_path import KeyPath
from session.machine.clean_text import clean

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails, ValidationError

#: What is wrong and what is allowed. It may be put into words only once it is told: a file of other origin has
#: thousands of unknown keys, and looking for a likeness of each is slow.
Words = str | Callable[[], str]

#: What is wrong, with the key that it concerns.
Complaint = tuple[KeyPath, Words]

_WRONG: Final = {
    "float_type": "is not a number",
    "int_type": "is not a whole number",
    "int_from_float": "is not a whole number",
    "finite_number": "is not a finite number",
    "bool_type": "is not true or false",
    "string_type": "is not a text",
    "list_type": "is not a list",
    "dict_type": "is not a table",
    "too_short": "is too short",
    "too_long": "is too long",
    "model_type": "is not a table",
    "literal_error": "is not known",
    "enum": "is not known",
}


def complaints(model: type[Table], problems: ValidationError) -> tuple[list[Complaint], list[Complaint]]:
    """Each of pydantic's findings as the key and one sentence: what is wrong; what is allowed.

    Then those of them that are about keys which the model does not have.
    """
    found: list[Complaint] = []
    unknown: list[Complaint] = []
    for problem in problems.errors(include_url=False):
        complaint: Complaint = (problem["loc"], partial(_words, model, problem))
        found.append(complaint)
        if problem["type"] == "extra_forbidden":
            unknown.append(complaint)
    return found, unknown


def _words(model: type[Table], problem: ErrorDetails) -> str:
    """One of pydantic's findings in words."""
    path: KeyPath = problem["loc"]
    field, known = _field(model, path)
    kind, given = problem["type"], problem["input"]
    if kind == "extra_forbidden":
        return f"is not a known key;{_near(str(path[-1]), known)} allowed: {', '.join(known)}"
    if kind == "missing":
        return f"is missing; write {_allowed(field)}"
    if kind == "value_error":
        return str(problem["ctx"]["error"])
    wrong = _WRONG.get(kind, "is out of range")
    options = [word for word in _allowed(field).split('"')[1::2] if kind in ("literal_error", "enum")]
    near = _near(given, options) if isinstance(given, str) else ""
    return f"{in_words(given)} {wrong};{near} allowed: {_allowed(field)}"


def key_in_words(path: KeyPath) -> str:
    """A key as it is named in an error: ``saw.name``, ``keys.done[2]``; shortened when it is not ours."""
    words = ""
    for part in path:
        words += f"[{part + 1}]" if isinstance(part, int) else f".{_short(part)}" if words else _short(part)
    return words or "the file"


def in_words(value: object) -> str:
    """A value as an error shows it: short, on one line, whatever it is."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{_short(value)}"'
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a number of more than 15 digits"
    return _short(str(value))


def _field(model: type[Table], path: KeyPath) -> tuple[Key | None, list[str]]:
    """The field that a path leads to, and the keys known beside it."""
    field: Key | None = None
    for depth, part in enumerate(path, start=1):
        if isinstance(part, int):
            continue  # one of an array of tables, which are all alike
        field = model.all_keys().get(part)
        inner = _model_of(field)
        if inner is None or depth == len(path):
            break
        model = inner
    return field, list(model.key_names())


def _model_of(field: Key | None) -> type[Table] | None:
    waiting: list[Any] = [field.annotation if field is not None else None]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, UnionType) or get_origin(kind) is list:
            waiting += get_args(kind)
        elif isinstance(kind, type) and issubclass(kind, Table):
            return kind
    return None


def _allowed(field: Key | None) -> str:
    return (field.allowed if field is not None else "") or "another value"


def _near(word: str, known: list[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(word[:80].lower(), known, n=1)
    return f' did you mean "{near[0]}"?' if near else ""


def _short(text: str) -> str:
    text = clean(text[:400])
    return text if len(text) <= 32 else text[:31] + "…"
