"""Whether a retoothing is worth it: what speaks against it, and the work that it comes to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from session.advice.retooth_advice import RetoothAdvice, retooth_advice
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.trade.saw import Saw
from session.trade.strokes import DEFAULT_BITE, Bite

SAW = load_recipe(supplied_folder("recipes") / "crosscut-panel.toml").saw


def wished(points_per_inch: float = 8.0, **changed: float) -> Saw:
    pitch = 25.4 / (points_per_inch - 1)
    count = f"{points_per_inch:g} points per inch"
    return replace(SAW, pitch_mm=pitch, count_as=count, points=int(558.8 / pitch + 0.5) + 1, **changed)  # type: ignore[arg-type]


def advised(new: Saw, left_mm: float | None = None, bite: Bite = DEFAULT_BITE) -> RetoothAdvice:
    return retooth_advice(SAW, new, bite, left_mm=left_mm)


def why(told: RetoothAdvice) -> str:
    return " ".join(reason.text for reason in told.reasons)


@pytest.mark.parametrize(
    ("new", "said"),
    [
        (wished(), "These are the teeth that the saw has."),
        (wished(rake=18.0), "No work of its own: hold the file at the new angles from now on."),
        (wished(8.5), "by less than a tenth is not felt in the cut"),
        (wished(12.0), "hours by hand. A machine made for it cuts new teeth in minutes"),
    ],
)
def test_what_is_not_worth_it_says_why(new: Saw, said: str) -> None:
    told = advised(new)
    assert not told.worth
    assert said in why(told)


def test_what_is_worth_it_says_why_too() -> None:
    told = advised(wished(4.5))
    assert told.worth
    assert "Every new point stands on an old one" in why(told)
    # A small bite makes the same steel a long work.
    assert not advised(wished(4.5), bite=Bite(0.02, 0.015, 0.03, 40)).worth


def test_a_hard_line_is_warned_of_whatever_is_wished() -> None:
    for new in (wished(), wished(4.5), wished(12.0)):
        assert "hardpoint" in why(advised(new))


def test_a_line_that_may_not_come_down_so_far_is_left() -> None:
    assert "may lose no more than" not in why(advised(wished(12.0), left_mm=5.0))
    told = advised(wished(12.0), left_mm=1.0)
    assert "and may lose no more than 0.0394 in." in why(told)


def test_figures_hang_together() -> None:
    told = advised(wished(10.0))
    value = {figure.key: figure.value for figure in told.figures}
    made = told.made
    assert value["points"] == made.points == 198
    one, every = float(value["strokes_per_gullet"] or 0), float(value["strokes_total"] or 0)
    assert every == pytest.approx(one * (made.points - 1), rel=0.02)
    low, likely, high = (float(value[key] or 0) for key in ("hours_low", "hours", "hours_high"))
    assert 0.0 < low < likely < high
    # By hand: 58 sharpenings of 0.04 mm take 2.3 mm.
    assert value["sharpenings_worth"] == pytest.approx(made.lower_mm / 0.04, abs=1.0)
    assert told.how[0].startswith("Level the line, down by 0.09")
    assert "mark 1 toward the toe from the first old point by" in told.how[1]


def test_of_a_metric_saw_all_is_told_in_millimeters() -> None:
    metric = replace(SAW, toothed_length=replace(SAW.toothed_length, unit="mm", text="558.8 mm"))
    told = retooth_advice(metric, replace(metric, pitch_mm=2.5, points=224), DEFAULT_BITE)
    together = " ".join((*told.how, *(figure.shown("mm") for figure in told.figures)))
    assert " mm" in together
    assert " in " not in " ".join(told.how[:2])
