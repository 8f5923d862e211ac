"""The plate's edge to a small part of a dot: where a dot would be half steel and half cloth.

Only a band along the tooth line is looked at, tile by tile, so that a picture of any size takes little memory. In each
tile the edge is followed between the dots (marching squares); tiles share a column, in which the edges are joined.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import contourpy
import numpy as np
from numpy.typing import NDArray

from session.machine.refusal import Refusal
from session.scan.dull_steel import BLOCK, DullSteel, Shares, dull_steel
from session.scan.light_levels import LEAST_CONTRAST, USUAL, Floats, Gray, Levels, Light
from session.scan.tooth_edge import ToothEdge
from session.value_class import dataclass, replace

#: Columns of a tile.
TILE: Final = 768

#: A cutting of fewer rows or columns shows nothing.
LEAST_CUT: Final = 3


@dataclass(frozen=True, slots=True)
class Band:
    """A picture with its tooth line running along the columns, and the frame in which the line is measured.

    dots: turned so that the line runs along the columns. per_mm: dots to the millimeter along columns and rows.
    edge: the rough line, in the turned picture. levels: light along the line. dull: rust and dirt on the plate.
    """

    dots: Gray
    per_mm: tuple[float, float]
    edge: ToothEdge
    levels: Levels
    dull: DullSteel | None = None

    def shares(self, top: int, bottom: int, left: int, right: int) -> Shares:
        """The share of steel in the dots of those rows and columns, that of dull steel by its own light."""
        shares = self.levels.shares(self.dots[top:bottom, left:right], left)
        return shares if self.dull is None else self.dull.own(shares, left, top)

    def is_dull(self, u: Floats, v: Floats) -> NDArray[np.bool_]:
        """Whether the edge at places (u, v) lies by dull steel."""
        if self.dull is None:
            return np.zeros(len(u), dtype=bool)
        return self.dull.near(*self.picture_place(u, v))

    def may_be_dull(self, u: Floats, v: Floats) -> NDArray[np.bool_]:
        """Whether what lies at places (u, v) may be dull steel, or something on the cloth."""
        if self.dull is None:
            return np.zeros(len(u), dtype=bool)
        return self.dull.may_be(*self.picture_place(u, v))

    def saw_frame(self, columns: Floats, rows: Floats) -> tuple[Floats, Floats]:
        """Places in the picture as mm along the rough line and mm out of it, toward the points."""
        x = (columns + 0.5) / self.per_mm[0] - self.edge.x
        y = (rows + 0.5) / self.per_mm[1] - self.edge.y
        cos, sin = math.cos(self.edge.along), math.sin(self.edge.along)
        return x * cos + y * sin, (x * sin - y * cos) * self.edge.out

    def picture_place(self, u: Floats, v: Floats) -> tuple[Floats, Floats]:
        """The reverse: columns and rows of places along and out of the rough line."""
        cos, sin = math.cos(self.edge.along), math.sin(self.edge.along)
        w = v * self.edge.out
        x, y = u * cos + w * sin, u * sin - w * cos
        return (x + self.edge.x) * self.per_mm[0] - 0.5, (y + self.edge.y) * self.per_mm[1] - 0.5

    def rows_of(self, left: int, right: int, above: float, below: float) -> tuple[int, int]:
        """The rows from ``above`` to ``below`` mm off the line, over these columns, within the picture."""
        slope = math.tan(self.edge.along)
        at = [self.edge.y + slope * ((column + 0.5) / self.per_mm[0] - self.edge.x) for column in (left, right)]
        up, down = (above, below) if self.edge.out > 0 else (below, above)
        stretch = 1.0 / math.cos(self.edge.along)
        top = (min(at) - up * stretch) * self.per_mm[1]
        bottom = (max(at) + down * stretch) * self.per_mm[1]
        height = self.dots.shape[0]
        return min(height, max(0, math.floor(top))), min(height, max(0, math.ceil(bottom)))

    def cutting(self, u: Floats, v: Floats) -> DotPatch | None:
        """The dots from the lowest to the highest row and column of places (u, v), as far as there is a picture; None
        where it shows less than `LEAST_CUT` rows or columns of them."""
        columns, rows = self.picture_place(u, v)
        left, right = math.floor(columns.min()), math.ceil(columns.max()) + 1
        top, bottom = math.floor(rows.min()), math.ceil(rows.max()) + 1
        height, width = self.dots.shape
        whole = min(left, top) >= 0 and right <= width and bottom <= height
        left, right, top, bottom = max(0, left), min(width, right), max(0, top), min(height, bottom)
        if min(right - left, bottom - top) < LEAST_CUT:
            return None
        codes = self.dots[top:bottom, left:right]
        at_row, at_column = np.mgrid[top:bottom, left:right].astype(float)
        shares = self.shares(top, bottom, left, right).astype(float)
        return DotPatch(codes, shares, *self.saw_frame(at_column, at_row), whole)


@dataclass(frozen=True, slots=True)
class DotPatch:
    """A cutting of the picture: codes of its dots, their shares of steel, and where they lie, mm along and out of the
    rough line. whole: whether the picture reached all around it."""

    codes: Gray
    shares: Floats
    u: Floats
    v: Floats
    whole: bool


def lay_band(dots: Gray, per_mm: tuple[float, float], edge: ToothEdge, light: Light = USUAL) -> Band:
    """The band along ``edge``, with the light of cloth and steel looked up along it. Raises Refusal.

    light: of each of the 256 codes.
    """
    columns, cloth, steel = [], [], []
    band = Band(dots, per_mm, edge, Levels(np.zeros(1), np.zeros(1), np.ones(1), light))
    margin = 0.12 * edge.depth + 0.35
    room = max(1.5, 0.8 * edge.depth)
    # Beside a short saw there is only cloth; that tells nothing of steel.
    begin, end = ((edge.x + one * math.cos(edge.along)) * per_mm[0] for one in edge.ends)
    for left, right in _tiles(dots.shape[1], TILE // 2):
        left, right = max(left, math.ceil(begin)), min(right, math.floor(end))
        if right - left < 8:
            continue
        seen = []
        for above, below in (
            (edge.above + margin + room, -edge.above - margin),
            (-edge.below - margin, edge.below + margin + room),
        ):
            top, bottom = band.rows_of(left, right, above, below)
            part = dots[top:bottom:2, left:right:3]
            if bottom - top < 4 or part.size < 40:
                seen.append(math.nan)
                continue
            rows, cols = np.mgrid[top:bottom:2, left:right:3]
            _, v = band.saw_frame(cols, rows)
            kept = (v <= above) & (v >= -below)
            seen.append(float(np.median(light[part[kept]])) if kept.any() else math.nan)
        columns.append((left + right) / 2.0)
        cloth.append(seen[0])
        steel.append(seen[1])
    levels = _smooth(np.array(columns), np.array(cloth), np.array(steel), light)
    band = Band(dots, per_mm, edge, levels)
    # On white paper rust is as dark as steel or darker, and what is of middle light is a shadow.
    return replace(band, dull=_dull(band)) if float(np.median(levels.steel - levels.cloth)) > 0.0 else band


def _reach(edge: ToothEdge) -> tuple[float, float]:
    """How far over and under the rough line the band goes, mm."""
    margin = 0.25 * edge.depth + 0.6
    return edge.above + margin, edge.below + margin


def _dull(band: Band) -> DullSteel | None:
    """Where steel in the band is dull, as far as blocks of dots tell it."""
    above, below = _reach(band.edge)
    rows, columns = (size // BLOCK for size in band.dots.shape)
    blocks: Shares = np.full((rows, columns), np.nan, dtype=np.float32)
    cloth, deep = np.zeros((rows, columns), dtype=bool), np.zeros((rows, columns), dtype=bool)
    clear = band.edge.above + 0.12 * band.edge.depth + 0.35
    for left, right in _tiles(columns * BLOCK, TILE):
        right = min(right, left + TILE) // BLOCK * BLOCK
        top, bottom = (row // BLOCK * BLOCK for row in band.rows_of(left, right, above, below))
        if bottom <= top or right <= left:
            continue
        # Every second dot tells a block's light well enough.
        part = band.dots[top:bottom:2, left:right:2]
        at = np.arange(left, right, 2)
        behind, steel = (np.interp(at, band.levels.columns, one) for one in (band.levels.cloth, band.levels.steel))
        shares = (band.levels.light[part] - behind.astype(np.float32)) / (steel - behind).astype(np.float32)
        size = BLOCK // 2
        mean = shares.reshape(part.shape[0] // size, size, part.shape[1] // size, size).mean(axis=(1, 3))
        at_row, at_column = np.mgrid[top:bottom:BLOCK, left:right:BLOCK]
        _, v = band.saw_frame(at_column + BLOCK / 2.0, at_row + BLOCK / 2.0)
        here = np.s_[top // BLOCK : bottom // BLOCK, left // BLOCK : right // BLOCK]
        blocks[here] = np.where(v > above, 0.0, np.where(v < -below, np.nan, mean))
        cloth[here] = (v > clear) & (v <= above)
        deep[here] = (v < -band.edge.below) & (v >= -below)
    return dull_steel(blocks, cloth, deep)


def _smooth(columns: Floats, cloth: Floats, steel: Floats, light: Light) -> Levels:
    """Levels with a tile that saw something else (the plate's end, a label) held to those beside it."""
    seen = np.isfinite(steel - cloth)
    usual = float(np.median((steel - cloth)[seen])) if seen.any() else 0.0
    if abs(usual) < LEAST_CONTRAST:
        raise Refusal(
            "steel and what is behind it are nearly of one tone; lay dark cloth behind the saw, or white paper"
        )
    apart = steel - cloth
    fit = np.isfinite(apart) & (apart * np.sign(usual) > 0.5 * abs(usual)) & (np.abs(apart) < 2.0 * abs(usual))
    if not fit.any():
        raise Refusal(
            "the light along the teeth is too uneven to tell steel from cloth; scan with the lid open, in the dark"
        )
    return Levels(columns[fit], cloth[fit], steel[fit], light)


def _tiles(width: int, size: int) -> Iterator[tuple[int, int]]:
    for left in range(0, max(1, width - 1), size):
        yield left, min(width, left + size + 1)


def edges_in(band: Band) -> list[Floats]:
    """The edges in the band, each as points (u, v) in mm along and out of the rough line, in the order of u."""
    above, below = _reach(band.edge)
    pieces: list[Floats] = []
    for left, right in _tiles(band.dots.shape[1], TILE):
        top, bottom = band.rows_of(left, right, above, below)
        if bottom - top < 3 or right - left < 2:
            continue
        shares = band.shares(top, bottom, left, right)
        corner = np.array([left, top], dtype=float)
        pieces += [np.asarray(line) + corner for line in contourpy.contour_generator(z=shares).lines(0.5)]
    parts: list[Floats] = []
    for chain in _joined(pieces):
        u, v = band.saw_frame(chain[:, 0], chain[:, 1])
        parts += _within(np.column_stack([u, v]), -below, above)
    parts = _back_again(parts, above, 3.0 / min(band.per_mm), 0.5 * band.edge.depth)
    long = [part for part in parts if np.ptp(part[:, 0]) > 0.5 * band.edge.depth]
    found = [part if part[-1, 0] >= part[0, 0] else part[::-1] for part in long]
    return sorted(found, key=lambda chain: float(chain[0, 0]))


def _back_again(parts: Sequence[Floats], above: float, near: float, reach: float) -> list[Floats]:
    """``parts`` with those made one that leave the band outward and come back beside: a hair stands out of it there.

    above: how far the band goes, mm; near: how near to that a part ends that leaves it; reach: how far beside.
    """
    kept = list(parts)
    for one in parts:
        at = next((k for k, part in enumerate(kept) if part is one), None)
        if at is None:
            continue
        while kept[at][-1, 1] > above - near:
            here = kept[at]
            back = [
                (abs(float(part[0, 0] - here[-1, 0])), k)
                for k, part in enumerate(kept)
                if k != at and part[0, 1] > above - near and abs(float(part[0, 0] - here[-1, 0])) < reach
            ]
            if not back:
                break
            _, other = min(back)
            kept[at] = np.concatenate([here, kept[other]])
            del kept[other]
            at -= other < at
    return kept


def _within(chain: Floats, low: float, high: float) -> Iterator[Floats]:
    """The stretches of a chain that stay in the band: a tilted tile shows more than that."""
    inside = (chain[:, 1] > low) & (chain[:, 1] < high)
    bounds = np.flatnonzero(np.diff(np.concatenate([[0], inside.astype(int), [0]])))
    for first, last in zip(bounds[::2], bounds[1::2], strict=True):
        if last - first > 2:
            yield chain[first:last]


def _joined(pieces: list[Floats]) -> Iterator[Floats]:
    """Pieces that end in one point of the column that two tiles share, as one."""
    begins = {_key(piece[0]): i for i, piece in enumerate(pieces) if not _closed(piece)}
    ends = {_key(piece[-1]) for piece in pieces if not _closed(piece)}
    used: set[int] = set()
    first = [i for i, piece in enumerate(pieces) if not _closed(piece) and _key(piece[0]) not in ends]
    for start in [*first, *range(len(pieces))]:
        if start in used:
            continue
        chain, at = [], start
        while at is not None and at not in used:
            used.add(at)
            chain.append(pieces[at])
            at = begins.get(_key(pieces[at][-1])) if not _closed(pieces[at]) else None
        yield np.concatenate(chain) if len(chain) > 1 else chain[0]


def _key(point: Floats) -> tuple[int, int]:
    return round(float(point[0]) * 1000), round(float(point[1]) * 1000)


def _closed(piece: Floats) -> bool:
    return bool(np.array_equal(piece[0], piece[-1]))
