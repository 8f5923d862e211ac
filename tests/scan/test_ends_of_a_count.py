"""An end that leaves a tooth open is refused, or settled by the count in the recipe, and said so."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from known_line import KnownLine, KnownTooth, even_line
from made_scan import Frame, Optics, scan
from session.machine.refusal import Refusal
from session.scan.edge_beyond import covers_more, never_down, runs_unfiled, stand_beyond
from session.scan.end_stumps import uneven_beyond
from session.scan.line_count import counted
from session.scan.line_figures import measured_line
from session.scan.line_reading import ReadPicture
from session.scan.read_tooth import ReadTooth
from session.scan.saw_scan import SawScan, scan_saw
from session.trade.scanned_line import ToothState

PITCH = 25.4 / 6
OPTICS = Optics(dpi=300)


def line(ledge: float, left: float) -> KnownLine:
    """Twelve teeth, of the last of which a share ``left`` of its height is there, and a ledge of so many mm behind."""
    even = replace(even_line(PITCH, 12, rake=5.0), toe_ledge=ledge)
    tooth, low = even.teeth[-1], -(1.0 - left) * even.depth
    torn = ((tooth.a - 0.55 * even.depth * left, low), (tooth.a, low + 0.2), (tooth.b + 0.2, low))
    stump = KnownTooth(torn[0][0], torn[-1][0], low, tooth.front, tooth.back, "broken", torn)
    return replace(even, teeth=(*even.teeth[:-1], stump))


def read(folder: Path, one: KnownLine, points: int | None) -> SawScan:
    path = folder / "end.png"
    Image.fromarray(scan(one, OPTICS)[0]).save(path, dpi=(OPTICS.dpi, OPTICS.dpi))
    return scan_saw([path], points=points)


def test_a_stump_at_an_end_is_refused_with_both_counts_and_its_side(tmp_path: Path) -> None:
    with pytest.raises(
        Refusal, match=r"at the toe, near column \d+, row \d+ .* one more tooth stands: 11 or 12; count"
    ):
        read(tmp_path, line(6.0, 0.3), None)
    with pytest.raises(Refusal, match="11 or 12"):
        read(tmp_path, line(6.0, 0.3), 14)


@pytest.mark.parametrize("points", [11, 12])
def test_the_count_in_the_recipe_settles_such_an_end(tmp_path: Path, points: int) -> None:
    found = read(tmp_path, line(6.0, 0.3), points)
    assert (found.line.count, found.other_count) == (points, 23 - points)
    assert found.line.those(ToothState.BROKEN) == ((12,) if points == 12 else ())


@pytest.mark.parametrize(
    ("corners", "uneven"),
    [
        (((0.0, -1.0), (6.0, -1.05)), False),
        (((0.0, -1.0), (1.0, -1.0), (1.1, -0.9), (2.0, -0.9), (2.1, -1.0), (6.0, -1.05)), True),
        (((0.0, -1.0), (2.0, -1.1), (2.05, -0.95), (6.0, -1.0)), True),
        (((0.0, -1.0), (1.0, -1.0), (1.1, -0.9), (2.0, -0.9)), False),
        (((0.0, -1.0), (4.0, -1.0), (4.1, -3.0)), False),
    ],
    ids=["straight", "a rest that stands", "a rest and a step", "the picture ends in it", "the plate ends"],
)
def test_an_edge_that_no_file_touched_runs_straight(corners: tuple[tuple[float, float], ...], uneven: bool) -> None:
    places = np.arange(0.0, corners[-1][0], 0.02)
    heights = np.interp(places, [u for u, _ in corners], [v for _, v in corners])
    assert uneven_beyond((places, heights), 0.0, 2.2, 1.0, 0.02) is uneven
    assert uneven_beyond((-places[::-1], heights[::-1]), 0.0, -2.2, 1.0, 0.02) is uneven


def test_of_a_clean_end_the_recipe_says_nothing(tmp_path: Path) -> None:
    even = replace(even_line(PITCH, 12, rake=5.0), toe_ledge=6.0)
    for points in (11, 12, 13):
        found = read(tmp_path, even, points)
        assert (found.line.count, found.other_count) == (12, None)


def tooth(number: int, **other: object) -> ReadTooth:
    """The one of that number, 3 mm apart and 2 mm deep, its gullets a third of a space behind the points."""
    u = 3.0 * number
    one = ReadTooth(
        u, 0.0, u, u, 40.0, 20.0, (u + 1.0, -2.0), 0.01, 0.01, 0.01, 0.1, 0.1, "top", before=(u - 2.0, -2.0), base=2.5
    )
    return replace(one, **other)  # type: ignore[arg-type]


def shown(*teeth: ReadTooth) -> ReadPicture:
    """A picture of these teeth; the edge runs at the gullets' depth beyond the eighth of them."""
    places = np.linspace(-2.0, 30.0, 600)
    edge = (places, np.where(places > 24.0, -2.1, -1.0))
    return ReadPicture(teeth, True, True, 0.0, False, 0.02, 0.01, 2.0, (40.0, 40.0), edge, ("plate", "plate"))


def test_one_tooth_in_rust_among_covered_ones_is_no_line() -> None:
    rusty = tooth(0, fit="none", dull=True)
    with pytest.raises(Refusal, match="only 0 points are to be seen"):
        counted(shown(rusty, *(tooth(number, fit="covered") for number in range(1, 8))))


def test_the_last_tooth_has_its_place_from_its_inner_gullet() -> None:
    torn = tooth(8, fit="none", v=-1.0, gullet=(3.0 * 8 + 4.5, -2.1))
    picture = shown(*(tooth(number) for number in range(8)), torn)
    found = counted(picture)
    assert len(found.teeth) == 9
    assert found.teeth[-1].u == pytest.approx(24.0, abs=0.5)


def test_an_uneven_gap_with_one_narrow_gullet_holds_no_tooth(tmp_path: Path) -> None:
    even = even_line(PITCH, 12, rake=5.0)
    teeth = (*even.teeth[:6], *(replace(one, a=one.a + 0.42 * PITCH, b=one.b + 0.42 * PITCH) for one in even.teeth[6:]))
    found = read(tmp_path, replace(even, teeth=teeth), None).line
    assert found.count == 12
    assert set(found.those(ToothState.WHOLE)) == set(range(1, 13))


def test_a_gap_that_is_not_told_is_named_by_its_teeth(tmp_path: Path) -> None:
    even = even_line(PITCH, 12, rake=5.0)
    teeth = (*even.teeth[:6], *(replace(one, a=one.a + 0.5 * PITCH, b=one.b + 0.5 * PITCH) for one in even.teeth[6:]))
    with pytest.raises(Refusal) as refused:
        read(tmp_path, replace(even, teeth=teeth), None)
    assert re.search("between teeth 6 and 7 from the (heel|toe)", str(refused.value))


class Ended:
    """A scan of twelve even teeth on white paper and a long ledge, to draw hairs on in mm beside a tooth."""

    def __init__(self, folder: Path) -> None:
        self.line = replace(even_line(PITCH, 12, rake=5.0), toe_ledge=10.0)
        optics = Optics(dpi=300, steel=0.12, cloth=0.75)
        self.picture, self.frame = Image.fromarray(scan(self.line, optics)[0]), Frame.of(self.line, optics)
        self.path = folder / "ended.png"

    def hair(self, *points: tuple[int, float, float]) -> Ended:
        """A dark one through places that lie so many mm beside a tooth and under its point."""
        at = [self.frame.dots(self.line.teeth[tooth - 1].place + along, -under) for tooth, along, under in points]
        ImageDraw.Draw(self.picture).line(at, fill=5, width=3)
        return self

    def read(self, points: int | None = None) -> SawScan:
        self.picture.save(self.path, dpi=(300, 300))
        return scan_saw([self.path], points=points, steel="dark")


@pytest.mark.parametrize("along", [1.6, 2.5])
@pytest.mark.parametrize("lean", [-4.0, -3.0, 0.0, 3.0])
def test_a_hair_over_the_unfiled_edge_makes_no_tooth(tmp_path: Path, along: float, lean: float) -> None:
    found = Ended(tmp_path).hair((12, along - lean, -6.0), (12, along + lean, 9.0)).read().line
    assert found.count == 12
    assert found.those(ToothState.BROKEN) == ()


def test_a_hair_by_the_last_gullet_leaves_one_tooth_open_or_the_recipe_settles_it(tmp_path: Path) -> None:
    ended = Ended(tmp_path).hair((12, 4.8, -6.0), (12, -3.2, 9.0))
    with pytest.raises(Refusal, match="one more tooth stands: 12 or 13; count"):
        ended.read()
    found = ended.read(points=12)
    assert (found.line.count, found.other_count) == (12, 13)


@pytest.mark.parametrize("tooth", [10, 11, 12])
def test_teeth_that_a_hair_joins_at_an_end_are_not_lost_unsaid(tmp_path: Path, tooth: int) -> None:
    deep = 0.5 * Ended(tmp_path).line.depth
    with pytest.raises(Refusal, match=r"at the toe, near column \d+, row \d+ .* more (teeth may|tooth) stand"):
        Ended(tmp_path).hair((tooth - 1, -0.3, deep), (13 - 1, 0.4 * PITCH, deep)).read()


EDGES = {
    "unfiled": (((0.0, -2.0), (12.0, -2.0)), True, 0, False),
    "a hair on it": (((0.0, -2.0), (2.0, -2.0), (2.1, 3.0), (2.2, -2.0), (12.0, -2.0)), True, 0, False),
    "a tooth": (((0.0, -2.0), (2.0, 0.0), (3.0, -2.0), (12.0, -2.0)), False, 1, False),
    "two joined": (((0.0, -2.0), (2.0, 0.0), (2.2, -0.4), (4.4, -0.4), (6.0, -2.0), (12.0, -2.0)), False, 2, True),
    "a high one and its end": (((0.0, -2.0), (1.0, -0.5), (4.0, -0.5), (4.1, -6.0), (12.0, -6.0)), True, 0, False),
    "the picture's rim": (((0.0, -2.0), (2.0, 0.0), (2.2, -0.5)), False, 0, False),
}


@pytest.mark.parametrize(("corners", "unfiled", "stand", "wide"), EDGES.values(), ids=EDGES.keys())
@pytest.mark.parametrize("way", [1, -1])
def test_what_stands_beyond_a_gullet(
    corners: tuple[tuple[float, float], ...], unfiled: bool, stand: int, wide: bool, way: int
) -> None:
    places = np.arange(0.0, corners[-1][0], 0.02)
    skyline = way * places, np.interp(places, [u for u, _ in corners], [v for _, v in corners])
    assert runs_unfiled(skyline, (0.0, -2.0), way * 3.0, 2.0) is unfiled
    assert len(stand_beyond(skyline, 0.0, way * 3.0, -2.0, 2.0)) == stand
    assert covers_more(skyline, 0.0, way * 3.0, -2.0, 2.0) is wide
    assert not never_down(skyline, 0.0, way * 3.0, -2.0, 2.0)
    assert never_down((skyline[0], np.maximum(skyline[1], -0.9)), 0.0, way * 3.0, -2.0, 2.0)


def test_a_gullet_that_is_not_beside_its_tooth_is_not_told() -> None:
    # Along the edge that was never filed, and by what lies on a tooth, the lowest place may be anywhere.
    teeth = [tooth(number) for number in range(12)]
    teeth[4] = tooth(4, gullet=(3.0 * 5 + 0.2, -2.0))
    teeth[11] = tooth(11, gullet=(3.0 * 11 + 9.0, -2.1))
    told = measured_line(teeth, 2.0, 0.002, 0.02, 0.02).teeth
    assert [one.tooth for one in told if one.gullet_mm is None] == [5, 12]
    assert [one.tooth for one in told if one.depth_mm is None] == [5, 12]
