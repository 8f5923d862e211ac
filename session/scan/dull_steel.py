"""Rust and dirt on a light plate: steel so dull that the line's light takes it for what lies behind it.

Half way between cloth and bright steel, rust is on the wrong side: the edge would run around it, deep into the plate.
So where a patch of middle light lies in the steel, the edge is followed by its own light. Looked for on blocks of a few
dots, so that an edge's own blur is no patch.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from session.scan.light_levels import Floats
from session.value_class import dataclass

Mask = NDArray[np.bool_]
Shares = NDArray[np.float32]

#: Dots of a block's side: a patch is wider than three, a blurred edge is not.
BLOCK: Final = 4

#: Steel of a larger share of the line's light needs no other look: its edge is where half of that is, or near it.
BRIGHT: Final = 0.7

#: What is duller than this share may be cloth, as may what its own scatter reaches, so many sigmas (our own limits).
DULLEST: Final = 0.12
CLOTH_SIGMAS: Final = 4.0

#: Over so many blocks either way a patch's own light is taken.
AROUND: Final = 4

#: So far from a patch, in blocks, blur mixes its light with that beside it.
BESIDE: Final = 2

#: A patch with so many blocks under the gullets lies in the plate where it has so much of its rim there as a share of
#: what it has on the cloth: where it covers whole teeth, their edge is longer than the rest.
FEWEST_DEEP: Final = 9
DEEP_RIM: Final = 0.25

#: Of a patch is what is as light as this share of its middle one, or lighter (our own limit).
OWN: Final = 0.65

#: With less of its rim on steel, as a share of what it has on the cloth, a patch only touches the edge (our own limit).
BESIDE_RIM: Final = 0.1


@dataclass(frozen=True, slots=True)
class DullSteel:
    """Where in a picture steel is dull, by blocks of `BLOCK` dots.

    light: its share of the line's light of steel, 1 where it is as light as that. beside: patches of middle light by
    the edge that may be dull steel or lie on the cloth.
    """

    light: Shares
    beside: Mask

    def near(self, columns: Floats, rows: Floats) -> Mask:
        """Whether dull steel lies at places of the picture, or so near that the edge there is by its light."""
        near: Mask = self.light[self._block(columns, rows)] < 1.0
        return near

    def may_be(self, columns: Floats, rows: Floats) -> Mask:
        """Whether what lies at places of the picture may be dull steel, or something on the cloth."""
        maybe: Mask = self.beside[self._block(columns, rows)]
        return maybe

    def _block(self, columns: Floats, rows: Floats) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        return (
            np.clip((rows / BLOCK).astype(np.intp), 0, self.light.shape[0] - 1),
            np.clip((columns / BLOCK).astype(np.intp), 0, self.light.shape[1] - 1),
        )

    def own(self, shares: Shares, left: int, top: int) -> Shares:
        """Shares of steel in a cutting from that column and row on, those of dull steel by its own light."""
        rows = np.minimum(np.arange(top, top + shares.shape[0]) // BLOCK, self.light.shape[0] - 1)
        columns = np.minimum(np.arange(left, left + shares.shape[1]) // BLOCK, self.light.shape[1] - 1)
        if not shares.size or not (self.light[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1] < 1.0).any():
            return shares
        light = self.light[np.ix_(rows, columns)]
        own: Shares = np.where(light < 1.0, np.minimum(shares / light, np.maximum(shares, 1.0)), shares)
        return own


def dull_steel(blocks: Shares, cloth: Mask, deep: Mask) -> DullSteel | None:
    """The dull steel in a picture of which ``blocks`` tell the share of steel, not a number where nobody looked.

    cloth: blocks that lie clear of the plate; deep: those under the gullets. None where there is none.
    """
    dullest = DULLEST
    if cloth.any():
        behind = blocks[cloth]
        middle = float(np.median(behind))
        dullest = max(dullest, middle + CLOTH_SIGMAS * 1.4826 * float(np.median(np.abs(behind - middle))))
    with np.errstate(invalid="ignore"):
        middling = (blocks > dullest) & (blocks < BRIGHT)
        core = ~_spread(~middling, 1)
        if dullest >= 0.5 or not core.any():
            return None
        patch = _spread(core, BESIDE) & middling
        steel = np.isnan(blocks) | (blocks >= BRIGHT)
        behind_it = blocks <= dullest
    inside, beside = _in_plate(blocks, patch, steel, behind_it, deep)
    if not inside.any() and not beside.any():
        return None
    those = core & inside
    weight = _sums(those.astype(np.float32))
    light = _sums(np.where(those, blocks, 0.0).astype(np.float32))
    zone = _spread(inside, BESIDE) & (weight > 0.0)
    found = np.ones(blocks.shape, dtype=np.float32)
    found[zone] = light[zone] / weight[zone]
    return DullSteel(found, beside)


def _in_plate(blocks: Shares, patch: Mask, steel: Mask, behind: Mask, deep: Mask) -> tuple[Mask, Mask]:
    """The patches that border on more steel than cloth, or on some and go on under the gullets; and others that border
    on steel. What else is of middle light lies on the cloth."""
    inside, beside = np.zeros_like(patch), np.zeros_like(patch)
    for rows, columns in _patches(patch):
        top, bottom = max(0, int(rows.min()) - 2), int(rows.max()) + 3
        left, right = max(0, int(columns.min()) - 2), int(columns.max()) + 3
        one = np.zeros(patch[top:bottom, left:right].shape, dtype=bool)
        one[rows - top, columns - left] = True
        rim = _spread(one, BESIDE) & ~one
        here = np.s_[top:bottom, left:right]
        by_steel, by_cloth = int((rim & steel[here]).sum()), int((rim & behind[here]).sum())
        share = DEEP_RIM if int(deep[rows, columns].sum()) >= FEWEST_DEEP else 1.0
        if by_steel > share * by_cloth:
            # What is light of the cloth beside a patch is not of it.
            light = blocks[rows, columns]
            its = light > OWN * float(np.median(light))
            inside[rows[its], columns[its]] = True
        elif by_steel > BESIDE_RIM * by_cloth:
            beside[rows, columns] = True
    return inside, beside


def _patches(mask: Mask) -> list[tuple[NDArray[np.intp], NDArray[np.intp]]]:
    """Rows and columns of the blocks of each patch: runs along the rows, joined where those of two rows touch."""
    edges = np.diff(np.pad(mask, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    row, begin = np.nonzero(edges == 1)
    end = np.nonzero(edges == -1)[1]
    parent = list(range(len(row)))

    def root(at: int) -> int:
        while parent[at] != at:
            parent[at] = parent[parent[at]]
            at = parent[at]
        return at

    firsts = np.searchsorted(row, np.arange(mask.shape[0] + 1)).tolist()
    begins, ends = begin.tolist(), end.tolist()
    for at_row in range(1, mask.shape[0]):
        above, last = firsts[at_row - 1], firsts[at_row]
        for at in range(firsts[at_row], firsts[at_row + 1]):
            while above < last and ends[above] < begins[at]:
                above += 1
            touching = above
            while touching < last and begins[touching] <= ends[at]:
                parent[root(touching)] = root(at)
                touching += 1
    runs: dict[int, list[int]] = {}
    for at in range(len(row)):
        runs.setdefault(root(at), []).append(at)
    return [
        (
            np.concatenate([np.full(end[at] - begin[at], row[at]) for at in those]),
            np.concatenate([np.arange(begin[at], end[at]) for at in those]),
        )
        for those in runs.values()
    ]


def _spread(mask: Mask, by: int) -> Mask:
    """``mask`` grown by so many blocks, along rows and columns and across."""
    wide = mask.copy()
    for step in range(1, by + 1):
        wide[:, step:] |= mask[:, :-step]
        wide[:, :-step] |= mask[:, step:]
    grown = wide.copy()
    for step in range(1, by + 1):
        grown[step:] |= wide[:-step]
        grown[:-step] |= wide[step:]
    return grown


def _sums(values: Shares) -> Shares:
    """Sums over the blocks up to `AROUND` off, along rows and columns."""
    for _ in range(2):
        padded = np.pad(values.astype(np.float64), ((0, 0), (AROUND + 1, AROUND)))
        added = np.cumsum(padded, axis=1)
        values = (added[:, 2 * AROUND + 1 :] - added[:, : -2 * AROUND - 1]).T.astype(np.float32)
    return values
