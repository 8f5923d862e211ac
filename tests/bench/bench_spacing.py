"""How even lines get when they are filed by the program's words, in a table.

    python tests/bench/bench_spacing.py [SEEDS]

For a number of simulated saws whose filer graded its flats: spacing errors with every point in the middle of its flat,
at the best that the steel allows, filed by the shares that the plan of measured places names, and filed in the walk
itself, which knows only grades, or grades and the places that an eye read off a printed strip. The aims: by places and
by the strip at least 80 % of the way from the middle to the best, by grades within 1 % of the middle or better. A lean
moves a point off its middle one way or the other, and grades do not tell which way would help, so that by grades no
more can be had.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "shared"))

from session.files.recipe import load_recipe
from session.files.supplied import DEMO_SAW, supplied_folder
from spacing_trial import AIM, NOT_WORSE, STRIP_AIM, SpacingTrial, gained, over_middle, trial


def main(seeds: int = 16) -> int:
    """Print the table; the exit status is 1 when an aim is missed."""
    saw = load_recipe(supplied_folder("demo") / DEMO_SAW).saw
    trials: list[SpacingTrial] = []
    print(f"{'':>5} {'worst, µm':^44} {'rms, µm':^44}")
    ways = ("middle", "best", "by_places", "by_grades", "by_strip")
    print(f"{'seed':>5} " + " ".join(f"{way.replace('by_', ''):>8}" for way in ways * 2))
    seed = 0
    with TemporaryDirectory() as folder:
        while len(trials) < seeds:
            one = trial(saw, seed, Path(folder))
            if one is not None:
                trials.append(one)
                figures = [getattr(getattr(one, way), what) for what in ("worst", "rms") for way in ways]
                print(f"{seed:>5} " + " ".join(f"{1000 * figure:>8.1f}" for figure in figures))
            seed += 1
    missed = False
    for what in ("worst", "rms"):
        places, grades = gained(trials, what), gained(trials, what, "by_grades")
        strip = gained(trials, what, "by_strip")
        share = over_middle(trials, what)
        print(f"{what}: by places {places:.0%} of the way from the middle to the best, by grades {grades:.1%}")
        print(f"{what}: told on a strip {strip:.0%} of that way")
        print(f"{what}: by grades {share:.1%} of the error with every point in the middle")
        missed = missed or places < AIM or strip < STRIP_AIM or share > NOT_WORSE
    print("aim missed" if missed else "aims met")
    return int(missed)


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:2])))
