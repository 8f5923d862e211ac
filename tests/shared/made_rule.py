"""A scan of a steel rule with engraved ticks, drawn by a library on a finer grid and made small."""

from __future__ import annotations

import math

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from made_scan import toned

FINER = 4


def rule_picture(
    dots_per_mm: float, length_mm: float = 100.0, spacing_mm: float = 1.0, *, tilt: float = 0.0, upright: bool = False
) -> Image.Image:
    """A rule of bright steel on a dark cloth, its ticks black, each fifth and tenth longer, digits beside them."""
    scale = FINER * dots_per_mm
    wide, high = int((length_mm + 16.0) * dots_per_mm), int(22.0 * dots_per_mm)
    fine = Image.new("L", (wide * FINER, high * FINER), 12)
    cos, sin = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))

    def at(x: float, y: float) -> tuple[float, float]:
        return (8.0 + x * cos - y * sin) * scale, (8.0 + x * sin + y * cos) * scale

    drawing = ImageDraw.Draw(fine)
    drawing.polygon([at(-3.0, 0.0), at(length_mm + 3.0, 0.0), at(length_mm + 3.0, 10.0), at(-3.0, 10.0)], fill=170)
    for number in range(round(length_mm / spacing_mm) + 1):
        x, long = number * spacing_mm, 6.0 if number % 10 == 0 else 4.5 if number % 5 == 0 else 3.0
        drawing.polygon([at(x - 0.07, 0.0), at(x + 0.07, 0.0), at(x + 0.07, long), at(x - 0.07, long)], fill=25)
        if number % 10 == 0:
            drawing.rectangle((*at(x + 0.5, 5.0), *at(x + 1.7, 6.5)), outline=25, width=3)
    light = np.asarray(fine.reduce(FINER).filter(ImageFilter.GaussianBlur(0.9)), dtype=float) / 255.0
    noisy = light + np.random.default_rng(3).normal(0.0, 0.01, light.shape)
    picture = Image.fromarray(toned(noisy, 0.0))
    return picture.transpose(Image.Transpose.TRANSPOSE) if upright else picture
