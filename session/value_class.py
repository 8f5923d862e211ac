"""Dataclasses that cost little where they are defined, and compile only what is made often.

The standard decorator writes and compiles the source of up to twelve methods a class, and what does so takes long to
load: together a fifth of what a command takes that only prints. Here all methods are functions that every class shares;
the ``__init__`` of a class that turns out to have many instances is compiled in the end, as the standard library's is.

The standard library's own functions (`dataclasses.fields`, `dataclasses.replace`, …), ``match``, copies and pickles
take these classes for its own. The decorator is always called, with parentheses. Not known here, as nothing in the
program wants them, are ``InitVar``, ``KW_ONLY``, ``unsafe_hash``, ``match_args``, and of a field ``hash``, ``metadata``
and ``kw_only``.

>>> @dataclass(frozen=True, slots=True)
... class Span:
...     first: int
...     last: int = 24
>>> Span(1), Span(2) == Span(2, 24), replace(Span(1), last=3)
(Span(first=1, last=24), True, Span(first=1, last=3))
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, Final, NoReturn, TypeVar

Value = TypeVar("Value")

#: Stands for a default that there is not.
_NONE: Final = object()

#: Stands for the ``__init__`` of a class that is not made yet.
_NOT_YET: Final = object()

#: So many instances cost as much as to compile an ``__init__`` that makes them three times as quick.
_MANY: Final = 100


class _Field:
    """A field of a class: its name, and what is said of it as in the standard library."""

    __slots__ = ("compare", "default", "default_factory", "init", "kw_only", "name", "repr", "told")

    def __init__(
        self,
        *,
        default: Any = _NONE,
        default_factory: Any = _NONE,
        init: bool = True,
        repr: bool = True,  # noqa: A002 (the standard library's name)
        compare: bool = True,
    ) -> None:
        self.default, self.default_factory = default, default_factory
        self.init, self.repr, self.compare = init, repr, compare

    def named(self, name: str, told: Any, *, kw_only: bool) -> _Field:
        """This one, as the class tells it: by ``name`` and the type that is ``told``."""
        self.name, self.told, self.kw_only = name, told, kw_only
        return self

    @property
    def has_usual(self) -> bool:
        """Whether there is a value where none is given."""
        return self.default is not _NONE or self.default_factory is not _NONE


def _dataclass(
    *, frozen: bool = False, slots: bool = False, kw_only: bool = False, eq: bool = True, order: bool = False
) -> Callable[[type[Value]], type[Value]]:
    """Make a class a dataclass; ``frozen``, ``slots``, ``kw_only``, ``eq`` and ``order`` as in the standard library."""

    def decorate(plain: type[Value]) -> type[Value]:
        own = [_own_field(plain, name, told, kw_only) for name, told in _told_types(plain)]
        inherited = [found for base in plain.__mro__[:0:-1] for found in vars(base).get("__fields__", ())]
        parts = tuple({one.name: one for one in (*inherited, *own)}.values())
        _hold_order(parts)
        shared: dict[str, Any] = {
            "__fields__": parts,
            "__dataclass_fields__": _AsStandard(),
            "__match_args__": tuple(one.name for one in parts if one.init and not one.kw_only),
            "__init__": _NOT_YET,
            "__repr__": _told,
        }
        if frozen:
            shared |= {"__setattr__": _frozen, "__delattr__": _frozen}
            if slots:
                shared |= {"__getstate__": _state, "__setstate__": _set_state}
        if eq:
            shared |= _comparing([one.name for one in parts if one.compare], frozen=frozen, order=order)
        said = vars(plain)
        # What the class says itself stays; one that defines __eq__ has None for a hash unless it defines that too.
        shared = {name: method for name, method in shared.items() if said.get(name) is None}
        shared["__doc__"] = plain.__doc__ or plain.__name__
        made = _with_slots(plain, parts, shared) if slots else _as_it_is(plain, own, shared)
        if vars(made)["__init__"] is _NOT_YET:
            type.__setattr__(made, "__init__", _first_init(made))
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
    dataclass, field = _dataclass, _Field

    def fields(made: Any) -> tuple[_Field, ...]:
        """The fields of a class, or of its instance, in order."""
        return made.__fields__

    def replace(value: Any, /, **changes: Any) -> Any:
        """One like ``value`` but for the ``changes``."""
        for one in value.__fields__:
            if one.init and one.name not in changes:
                changes[one.name] = getattr(value, one.name)
        return value.__class__(**changes)

    def asdict(value: Any) -> dict[str, Any]:
        """What ``value`` holds, and what is in that, by the names of fields."""
        import dataclasses

        return dataclasses.asdict(value)


def _told_types(plain: type) -> Iterable[tuple[str, Any]]:
    """The fields that ``plain`` itself defines, each with its type as written; not what belongs to the class."""
    found = vars(plain).get("__annotations__", {})
    return [(name, told) for name, told in found.items() if not str(told).startswith(("ClassVar", "typing.ClassVar"))]


def _hold_order(parts: Iterable[_Field]) -> None:
    """Raise TypeError, as the standard library does, where a field that has to be given follows one that has not."""
    usual = ""
    for one in parts:
        if one.init and not one.kw_only:
            if usual and not one.has_usual:
                raise TypeError(f"non-default argument {one.name!r} follows default argument {usual!r}")
            usual = one.name if one.has_usual else usual


def _own_field(plain: type, name: str, told: Any, kw_only: bool) -> _Field:
    default = vars(plain).get(name, _NONE)
    found = default if isinstance(default, _Field) else _Field(default=default)
    if found.default.__class__.__hash__ is None:
        raise ValueError(f"mutable default {type(found.default)} for field {name} is not allowed: use default_factory")
    return found.named(name, told, kw_only=kw_only)


def _with_slots(plain: type[Value], parts: Iterable[_Field], shared: dict[str, Any]) -> type[Value]:
    """A class like ``plain`` with a slot for each of its fields: slots cannot be added to a class that there is."""
    names = {one.name for one in parts}
    mine = {"__dict__", "__weakref__", *names}
    space = {name: value for name, value in vars(plain).items() if name not in mine} | shared
    there = {slot for base in plain.__mro__[1:] for slot in vars(base).get("__slots__", ())}
    space["__slots__"] = tuple(one.name for one in parts if one.name not in there)
    space["__qualname__"] = plain.__qualname__
    kind: Any = type(plain)
    made: type[Value] = kind(plain.__name__, plain.__bases__, space)
    return made


def _as_it_is(plain: type[Value], own: Iterable[_Field], shared: dict[str, Any]) -> type[Value]:
    """The class ``plain`` itself with what is ``shared``; a default is read off the class as well."""
    for one in own:
        if one.default is not _NONE:
            setattr(plain, one.name, one.default)
        elif one.name in vars(plain):
            delattr(plain, one.name)
    for name, value in shared.items():
        setattr(plain, name, value)
    return plain


def _told(self: Any) -> str:
    told = (f"{one.name}={getattr(self, one.name)!r}" for one in self.__fields__ if one.repr)
    return f"{type(self).__qualname__}({', '.join(told)})"


def _frozen(self: Any, name: str, *_: object) -> NoReturn:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot change {name!r}")


def _state(self: Any) -> list[Any]:
    return [getattr(self, one.name) for one in self.__fields__]


def _set_state(self: Any, state: list[Any]) -> None:
    for one, value in zip(self.__fields__, state, strict=True):
        object.__setattr__(self, one.name, value)


def _comparing(names: list[str], *, frozen: bool, order: bool) -> dict[str, Any]:
    """What compares two instances by the fields of these names, and the hash that goes with it: none for one that may
    change."""
    # Of several names it gives a tuple, and always by C.
    told: Callable[[Any], Any] = operator.attrgetter(*names) if len(names) > 1 else _tuple_of(names)

    def comparing(compare: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
        return lambda self, other: (
            compare(told(self), told(other)) if other.__class__ is self.__class__ else NotImplemented
        )

    methods: dict[str, Any] = {
        "__eq__": comparing(operator.eq),
        "__hash__": (lambda self: hash(told(self))) if frozen else None,
    }
    if order:
        methods |= {f"__{name}__": comparing(getattr(operator, name)) for name in ("lt", "le", "gt", "ge")}
    return methods


def _tuple_of(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    return lambda self: tuple(getattr(self, name) for name in names)


def _first_init(made: Any) -> Callable[..., None]:
    """The ``__init__`` of a class without an instance: it puts another in its own place. Whoever fetched it before, as
    a second thread may, is served as well."""

    def first(self: Any, *args: Any, **named: Any) -> None:
        general = _general_init(made)
        if vars(made)["__init__"] is first:
            type.__setattr__(made, "__init__", general)
        general(self, *args, **named)

    return first


def _general_init(made: Any) -> Callable[..., None]:
    """An ``__init__`` that is not compiled, and puts one that is in its own place once it made many."""
    parts, then = made.__fields__, hasattr(made, "__post_init__")
    by_place = [one.name for one in parts if one.init and not one.kw_only]
    known = {one.name for one in parts if one.init}
    needed = {one.name for one in parts if one.init and not one.has_usual}
    # All but those for __post_init__ to fill, each with its default or what makes one.
    filled = [(one.name, one.default, one.default_factory) for one in parts if one.init or one.has_usual]
    set_, left = object.__setattr__, _MANY

    def general(self: Any, *args: Any, **named: Any) -> None:
        nonlocal left
        left -= 1
        given = dict(zip(by_place, args, strict=False)) | named
        if left > 0 and len(given) == len(args) + len(named) and needed <= given.keys() <= known:
            for name, default, make in filled:
                set_(self, name, given[name] if name in given else default if make is _NONE else make())
            if then:
                self.__post_init__()
            return
        # One of many; or it is not made like that, which a compiled one says as Python says it of any function.
        compiled = _compiled_init(made)
        type.__setattr__(made, "__init__", compiled)
        compiled(self, *args, **named)

    return general


def _compiled_init(made: Any) -> Callable[..., None]:
    """The ``__init__`` that the standard library would have compiled."""
    # Names with two underscores before them, which no field of a class can have.
    known: dict[str, Any] = {"__set": object.__setattr__, "__NONE": _NONE}
    by_place, by_name, lines = list[str](), list[str](), list[str]()
    for one in made.__fields__:
        name, usual, value = one.name, "", one.name
        if one.default_factory is not _NONE:
            known[f"__make_{name}"] = one.default_factory
            usual, value = "__NONE", f"__make_{name}() if {name} is __NONE else {name}"
        elif one.default is not _NONE:
            known[f"__usual_{name}"] = one.default
            usual = f"__usual_{name}"
        if one.init:
            (by_name if one.kw_only else by_place).append(f"{name}={usual}" if usual else name)
            lines.append(f"__set(self, {name!r}, {value})")
        elif usual:
            # Nobody gives it; without a usual value, __post_init__ does.
            lines += [f"{name} = {usual}", f"__set(self, {name!r}, {value})"]
    if hasattr(made, "__post_init__"):
        lines.append("self.__post_init__()")
    given = ", ".join(["self", *by_place, *(["*"] if by_name else []), *by_name])
    exec(f"def __init__({given}):\n  " + "\n  ".join(lines or ["pass"]), known)
    compiled: Callable[..., None] = known["__init__"]
    compiled.__qualname__ = f"{made.__qualname__}.__init__"
    return compiled


class _AsStandard:
    """What the standard library knows a dataclass and its fields by: made when it first asks."""

    def __get__(self, instance: Any, made: Any) -> Any:
        import dataclasses

        def standard(one: _Field) -> Any:
            defaults = {"default": one.default, "default_factory": one.default_factory}
            said = {name: value for name, value in defaults.items() if value is not _NONE}
            return dataclasses.field(**said, init=one.init, repr=one.repr, compare=one.compare, kw_only=one.kw_only)

        told = [(one.name, one.told, standard(one)) for one in made.__fields__]
        like = dataclasses.make_dataclass(
            made.__name__, told, init=False, repr=False, eq=False, namespace={"__doc__": made.__doc__}
        )
        found = {one.name: one for one in dataclasses.fields(like)}
        type.__setattr__(made, "__dataclass_fields__", found)
        return found
