"""The files one owns with what the records add: teeth filed by each corner, from the list of files and from the logs.

``teeth_filed`` in files.toml counts what was filed before the records began, or outside of them: the list bears no
date, so every finished sharpening that names a file and its corner is added to it. A gullet filed or reshaped counts
as a tooth, or where its strokes were counted by them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from session.till.known_saws import known_saws
from session.till.past_sharpening import Sharpening
from session.till.saw_history import history
from session.till.till_folder import Till
from session.trade.file_choice import FileOwned
from session.trade.file_life import after_filing, teeth_worn
from session.trade.file_names import CORNERS, called
from session.value_class import dataclass, replace
from session.walk.corner_work import CornerWork


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


def corners_used(finished: Iterable[Sharpening]) -> tuple[CornerWork, ...]:
    """By file and corner, what ``finished`` filed, those told before those that were not; none where nothing was."""
    return _added(work for one in finished for work in one.files)


def files_worn(owned: Sequence[FileOwned], finished: Iterable[Sharpening]) -> tuple[FileWear, ...]:
    """Each of ``owned`` with what ``finished``, the finished sharpenings of all saws, filed with it; in its order."""
    mine: dict[str, list[tuple[CornerWork, ...]]] = {}
    for one in finished:
        if not one.finished:
            continue
        by_file: dict[str, list[CornerWork]] = {}
        for work in one.files:
            by_file.setdefault(called(work.file), []).append(work)
        for name, works in by_file.items():
            mine.setdefault(name, []).append(tuple(works))
    return tuple(_worn(file, mine.get(called(file.name), [])) for file in owned)


def finished_in(till: Till, newest: int | None = None) -> tuple[Sharpening, ...]:
    """Every finished sharpening of every saw of ``till``, or those in the ``newest`` logs of each. Raises Refusal."""
    told = (history([till], saw, unfinished=False, newest=newest) for saw in known_saws([till]))
    return tuple(one for of_saw in told for one in of_saw.finished)


def _added(works: Iterable[CornerWork]) -> tuple[CornerWork, ...]:
    found: dict[tuple[str, int], CornerWork] = {}
    for work in works:
        key = (called(work.file), work.corner or 0)
        before = found.get(key, CornerWork())
        # The name as it was written last stands for all that are called the same.
        found[key] = replace(
            work,
            gullets=before.gullets + work.gullets,
            counted=before.counted + work.counted,
            strokes=before.strokes + work.strokes,
        )
    return tuple(found[key] for key in sorted(found, key=lambda key: (not key[0], key[0], not key[1], key[1])))


def _worn(file: FileOwned, sharpenings: Sequence[tuple[CornerWork, ...]]) -> FileWear:
    works = _added(work for one in sharpenings for work in one)
    recorded = {work.corner: teeth_worn(work.gullets - work.counted, work.strokes) for work in works if work.corner}
    for corner, teeth in recorded.items():
        file = after_filing(file, corner or 0, teeth)
    one, two, three = (recorded.get(corner, 0) for corner in CORNERS)
    return FileWear(
        file=file,
        recorded=(one, two, three),
        sharpenings=len(sharpenings),
        untold=sum(work.gullets for work in works if work.corner is None),
    )
