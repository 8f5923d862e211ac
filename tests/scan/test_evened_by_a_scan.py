"""From end to end: a leveled simulated plate scanned, evened by the words of the plan, filed, and scanned again."""

from __future__ import annotations

import math
import re
from pathlib import Path
from statistics import median

import pytest

from known_line import KnownLine, KnownTooth, random_line
from made_scan import Optics
from scan_judged import Judged, judged, random_optics, scanned
from session.files.recipe import load_recipe
from session.files.supplied import DEMO_SAW, supplied_folder
from session.machine.refusal import Refusal
from session.rehearsal.plate import SimulatedPlate
from session.trade.scanned_line import uneven_line
from soak_table import tried
from spacing_trial import bounds, by_places, flats_along, known_points, spacing, walked

#: Seeds whose filer grades its flats, and levels until half of them are as wide as a scan can tell from points.
SEEDS = (2, 10)

#: Such a width at 1200 dots per inch, mm.
TOLD_MM = 0.06

#: Lines of fewer points tell neither a bow nor which of them are odd: there it counts that nothing is told wrong.
FEW = 12


def as_line(plate: SimulatedPlate) -> KnownLine:
    """The outline of a plate's teeth, for a scan."""
    front, back = (math.degrees(math.atan(lean)) for lean in plate.leans)
    teeth = []
    for number in range(1, plate.points + 1):
        a, b = plate.flat_ends_mm(number)
        middle = (a + b) / 2.0
        teeth.append(KnownTooth(min(a, middle), max(b, middle), plate.tooth(number).top, front, back))
    return KnownLine(tuple(teeth), radius=0.12)


@pytest.mark.soak("a line evened by a scan")
def test_a_line_evened_by_its_scan_gets_nearly_as_even_as_the_steel_allows(tmp_path: Path) -> None:
    saw = load_recipe(supplied_folder("demo") / DEMO_SAW).saw
    middles, bests, evened = [], [], []
    for seed in SEEDS:
        tried()
        leveled = walked(saw, seed, tmp_path, strip=False)
        assert leveled is not None
        plate = leveled[0]
        ends = [plate.flat_ends_mm(number) for number in range(1, plate.points + 1)]
        assert median(abs(b - a) for a, b in ends) >= TOLD_MM
        middle, best = bounds(plate)
        optics = Optics(dpi=1200, seed=seed + 1, tilt=0.5 * seed)
        before = scanned(as_line(plate), optics, tmp_path).line
        assert before.count == plate.points
        after = by_places(plate, seed, uneven_line(before))
        flats = flats_along(plate)
        done = spacing(known_points(after, flats), saw.pitch_mm)
        told = scanned(as_line(after), optics, tmp_path).line
        assert told.count == plate.points
        # What the second scan tells of the spaces is what is true of them.
        pairs = zip(told.teeth, flats, strict=True)
        points = [None if flat is None or one.flat_mm is None else one.place_mm for one, flat in pairs]
        assert spacing(points, saw.pitch_mm).rms == pytest.approx(done.rms, abs=0.01)
        middles.append(middle.rms)
        bests.append(best.rms)
        evened.append(done.rms)
        print(
            f"seed {seed}: middle {middle}, best {best}, evened {done}; heights {before.height_spread_mm:.4f}, "
            f"{told.height_spread_mm:.4f}"
        )
    gained = (sum(middles) - sum(evened)) / (sum(middles) - sum(bests))
    print(f"gained {gained:.3f}")
    assert gained > 0.9


@pytest.mark.soak("random saws scanned")
def test_random_saws_are_told_within_what_is_wanted(tmp_path: Path) -> None:
    every, few, refused = Judged(), Judged(), []
    for seed in range(401, 425):
        tried()
        line = random_line(seed)
        try:
            (few if len(line.teeth) < FEW else every).add(
                judged(scanned(line, random_optics(seed, 1200), tmp_path), line, f"saw {seed}")
            )
        except Refusal as no:
            refused.append(str(no))
    # A count that cannot be told is refused with the place; a wrong one would be worse.
    told = [re.search(r"near column \d+, row \d+ .* it cannot be told how many stand", one) for one in refused]
    assert len(refused) <= 1
    assert all(told), refused
    assert every.wrong == few.wrong == []
    assert every.not_seen - every.in_doubt < 0.01 * every.teeth
    assert every.in_doubt < 0.03 * every.teeth
    for what, most in {"height": 0.01, "place": 0.015, "flat": 0.03, "front": 1.0, "back": 1.0}.items():
        assert every.spread(what) <= most, what
        # On two dozen saws the share that holds scatters itself, and errors of one scan are alike.
        assert 0.5 <= every.held(what) <= 0.85, what
