"""A list and a mapping that grow without being copied: each earlier one still holds what it held.

A state follows another ten thousand times in one sharpening, and each keeps all marks. So those that follow one another
share what they hold, and each knows how much of it is its own. Only one that grows a second time, after another has
grown from it already, is copied.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any, Final, Generic, Self, TypeVar, overload

_Key = TypeVar("_Key")
_Item = TypeVar("_Item")


class GrownList(Sequence[_Item]):
    """A sequence of which only longer ones are made."""

    __slots__ = ("_length", "_shared")

    def __init__(self, items: Iterable[_Item] = ()) -> None:
        self._shared: list[_Item] = list(items)
        self._length = len(self._shared)

    def plus(self, *items: _Item) -> Self:
        """One that goes on with ``items``."""
        first = self._shared if len(self._shared) == self._length else self._shared[: self._length]
        first.extend(items)
        grown = type(self).__new__(type(self))
        grown._shared, grown._length = first, self._length + len(items)
        return grown

    def __len__(self) -> int:
        return self._length

    def __iter__(self) -> Iterator[_Item]:
        return islice(self._shared, self._length)

    @overload
    def __getitem__(self, index: int) -> _Item: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[_Item, ...]: ...
    def __getitem__(self, index: int | slice) -> _Item | tuple[_Item, ...]:
        if isinstance(index, slice):
            return tuple(self._shared[at] for at in range(*index.indices(self._length)))
        if not -self._length <= index < self._length:
            raise IndexError(index)
        return self._shared[index + self._length if index < 0 else index]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, GrownList | tuple):
            return NotImplemented
        return len(self) == len(other) and all(mine == theirs for mine, theirs in zip(self, other, strict=True))

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"GrownList({list(self)!r})"


class _Written(Generic[_Key, _Item]):
    """What mappings that follow one another share: every entry in the order written, and where each key has its own."""

    __slots__ = ("at", "entries")

    def __init__(self) -> None:
        self.entries: Final[list[tuple[_Key, _Item]]] = []
        self.at: Final[dict[_Key, list[int]]] = {}

    def write(self, key: _Key, item: _Item) -> None:
        self.at.setdefault(key, []).append(len(self.entries))
        self.entries.append((key, item))


class GrownMap(Mapping[_Key, _Item]):
    """A mapping whose keys keep the order in which they came, as a dict's do."""

    __slots__ = ("_count", "_length", "_shared")

    def __init__(self) -> None:
        self._shared: _Written[_Key, _Item] = _Written()
        self._length = 0
        self._count = 0

    def plus(self, key: _Key, item: _Item) -> Self:
        """One in which ``key`` has ``item``; a key that was there keeps its position."""
        shared = self._shared
        if len(shared.entries) != self._length:
            shared = _Written()
            for mine, its in islice(self._shared.entries, self._length):
                shared.write(mine, its)
        grown = type(self).__new__(type(self))
        grown._count = self._count + (key not in self)
        shared.write(key, item)
        grown._shared, grown._length = shared, len(shared.entries)
        return grown

    @classmethod
    def of(cls, items: Mapping[_Key, _Item]) -> Self:
        """One with ``items`` in their order."""
        grown = cls()
        grown._shared.entries.extend(items.items())
        grown._shared.at.update((key, [at]) for at, key in enumerate(items))
        grown._length = grown._count = len(items)
        return grown

    def __getitem__(self, key: _Key) -> _Item:
        for at in reversed(self._shared.at.get(key, ())):
            if at < self._length:
                return self._shared.entries[at][1]
        raise KeyError(key)

    def __contains__(self, key: Any) -> bool:
        at = self._shared.at.get(key)
        return at is not None and at[0] < self._length

    def holds(self, keys: Iterable[_Key]) -> int:
        """How many of ``keys`` are in it: asked of a whole line at each moment, so in one call."""
        at, length = self._shared.at, self._length
        return sum(1 for key in keys if (found := at.get(key)) is not None and found[0] < length)

    def each(self, keys: Iterable[_Key]) -> list[_Item | None]:
        """What each of ``keys`` has, None where it has nothing; in one call as well."""
        at, entries, length = self._shared.at, self._shared.entries, self._length
        found: list[_Item | None] = []
        for key in keys:
            written = at.get(key)
            if written is None:
                found.append(None)
            elif written[-1] < length:
                found.append(entries[written[-1]][1])
            else:
                found.append(self.get(key))
        return found

    def __iter__(self) -> Iterator[_Key]:
        at = self._shared.at
        return (key for n, (key, _) in enumerate(islice(self._shared.entries, self._length)) if at[key][0] == n)

    def __len__(self) -> int:
        return self._count

    def __repr__(self) -> str:
        return f"GrownMap({dict(self)!r})"
