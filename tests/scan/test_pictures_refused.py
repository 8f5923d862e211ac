"""Pictures of all kinds and origins: what can be read is, and for all else there is a sentence."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from known_line import even_line
from made_scan import Optics, as_file, scan
from session.machine.refusal import Refusal
from session.scan.picture_file import read_gray
from session.scan.saw_scan import scan_saw
from session.scan.tooth_edge import find_edge

OPTICS = Optics(dpi=300, steel=0.6)


@cache
def drawn() -> Image.Image:
    """A small scan of eight coarse teeth."""
    return Image.fromarray(scan(even_line(25.4 / 4, 8), OPTICS)[0])


def saved(picture: Image.Image, kind: str = "PNG", **options: object) -> bytes:
    """A file of it, with 300 dots per inch unless told."""
    out = io.BytesIO()
    picture.save(out, kind, **({"dpi": (300, 300)} | options))
    return out.getvalue()


def wide(picture: Image.Image) -> Image.Image:
    """The picture in 16 bits."""
    return Image.fromarray(np.asarray(picture).astype(np.uint16) * 257)


def turned(picture: Image.Image) -> bytes:
    """The picture stored on its side, with the note that says so."""
    exif = Image.Exif()
    exif[0x0112] = 6
    return saved(picture.transpose(Image.Transpose.ROTATE_90), "JPEG", exif=exif, quality=95)


READ: dict[str, Callable[[Image.Image], bytes]] = {
    "png": saved,
    "tiff": lambda p: saved(p, "TIFF"),
    "jpeg": lambda p: saved(p, "JPEG", quality=90),
    "color": lambda p: saved(p.convert("RGB")),
    "palette": lambda p: saved(p.convert("P")),
    "alpha": lambda p: saved(p.convert("RGBA")),
    "cmyk": lambda p: saved(p.convert("CMYK"), "TIFF"),
    "16 bit": lambda p: saved(wide(p)),
    "16 bit tiff": lambda p: saved(wide(p), "TIFF"),
    "turned": turned,
}


@pytest.mark.parametrize("kind", list(READ))
def test_a_scan_saved_any_way_is_read(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "scan"
    path.write_bytes(READ[kind](drawn()))
    found = scan_saw([path])
    assert found.line.count == 8
    assert found.line.pitch_mm == pytest.approx(25.4 / 4, abs=0.02)
    assert found.heel == "left"


def chunk(kind: bytes, data: bytes) -> bytes:
    """A chunk of a PNG."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def huge(width: int, height: int) -> bytes:
    """A PNG that says it is so large, and is a few bytes."""
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b"")
    )


def noise() -> Image.Image:
    """A photograph of gravel."""
    return Image.fromarray(np.random.default_rng(1).integers(0, 255, (300, 600), dtype=np.uint8))


def straight() -> Image.Image:
    """A plate's straight back."""
    dots = np.full((300, 900), 20, dtype=np.uint8)
    dots[150:] = 180
    return Image.fromarray(dots)


def clouds() -> Image.Image:
    """A photograph of the sky: edges that wind, of no even teeth."""
    dice, sky = np.random.default_rng(3), np.zeros((500, 900))
    for fine in (2, 4, 8, 16, 32, 64):
        spots = Image.fromarray(dice.normal(0.0, 1.0, (fine, fine)).astype(np.float32))
        sky += np.asarray(spots.resize((900, 500), Image.Resampling.BICUBIC)) / fine**0.8
    return Image.fromarray((255.0 * (sky - sky.min()) / np.ptp(sky)).astype(np.uint8))


REFUSED: dict[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "no picture that can be read"),
    "text": (lambda: b"format = 1\n", "no picture that can be read; allowed: PNG, TIFF, JPEG"),
    "another kind": (lambda: saved(drawn(), "GIF"), "allowed: PNG, TIFF, JPEG"),
    "cut short": (lambda: saved(drawn())[:-20_000], "damaged"),
    "cut short jpeg": (lambda: saved(drawn(), "JPEG")[:6_000], "damaged"),
    "72 dpi": (lambda: saved(drawn(), dpi=(72, 72)), "72 dots per inch; allowed: 250 to"),
    "no dpi": (lambda: saved(drawn(), dpi=(0, 0)), "does not say its dots per inch"),
    "one bit": (lambda: saved(drawn().convert("1")), "black and white only"),
    "bomb": (lambda: huge(100_000, 100_000), "100,000 × 100,000 dots; allowed: 420 million"),
    "hollow": (lambda: huge(2_000, 2_000), "damaged"),
    "one tone": (lambda: saved(Image.new("L", (900, 300), 90)), "of one tone"),
    "gravel": (lambda: saved(noise()), "."),
    "no teeth": (lambda: saved(straight()), "no line of teeth is found"),
    "clouds": (lambda: saved(clouds()), "no line of teeth is found"),
}


@pytest.mark.parametrize("kind", list(REFUSED))
def test_what_is_no_scan_of_a_saw_gets_a_sentence(kind: str, tmp_path: Path) -> None:
    made, words = REFUSED[kind]
    path = tmp_path / "scan.png"
    path.write_bytes(made())
    with pytest.raises(Refusal, match=words) as told:
        scan_saw([path])
    assert str(told.value).startswith(str(path))
    assert len(told.value.lines) == 1


def test_a_file_that_is_not_there_gets_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"nothing.png: there is no such file$"):
        scan_saw([tmp_path / "nothing.png"])
    with pytest.raises(Refusal, match="cannot be read"):
        scan_saw([tmp_path])


def test_a_small_saw_on_a_large_glass_is_not_one_tone() -> None:
    saw = scan(even_line(25.4 / 6, 12), replace(OPTICS, below=4.0))[0]
    glass = np.full((3500, 3500), saw[0, 0], dtype=np.uint8)
    glass[1300 : 1300 + saw.shape[0], 1300 : 1300 + saw.shape[1]] = saw
    edge = find_edge(glass, (300 / 25.4, 300 / 25.4))
    assert edge.light_steel
    assert edge.ends[1] - edge.ends[0] > 0.7 * 11 * 25.4 / 6


def test_a_large_picture_is_announced_and_colors_of_it_refused(tmp_path: Path) -> None:
    heard: list[str] = []
    path = tmp_path / "large.png"
    path.write_bytes(huge(20_000, 20_000))
    with pytest.raises(Refusal, match="damaged"):
        read_gray(path, heard.append)
    assert heard == [f"{path}: 20,000 × 20,000 dots; reading …"]
    head = struct.pack(">IIBBBBB", 20_000, 20_000, 8, 2, 0, 0, 0)
    path.write_bytes(
        path.read_bytes()[:8] + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )
    with pytest.raises(Refusal, match="too much memory; scan in gray"):
        read_gray(path, heard.append)
    assert len(heard) == 1


def test_the_scale_is_the_files_own_unless_told(tmp_path: Path) -> None:
    path = tmp_path / "scan.png"
    path.write_bytes(as_file(np.asarray(drawn()), OPTICS))
    assert scan_saw([path]).line.pitch_mm == pytest.approx(25.4 / 4, abs=0.02)
    assert scan_saw([path], dpi=600).line.pitch_mm == pytest.approx(25.4 / 8, abs=0.02)
