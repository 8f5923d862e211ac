"""Faults: the smallest remedy first, and the right side stoned."""

from __future__ import annotations

import pytest

from session.texts import faults
from session.texts.steps import step
from session.walk.stages import FACTS, Kind, Stage

CAUSES = [(name, cause) for name in faults.names() for cause in faults.fault(name).causes]


@pytest.mark.parametrize(("name", "cause"), CAUSES, ids=[f"{name}-{cause.cause}" for name, cause in CAUSES])
def test_an_extra_stage_is_one_that_can_be_worked(name: str, cause: faults.Cause) -> None:
    if cause.extra is None:
        assert not cause.one_sided
        return
    facts = FACTS[cause.extra.stage]
    assert cause.extra.stage in (Stage.LEVEL, Stage.SET, Stage.FILE, Stage.DRESS)
    assert (cause.extra.passes > 0) is (facts.kind is Kind.PASS)
    assert cause.extra.passes <= 2
    sided = cause.one_sided or cause.extra.sides == (1, 2)
    assert sided is (cause.extra.stage is Stage.DRESS)
    # No work that was read says how many passes of the stone, so every such number is marked.
    if cause.extra.stage is Stage.DRESS:
        assert "from memory" in cause.source


def test_every_answer_to_the_last_cut_leads_to_a_fault() -> None:
    asks = step(Stage.LOOK_OVER, "last cut").asks
    assert asks is not None
    assert set(asks.choices) - {"good", "none"} <= set(faults.names())


@pytest.mark.parametrize(("toward", "side"), [("right", 1), ("left", 2)])
def test_the_face_toward_which_it_wanders_is_stoned(toward: str, side: int) -> None:
    first = faults.fault("wanders").causes[0]
    assert faults.extra_for(first, toward) == faults.RemedyStage(Stage.DRESS, (side,), 1)
    assert faults.extra_for(first) is None


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
    both = faults.fault("burr").causes[0]
    assert faults.extra_for(both) == faults.RemedyStage(Stage.DRESS, (1, 2), 1)


def test_what_takes_no_steel_is_tried_before_what_does() -> None:
    for name in ("binds", "slow", "rough"):
        found = faults.fault(name).causes
        assert found[0].extra is None
        assert any(cause.extra is not None for cause in found[1:])
