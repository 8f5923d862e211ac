"""Printed pages rasterized and measured: lengths within a tenth of a millimeter, angles within a tenth of a degree."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from page_ruler import Drawn, Raster, rasters, svg_raster
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.prints.page_sheets import PageSheet, Paper, PaperStock
from session.prints.pdf_sheets import pdf_sheets
from session.prints.printables import Printable, sheets
from session.prints.svg_sheets import svg_sheet
from session.trade.saw import Saw

#: The papers as they are sold, in mm.
SOLD = {Paper.A4: (210.0, 297.0), Paper.LETTER: (215.9, 279.4)}

MM = 0.1
DEGREES = 0.1


def supplied(name: str) -> Saw:
    return load_recipe(supplied_folder("recipes") / f"{name}.toml").saw


def printed(pages: list[PageSheet]) -> list[tuple[Drawn, Raster]]:
    """Each page: where to look, and what a renderer of PDF made of it."""
    return [
        (Drawn.of(svg_sheet(page)), raster) for page, raster in zip(pages, rasters(pdf_sheets("", pages)), strict=True)
    ]


def measured_bars(drawn: Drawn, raster: Raster) -> list[float]:
    """Both bars, from the middle of the first mark on each to the middle of its last."""
    found = []
    for name in ("bar-100-mm", "bar-4-in"):
        begin, end = drawn[name]
        marks = raster.middles((begin[0] - 1, begin[1] + 0.9), (end[0] + 1, end[1] + 0.9))
        assert len(marks) == 5
        found.append(marks[-1] - marks[0])
    return found


@pytest.mark.parametrize("paper", list(Paper))
def test_a_guide_block_has_its_rake_on_both_faces_and_folds_on_itself(paper: Paper) -> None:
    saw = supplied("crosscut-panel")
    [(drawn, raster)] = printed(sheets(saw, Printable.GUIDE_BLOCK, PaperStock(paper)))
    assert raster.size_mm == pytest.approx(SOLD[paper], abs=MM)
    assert measured_bars(drawn, raster) == pytest.approx([100.0, 101.6], abs=MM)
    # Side 1 has the handle on its right, and the tooth's front leans back from square, toward the handle.
    (hole,), (other,) = drawn["hole-side-1"], drawn["hole-side-2"]
    assert raster.direction(hole, 15.0, 5.0, 18.0) == pytest.approx(15.0, abs=DEGREES)
    # Upside down over the fold, side 2 lies mirrored on side 1, so that the one file goes through both.
    assert raster.direction(other, 165.0, 5.0, 18.0) == pytest.approx(165.0, abs=DEGREES)
    fold = (drawn["fold-1"][0][1] + drawn["fold-2"][0][1]) / 2
    assert (hole[0], fold - other[1]) == pytest.approx((other[0], hole[1] - fold), abs=1e-3)
    # The file's corner goes down into the gullet between a front 15 and a back 45 degrees from plumb; seen above the
    # plate, which is gray.
    for side, flanks in ((1, (15.0, -45.0)), (2, (-15.0, 45.0))):
        low = max(drawn[f"seated-side-{side}"], key=lambda spot: spot[1])
        for flank in flanks:
            assert raster.direction(low, flank, 20.0, 32.0) == pytest.approx(flank, abs=DEGREES)
    across = raster.middles((hole[0] - 32.5, hole[1] + 14), (hole[0] + 32.5, hole[1] + 14), wide=1.0)
    assert across[-1] - across[0] == pytest.approx(2.5 * 25.4, abs=MM)


@pytest.mark.parametrize("paper", list(Paper))
def test_a_fleam_guide_has_a_slot_each_way(paper: Paper) -> None:
    saw = supplied("crosscut-panel")
    [(drawn, raster)] = printed(sheets(saw, Printable.FLEAM_GUIDE, PaperStock(paper)))
    assert measured_bars(drawn, raster) == pytest.approx([100.0, 101.6], abs=MM)
    for side, toe in ((1, -25.0), (2, 25.0)):
        foot = drawn[f"fleam-side-{side}"][0]
        assert raster.direction(foot, toe, 5.0, 38.0) == pytest.approx(toe, abs=DEGREES)
        # Both edges of the slot run as its middle does: as far apart at its head as near its foot.
        widths = []
        for up in (8.0, 30.0):
            middle = foot[0] + up * math.tan(math.radians(toe))
            edges = raster.middles((middle - 8, foot[1] - up), (middle + 8, foot[1] - up), wide=0.1)
            widths.append(edges[-1] - edges[0])
        assert widths[0] == pytest.approx(widths[1], abs=MM)


def test_a_file_that_points_to_the_handle_has_its_slots_the_other_way_around() -> None:
    saw = supplied("crosscut-panel")
    turned = replace(saw, file_points=type(saw.file_points)("handle"))
    (page,) = sheets(turned, Printable.FLEAM_GUIDE, PaperStock())
    foot, head = Drawn.of(svg_sheet(page))["fleam-side-1"]
    assert math.degrees(math.atan2(head[0] - foot[0], foot[1] - head[1])) == pytest.approx(25.0)
    assert sheets(supplied("rip"), Printable.FLEAM_GUIDE, PaperStock()) == []


@pytest.mark.parametrize("paper", list(Paper))
def test_a_protractor_tells_true_degrees(paper: Paper) -> None:
    [(drawn, raster)] = printed(sheets(supplied("crosscut-panel"), Printable.PROTRACTOR, PaperStock(paper)))
    for fan, around, degrees in (("rake", 0.0, (-15, 0, 10, 45)), ("fleam", 180.0, (-45, -20, 5, 30))):
        line = drawn[f"{fan}-line"]
        cross = (drawn[f"{fan}-0"][0][0], line[0][1])
        # The line that the saw is laid to is level.
        ends = [raster.middles((x, cross[1] - 1.5), (x, cross[1] + 1.5))[0] for x in (line[0][0] + 90, line[1][0] - 4)]
        assert ends[0] == pytest.approx(ends[1], abs=0.02)
        for one in degrees:
            assert raster.direction(cross, around + one, 20.0, 65.0, 1.0) == pytest.approx(around + one, abs=DEGREES)


@pytest.mark.parametrize(("name", "paper"), [("crosscut-panel", Paper.A4), ("progressive-rip", Paper.LETTER)])
def test_a_strip_taped_mark_on_mark_is_the_line(name: str, paper: Paper) -> None:
    saw = supplied(name)
    pages = printed(sheets(saw, Printable.PITCH_STRIP, PaperStock(paper)))
    reached = 0.0
    spaces: list[float] = []
    for drawn, raster in pages:
        pieces: dict[int, dict[int, float]] = {}
        for mark, spots in drawn.named.items():
            if mark.startswith("mark-"):
                tooth, piece = map(int, mark.removeprefix("mark-").split("-of-"))
                pieces.setdefault(piece, {})[tooth] = spots[0][1]
        for teeth in pieces.values():
            # Above the edge there is nothing but the marks.
            y = max(teeth.values()) + 1.0
            wide = raster.size_mm[0]
            found = [wide - place for place in raster.middles((4.0, y), (wide - 4.0, y))][::-1]
            assert len(found) == len(teeth)
            reached += found[-1] - found[0]
            spaces += [ahead - behind for behind, ahead in pairwise(found)]
    # 8 points an inch over 22 in; a progressive rip of 4, 5.5 and 7 points over 28 in, by the tables of the recipe.
    asked = [25.4 / 7] * 154 if name == "crosscut-panel" else [25.4 / 3] * 42 + [25.4 / 4.5] * 36 + [25.4 / 6] * 36
    assert spaces == pytest.approx(asked, abs=MM)
    assert reached == pytest.approx(sum(asked), abs=0.2)


def test_a_gauge_reads_the_face_of_a_file() -> None:
    [(drawn, raster)] = printed(sheets(supplied("hand"), Printable.FACE_GAUGE, PaperStock(Paper.LETTER)))
    for face, name in (
        (4.5, "face-4.5-mm"),
        (9.3, "face-9.3-mm"),
        (0.185 * 25.4, "face-185-thou"),
        (11.0, "face-11-mm"),
    ):
        x = drawn[name][0][0] + (0.4 if face == 11.0 else 0.0)
        y = sum(spot[1] for side in ("upper", "lower") for spot in drawn[f"face-{side}"]) / 4
        lines = raster.middles((x, y - 8.0), (x, y + 8.0), wide=0.05)
        # The two slanting lines alone: the middle one is thinner and dashed.
        assert lines[-1] - lines[0] == pytest.approx(face + (0.4 / 14 if face == 11.0 else 0.0), abs=MM)


@pytest.mark.parametrize("bar", [98.6, 103.0])
def test_a_printer_that_is_out_is_mended(bar: float) -> None:
    (page,) = sheets(supplied("crosscut-panel"), Printable.GUIDE_BLOCK, PaperStock(Paper.LETTER, bar))
    [(drawn, raster)] = printed([page])
    assert [length * bar / 100 for length in measured_bars(drawn, raster)] == pytest.approx([100.0, 101.6], abs=MM)
    (hole,) = drawn["hole-side-1"]
    assert raster.direction(hole, 15.0, 5.0, 18.0) == pytest.approx(15.0, abs=DEGREES)


def test_svg_and_pdf_are_one_drawing() -> None:
    (page,) = sheets(supplied("crosscut-panel"), Printable.GUIDE_BLOCK, PaperStock(Paper.LETTER))
    svg = svg_sheet(page)
    drawn, raster = Drawn.of(svg), svg_raster(svg)
    assert raster.size_mm == pytest.approx(SOLD[Paper.LETTER], abs=MM)
    assert measured_bars(drawn, raster) == pytest.approx([100.0, 101.6], abs=MM)
    assert raster.direction(drawn["hole-side-1"][0], 15.0, 5.0, 18.0) == pytest.approx(15.0, abs=DEGREES)
    assert raster.direction(drawn["hole-side-2"][0], 165.0, 5.0, 18.0) == pytest.approx(165.0, abs=DEGREES)
