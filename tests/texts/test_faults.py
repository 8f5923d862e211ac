"""Faults: the smallest remedy first, and the right side stoned."""

from __future__ import annotations

import re

import pytest

from session.texts import faults
from session.texts.steps import step
from session.walk.stages import Stage


def test_every_answer_to_the_last_cut_leads_to_a_fault() -> None:
    asks = step(Stage.LOOK_OVER, "last cut").asks
    assert asks is not None
    assert set(asks.choices) - {"good", "none"} <= set(faults.names())


def test_side_1_is_the_right_face_of_a_saw_in_use() -> None:
    """In the vise: toe left (-x), teeth up (+z), the near face looks to the person (-y). In use the toe goes away
    from the person (+y) and the teeth point down (-z). The turn that does both takes the near face to the right."""

    def cross(a: tuple[int, ...], b: tuple[int, ...]) -> tuple[int, ...]:
        return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])

    toe_vise, teeth_vise, near = (-1, 0, 0), (0, 0, 1), (0, -1, 0)
    toe_use, teeth_use, right = (0, 1, 0), (0, 0, -1), (1, 0, 0)
    assert cross(teeth_vise, toe_vise) == near
    # A turn keeps cross products, so the near face in use is teeth × toe there.
    assert cross(teeth_use, toe_use) == right
    assert faults.side_facing("right") == 1


def test_sides_that_are_not_there() -> None:
    with pytest.raises(ValueError, match='"right" or "left", not to "up"'):
        faults.side_facing("up")


#: Words of a remedy that takes steel off the saw today.
STEEL = re.compile(r"\b(stone|level|light stroke|set a touch|even the set)\b", re.IGNORECASE)


def test_what_takes_no_steel_is_tried_before_what_does() -> None:
    for name in ("binds", "slow", "rough"):
        takes = [bool(STEEL.search(cause.remedy)) for cause in faults.fault(name).causes]
        assert not takes[0]
        assert any(takes[1:])
