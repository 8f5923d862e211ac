"""The place that is to be counted: what stands under its teeth keeps apart."""

from __future__ import annotations

import pytest

from session.pictures.counted_place import CountedPlace, counted_place


@pytest.mark.parametrize("side", [1, 2])
@pytest.mark.parametrize("rule", ["3 9/32 in", "6.6 in", "80 mm"])
def test_heel_rule_and_toe_have_a_space_between_them(rule: str, side: int) -> None:
    ends = ("◀ toe", "heel ▶") if side == 1 else ("◀ heel", "toe ▶")
    met = set()
    for width in range(18, 60):
        rows = counted_place(CountedPlace(23, 155, True, "last worked", rule), (30.0, 30.0), side, width, 7)
        under = "".join(run.text for run in rows[-1])
        assert under.startswith(ends[0])
        assert under.endswith(ends[1])
        between = under[len(ends[0]) : -len(ends[1])]
        assert between.strip() in ("", rule, f"{rule} from the heel")
        assert between[0] == between[-1] == " ", (width, under)
        met.add(between.strip())
    assert met >= {rule, f"{rule} from the heel"}
