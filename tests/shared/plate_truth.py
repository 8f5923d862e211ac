"""What is true of a simulated plate, as only a test may ask: the program and the filer's eyes never see it."""

from __future__ import annotations

from session.rehearsal.plate import SimulatedPlate


def _whole(plate: SimulatedPlate) -> list[int]:
    return [number for number, steel in enumerate(plate.teeth, 1) if not steel.broken]


def unflattened(plate: SimulatedPlate) -> tuple[int, ...]:
    """Teeth that no file has touched: neither flat nor stump."""
    return tuple(number for number in _whole(plate) if not plate.shines(number))


def worst_flat_mm(plate: SimulatedPlate) -> float:
    """The widest flat on any tooth that is not broken."""
    return max((plate.flat_mm(number) for number in _whole(plate)), default=0.0)


def line_mm(plate: SimulatedPlate) -> float:
    """The highest point, over the nominal line."""
    return max(steel.top for steel in plate.teeth)


def burrs(plate: SimulatedPlate) -> int:
    """Teeth with a burr on them."""
    return sum(steel.burr for steel in plate.teeth)


def sides_filed(plate: SimulatedPlate) -> dict[int, list[int]]:
    """For each gullet that was filed, the sides it was filed from, in order."""
    found: dict[int, list[int]] = {}
    for one in plate.filed:
        found.setdefault(one.gullet, []).append(one.side)
    return found
