"""A whole sharpening by keys, every moment of it seen, walked once for all the tests that look at it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bench_person import Person
from bench_shed import Shed
from bench_sight import Glance


@dataclass(frozen=True)
class WholeWalk:
    """Every screen from the first to the last, in order, and the marks in the log at the end."""

    points: int
    glances: tuple[Glance, ...]
    marks: tuple[dict[str, Any], ...]


_WALKED: dict[tuple[int, int], WholeWalk] = {}


async def whole_walk(shed: Shed, size: tuple[int, int]) -> WholeWalk:
    """A sharpening with the key on the first box pressed over and over, of 24 teeth on the small screen, else of 12."""
    if size not in _WALKED:
        points, jaw = (24, 40) if size == (80, 24) else (12, 20)
        glances: list[Glance] = []

        def look(person: Person) -> bool:
            seen = Glance(tuple(person.rows()), len(person.marks_on_disk()))
            # A measure asks once before it is skipped: without a mark it is the same moment still.
            if not glances or glances[-1].marks != seen.marks:
                glances.append(seen)
            return person.boxes()[0][1] == "to the till"

        async with shed.bench(size=size, points=points, jaw=jaw) as person:
            await person.go_on(look)
            _WALKED[size] = WholeWalk(points, tuple(glances), tuple(person.marks_on_disk()))
    return _WALKED[size]
