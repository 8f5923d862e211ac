"""A second way to draw a scan, by another library and another idea, so that no slip of one renderer is read as truth.

The first sums exact areas edge by edge in numpy. This one has a drawing library fill the outline's polygon on a grid
eight times as fine, takes the mean of each block, and blurs with that library's own filter.
"""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from known_line import KnownLine
from made_scan import Frame, Optics, toned

FINER = 8

#: Rows of the picture that are filled at a time: all of it at once, so fine, would take gigabytes.
STRIP = 64


def filled(line: KnownLine, optics: Optics) -> Image.Image:
    """The scan, filled and filtered by the drawing library."""
    frame = Frame.of(line, optics)
    # The library fills from dot to dot, middles on whole numbers; ours count from the corner.
    outline = [tuple(FINER * one - 0.5 for one in frame.dots(*point)) for point in line.outline()]
    share = Image.new("L", (frame.width, frame.height), 0)
    for top in range(0, frame.height, STRIP):
        rows = min(STRIP, frame.height - top)
        fine = Image.new("L", (frame.width * FINER, rows * FINER), 0)
        ImageDraw.Draw(fine).polygon([(x, y - top * FINER) for x, y in outline], fill=255)
        share.paste(fine.reduce(FINER), (0, top))
    share = share.filter(ImageFilter.GaussianBlur(optics.spread))
    light = optics.cloth + (optics.steel - optics.cloth) * np.asarray(share, dtype=float) / 255.0
    dice = np.random.default_rng(optics.seed)
    return Image.fromarray(toned(light + dice.normal(0.0, 0.5 * optics.noise, light.shape), optics.gamma))
