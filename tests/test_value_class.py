"""Our dataclasses beside those of the standard library: each class made both ways does and refuses the same."""

from __future__ import annotations

import ast
import copy
import dataclasses
import pickle
import subprocess
import sys
import typing
from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest

import session
from parsed_source import parsed, statements
from session import value_class

#: What checks types sees the standard decorator: which of them is at work is told here at run time.
Decorator = Callable[..., Any]

#: A decorator, and what says more of a field than its type and default.
Maker = tuple[Decorator, Callable[..., Any]]

BOTH: tuple[Maker, ...] = (
    (dataclasses.dataclass, dataclasses.field),
    (vars(value_class)["dataclass"], vars(value_class)["field"]),
)


def both(define: Callable[[Decorator, Callable[..., Any]], Any]) -> tuple[Any, Any]:
    """What ``define`` makes with the standard decorator, and with ours."""
    standard, ours = (define(*maker) for maker in BOTH)
    return standard, ours


def span(decorator: Decorator, field: Callable[..., Any]) -> Any:
    @decorator(frozen=True, slots=True, order=True)
    class Span:
        first: int
        last: int = 24
        notes: list[str] = field(default_factory=list, compare=False)
        told: str = field(default="", repr=False, compare=False)

    return Span


def named(decorator: Decorator, field: Callable[..., Any]) -> Any:
    @decorator(frozen=True, kw_only=True)
    class Named:
        name: str
        size: float = 1.0

        @cached_property
        def twice(self) -> float:
            return 2 * self.size

    @decorator(frozen=True, kw_only=True)
    class Grown(Named):
        parts: tuple[int, ...] = ()
        total: int = field(init=False)
        seen: list[int] = field(init=False, default_factory=list)

        def __post_init__(self) -> None:
            object.__setattr__(self, "total", sum(self.parts))

    return Grown


def hashed(decorator: Decorator, field: Callable[..., Any]) -> Any:
    @decorator(frozen=True, slots=True)
    class Hashed:
        """Has its own hash, text and equality."""

        number: int

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Hashed) and self.number % 10 == other.number % 10

        def __hash__(self) -> int:
            return self.number % 10

        def __repr__(self) -> str:
            return f"ends in {self.number % 10}"

    return Hashed


def alone(decorator: Decorator, field: Callable[..., Any]) -> Any:
    @decorator(frozen=True, slots=True, eq=False)
    class Alone:
        number: int

    return Alone


def changing(decorator: Decorator, field: Callable[..., Any]) -> Any:
    @decorator(slots=True, order=True)
    class Changing:
        count: int = 0
        notes: list[str] = field(default_factory=list)

    return Changing


@dataclasses.dataclass(frozen=True, slots=True)
class StandardPair:
    left: int
    right: tuple[int, ...] = ()


@value_class.dataclass(frozen=True, slots=True)
class OurPair:
    left: int
    right: tuple[int, ...] = ()


def test_instances_are_given_told_compared_and_ordered_alike() -> None:
    def all_of(made: Any) -> list[Any]:
        some = [made(1), made(1, 24), made(first=1, last=2), made(2, 3, ["x"], told="y"), made(2, 3)]
        ranks = [(a == b, a != b, a < b, a <= b, a > b, a >= b) for a in some for b in some]
        return [*map(repr, some), ranks, [some.index(one) for one in some], sorted(map(repr, sorted(some)))]

    standard, ours = both(span)
    assert all_of(ours) == all_of(standard)
    assert ours(1).notes is not ours(1).notes
    assert hash(ours(1, 2)) == hash(ours(1, 2, ["x"])) == hash(standard(1, 2))
    assert ours(1) != standard(1)
    assert ours.__match_args__ == standard.__match_args__
    assert not hasattr(ours(1), "__dict__")


def test_what_is_missing_or_not_known_is_refused_alike() -> None:
    for made in both(span):
        for args, known in (((), {}), ((1, 2, [], "", 5), {}), ((1,), {"middle": 2}), ((1,), {"first": 2})):
            with pytest.raises(TypeError):
                made(*args, **known)
    for made in both(named):
        with pytest.raises(TypeError):
            made("by its place")


def test_inherited_fields_and_those_worked_out_are_alike() -> None:
    told: list[Any] = []
    for made in both(named):
        one = made(name="a", parts=(1, 2))
        told.append((repr(one), one.twice, one == made(name="a", parts=(1, 2)), one == made(name="a"), one.total))
        assert one.seen == []
        assert one.seen is not made(name="a").seen
        again = dataclasses.replace(one, name="b", size=3.0)
        told.append((repr(again), again.twice, dataclasses.asdict(again)))
        told.append([(f.name, f.kw_only, f.init, f.repr, f.compare) for f in dataclasses.fields(made)])
    assert told[:3] == told[3:]


def test_what_a_class_says_itself_stays() -> None:
    for made in both(hashed):
        assert repr(made(12)) == "ends in 2"
        assert made(12) == made(22)
        assert hash(made(12)) == 2
        assert made.__doc__ == "Has its own hash, text and equality."


def test_without_eq_only_the_same_one_is_equal() -> None:
    for made in both(alone):
        one = made(1)
        assert one == one
        assert one != made(1)
        assert len({one, made(1)}) == 2


def test_nothing_of_it_can_be_changed() -> None:
    for define in (span, named, hashed, alone):
        for made in both(define):
            one = made(name="a") if define is named else made(1)
            name = dataclasses.fields(made)[0].name
            with pytest.raises(dataclasses.FrozenInstanceError):
                setattr(one, name, 2)
            with pytest.raises(dataclasses.FrozenInstanceError):
                delattr(one, name)


def test_what_may_change_is_made_alike() -> None:
    for made in both(changing):
        one = made(2)
        one.count += 1
        assert one == made(3)
        assert one > made(2)
        assert repr(one).endswith("Changing(count=3, notes=[])")
        with pytest.raises(TypeError):
            hash(one)


@pytest.mark.parametrize("made", [StandardPair, OurPair])
def test_copies_and_pickles_are_equal(made: Any) -> None:
    one = made(1, (2, 3))
    for copied in (copy.copy(one), copy.deepcopy(one), pickle.loads(pickle.dumps(one)), dataclasses.replace(one)):
        assert copied == one
        assert repr(copied) == repr(one)
    match one:
        case StandardPair(left, right) | OurPair(left, right):
            assert (left, right) == (1, (2, 3))
        case _:
            pytest.fail("it is matched by its fields")


def test_one_of_many_is_made_as_the_first_ones_were() -> None:
    def told(made: Any) -> list[str]:
        return [repr((made(n), made(first=n, told="x"), made(n, last=n + 1))) for n in range(200)]

    standard, ours = both(span)
    assert told(ours) == told(standard)
    assert len({id(one.notes) for one in [ours(n) for n in range(200)]}) == 200
    for made in (standard, ours):
        with pytest.raises(TypeError, match=r"missing 1 required positional argument: 'first'"):
            made()


def test_a_class_below_one_that_calls_its_init_is_made_once() -> None:
    @value_class.dataclass(frozen=True)
    class Above:
        number: int

    class Below(Above):
        def __init__(self, number: int) -> None:
            calls.append(number)
            super().__init__(number + 1)

    calls: list[int] = []
    assert [Below(n).number for n in range(150)] == [n + 1 for n in range(150)]
    assert calls == list(range(150))


def test_a_default_that_all_would_share_is_refused() -> None:
    for decorator, field in BOTH:
        defaults: tuple[Any, ...] = ([], field(default=[]))
        for default in defaults:
            with pytest.raises(ValueError, match="mutable default"):
                decorator()(type("Sharing", (), {"__annotations__": {"notes": "list[str]"}, "notes": default}))


def test_a_class_compiles_nothing_until_it_has_many_instances() -> None:
    counts = """
import builtins, sys
from session.value_class import dataclass
compiled = []
real = builtins.exec
builtins.exec = lambda *given: (compiled.append(given[0]), real(*given))
@dataclass(frozen=True, slots=True)
class One:
    first: int
    last: int = 2
few = [One(1) for _ in range(50)]
print(len(compiled), end=" ")
many = [One(1) for _ in range(500)]
print(len(compiled), *{repr(one) for one in (*few, *many)})
"""
    done = subprocess.run([sys.executable, "-c", counts], capture_output=True, text=True, check=True)
    assert done.stdout.split(maxsplit=2) == ["0", "1", "One(first=1, last=2)\n"]


def test_all_that_is_made_of_fields_comes_from_here() -> None:
    house = Path(session.__file__).parent
    imports = {
        path.relative_to(house).as_posix()
        for path in house.rglob("*.py")
        for node in statements(parsed(path))
        if (isinstance(node, ast.ImportFrom) and node.module == "dataclasses")
        or (isinstance(node, ast.Import) and "dataclasses" in {one.name for one in node.names})
    }
    assert imports == {"value_class.py"}
    # It does not know all of theirs.
    texts = [path.read_text(encoding="utf-8") for path in house.rglob("*.py") if path.name != "value_class.py"]
    assert not [text for text in texts if "InitVar" in text or "KW_ONLY" in text]


def test_what_the_standard_library_makes_them_of_is_loaded_when_it_is_asked_alone() -> None:
    defines = """
import sys
from session.value_class import dataclass, field, fields, replace
@dataclass(frozen=True, slots=True)
class One:
    first: int
    notes: list = field(default_factory=list)
replace(One(1), first=2), [one.name for one in fields(One)]
print(sys.modules.keys() & {"dataclasses", "inspect"}, end=" ")
import dataclasses
print([(one.name, one.type) for one in dataclasses.fields(One)], dataclasses.asdict(One(1)), end=" ")
print(dataclasses.is_dataclass(One))
"""
    done = subprocess.run([sys.executable, "-c", defines], capture_output=True, text=True, check=True)
    assert done.stdout == f"set() {[('first', int), ('notes', list)]} {{'first': 1, 'notes': []}} True\n"


def test_an_init_that_was_fetched_before_it_was_changed_makes_instances_still() -> None:
    # As a thread has it that was stopped between fetching and calling it, while others made the first ones.
    for made in both(span):
        fetched = made.__init__
        for first in range(value_class._MANY + 2):
            made(first)
        late = made.__new__(made)
        fetched(late, 7, last=9)
        assert (late.first, late.last, late.notes) == (7, 9, [])


def test_a_field_that_has_to_be_given_after_one_that_has_not_is_refused_by_the_class() -> None:
    for decorator, _ in BOTH:
        with pytest.raises(TypeError, match="non-default argument 'b' follows default argument"):

            @decorator(frozen=True)
            class Askew:
                a: int = 1
                b: int


def test_a_field_may_have_any_name_in_a_compiled_init_too() -> None:
    def odd(decorator: Decorator, field: Callable[..., Any]) -> Any:
        @decorator(frozen=True, slots=True)
        class Odd:
            set_: int
            NONE: list[int] = field(default_factory=list)
            make_set_: int = 3

        return Odd

    for made in both(odd):
        told = [made(n) for n in range(2 * value_class._MANY)]
        assert told[-1] == made(2 * value_class._MANY - 1, [], 3)
        assert told[-1].NONE is not told[-2].NONE


def test_what_belongs_to_the_class_is_no_field_however_it_is_told() -> None:
    def with_one(decorator: Decorator, field: Callable[..., Any]) -> Any:
        del field

        @decorator(frozen=True)
        class WithOne:
            y: int
            x: typing.ClassVar[int] = 3

        return WithOne

    for made in both(with_one):
        assert [one.name for one in dataclasses.fields(made)] == ["y"]
        assert made(2).x == 3
