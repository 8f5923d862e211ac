"""Pictures that only look a little like a scan: a sentence or finite figures, never a fault of the program."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import astuple
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from known_line import even_line
from made_scan import Optics, scan
from session.machine.refusal import Refusal
from session.scan.saw_scan import scan_saw


def strange(kind: str, dice: np.random.Generator) -> Image.Image:
    """A picture that no scanner made of a saw."""
    if kind == "clouds":
        return Image.fromarray(dice.integers(0, 255, (9, 20), dtype=np.uint8)).resize(
            (600, 270), Image.Resampling.BICUBIC
        )
    if kind == "mountains":
        picture = Image.new("L", (700, 400), 30)
        step = int(dice.integers(6, 30))
        ridge = [(x, int(dice.integers(40, 360))) for x in range(0, 701, step)]
        ImageDraw.Draw(picture).polygon([(0, 400), *ridge, (700, 400)], fill=180)
        return picture
    picture = Image.fromarray(scan(even_line(25.4 / 5, 9), Optics(dpi=300, tilt=float(dice.uniform(-14, 14))))[0])
    drawing = ImageDraw.Draw(picture)
    for _ in range(int(dice.integers(1, 6))):
        x, y = int(dice.integers(0, picture.width)), int(dice.integers(0, picture.height))
        drawing.ellipse((x - 40, y - 25, x + 40, y + 25), fill=int(dice.integers(0, 255)))
    return picture


def figures(value: object) -> Iterator[float]:
    """All numbers in a value, however deep."""
    if isinstance(value, tuple | list):
        for inner in value:
            yield from figures(inner)
    elif isinstance(value, float):
        yield value


@pytest.mark.wide
@pytest.mark.parametrize("kind", ["clouds", "mountains", "covered in part"])
def test_a_strange_picture_gets_a_sentence_or_finite_figures(kind: str, tmp_path: Path) -> None:
    dice = np.random.default_rng(7)
    path = tmp_path / "strange.png"
    for _ in range(8):
        strange(kind, dice).save(path, dpi=(300, 300))
        told: Refusal | None = None
        try:
            line = scan_saw([path], heel="left").line
        except Refusal as refused:
            told = refused
        if told is not None:
            assert len(told.lines) == 1
            assert str(told).startswith(str(path))
        else:
            assert all(map(math.isfinite, figures(astuple(line))))
            assert line.count >= 5
