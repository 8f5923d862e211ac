"""Teeth as their steel stands: flats as wide as they are, a low tooth lower, the heel where the handle is."""

from __future__ import annotations

import pytest

from session.pictures.bare_teeth import BareTooth, bare_teeth
from session.pictures.picture_rows import Role, Rows, plain

PITCH = 4.0
ANGLES = (15.0, 45.0)
WIDTH, HEIGHT = 144, 12

#: Cells for each mm: 3.6 pitches are shown across.
SCALE = WIDTH / 3.6 / PITCH


def drawn(flats: list[float], below: float = 0.0, side: int = 2) -> Rows:
    """Four teeth with these flats in mm, the second one so far below the line, seen around the second."""
    teeth = [
        BareTooth(PITCH * n - flat / 2, PITCH * n + flat / 2, below if n == 1 else 0.0) for n, flat in enumerate(flats)
    ]
    return bare_teeth(teeth, PITCH, PITCH, ANGLES, WIDTH, HEIGHT, side=side)


def roles(rows: Rows, y: int) -> list[Role]:
    return [run.role for run in rows[y] for _ in run.text]


@pytest.mark.parametrize("flat", [0.3, 0.6, 1.0])
def test_a_flat_is_as_wide_as_it_is(flat: float) -> None:
    rows = drawn([0.0, flat, 0.0, 0.0])
    shine = max(roles(rows, y).count(Role.FLAT) for y in range(HEIGHT))
    assert shine == pytest.approx(flat * SCALE, abs=1.0)
    top = next(y for y in range(HEIGHT) if Role.FLAT in roles(rows, y))
    cells = [x for x, role in enumerate(roles(rows, top)) if role is Role.FLAT]
    assert (cells[0] + cells[-1] + 1) / 2 == pytest.approx(WIDTH / 2, abs=1.0)


def test_a_low_tooth_stands_lower_by_what_it_is_low() -> None:
    def first(below: float) -> int:
        rows = drawn([0.2, 0.2, 0.2, 0.2], below)
        return next(y for y in range(1, HEIGHT) if roles(rows, y)[WIDTH // 2] in (Role.FLAT, Role.STEEL))

    # A cell is two units high.
    assert first(0.8) - first(0.0) == pytest.approx(0.8 * SCALE / 2, abs=1.0)


def test_the_heel_is_where_the_handle_is() -> None:
    right, left = plain(drawn([0.4] * 4, side=1))[-1], plain(drawn([0.4] * 4, side=2))[-1]
    assert right.split() == ["toe", "3", "2", "1", "heel"]
    assert left.split() == ["heel", "1", "2", "3", "toe"]
