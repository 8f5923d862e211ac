"""Lines filed by the program's words get nearly as even as the steel allows, where it is known where the flats lie."""

from __future__ import annotations

from pathlib import Path

import pytest

from session.files.recipe import load_recipe
from session.files.supplied import DEMO_SAW, supplied_folder
from session.trade.saw import Saw
from spacing_trial import AIM, NOT_WORSE, STRIP_AIM, SpacingTrial, by_rule, gained, over_middle, poorly_filed, trial

#: Seeds whose filer grades its flats.
FEW = (1, 10)
MANY = 16


@pytest.fixture(scope="module")
def demo_saw() -> Saw:
    return load_recipe(supplied_folder("demo") / DEMO_SAW).saw


def held(trials: list[SpacingTrial]) -> None:
    for what in ("worst", "rms"):
        assert gained(trials, what) >= AIM
        assert over_middle(trials, what) <= NOT_WORSE
        assert gained(trials, what, "by_strip") >= STRIP_AIM
        # By grades alone nothing is gained, whatever the strip tells.
        assert gained(trials, what, "by_strip") > gained(trials, what, "by_grades")
    for one in trials:
        assert one.by_strip.rms < one.told_middle.rms
    # A middle that could not be bettered would prove nothing.
    assert sum(one.best.rms for one in trials) < 0.8 * sum(one.middle.rms for one in trials)


@pytest.mark.wide
def test_a_line_filed_by_the_words_is_as_even_as_can_be(demo_saw: Saw, tmp_path: Path) -> None:
    trials = [trial(demo_saw, seed, tmp_path) for seed in FEW]
    held([one for one in trials if one is not None])
    assert None not in trials


@pytest.mark.soak("a line filed by the words")
def test_sixteen_lines_filed_by_the_words_are_as_even_as_can_be(demo_saw: Saw, tmp_path: Path) -> None:
    found = (trial(demo_saw, seed, tmp_path) for seed in range(3 * MANY))
    trials = [one for one in found if one is not None][:MANY]
    assert len(trials) == MANY
    held(trials)


@pytest.mark.wide
def test_where_gullets_are_out_of_place_the_printed_lean_gains_and_its_contrary_loses(demo_saw: Saw) -> None:
    leveled = [poorly_filed(demo_saw, seed) for seed in range(12)]
    middle, ruled = (sum(one[way].rms for one in map(by_rule, leveled)) for way in (0, 1))
    contrary = sum(by_rule(plate, against=True)[1].rms for plate in leveled)
    assert ruled < middle
    assert contrary > 1.5 * middle


def test_without_a_flat_graded_there_is_nothing_to_compare(demo_saw: Saw, tmp_path: Path) -> None:
    assert trial(demo_saw, 3, tmp_path) is None
