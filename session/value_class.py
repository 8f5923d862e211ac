"""Dataclasses that cost little where they are defined: a method is compiled when it is first called, or not at all.

The standard decorator writes and compiles the source of up to twelve methods a class, which over all that the bench
loads took a fifth of its start. Here ``__init__`` is compiled at the first instance, and the other methods are shared
functions. All else is the standard library's: `fields`, `replace`, `asdict`, `field`, ``match``, copies and pickles.
Those come from here as well: this module alone brings `dataclasses` in, and without ``inspect``.

>>> @dataclass(frozen=True, slots=True)
... class Span:
...     first: int
...     last: int = 24
>>> Span(1), Span(2) == Span(2, 24), replace(Span(1), last=3)
(Span(first=1, last=24), True, Span(first=1, last=3))
"""

from __future__ import annotations

import operator
import sys
from collections.abc import Callable
from types import ModuleType
from typing import TYPE_CHECKING, Any, Final, TypeVar


class _InspectLater(ModuleType):
    """The standard library's ``inspect``, not loaded before something of it is wanted."""

    def __getattr__(self, name: str) -> Any:
        import inspect

        return getattr(inspect, name)


if "inspect" in sys.modules:
    import dataclasses
else:
    # All that it is wanted for is the signature of a class without a docstring. It brings along what parses, takes
    # apart and reads source: a twentieth of what a command takes that only prints.
    sys.modules["inspect"] = _InspectLater("inspect")
    import dataclasses

    del sys.modules["inspect"]

Value = TypeVar("Value")

#: Stands for a default that is made anew for each instance.
_MADE: Final = object()


def _dataclass(
    *, frozen: bool = False, slots: bool = False, kw_only: bool = False, eq: bool = True, order: bool = False
) -> Callable[[type[Value]], type[Value]]:
    """Make a class a dataclass; ``frozen``, ``slots``, ``kw_only``, ``eq`` and ``order`` as in the standard library.

    One that is not to be frozen is made by the standard decorator: there are few.
    """
    if not frozen:
        return dataclasses.dataclass(slots=slots, kw_only=kw_only, eq=eq, order=order)

    def decorate(plain: type[Value]) -> type[Value]:
        # Without one, the standard library would write one, and look up the signature for it.
        plain.__doc__ = plain.__doc__ or plain.__name__
        # The fields, and a class with slots for them: all that needs no source.
        made = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)(plain)
        shared: dict[str, Any] = {"__repr__": _told, "__setattr__": _frozen, "__delattr__": _frozen}
        if slots:
            shared |= {"__getstate__": _state, "__setstate__": _set_state}
        if eq:
            shared |= _comparing(made, order=order)
        for name, method in shared.items():
            # A class that defines __eq__ has None for a hash unless it defines that too.
            if plain.__dict__.get(name) is None:
                setattr(made, name, method)
        _compile_late(made)
        return made

    return decorate


if TYPE_CHECKING:
    # To its user, and to who checks types, it is the standard decorator.
    from dataclasses import asdict as asdict
    from dataclasses import dataclass as dataclass
    from dataclasses import field as field
    from dataclasses import fields as fields
    from dataclasses import replace as replace
else:
    dataclass = _dataclass
    asdict, field, fields, replace = dataclasses.asdict, dataclasses.field, dataclasses.fields, dataclasses.replace


def _told(self: Any) -> str:
    told = (f"{one.name}={getattr(self, one.name)!r}" for one in dataclasses.fields(self) if one.repr)
    return f"{type(self).__qualname__}({', '.join(told)})"


def _frozen(self: Any, name: str, *_: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot change {name!r}")


def _state(self: Any) -> list[Any]:
    return [getattr(self, one.name) for one in dataclasses.fields(self)]


def _set_state(self: Any, state: list[Any]) -> None:
    for one, value in zip(dataclasses.fields(self), state, strict=True):
        object.__setattr__(self, one.name, value)


def _comparing(made: type, *, order: bool) -> dict[str, Any]:
    """What compares two instances, and the hash that goes with it."""
    names = [one.name for one in dataclasses.fields(made) if one.compare]
    # Of several names it gives a tuple, and always by C.
    told: Callable[[Any], Any] = operator.attrgetter(*names) if len(names) > 1 else _tuple_of(names)

    def comparing(compare: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
        return lambda self, other: (
            compare(told(self), told(other)) if other.__class__ is self.__class__ else NotImplemented
        )

    methods: dict[str, Any] = {"__eq__": comparing(operator.eq), "__hash__": lambda self: hash(told(self))}
    if order:
        methods |= {f"__{name}__": comparing(getattr(operator, name)) for name in ("lt", "le", "gt", "ge")}
    return methods


def _tuple_of(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    return lambda self: tuple(getattr(self, name) for name in names)


def _compile_late(made: type) -> None:
    """Give ``made`` an ``__init__`` that compiles the real one, and puts it in its own place, when first called."""

    def first(self: Any, *args: Any, **named: Any) -> None:
        compiled = _compiled_init(made)
        type.__setattr__(made, "__init__", compiled)
        compiled(self, *args, **named)

    type.__setattr__(made, "__init__", first)


def _compiled_init(made: type) -> Callable[..., None]:
    """The ``__init__`` that the standard library would have compiled."""
    known: dict[str, Any] = {"set_": object.__setattr__, "MADE": _MADE}
    by_place, by_name, lines = list[str](), list[str](), list[str]()
    for one in dataclasses.fields(made):
        name, usual, value = one.name, "", one.name
        if one.default_factory is not dataclasses.MISSING:
            known[f"make_{name}"] = one.default_factory
            usual, value = "MADE", f"make_{name}() if {name} is MADE else {name}"
        elif one.default is not dataclasses.MISSING:
            known[f"usual_{name}"] = one.default
            usual = f"usual_{name}"
        if one.init:
            (by_name if one.kw_only else by_place).append(f"{name}={usual}" if usual else name)
            lines.append(f"set_(self, {name!r}, {value})")
        elif usual:
            # Nobody gives it; without a usual value, __post_init__ does.
            lines += [f"{name} = {usual}", f"set_(self, {name!r}, {value})"]
    if hasattr(made, "__post_init__"):
        lines.append("self.__post_init__()")
    given = ", ".join(["self", *by_place, *(["*"] if by_name else []), *by_name])
    exec(f"def __init__({given}):\n  " + "\n  ".join(lines or ["pass"]), known)
    compiled: Callable[..., None] = known["__init__"]
    compiled.__qualname__ = f"{made.__qualname__}.__init__"
    return compiled
