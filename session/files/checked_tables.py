"""The tables of a file as classes: what each key may hold is said once, beside its name; pydantic's core checks it.

What is right beyond doubt is seen without the core (``sound_values``). pydantic itself would make the same checks from
the same annotations (``tests/reference`` holds the two against each other). It takes three times as long to load as its
core does, and that was a quarter of what whoever starts a sharpening waited for; what it does beyond is of no use here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from enum import Enum
from typing import Annotated, Any, Final, Self, get_args, get_type_hints

from session.trade.lengths import Length
from session.value_class import dataclass

_REQUIRED: Final = object()


@dataclass(frozen=True, slots=True)
class CheckedBy:
    """Stands in an annotation: ``check`` alone judges the value, and gives it as it is kept. It raises ValueError.

    allowed: what that is, in words, for keys whose table says no others.
    """

    check: Callable[[Any], Any]
    allowed: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """What a table says of a key beside its type.

    usual: the value when it is left out. make: makes that anew each time. description: what an error gives as allowed.
    checks_usual: whether the usual value has to pass the check as well. limits: as pydantic's core names them.
    """

    usual: Any
    make: Callable[[], Any] | None
    description: str
    checks_usual: bool
    limits: Mapping[str, Any]


def holds(
    usual: Any = _REQUIRED,
    *,
    make: Callable[[], Any] | None = None,
    description: str = "",
    checks_usual: bool = False,
    **limits: Any,
) -> Any:
    """What a key may hold beside its type: ``ge``, ``le``, ``gt``, ``min_length``, ``max_length``; of an enumeration,
    ``strict=False`` takes its texts. Required where it has no usual value."""
    return Given(usual, make, description, checks_usual, limits)


#: A date and time with its offset.
AwareTime = Annotated[datetime, holds(tz_constraint="aware")]


@dataclass(frozen=True, slots=True)
class Key:
    """A key of a table: its annotation, and what the table says beside it."""

    annotation: Any
    given: Given

    @property
    def required(self) -> bool:
        """Whether it has no usual value."""
        return self.given.usual is _REQUIRED and self.given.make is None

    @property
    def allowed(self) -> str:
        """What an error gives as allowed: by the table, else by what checks the value; empty where neither says it."""
        kinds = (self.annotation, *get_args(self.annotation))
        said = (one for kind in kinds for one in getattr(kind, "__metadata__", ()) if isinstance(one, CheckedBy))
        return self.given.description or next((one.allowed for one in said), "")

    @property
    def usual(self) -> Any:
        """The value when it is left out; None for a required one."""
        return None if self.required else self.given.make() if self.given.make is not None else self.given.usual


class Table:
    """A table of a file at the edge: nothing unknown, no type bent into another, nothing changed later."""

    # Where pydantic's core keeps what it knows of an instance.
    __slots__ = ("__dict__", "__pydantic_extra__", "__pydantic_fields_set__", "__pydantic_private__")

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"cannot change {name!r}")

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and vars(other) == vars(self)

    __hash__ = None  # type: ignore[assignment]

    @classmethod
    def of_sound(cls, values: dict[str, Any]) -> Self:
        """The table of ``values``, one for each key, which are as it keeps them."""
        table = cls.__new__(cls)
        object.__setattr__(table, "__dict__", values)
        return table

    @classmethod
    def key_names(cls) -> tuple[str, ...]:
        """Its keys in order."""
        found = (name for base in reversed(cls.__mro__) for name in getattr(base, "__annotations__", ()))
        return tuple(dict.fromkeys(found))

    @classmethod
    def all_keys(cls) -> Mapping[str, Key]:
        """Each key by its name."""
        if (found := _KEYS.get(cls)) is None:
            # An annotation is a text until it is first wanted.
            hints = get_type_hints(cls, include_extras=True)
            said = {name: getattr(cls, name, _REQUIRED) for name in cls.key_names()}
            given = {name: one if isinstance(one, Given) else holds(one) for name, one in said.items()}
            found = _KEYS[cls] = {name: Key(hints[name], one) for name, one in given.items()}
        return found

    def plain(self) -> dict[str, Any]:
        """Its keys with values that TOML can hold, usual ones among them, lengths as written; None left out."""
        found = ((name, getattr(self, name)) for name in self.key_names())
        return {name: _plain(value) for name, value in found if value is not None}


#: The keys of each table that was wanted so far: nobody waits for those of other kinds of files.
_KEYS: Final[dict[type[Table], Mapping[str, Key]]] = {}


def _plain(value: Any) -> Any:
    if isinstance(value, Table):
        return value.plain()
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return value.text if isinstance(value, Length) else value.value if isinstance(value, Enum) else value
