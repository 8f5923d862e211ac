"""The twenty-five inspections and what a careful teacher would have done, through the real command."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import pytest

from inspections import INSPECTIONS, Inspection
from made_saws import panel_saw
from named_works import works
from observed import over
from session.advice.decision import decide
from session.advice.work import FREE, What
from session.cli import main
from session.trade.lengths import parse_length
from session.trade.observation import Crack, Seen
from session.trade.seen_words import Bright, Cutting, Handle, LineShape, Plate, Sizes, Toward


def advised(inspection: Inspection, folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What `toothline advise --json` says of an inspection."""
    recipe, seen = folder / "saw.toml", folder / "seen.toml"
    recipe.write_text(inspection.recipe, encoding="utf-8")
    seen.write_text(inspection.seen, encoding="utf-8")
    arguments = ["--till", str(folder / "till"), "advise", str(recipe), "--seen", str(seen), "--json"]
    assert main(arguments) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize("inspection", INSPECTIONS, ids=lambda one: f"case {one.number}")
def test_an_inspection_is_answered_as_a_careful_teacher_would(
    inspection: Inspection, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = advised(inspection, tmp_path, capsys)
    assert [one["what"] for one in found["work"]] == list(inspection.work)
    assert found["stop"] is inspection.stop
    assert set(inspection.looks) <= set(found["looks"])
    told = " ".join([*(one["reason"] for one in found["work"]), *found["notes"]])
    for words in inspection.told:
        assert words in told
    for one in (*found["work"], *found["less"], *found["more"]):
        assert works(one["source"])
        assert one["steel_thou"] is None or one["steel_thou"] >= 0


def test_the_table_for_a_person_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (inspection,) = [one for one in INSPECTIONS if one.number == "2"]
    advised(inspection, tmp_path, capsys)
    arguments = ["advise", str(tmp_path / "saw.toml"), "--seen", str(tmp_path / "seen.toml")]
    assert main(["--till", str(tmp_path / "till"), *arguments]) == 0
    told = capsys.readouterr().out
    for words in ("level", "0.8 thou", "KING 64", "Less than that: touch up", "More than that", "you decide"):
        assert words in told


def test_without_observations_the_two_looks_that_settle_most_are_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--till", str(tmp_path), "advise", "crosscut-panel", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["looks"] == ["bright", "last_cut"]
    assert [one["what"] for one in found["work"]] == ["touch up"]


SAW: Final = panel_saw(fleam=25.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))


@dataclass(frozen=True)
class Figure:
    """A figure that cannot be, and how it is seen."""

    seen: Seen
    look: str
    expected: str


@pytest.mark.parametrize(
    "figure",
    [
        Figure(Seen(over_points=over(500.0)), "over_points", "0.047 in"),
        Figure(Seen(over_points=over(-1.0)), "over_points", "0.035 in"),
        Figure(Seen(points_in_line=640), "points_in_line", "155"),
        Figure(Seen(points_in_an_inch=40.0), "points_in_an_inch", "8"),
        Figure(Seen(high=(300,)), "high", "155"),
        Figure(Seen(broken=(0,)), "broken", "155"),
    ],
    ids=lambda figure: figure.look,
)
def test_a_figure_that_cannot_be_is_asked_again_beside_what_is_expected(figure: Figure) -> None:
    found = decide(SAW, figure.seen)
    (doubt,) = found.doubts
    assert found.looks[0] == doubt.look == figure.look
    assert figure.expected in doubt.expected
    assert not found.stop
    assert FREE.issuperset(found.whats)


@pytest.mark.parametrize(
    ("seen", "expected"),
    [
        (Seen(hard_teeth=True), "out of use"),
        (Seen(broken=(10, 11, 12)), "retooth"),
        (Seen(points_in_line=232), "mend recipe"),
        (Seen(crack=Crack(None, None), bright=Bright.NONE, last_cut=Cutting.GOOD), "out of use"),
    ],
)
def test_what_stops_the_work_stops_it_whatever_else_was_seen(seen: Seen, expected: str) -> None:
    for more in (seen, replace(seen, sizes=Sizes.ALTERNATE, line=LineShape.HOLLOW, over_points=over(1.0))):
        found = decide(SAW, more)
        assert found.stop
        assert found.whats == (expected,)


@pytest.mark.parametrize(
    ("change", "work"),
    [
        (lambda seen: replace(seen, over_points=over(2, 7, 5, 8, 6)), ("set", "stone both")),
        (lambda seen: replace(seen, over_points=over(8, 11, 9, 8, 10)), ("stone both",)),
        (lambda seen: replace(seen, wanders_to=Toward.LEFT, over_points=over(6, 6, 6)), ("stone left",)),
        (lambda seen: replace(seen, handle=Handle.LOOSE), ("tighten handle",)),
        (lambda seen: replace(seen, plate=None, handle=None), ("technique",)),
    ],
)
def test_a_cut_that_wanders_is_answered_by_what_was_seen(change: Callable[[Seen], Seen], work: tuple[str, ...]) -> None:
    seen = Seen(
        bright=Bright.NONE,
        last_cut=Cutting.WANDERS,
        plate=frozenset({Plate.STRAIGHT, Plate.CLEAN}),
        handle=Handle.TIGHT,
        high=(),
        sizes=Sizes.EVEN,
    )
    assert decide(SAW, change(seen)).whats == work


def test_the_set_is_judged_by_what_todays_own_work_leaves() -> None:
    """Leveling by 0.04 mm takes 6/45 of that off the set, the stone a quarter thou: 3.2 is on the limit, 2.6 under."""
    dull = Seen(bright=Bright.MOST, last_cut=Cutting.SLOW)
    assert What.SET not in decide(SAW, replace(dull, over_points=over(3.2))).whats
    assert What.SET in decide(SAW, replace(dull, over_points=over(2.6))).whats
    # The same set, when nothing is filed today, is not short by more than the caliper can be wrong.
    sharp = Seen(bright=Bright.NONE, last_cut=Cutting.ROUGH, over_points=over(2.6))
    assert What.SET not in decide(SAW, sharp).whats


def test_dry_hard_wood_asks_for_less_set() -> None:
    soft = replace(SAW, wood="dry softwood", least_per_side=parse_length("0.005 in"))
    seen = Seen(bright=Bright.MOST, last_cut=Cutting.SLOW, over_points=over(4.0))
    assert What.SET in decide(soft, seen).whats
    assert What.SET not in decide(soft, replace(seen, wood="dry hardwood")).whats
