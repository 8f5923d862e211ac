"""A printed page laid under a rule: rasterized by renderers that this project did not write, and measured in pixels.

Where to look is told by the page's SVG, by the names of its shapes; what is found there the renderers made of it.
"""

from __future__ import annotations

import io
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

SVG = "{http://www.w3.org/2000/svg}"

#: Pixels to the inch.
DPI = 300

Spot = tuple[float, float]


@dataclass(frozen=True)
class Raster:
    """A page as pixels: how dark each is, 0 to 1, and the size of the paper by its file.

    Places and lengths are in mm of the paper, which a renderer makes a whole number of pixels.
    """

    dark: NDArray[Any]
    size_mm: Spot

    def at(self, xs: NDArray[Any], ys: NDArray[Any]) -> NDArray[Any]:
        """How dark the paper is at places in mm, between pixels as much as they share."""
        high, wide = self.dark.shape
        x, y = xs * wide / self.size_mm[0] - 0.5, ys * high / self.size_mm[1] - 0.5
        left, top = np.floor(x).astype(int), np.floor(y).astype(int)
        right, low = x - left, y - top
        d = self.dark
        upper = d[top, left] * (1 - right) + d[top, left + 1] * right
        lower = d[top + 1, left] * (1 - right) + d[top + 1, left + 1] * right
        found: NDArray[Any] = upper * (1 - low) + lower * low
        return found

    def middles(self, begin: Spot, end: Spot, wide: float = 0.3) -> list[float]:
        """How far from ``begin`` the middle of each dark line lies that is crossed on the way to ``end``; the way is
        ``wide`` mm wide, and what is dark all across it counts."""
        length = math.dist(begin, end)
        along = np.arange(0.0, length, 0.01)
        dx, dy = (end[0] - begin[0]) / length, (end[1] - begin[1]) / length
        rows = [
            self.at(begin[0] + along * dx - dy * off, begin[1] + along * dy + dx * off)
            for off in (-wide / 2, 0.0, wide / 2)
        ]
        weight = np.minimum.reduce(rows)
        found, here = [], weight > 0.15
        edges = np.flatnonzero(np.diff(np.concatenate(([False], here, [False])).astype(int)))
        for first, last in edges.reshape(-1, 2):
            found.append(float(np.average(along[first:last], weights=weight[first:last])))
        return found

    def direction(self, at: Spot, near: float, first: float, last: float, within: float = 2.0) -> float:
        """Where a line that goes out from ``at`` is headed, in degrees clockwise from straight up.

        It is looked for ``within`` degrees of ``near``, between the distances ``first`` and ``last``.
        """
        angles = np.arange(near - within, near + within, 0.01)
        far = np.arange(first, last, 0.05)
        lean = np.radians(angles)[:, None]
        ink = self.at(at[0] + far * np.sin(lean), at[1] - far * np.cos(lean)).mean(axis=1)
        light = np.flatnonzero(ink < ink.max() / 2)
        best = int(np.argmax(ink))
        begin, end = light[light < best].max(initial=0), light[light > best].min(initial=len(ink))
        return float(np.average(angles[begin:end], weights=ink[begin:end]))


def rasters(pdf: bytes) -> list[Raster]:
    """The pages of a PDF."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    found = []
    for page in document:
        pixels = page.render(scale=DPI / 72, grayscale=True).to_numpy()
        dark = 1.0 - pixels.reshape(pixels.shape[0], pixels.shape[1]) / 255.0
        wide, high = page.get_size()
        found.append(Raster(dark, (wide / 72 * 25.4, high / 72 * 25.4)))
    return found


def svg_raster(svg: str) -> Raster:
    """The page of an SVG, without its lettering, for which a renderer wants the fonts of this machine."""
    from PIL import Image
    from resvg import render, usvg

    options = usvg.Options.default()
    options.dpi = DPI
    image = Image.open(io.BytesIO(bytes(render(usvg.Tree.from_str(svg, options), (1, 0, 0, 0, 1, 0)))))
    dark = 1.0 - np.asarray(image.convert("L")) / 255.0
    sizes = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', svg)
    assert sizes is not None
    return Raster(dark, (float(sizes[1]), float(sizes[2])))


@dataclass(frozen=True)
class Drawn:
    """The shapes of a page by their names: where the page's SVG says that they are, in mm of the paper."""

    named: dict[str, list[Spot]]

    @classmethod
    def of(cls, svg: str) -> Drawn:
        """Those of a page."""
        root = ET.fromstring(svg.encode())
        (group,) = root.findall(f"{SVG}g")
        found = re.fullmatch(r"translate\((\S+) (\S+)\) scale\((\S+)\)", group.get("transform", ""))
        assert found is not None
        right, down, scale = map(float, found.groups())
        wide, high = map(float, root.get("viewBox", "").split()[2:])
        # The view box counts millimeters, so that what is drawn is what is printed.
        assert (root.get("width"), root.get("height")) == (f"{wide:g}mm", f"{high:g}mm")
        named = {}
        for shape in group:
            name = shape.get("id")
            if name is None:
                continue
            assert name not in named, "a name is that of one shape"
            numbers = re.findall(r"-?[\d.]+", shape.get("d", "")) or [shape.get("cx", ""), shape.get("cy", "")]
            spots = zip(map(float, numbers[::2]), map(float, numbers[1::2]), strict=True)
            named[name] = [(right + x * scale, down + y * scale) for x, y in spots]
        return cls(named)

    def __getitem__(self, name: str) -> list[Spot]:
        return self.named[name]
