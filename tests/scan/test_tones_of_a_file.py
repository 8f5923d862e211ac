"""What a picture's file says of its tones, in each format's ways; and what is damaged says nothing, with a word."""

from __future__ import annotations

import io
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageCms
from PIL.PngImagePlugin import PngInfo
from PIL.TiffImagePlugin import ImageFileDirectory_v2

from session.scan.picture_file import GrayPicture, read_gray
from session.scan.profile_curve import profile_light
from session.trade.scan_tones import Tones

CODES = np.arange(256) / 255.0

#: The tone curve that another library has of sRGB; ours is typed from IEC 61966-2-1.
SRGB = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def dots() -> Image.Image:
    """A small picture of all codes."""
    return Image.fromarray(np.tile(np.arange(256, dtype=np.uint8), (4, 1)))


def saved(kind: str = "PNG", picture: Image.Image | None = None, **options: Any) -> bytes:
    """A file of it, with 300 dots per inch."""
    out = io.BytesIO()
    (picture or dots()).save(out, kind, dpi=(300, 300), **options)
    return out.getvalue()


def png(*chunks: tuple[bytes, bytes], **options: Any) -> bytes:
    """A PNG with these chunks before its dots."""
    info = PngInfo()
    for name, data in chunks:
        info.add(name, data)
    return saved(pnginfo=info, **options)


def profile(curve: bytes, kind: bytes = b"GRAY", tag: bytes = b"kTRC", version: bytes = b"\x04\x20\0\0") -> bytes:
    """A color profile with one tag, at the end of a table of two."""
    table = struct.pack(">I", 2) + b"wtpt" + struct.pack(">II", 156, 0) + tag + struct.pack(">II", 156, len(curve))
    body = table + curve
    head = struct.pack(">I4x", 128 + len(body)) + version + b"mntr" + kind + b"XYZ " + bytes(12) + b"acsp"
    return head + bytes(128 - len(head)) + body


def power(gamma: float) -> bytes:
    """A curve of one exponent, in 256ths."""
    return b"curv" + bytes(4) + struct.pack(">IH", 1, int(gamma * 256))


def formula(kind: int, *numbers: float) -> bytes:
    """A parametric curve."""
    return b"para" + bytes(4) + struct.pack(">HH", kind, 0) + struct.pack(f">{len(numbers)}i", *fixed(numbers))


def fixed(numbers: tuple[float, ...]) -> list[int]:
    return [int(one * 65536 + (0.5 if one > 0 else -0.5)) for one in numbers]


LINEAR_CURVE = b"curv" + bytes(8)
PART = (1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)


def read(data: bytes, folder: Path, heard: list[str] | None = None) -> GrayPicture:
    path = folder / "scan"
    path.write_bytes(data)
    return read_gray(path, (heard if heard is not None else []).append)


def transfer(values: np.ndarray, **tags: Any) -> bytes:
    """A TIFF with a transfer function."""
    notes = ImageFileDirectory_v2()
    notes.tagtype[301] = 3
    notes[301] = tuple(int(one) for one in values)
    return saved("TIFF", tiffinfo=notes, **tags)


def exif(space: int) -> Image.Exif:
    notes = Image.Exif()
    notes.get_ifd(0x8769)[0xA001] = space
    return notes


TOLD: dict[str, tuple[Callable[[], bytes], Tones]] = {
    "png srgb": (lambda: png((b"sRGB", b"\0")), Tones.USUAL),
    "png gamma of the usual": (lambda: png((b"gAMA", struct.pack(">I", 45_455))), Tones.USUAL),
    "png gamma of one": (lambda: png((b"gAMA", struct.pack(">I", 100_000))), Tones.LINEAR),
    "png another gamma": (lambda: png((b"gAMA", struct.pack(">I", 55_556))), Tones.OTHER),
    "png srgb before gamma": (lambda: png((b"gAMA", struct.pack(">I", 100_000)), (b"sRGB", b"\0")), Tones.USUAL),
    "png profile": (lambda: saved(icc_profile=SRGB), Tones.USUAL),
    "png profile before gamma": (
        lambda: png((b"gAMA", struct.pack(">I", 45_455)), icc_profile=profile(LINEAR_CURVE)),
        Tones.LINEAR,
    ),
    "png cicp linear": (lambda: png((b"cICP", bytes((1, 8, 0, 1)))), Tones.LINEAR),
    "png cicp before profile": (lambda: png((b"cICP", bytes((1, 8, 0, 1))), icc_profile=SRGB), Tones.LINEAR),
    "png cicp srgb": (lambda: png((b"cICP", bytes((1, 13, 0, 1)))), Tones.USUAL),
    "png cicp video": (lambda: png((b"cICP", bytes((1, 1, 0, 1)))), Tones.OTHER),
    "tiff profile": (lambda: saved("TIFF", icc_profile=profile(LINEAR_CURVE)), Tones.LINEAR),
    "tiff profile of colors": (
        lambda: saved("TIFF", dots().convert("RGB"), icc_profile=profile(LINEAR_CURVE, b"RGB ", b"gTRC")),
        Tones.LINEAR,
    ),
    "tiff transfer": (lambda: transfer(65535 * CODES), Tones.LINEAR),
    "tiff transfer of the usual": (lambda: transfer(65535 * CODES**2.2), Tones.USUAL),
    "tiff transfer of three": (
        lambda: transfer(np.tile(65535 * CODES, 3), picture=dots().convert("RGB")),
        Tones.LINEAR,
    ),
    "jpeg profile": (lambda: saved("JPEG", icc_profile=SRGB), Tones.USUAL),
    "jpeg linear": (lambda: saved("JPEG", icc_profile=profile(LINEAR_CURVE)), Tones.LINEAR),
    "jpeg note": (lambda: saved("JPEG", exif=exif(1)), Tones.USUAL),
}


@pytest.mark.parametrize("way", list(TOLD))
def test_a_file_tells_its_tones(way: str, tmp_path: Path) -> None:
    made, tones = TOLD[way]
    heard: list[str] = []
    told = read(made(), tmp_path, heard).tones
    assert told.light is not None
    assert (told.tones, heard) == (tones, [])
    assert (told.light[0], told.light[-1]) == (0.0, 1.0)


@pytest.mark.parametrize(
    "made", [saved, lambda: saved("TIFF"), lambda: saved("JPEG"), lambda: saved("JPEG", exif=exif(0xFFFF))]
)
def test_most_files_say_nothing(made: Callable[[], bytes], tmp_path: Path) -> None:
    heard: list[str] = []
    assert read(made(), tmp_path, heard).tones.light is None
    assert heard == []


DAMAGED: dict[str, Callable[[], bytes]] = {
    "no profile": lambda: saved(icc_profile=b"none"),
    "cut short": lambda: saved(icc_profile=profile(LINEAR_CURVE)[:140]),
    "a table that ends nowhere": lambda: saved(icc_profile=profile(b"curv" + bytes(4) + b"\xff\xff\xff\xff")),
    "an exponent of none": lambda: saved(icc_profile=profile(power(0.0))),
    "a formula of none": lambda: saved(icc_profile=profile(formula(3, 2.4, 0.0, 0.0, 0.0, 2.0))),
    "a formula of no kind": lambda: saved(icc_profile=profile(formula(9, 2.4))),
    "a curve that falls": lambda: saved(
        icc_profile=profile(b"curv" + bytes(4) + struct.pack(">I4H", 4, 0, 65535, 100, 65535))
    ),
    "a curve of two lights": lambda: saved(
        icc_profile=profile(b"curv" + bytes(4) + struct.pack(">I256H", 256, *[0] * 128, *[65535] * 128))
    ),
    "a profile of inks": lambda: saved("JPEG", icc_profile=profile(LINEAR_CURVE, b"CMYK")),
    "a table in place of a curve": lambda: saved(icc_profile=profile(LINEAR_CURVE, b"RGB ", b"A2B0")),
    "a cicp of three": lambda: png((b"cICP", b"abc")),
    "a cicp of film": lambda: png((b"cICP", bytes((9, 16, 0, 1)))),
    "a transfer of ten": lambda: transfer(np.arange(10)),
    "a gamma of none": lambda: png((b"gAMA", struct.pack(">I", 0))),
}


@pytest.mark.parametrize("way", list(DAMAGED))
def test_what_is_damaged_is_passed_over_with_a_word(way: str, tmp_path: Path) -> None:
    heard: list[str] = []
    picture = read(DAMAGED[way](), tmp_path, heard)
    assert picture.tones.light is None
    assert picture.dots.shape == (4, 256)
    assert len(heard) == 1
    assert heard[0].endswith("; what it says of its tones is passed over")


def test_bytes_of_any_kind_in_a_profile_raise_nothing() -> None:
    dice = np.random.default_rng(4)
    whole = bytearray(profile(formula(3, 2.4, *PART)))
    told = 0
    for _ in range(3000):
        other = bytearray(whole)
        for at in dice.integers(0, len(whole), dice.integers(1, 6)):
            other[at] = dice.integers(0, 256)
        light = profile_light(bytes(other if dice.random() < 0.5 else other[: dice.integers(100, len(other))]))
        if light is not None:
            told += 1
            assert np.isfinite(light).all()
            assert light.min() >= 0.0
            assert light.max() <= 1.0
    assert told > 100, "most of a profile is not the curve"


@pytest.mark.parametrize(
    ("curve", "light"),
    [
        (power(1.8), CODES ** (460 / 256)),
        (formula(0, 2.2), CODES**2.2),
        (formula(1, 2.0, 1.25, -0.25), np.maximum(1.25 * CODES - 0.25, 0.0) ** 2),
        (formula(2, 2.0, 0.8, 0.1, 0.05), (0.8 * CODES + 0.1) ** 2 + 0.05),
        (formula(4, 2.0, 1.0, 0.0, 0.5, 0.5, 0.1, 0.1), np.where(CODES < 0.5, 0.5 * CODES + 0.1, CODES**2 + 0.1)),
        (b"curv" + bytes(4) + struct.pack(">I3H", 3, 0, 16384, 65535), np.interp(CODES, (0, 0.5, 1), (0, 0.25, 1))),
    ],
    ids=["exponent", "formula 0", "formula 1", "formula 2", "formula 4", "table"],
)
def test_a_curve_of_each_kind_is_the_one_that_the_profiles_standard_has(curve: bytes, light: np.ndarray) -> None:
    told = profile_light(profile(curve))
    assert told is not None
    assert told == pytest.approx((light - light[0]) / (light[-1] - light[0]), abs=2e-4)


def test_the_usual_curve_is_another_librarys_own() -> None:
    told = profile_light(SRGB)
    assert told is not None
    assert told == pytest.approx(np.where(CODES <= 0.04045, CODES / 12.92, ((CODES + 0.055) / 1.055) ** 2.4), abs=1e-3)
