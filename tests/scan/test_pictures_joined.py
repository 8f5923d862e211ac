"""Scans of a long saw joined by the teeth that they share, or refused with what to do."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest

from known_line import KnownLine, even_line
from made_scan import Optics, as_file, scan
from scan_judged import judged
from session.machine.refusal import Refusal
from session.scan.saw_scan import scan_saw


def parts(line: KnownLine, windows: list[tuple[float, float]], folder: Path) -> list[Path]:
    """Scans of parts of a line, each lying a little otherwise on the glass."""
    paths = []
    for number, window in enumerate(windows):
        optics = Optics(dpi=600, tilt=0.8 - 0.7 * number, seed=number + 1)
        path = folder / f"part{number}.png"
        path.write_bytes(as_file(scan(line, optics, window)[0], optics, compress_level=1))
        paths.append(path)
    return paths


def lively(count: int) -> KnownLine:
    """A line of 14 points with each tooth a little off its place, and flats of all widths."""
    dice = random.Random(8)
    line = even_line(25.4 / 13, count)
    moved = [tooth.place + dice.uniform(-0.08, 0.08) for tooth in line.teeth]
    wide = [dice.uniform(0.0, 0.1) for _ in moved]
    teeth = [replace(t, a=u - w, b=u + w) for t, u, w in zip(line.teeth, moved, wide, strict=True)]
    return replace(line, teeth=tuple(teeth))


def begin(line: KnownLine, tooth: int) -> float:
    """Where a picture has to begin so that ``tooth``, numbered from 1, is the first that it shows whole."""
    return line.corner(tooth - 2)[0] - 0.1


def test_three_parts_are_one_line(tmp_path: Path) -> None:
    line = lively(34)
    paths = parts(line, [(-4, 27), (begin(line, 10), 45), (begin(line, 19), 70)], tmp_path)
    told = judged(scan_saw(paths), line)
    assert told.wrong == []
    assert told.spread("height") < 0.02
    assert told.spread("place") < 0.04
    assert scan_saw(paths, first=[1, 10, 19]).line.count == 34


@pytest.mark.wide
def test_teeth_too_alike_are_refused_with_what_to_do(tmp_path: Path) -> None:
    line = even_line(25.4 / 13, 22)
    paths = parts(line, [(-4, 27), (begin(line, 8), 45)], tmp_path)
    with pytest.raises(Refusal, match=r"too alike to tell.*--first"):
        scan_saw(paths)
    assert scan_saw(paths, first=[1, 8]).line.count == 22
    with pytest.raises(Refusal, match="allowed: a tooth from"):
        scan_saw(paths, first=[1, 40])


def test_parts_that_share_nothing_are_refused(tmp_path: Path) -> None:
    line = lively(34)
    with pytest.raises(Refusal, match=r"share no 4 teeth that agree|too alike to tell"):
        scan_saw(parts(line, [(-4, 23), (begin(line, 16), 50)], tmp_path))
