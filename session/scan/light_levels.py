"""From a scanner's eight bits to light, and how light cloth and steel are along the line.

A dot's share of steel is where its light lies between that of the cloth and that of the steel beside it. Light is what
an edge shares out evenly; the scanner's code is not, so the tone curve is taken off first: that of sRGB (IEC
61966-2-1), which scanners' programs write unless told otherwise, or another that the file or a person tells.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from session.value_class import dataclass

Floats = NDArray[np.float64]
Gray = NDArray[np.uint8]


Light = NDArray[np.float32]


def _usual() -> Light:
    code = np.arange(256) / 255.0
    light = np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)
    return light.astype(np.float32)


#: Light, 0 to 1, for each of the 256 codes: of the usual tones, and of linear ones.
USUAL: Final = _usual()
LINEAR: Final = np.linspace(0.0, 1.0, 256, dtype=np.float32)

#: Cloth and steel whose lights differ by less than this share of full light cannot be told apart well enough.
LEAST_CONTRAST: Final = 0.04


@dataclass(frozen=True, slots=True)
class Levels:
    """Light of cloth and of steel at places along the picture's columns (in dots), between which it runs straight;
    and the light of each of the 256 codes."""

    columns: Floats
    cloth: Floats
    steel: Floats
    light: Light

    def shares(self, dots: Gray, left: int) -> NDArray[np.float32]:
        """The share of steel in each of ``dots``, a cutting of the picture that begins at column ``left``."""
        at = np.arange(left, left + dots.shape[1])
        cloth: NDArray[np.float32] = np.interp(at, self.columns, self.cloth).astype(np.float32)
        steel: NDArray[np.float32] = np.interp(at, self.columns, self.steel).astype(np.float32)
        shares: NDArray[np.float32] = np.divide(self.light[dots] - cloth, steel - cloth, dtype=np.float32)
        return shares
