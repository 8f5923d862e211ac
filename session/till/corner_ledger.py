"""The files one owns with what the records add: teeth filed by each corner, from the list of files and from the logs.

``teeth_filed`` in files.toml counts what was filed before the records began, or outside of them: the list bears no
date, so every finished sharpening that names a file and its corner is added to it. A gullet filed counts as a tooth.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from session.till.known_saws import known_saws
from session.till.past_sharpening import Sharpening
from session.till.saw_history import history
from session.till.till_folder import Till
from session.trade.file_choice import FileOwned, called
from session.trade.file_life import CORNERS, after_filing


@dataclass(frozen=True, slots=True, kw_only=True)
class FileWear:
    """One file and what it has filed.

    file: with the teeth of the list and of the records together, corner by corner.
    recorded: those of the records alone. sharpenings: how many finished ones name this file.
    untold: gullets it filed in the records without a word of the corner; they count nowhere else.
    """

    file: FileOwned
    recorded: tuple[int, int, int] = (0, 0, 0)
    sharpenings: int = 0
    untold: int = 0


@dataclass(frozen=True, slots=True)
class CornerUsed:
    """Gullets filed by one corner of one file; file empty and corner None where they were not told."""

    file: str
    corner: int | None
    gullets: int


def corners_used(finished: Iterable[Sharpening]) -> tuple[CornerUsed, ...]:
    """By file and corner, what ``finished`` filed, those told before those that were not; none where nothing was."""
    names: dict[str, str] = {}
    filed: dict[tuple[str, int], int] = {}
    for one in finished:
        name = one.file_used or ""
        # The name as it was written last stands for all that are called the same.
        names[called(name)] = name
        key = (called(name), one.corner or 0)
        filed[key] = filed.get(key, 0) + one.gullets
    order = sorted((key for key in filed if filed[key]), key=lambda key: (not key[0], key[0], not key[1], key[1]))
    return tuple(CornerUsed(names[name], corner or None, filed[name, corner]) for name, corner in order)


def files_worn(owned: Sequence[FileOwned], finished: Iterable[Sharpening]) -> tuple[FileWear, ...]:
    """Each of ``owned`` with what ``finished``, the finished sharpenings of all saws, filed with it; in its order."""
    mine: dict[str, list[Sharpening]] = {}
    for one in finished:
        if one.file_used is not None and one.finished:
            mine.setdefault(called(one.file_used), []).append(one)
    return tuple(_worn(file, mine.get(called(file.name), [])) for file in owned)


def finished_in(till: Till) -> tuple[Sharpening, ...]:
    """Every finished sharpening of every saw of ``till``. Raises Refusal."""
    return tuple(one for saw in known_saws([till]) for one in history([till], saw).finished)


def _worn(file: FileOwned, sharpenings: Sequence[Sharpening]) -> FileWear:
    recorded = [sum(one.gullets for one in sharpenings if one.corner == corner) for corner in CORNERS]
    for corner, teeth in zip(CORNERS, recorded, strict=True):
        file = after_filing(file, corner, teeth)
    return FileWear(
        file=file,
        recorded=(recorded[0], recorded[1], recorded[2]),
        sharpenings=len(sharpenings),
        untold=sum(one.gullets for one in sharpenings if one.corner is None),
    )
