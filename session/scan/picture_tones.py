"""What a picture's file says of its tones.

PNG has cICP, iCCP, sRGB and gAMA; others a color profile, TIFF a transfer function, and cameras and scanners leave a
note on color space (EXIF).
Of several the one counts that its format puts first. What is damaged or of a kind that tells no curve is passed over
with a word, and the picture read as if it said nothing.
"""

from __future__ import annotations

import struct
from typing import Any, Final

import numpy as np
from PIL import Image

from session.scan.light_levels import LINEAR, USUAL, Light
from session.scan.profile_curve import CODES, profile_light, sound_light
from session.trade.scan_tones import Tones
from session.value_class import dataclass

#: Tags: TIFF's transfer function; the folder of EXIF's notes, and in it the color space, of which 1 is sRGB.
_TRANSFER: Final = 301
_WHITE_IS_ZERO: Final = (262, 0)
_EXIF, _COLOR_SPACE = 0x8769, 0xA001

#: Transfer characteristics of a cICP chunk (ITU-T H.273) that a scanner's program may write: light of each code. 1, 6,
#: 14 and 15 are those of video.
_VIDEO: Final = (1, 6, 14, 15)
_LINEAR, _SRGB, _POWERS = 8, 13, {4: 2.2, 5: 2.8}

#: A curve no farther from the usual or the linear one, in shares of full light, is called by its name.
_ALIKE: Final = 0.02

#: Chunks before a picture's dots that are walked by, and the most bytes of one.
_MOST_CHUNKS: Final = 200


@dataclass(frozen=True, slots=True)
class ToldTones:
    """What a file says of its tones. light: of each of the 256 codes, None where it says nothing. tones: what such are
    called. passed_over: what of it is damaged or not read, in words; empty for nothing."""

    light: Light | None = None
    tones: Tones = Tones.USUAL
    passed_over: str = ""


def named_tones(light: Light) -> Tones:
    """What tones of that light are called."""
    for name, known in ((Tones.USUAL, USUAL), (Tones.LINEAR, LINEAR)):
        if float(np.abs(light - known).max()) <= _ALIKE:
            return name
    return Tones.OTHER


def told_tones(picture: Image.Image) -> ToldTones:
    """What the file of an opened ``picture`` says. Never raises for what is wrong in it."""
    passed: list[str] = []
    for ask in (_cicp, _profile, _png, _transfer, _exif):
        try:
            light = ask(picture, passed)
        except Exception:
            # What a library raises for notes that were made to break it has no end; none of them is worth a picture.
            passed.append("a note on its tones is damaged")
            continue
        if light is not None:
            return ToldTones(light, named_tones(light), "; ".join(passed))
    return ToldTones(passed_over="; ".join(passed))


def _cicp(picture: Image.Image, passed: list[str]) -> Light | None:
    """PNG, third edition: goes before every other note. The library passes it by."""
    stream: Any = getattr(picture, "fp", None)
    if picture.format != "PNG" or stream is None:
        return None
    before = stream.tell()
    try:
        stream.seek(8)
        for _ in range(_MOST_CHUNKS):
            size, name = struct.unpack(">I4s", stream.read(8))
            if name == b"IDAT":
                return None
            if name == b"cICP":
                return _video(stream.read(4), passed) if size == 4 else _none(passed, "a cICP chunk is damaged")
            stream.seek(size + 4, 1)
    finally:
        stream.seek(before)
    return None


def _video(chunk: bytes, passed: list[str]) -> Light | None:
    transfer = chunk[1]
    if transfer == _SRGB:
        return USUAL
    if transfer == _LINEAR:
        return LINEAR
    if transfer in _POWERS:
        return sound_light(CODES ** _POWERS[transfer])
    if transfer in _VIDEO:
        # ITU-R BT.709: a power of 0.45 over a straight foot.
        return sound_light(np.where(CODES < 0.081, CODES / 4.5, ((CODES + 0.099) / 1.099) ** (1.0 / 0.45)))
    return _none(passed, f"tones of kind {transfer} (cICP) are not read")


def _profile(picture: Image.Image, passed: list[str]) -> Light | None:
    profile = picture.info.get("icc_profile")
    if not isinstance(profile, bytes) or not profile:
        return None
    light = profile_light(profile)
    return _none(passed, "its color profile is damaged, or tells no tone curve") if light is None else light


def _png(picture: Image.Image, passed: list[str]) -> Light | None:
    """The chunks sRGB and gAMA; the first goes before the second."""
    if picture.format != "PNG":
        return None
    if "srgb" in picture.info:
        return USUAL
    gamma = picture.info.get("gamma")
    if gamma is None:
        return None
    if not isinstance(gamma, int | float) or not 0.1 <= gamma <= 10.0:
        return _none(passed, "its gamma can be none")
    return sound_light(CODES ** (1.0 / gamma))


def _transfer(picture: Image.Image, passed: list[str]) -> Light | None:
    """TIFF: a table of the light of every code, one for gray, three one after the other for colors."""
    tags: Any = getattr(picture, "tag_v2", None)
    if picture.format != "TIFF" or not tags or (table := tags.get(_TRANSFER)) is None:
        return None
    values = np.asarray(table, dtype=float).ravel()
    bits = next((bits for bits in (8, 16) if len(values) in (1 << bits, 3 << bits)), None)
    if bits is None or tags.get(_WHITE_IS_ZERO[0]) == _WHITE_IS_ZERO[1]:
        return _none(passed, "its transfer function is damaged, or of a kind that is not read")
    curve = values[: 1 << bits] if len(values) == 1 << bits else values[1 << bits : 2 << bits]
    light = sound_light(curve[:: 1 if bits == 8 else 257])
    return _none(passed, "its transfer function is no tone curve") if light is None else light


def _exif(picture: Image.Image, passed: list[str]) -> Light | None:
    del passed
    if picture.format == "PNG" and "exif" not in picture.info:
        # Asked for it, the library would unpack the whole picture to look behind its dots.
        return None
    return USUAL if picture.getexif().get_ifd(_EXIF).get(_COLOR_SPACE) == 1 else None


def _none(passed: list[str], why: str) -> Light | None:
    """Nothing, and why: one of a kind with what tells a light."""
    passed.append(why)
    return None
