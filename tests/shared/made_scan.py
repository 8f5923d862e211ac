"""A flatbed's picture of a known line: optics, light, dirt, noise, gamma and eight bits, drawn from its exact outline.

Each dot's share of steel is the exact area of the outline in it, summed edge by edge; nothing is sampled. All that a
scanner adds comes after, in linear light: uneven light, bevels, a shadow line, rust, dust, hairs, point spread, scan
lines out of step, noise; then the tone curve and eight bits.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import convolve1d, shift

from known_line import KnownLine, Point

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Optics:
    """How the picture is made. Lengths in dots of the picture, shares of full light.

    spread: sigma of the point spread. jitter: sigma of a scan line's step. noise: sigma of a dot's light.
    gamma: of the tone curve, 0 for that of sRGB, 1 for linear tones. tilt: degrees counter-clockwise. heel: where it
    lies in the picture. up: teeth toward the picture's top. steel, cloth: their light. slope_of_light: from one end to
    the other. bevel: light of the beveled fronts by the steel's. shadow: share of light taken beside the edge. dust,
    hairs: how many of each. jpeg: its quality, 0 for a PNG. bow: how far the carriage bends the middle of the picture
    out, mm. mottle: share by which the cloth's light goes up and down, in blobs some dots wide.
    """

    dpi: float = 1200.0
    spread: float = 0.9
    jitter: float = 0.1
    noise: float = 0.01
    gamma: float = 0.0
    tilt: float = 0.0
    heel: str = "left"
    up: bool = True
    steel: float = 0.55
    cloth: float = 0.03
    slope_of_light: float = 0.1
    texture: float = 0.03
    bevel: float = 1.0
    shadow: float = 0.0
    dust: int = 0
    hairs: int = 0
    rust: int = 0
    burr: float = 0.0
    jpeg: int = 0
    margin: float = 4.0
    below: float = 6.0
    bow: float = 0.0
    mottle: float = 0.0
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Frame:
    """Where mm of the saw lie in the picture, in dots from its top left corner."""

    optics: Optics
    width: int
    height: int
    left: float
    top: float
    middle: float = 0.0
    half: float = 1.0

    @staticmethod
    def of(line: KnownLine, optics: Optics, window: tuple[float, float] | None = None) -> Frame:
        """A picture that shows the line whole with its margin, or its part from mm to mm of ``window``."""
        depth = line.depth
        first, last = window or (line.teeth[0].a - optics.margin, line.teeth[-1].b + optics.margin)
        corners = [(u, v) for u in (first, last) for v in (optics.margin, -depth - optics.below)]
        if window:
            # A scanner's window stands square; only the line in it is tilted.
            corners = [(u, v) for u in (first, last) for v in (0.0, -depth)]
        free = Frame(replace(optics, bow=0.0), 0, 0, 0.0, 0.0)
        there = [free.dots(*corner) for corner in corners]
        left, right = min(x for x, _ in there), max(x for x, _ in there)
        top, bottom = min(y for _, y in there), max(y for _, y in there)
        if window:
            scale = optics.dpi / 25.4
            above, under = (optics.margin, optics.below) if optics.up else (optics.below, optics.margin)
            top, bottom = top - above * scale, bottom + under * scale
        middle, half = (first + last) / 2.0, (last - first) / 2.0
        return Frame(optics, math.ceil(right - left), math.ceil(bottom - top), left, top, middle, half)

    def dots(self, u: float, v: float) -> Point:
        """A place of the saw as column and row."""
        o = self.optics
        scale = o.dpi / 25.4
        v += o.bow * (1.0 - ((u - self.middle) / self.half) ** 2)
        x = u if (o.heel == "left") else -u
        y = -v if o.up else v
        turn = math.radians(o.tilt)
        return (
            (x * math.cos(turn) + y * math.sin(turn)) * scale - self.left,
            (-x * math.sin(turn) + y * math.cos(turn)) * scale - self.top,
        )


def covered(polygon: list[Point], width: int, height: int) -> Floats:
    """The share of each dot that lies inside ``polygon``: exact areas."""
    sums = np.zeros((height, width + 2))
    for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if y0 == y1:
            continue
        _add_edge(sums, x0, y0, x1, y1, width, height)
    return np.abs(np.cumsum(sums[:, : width + 1], axis=1)[:, :width])


def _add_edge(sums: Floats, x0: float, y0: float, x1: float, y1: float, width: int, height: int) -> None:
    low, high = max(0.0, min(y0, y1)), min(float(height), max(y0, y1))
    if low >= high:
        return
    slope = (x1 - x0) / (y1 - y0)
    cuts = [np.array([low, high]), np.arange(math.floor(low) + 1, math.ceil(high), dtype=float)]
    left, right = sorted((x0, x1))
    columns = np.arange(max(0, math.floor(left) + 1), min(width + 1, math.ceil(right)), dtype=float)
    if len(columns) and slope != 0.0:
        at = y0 + (columns - x0) / slope
        cuts.append(at[(at > low) & (at < high)])
    ys = np.unique(np.concatenate(cuts))
    begin, end = ys[:-1], ys[1:]
    middle_y = (begin + end) / 2.0
    middle_x = np.clip(x0 + (middle_y - y0) * slope, 0.0, float(width))
    row = np.minimum(middle_y.astype(int), height - 1)
    column = middle_x.astype(int)
    rise = (end - begin) * (1.0 if y1 > y0 else -1.0)
    inside = middle_x - column
    np.add.at(sums, (row, column), rise * (1.0 - inside))
    np.add.at(sums, (row, column + 1), rise * inside)


def blurred(light: Floats, sigma: float) -> Floats:
    """``light`` through a point spread of that sigma, with a faint wide skirt as lenses have."""
    if sigma <= 0.0:
        return light
    reach = math.ceil(5.0 * sigma)
    at = np.arange(-reach, reach + 1)
    kernel = 0.92 * _bell(at, sigma) + 0.08 * _bell(at, 1.8 * sigma)
    for axis in (0, 1):
        light = convolve1d(light, kernel / kernel.sum(), axis=axis, mode="nearest")
    return light


def _bell(at: NDArray[np.int64], sigma: float) -> Floats:
    bell: Floats = np.exp(-0.5 * (at / sigma) ** 2) / sigma
    return bell


def scan(line: KnownLine, optics: Optics, window: tuple[float, float] | None = None) -> tuple[NDArray[np.uint8], Frame]:
    """The gray picture of ``line``, and where things lie in it."""
    frame = Frame.of(line, optics, window)
    dice = np.random.default_rng(optics.seed)
    steel = covered([frame.dots(*point) for point in line.outline()], frame.width, frame.height)
    shape = steel.shape
    rows, columns = np.arange(shape[0])[:, None], np.arange(shape[1])[None, :]
    lit = (
        1.0 + optics.slope_of_light * (columns / shape[1] - 0.5) + 0.5 * optics.slope_of_light * (rows / shape[0] - 0.5)
    )
    # Scratches along the plate, and the weave of the cloth.
    streaks = np.repeat(dice.normal(0.0, optics.texture, (shape[0], max(1, shape[1] // 60 + 1))), 60, axis=1)[
        :, : shape[1]
    ]
    weave = dice.normal(0.0, optics.texture, shape)
    plate = optics.steel * (1.0 + streaks)
    cloth = optics.cloth * (1.0 + weave)
    if optics.mottle:
        cloth = cloth * (1.0 + _mottle(shape, optics))
    if optics.bevel != 1.0:
        plate = plate * _bevels(line, frame, optics.bevel)
    for _ in range(optics.rust):
        _spot(plate, dice, dice.uniform(3, 14), 0.65 * optics.steel)
    if optics.shadow:
        near = shift(blurred(steel, 3.0), (2, 3), order=0, mode="nearest")
        cloth = cloth * (1.0 - optics.shadow * near)
    light = (steel * plate + (1.0 - steel) * cloth) * lit
    for _ in range(optics.dust):
        _spot(light, dice, dice.uniform(1.0, 3.5), float(dice.choice([0.04, 0.7])))
    for _ in range(optics.hairs):
        _hair(light, dice, float(dice.choice([0.05, 0.5])))
    light = blurred(light, optics.spread)
    if optics.jitter:
        step = dice.normal(0.0, optics.jitter, (shape[0], 1))
        up, down = np.roll(light, 1, axis=0), np.roll(light, -1, axis=0)
        light = light + np.where(step > 0, step * (down - light), -step * (up - light))
    light = light + dice.normal(0.0, optics.noise, shape) * np.sqrt(0.2 + np.clip(light, 0, 1))
    return toned(light, optics.gamma), frame


def toned(light: Floats, gamma: float) -> NDArray[np.uint8]:
    """Light from 0 to 1 as a scanner's eight bits."""
    light = np.clip(light, 0.0, 1.0)
    if gamma:
        code = light ** (1.0 / gamma)
    else:
        code = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.rint(255.0 * code).astype(np.uint8)


def _mottle(shape: tuple[int, ...], optics: Optics) -> Floats:
    """Blobs some six dots wide, by dice of their own: what else a seed draws stays as it is."""
    dice = np.random.default_rng((optics.seed, 1))
    blobs: Floats = blurred(dice.normal(0.0, 1.0, shape), 3.0)
    return blobs * (optics.mottle / float(blobs.std()))


def _spot(light: Floats, dice: np.random.Generator, size: float, other: float) -> None:
    """A round thing of that size (dots) and light somewhere in the picture."""
    y, x = dice.uniform(0, light.shape[0]), dice.uniform(0, light.shape[1])
    squeeze = dice.uniform(0.6, 1.6)
    reach = math.ceil(2.0 * size) + 2
    top, left = max(0, int(y) - reach), max(0, int(x) - reach)
    part = light[top : int(y) + reach, left : int(x) + reach]
    rows, columns = np.mgrid[top : top + part.shape[0], left : left + part.shape[1]]
    away = np.sqrt(((rows - y) * squeeze) ** 2 + ((columns - x) / squeeze) ** 2)
    share = np.clip(size - away + 0.5, 0.0, 1.0)
    part[:] = part * (1.0 - share) + other * share


def _hair(light: Floats, dice: np.random.Generator, other: float) -> None:
    """A hair two dots thick, a few mm long."""
    y, x, turn = dice.uniform(0, light.shape[0]), dice.uniform(0, light.shape[1]), dice.uniform(0, 2 * math.pi)
    for _ in range(int(dice.uniform(80, 300))):
        turn += dice.normal(0.0, 0.03)
        y, x = y + math.sin(turn), x + math.cos(turn)
        if 1 <= y < light.shape[0] - 2 and 1 <= x < light.shape[1] - 2:
            light[int(y) : int(y) + 2, int(x) : int(x) + 2] = other


def _bevels(line: KnownLine, frame: Frame, by: float) -> Floats:
    """Light over the plate where fronts and backs are beveled toward the glass: every other tooth."""
    light = np.ones((frame.height, frame.width))
    across = line.plate * math.tan(math.radians(line.fleam))
    for k in range(1, len(line.teeth) - 1, 2):
        tooth = line.teeth[k]
        u, v = line.corner(k)
        band = [(tooth.b, tooth.v), (u, v), (u - across, v), (tooth.b - across, tooth.v)]
        inside = covered([frame.dots(*point) for point in band], frame.width, frame.height)
        light = light * (1.0 - (1.0 - by) * inside)
    return light


def as_file(picture: NDArray[np.uint8], optics: Optics, kind: str = "PNG", **options: Any) -> bytes:
    """The picture as a scanner's program saves it, with its resolution."""
    out = io.BytesIO()
    if kind == "JPEG":
        options.setdefault("quality", optics.jpeg or 90)
    Image.fromarray(picture).save(out, kind, dpi=(optics.dpi, optics.dpi), **options)
    return out.getvalue()
