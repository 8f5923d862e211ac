"""The tone curve of a color profile inside a picture (ICC.1, tags kTRC and gTRC): light for each of the 256 codes.

A profile of gray has one curve, one of colors three, of which green weighs most in gray. A profile without such a curve
(one of tables) or a damaged one says nothing: what it says is a sentence, never an error.
"""

from __future__ import annotations

import struct
from typing import Final

import numpy as np

from session.scan.light_levels import Floats, Light

#: The most tags that are looked at; profiles have a few dozen.
_MOST_TAGS: Final = 200

#: The curve's tag by the kind of dots that the profile is of.
_TAG: Final = {b"GRAY": b"kTRC", b"RGB ": b"gTRC"}

#: How many numbers a parametric curve of each type has (ICC.1, parametricCurveType).
_NUMBERS: Final = {0: 1, 1: 3, 2: 4, 3: 5, 4: 7}

#: A curve of fewer different lights, or one that falls by more than the second anywhere, is none of a scanner's.
_FEWEST_LIGHTS: Final = 16
_FALLS: Final = 1e-3

CODES: Final = np.arange(256) / 255.0


def profile_light(profile: bytes) -> Light | None:
    """Light, 0 to 1, for each code by ``profile``; None where it tells none, be it damaged or of another kind."""
    try:
        curve = _curve(profile)
    except (struct.error, ValueError, OverflowError, MemoryError):
        return None
    return None if curve is None else sound_light(curve)


def sound_light(curve: Floats) -> Light | None:
    """``curve``, a light for each of the 256 codes, from 0 to 1; None where it is no tone curve."""
    if curve.shape != (256,) or not np.isfinite(curve).all():
        return None
    span = float(curve[-1] - curve[0])
    if span <= 0.0 or not np.isfinite(span):
        return None
    light = (curve - curve[0]) / span
    if np.diff(light).min() < -_FALLS or len(np.unique(light)) < _FEWEST_LIGHTS:
        return None
    rising: Light = np.clip(light, 0.0, 1.0).astype(np.float32)
    return rising


def _curve(profile: bytes) -> Floats | None:
    if profile[36:40] != b"acsp" or (wanted := _TAG.get(profile[16:20])) is None:
        return None
    (count,) = struct.unpack_from(">I", profile, 128)
    for number in range(min(count, _MOST_TAGS)):
        name, at, size = struct.unpack_from(">4sII", profile, 132 + 12 * number)
        if name == wanted:
            return _told(profile[at : at + size])
    return None


def _told(tag: bytes) -> Floats | None:
    """The curve in a tag: ``curv``, an exponent or a table, or ``para``, a formula."""
    if tag[:4] == b"curv":
        (count,) = struct.unpack_from(">I", tag, 8)
        if count == 0:
            return CODES
        if count == 1:
            (eighth,) = struct.unpack_from(">H", tag, 12)
            return _power(CODES, eighth / 256.0)
        table = np.frombuffer(tag, dtype=">u2", count=count, offset=12) / 65535.0
        told: Floats = np.interp(CODES, np.linspace(0.0, 1.0, count), table)
        return told
    if tag[:4] == b"para":
        (kind,) = struct.unpack_from(">H", tag, 8)
        if kind in _NUMBERS:
            return _formula(kind, [one / 65536.0 for one in struct.unpack_from(f">{_NUMBERS[kind]}i", tag, 12)])
    return None


def _formula(kind: int, numbers: list[float]) -> Floats:
    """A parametric curve: (a·X + b) to the power g, plus e, from d on, and c·X + f before; where a type has no d, the
    power begins where a·X + b does."""
    g, a, b, c, d, e, f = (*numbers, *(1.0, 0.0, 0.0, -1.0, 0.0, 0.0)[len(numbers) - 1 :])
    if kind in (1, 2):
        # These have their c over all of the curve.
        e = f = c if kind == 2 else 0.0
        c, d = 0.0, -b / a if a else 0.0
    power: Floats = np.where(d <= CODES, _power(np.maximum(a * CODES + b, 0.0), g) + e, c * CODES + f)
    return power


def _power(value: Floats, exponent: float) -> Floats:
    if not 0.1 <= exponent <= 10.0:
        raise ValueError("no exponent of tones")
    made: Floats = value**exponent
    return made
