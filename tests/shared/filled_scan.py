"""A second way to draw a scan, by another library and another idea, so that no slip of one renderer is read as truth.

The first sums exact areas edge by edge in numpy. This one has a drawing library fill the outline's polygon on a grid
many times as fine, takes the mean of each block, and blurs with that library's own filter. Dirt is drawn by it too.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from known_line import KnownLine
from made_scan import Frame, Optics, toned

FINER = 8

#: Rows of the picture that are filled at a time: all of it at once, so fine, would take gigabytes.
STRIP = 64


def filled(line: KnownLine, optics: Optics, finer: int = FINER) -> Image.Image:
    """The scan, filled and filtered by the drawing library, on a grid so many times as fine as the picture's.

    The library rounds corners to whole dots of that grid: eight times as fine, flanks are turned by hundredths of a
    degree by it.
    """
    frame = Frame.of(line, optics)
    # The library fills from dot to dot, middles on whole numbers; ours count from the corner.
    outline = [tuple(finer * one - 0.5 for one in frame.dots(*point)) for point in line.outline()]
    share = Image.new("L", (frame.width, frame.height), 0)
    for top in range(0, frame.height, STRIP):
        rows = min(STRIP, frame.height - top)
        fine = Image.new("L", (frame.width * finer, rows * finer), 0)
        ImageDraw.Draw(fine).polygon([(x, y - top * finer) for x, y in outline], fill=255)
        share.paste(fine.reduce(finer), (0, top))
    share = share.filter(ImageFilter.GaussianBlur(optics.spread))
    light = optics.cloth + (optics.steel - optics.cloth) * np.asarray(share, dtype=float) / 255.0
    for light_of, spots in _dirt(frame, optics):
        mask = np.asarray(spots.filter(ImageFilter.GaussianBlur(optics.spread)), dtype=float) / 255.0
        light = light * (1.0 - mask) + light_of * mask
    dice = np.random.default_rng(optics.seed)
    return Image.fromarray(toned(light + dice.normal(0.0, 0.5 * optics.noise, light.shape), optics.gamma))


def _dirt(frame: Frame, optics: Optics) -> Iterator[tuple[float, Image.Image]]:
    """Dust and hairs over everything, dark and bright: the light of each, and where it lies."""
    dice = random.Random(optics.seed)
    for light in (0.04, 0.6):
        spots = Image.new("L", (frame.width, frame.height), 0)
        drawing = ImageDraw.Draw(spots)
        for _ in range(optics.dust // 2):
            x, y = dice.uniform(0, frame.width), dice.uniform(0, frame.height)
            across, down = dice.uniform(1.0, 4.0), dice.uniform(1.0, 4.0)
            drawing.ellipse((x - across, y - down, x + across, y + down), fill=255)
        if optics.hairs and (light < 0.1) == (optics.seed % 2 == 0):
            x, y, end = dice.uniform(0, frame.width), dice.uniform(0, frame.height), dice.uniform(60, 200)
            drawing.arc((x - end, y - end, x + end, y + end), dice.uniform(0, 180), dice.uniform(200, 300), 255, 2)
        yield light, spots
