"""Values checked against a table: what is right beyond doubt is seen here; of all else pydantic's core is the judge.

Nearly every file that is read is in order, and whoever waits for it waited longer for the core to be loaded. So the
same annotations and limits are gone through here first. What is wrong, or only unusual, is a doubt and nothing more:
the core alone says what is wrong, and ``tests/reference`` holds both against pydantic's own models.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime
from enum import Enum
from math import isfinite
from operator import ge, gt, le, lt
from types import UnionType
from typing import Annotated, Any, Final, Literal, TypeVar, get_args, get_origin

from session.files.checked_tables import CheckedBy, Key, Table

Shape = TypeVar("Shape", bound=Table)

#: Types that a value has to have exactly: of the others, one is a kind of another.
_EXACT: Final = (int, float, bool, str, date, datetime)

#: Larger whole numbers are no longer the same as a decimal one.
_MOST_WHOLE: Final = 2**53

_LIMITS: Final[Mapping[str, Callable[[Any, Any], bool]]] = {
    "ge": ge,
    "gt": gt,
    "le": le,
    "lt": lt,
    "min_length": lambda value, least: len(value) >= least,
    "max_length": lambda value, most: len(value) <= most,
    "tz_constraint": lambda value, wanted: wanted == "aware" and value.utcoffset() is not None,
}


class _DoubtError(Exception):
    """Not right beyond doubt."""


def checked(shape: type[Shape], values: Mapping[str, Any]) -> Shape:
    """The table that ``values`` are. Raises pydantic's ValidationError with everything that is wrong."""
    try:
        return _sound_table(shape, values)
    except _DoubtError:
        from session.files.core_checks import validator_of

        table: Shape = validator_of(shape).validate_python(values)
        return table


def judged(key: Key, value: object) -> Any:
    """``value`` as ``key`` keeps it. Raises pydantic's ValidationError where it is not allowed."""
    try:
        return _sound(key.annotation, key.given.limits, value)
    except _DoubtError:
        from session.files.core_checks import validator_of_key

        return validator_of_key(key).validate_python(value)


def _sound_table(shape: type[Shape], values: object) -> Shape:
    """``values`` as that table. Raises _DoubtError for all that may be wrong."""
    keys = shape.all_keys()
    if type(values) is not dict or not values.keys() <= keys.keys():
        raise _DoubtError
    kept: dict[str, Any] = {}
    for name, key in keys.items():
        if name in values:
            kept[name] = _sound(key.annotation, key.given.limits, values[name])
        elif key.required:
            raise _DoubtError
        else:
            usual = key.usual
            kept[name] = _sound(key.annotation, key.given.limits, usual) if key.given.checks_usual else usual
    return shape.of_sound(kept)


def _sound(kind: Any, limits: Mapping[str, Any], value: Any) -> Any:
    """``value`` as a key of that annotation keeps it. Raises _DoubtError."""
    if kind is Any:
        return _kept(value, limits)
    origin, args = get_origin(kind), get_args(kind)
    if origin is Annotated:
        for said in args[1:]:
            if isinstance(said, CheckedBy):
                return _judged(said, value)
            limits = {**said.limits, **limits}
        return _sound(args[0], limits, value)
    if isinstance(kind, UnionType) or type(None) in args:
        inner = [one for one in args if one is not type(None)]
        if len(inner) == 1:
            return None if value is None else _sound(inner[0], limits, value)
    elif origin is Literal:
        if any(type(one) is type(value) and one == value for one in args):
            return value
    elif origin is list and type(value) is list:
        return [_sound(args[0], {}, one) for one in _kept(value, limits)]
    elif origin is dict and type(value) is dict:
        found = _kept(value, limits).items()
        return {_sound(args[0], {}, name): _sound(args[1], {}, one) for name, one in found}
    elif isinstance(kind, type):
        return _plain(kind, limits, value)
    raise _DoubtError


def _plain(kind: type, limits: Mapping[str, Any], value: Any) -> Any:
    if issubclass(kind, Table):
        return _sound_table(kind, value)
    if issubclass(kind, Enum):
        found = [one for one in kind if type(value) is str and one.value == value]
        if found and limits == {"strict": False}:
            return found[0]
    elif kind is float and type(value) is int and abs(value) < _MOST_WHOLE:
        return _kept(float(value), limits)
    elif kind in _EXACT and type(value) is kind and not (type(value) is float and not isfinite(value)):
        return _kept(value, limits)
    raise _DoubtError


def _kept(value: Any, limits: Mapping[str, Any]) -> Any:
    """``value`` where it keeps to all ``limits``. Raises _DoubtError."""
    for name, limit in limits.items():
        if name not in _LIMITS or not _LIMITS[name](value, limit):
            raise _DoubtError
    return value


def _judged(by: CheckedBy, value: Any) -> Any:
    try:
        return by.check(value)
    except (ValueError, AssertionError):
        # What the core takes for a finding; it is told once more there.
        raise _DoubtError from None
