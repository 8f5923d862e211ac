"""A picture whose file says nothing of its tones: its edges tell, or what is in doubt is stated."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from known_line import KnownLine, even_line, random_line
from made_scan import Optics, scan
from scan_judged import judged, scanned
from session.scan.edge_skew import EdgeSkew, flank_skew, skew_of_usual
from session.scan.light_levels import LINEAR, USUAL
from session.scan.line_reading import ReadPicture, read_picture
from session.scan.saw_scan import SawScan, scan_saw
from session.scan.tones_doubt import FLAT_DOTS, with_doubt
from session.scan.tones_read import TonesRead, settled, taken
from session.trade.scan_tones import Tones, TonesBy
from session.trade.scanned_line import IN_DOUBT, ToothState
from told_line import told_line

DOT = 25.4 / 1200
#: A scanner with dirt, a shadow, mottle and noise.
DIRTY = Optics(spread=1.0, shadow=0.15, dust=10, rust=3, bevel=0.9, mottle=0.03, tilt=1.0, noise=0.01, jpeg=90, seed=8)


@cache
def line() -> KnownLine:
    """Fourteen leveled teeth of 8 points."""
    made = even_line(25.4 / 7, 14, rake=8.0)
    teeth = [replace(one, a=one.place - 0.15, b=one.place + 0.15) for one in made.teeth]
    return replace(made, teeth=tuple(teeth))


def edge(cloth: float, steel: float, *, linear: bool, blur: float = 1.1) -> tuple[np.ndarray, np.ndarray]:
    """Codes of dots at random places off a straight edge, even in light."""
    from scipy.special import ndtr

    off = np.random.default_rng(2).uniform(-7.0, 7.0, 900)
    light = cloth + (steel - cloth) * ndtr(-off / blur)
    code = light if linear else np.interp(light, USUAL, LINEAR)
    return np.rint(255.0 * code).astype(np.uint8), off


@pytest.mark.parametrize(("cloth", "steel"), [(0.03, 0.55), (0.05, 0.75), (0.8, 0.2)])
@pytest.mark.parametrize("blur", [0.9, 1.4])
def test_an_even_edge_has_no_skew_in_linear_tones_and_its_own_in_usual_ones(
    cloth: float, steel: float, blur: float
) -> None:
    even = skew_of_usual(cloth, steel)
    assert even is not None
    for linear, mark in ((True, 0.0), (False, 1.0)):
        told = flank_skew(*edge(cloth, steel, linear=linear, blur=blur))
        assert told is not None
        assert told.skew / even == pytest.approx(mark, abs=0.25 if mark else 0.06)
        assert told.blur == pytest.approx(blur * (1.0 if linear else 1.03), abs=0.08)


def test_marks_tell_only_where_they_are_clear() -> None:
    se = (0.03, 0.03)
    assert EdgeSkew((0.7, 0.8), se, 1.1).linear is False
    assert EdgeSkew((0.0, 0.1), se, 1.1).linear is True
    assert EdgeSkew((0.3, 0.4), se, 1.1).linear is None, "between the two"
    assert EdgeSkew((0.0, 0.1), (0.3, 0.3), 1.1).linear is None, "too unsure"
    assert EdgeSkew((0.7, 4.0), se, 1.1).linear is None, "a shadow on one side"
    assert EdgeSkew((0.0, 0.1), se, 0.8).linear is None, "too sharp to be told"
    assert EdgeSkew((0.7, 0.8), se, 0.8).linear is False


@pytest.mark.parametrize("gamma", [0.0, pytest.param(2.2, marks=pytest.mark.wide), 1.0])
def test_a_dirty_picture_tells_its_tones_and_is_read_by_them(gamma: float, tmp_path: Path) -> None:
    optics = replace(DIRTY, gamma=gamma)
    found = scanned(line(), optics, tmp_path)
    tones = Tones.LINEAR if gamma == 1.0 else Tones.USUAL
    assert (found.tones.tones, found.tones.by, found.tones.doubt_mm) == (tones, TonesBy.EDGES, 0.0)
    right = judged(found, line())
    assert right.wrong == []
    assert right.spread("flat") < 0.015
    other = Tones.USUAL if tones is Tones.LINEAR else Tones.LINEAR
    forced = scanned(line(), optics, tmp_path, tones=other)
    assert (forced.tones.tones, forced.tones.by) == (other, TonesBy.PERSON)
    assert judged(forced, line()).spread("flat") > 2.0 * right.spread("flat"), "the person overrules, even if wrong"


def undecided(gamma: float, folder: Path) -> SawScan:
    """A scan of white paper with a shadow on one side: its edges do not tell."""
    return scanned(line(), Optics(gamma=gamma, steel=0.2, cloth=0.8, shadow=0.3, seed=5), folder)


def test_where_nothing_tells_usual_tones_are_kept_and_half_of_the_difference_is_stated(tmp_path: Path) -> None:
    found = undecided(0.0, tmp_path)
    assert (found.tones.tones, found.tones.by) == (Tones.USUAL, TonesBy.NOBODY)
    usual, linear = (
        scanned(line(), Optics(steel=0.2, cloth=0.8, shadow=0.3, seed=5), tmp_path, tones=tones).line
        for tones in (Tones.USUAL, Tones.LINEAR)
    )
    for told, one, two in zip(found.line.teeth, usual.teeth, linear.teeth, strict=True):
        assert (told.flat_mm, told.height_mm) == (one.flat_mm, one.height_mm)
        assert one.flat_mm is not None
        assert two.flat_mm is not None
        assert one.se_flat_mm is not None
        assert told.se_flat_mm == pytest.approx(math.hypot(one.se_flat_mm, (two.flat_mm - one.flat_mm) / 2.0))
        assert one.height_mm is not None
        assert two.height_mm is not None
        assert one.se_mm is not None
        assert told.se_mm == pytest.approx(math.hypot(one.se_mm, (two.height_mm - one.height_mm) / 2.0))
    assert found.tones.doubt_mm > 0.003
    assert found.line.se_line_gap_mm >= usual.se_line_gap_mm


def test_linear_tones_that_cannot_be_told_are_not_guessed(tmp_path: Path) -> None:
    found = undecided(1.0, tmp_path)
    assert (found.tones.tones, found.tones.by) == (Tones.USUAL, TonesBy.NOBODY)


def test_a_file_that_tells_is_believed_and_nothing_is_looked_for(tmp_path: Path) -> None:
    picture = Image.fromarray(scan(line(), Optics(gamma=1.8))[0])
    from PIL.PngImagePlugin import PngInfo

    told = PngInfo()
    told.add(b"gAMA", (55_556).to_bytes(4, "big"))
    path = tmp_path / "scan.png"
    picture.save(path, dpi=(1200, 1200), pnginfo=told)
    found = scan_saw([path])
    assert (found.tones.tones, found.tones.by) == (Tones.OTHER, TonesBy.FILE)
    assert judged(found, line()).spread("flat") < 0.012


def test_a_line_that_the_other_tones_do_not_make_has_its_doubt_in_dots() -> None:
    usual = told_line(9, 4.6)
    told, doubt = with_doubt(usual, None, DOT)
    assert doubt == FLAT_DOTS * DOT
    shorter, _ = with_doubt(usual, told_line(8, 4.6), DOT)
    assert shorter == told
    for one, two in zip(usual.teeth, told.teeth, strict=True):
        assert one.se_flat_mm is not None
        assert two.se_flat_mm == pytest.approx(np.hypot(one.se_flat_mm, FLAT_DOTS * DOT))


def test_a_tooth_that_is_low_by_the_one_tones_and_whole_by_the_other_is_in_doubt() -> None:
    usual, linear = told_line(9, 4.6, {3: (ToothState.LOW, 0.1)}), told_line(9, 4.6, {3: (ToothState.WHOLE, 0.08)})
    told, _ = with_doubt(usual, linear, DOT)
    assert [one.tooth for one in told.teeth if one.state is ToothState.NOT_SEEN] == [3]
    assert told.teeth[2].why == IN_DOUBT
    assert told.teeth[2].height_mm == 0.1


def test_pictures_of_one_scanner_settle_each_other() -> None:
    picture: ReadPicture = read_picture(scan(line(), Optics())[0], (1 / DOT, 1 / DOT))
    other = replace(picture, tilt=0.5)
    unknown = TonesRead(picture, Tones.USUAL, TonesBy.NOBODY, other)
    by_file = TonesRead(picture, Tones.LINEAR, TonesBy.FILE)
    usual, linear = (TonesRead(picture, tones, TonesBy.EDGES) for tones in (Tones.USUAL, Tones.LINEAR))
    assert settled([unknown, usual])[0] == usual
    assert settled([linear, unknown])[1] == TonesRead(other, Tones.LINEAR, TonesBy.EDGES)
    assert settled([unknown, by_file]) == [unknown, by_file], "another file's word is not this one's"
    assert settled([unknown, usual, linear])[0] == unknown, "two that contradict each other settle nothing"
    for read, tones, by in (
        ([usual, usual], Tones.USUAL, TonesBy.EDGES),
        ([usual, linear], Tones.MIXED, TonesBy.EDGES),
        ([linear, by_file], Tones.LINEAR, TonesBy.MIXED),
        ([unknown, usual], Tones.USUAL, TonesBy.NOBODY),
    ):
        assert (taken(read).tones, taken(read).by) == (tones, by)


@pytest.mark.parametrize(
    "number",
    [pytest.param(number, marks=() if number == 30004 else pytest.mark.wide) for number in range(30004, 30020)],
)
def test_no_picture_is_told_otherwise_than_it_is(number: int, tmp_path: Path) -> None:
    from scan_judged import random_optics

    saw = random_line(number, count=12)
    for gamma, right in ((0.0, Tones.USUAL), (1.0, Tones.LINEAR)):
        optics = replace(random_optics(number, 1200), gamma=gamma, mottle=0.03)
        found = scanned(saw, optics, tmp_path)
        assert found.tones.by is TonesBy.NOBODY or found.tones.tones is right


def test_no_dots_beside_a_flank_tell_no_skew() -> None:
    assert flank_skew(np.zeros(0, dtype=np.uint8), np.zeros(0)) is None
