"""A picture file of any origin as gray dots and a resolution: PNG, TIFF or JPEG, and a sentence for all else.

Sizes are looked at before anything is unpacked, so that a small file cannot fill the memory; what is unpacked goes into
gray strip by strip, so that a picture of 400 million dots stays under a gigabyte.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import numpy as np
from PIL import Image, UnidentifiedImageError

from session.machine.disk import why
from session.machine.refusal import Refusal
from session.machine.untrusted_text import shown
from session.scan.light_levels import Gray
from session.scan.picture_tones import ToldTones, told_tones
from session.value_class import dataclass, replace

#: Dots per inch that are read: below it a flat of a third of a millimeter is less than three dots.
LEAST_DPI: Final = 250.0
MOST_DPI: Final = 9600.0

#: Most dots of a picture, and most bytes that it may take while it is unpacked and made gray.
MOST_DOTS: Final = 420_000_000
MOST_BYTES: Final = 900_000_000

#: Pictures from this size on are announced, since they take their time.
LARGE: Final = 60_000_000

#: Bytes that a dot takes while unpacked, by the mode that it is unpacked in; another mode is refused.
_BYTES: Final = {
    **dict.fromkeys(("L", "P"), 1),
    **dict.fromkeys(("I;16", "I;16B", "I;16L"), 2),
    **dict.fromkeys(("LA", "PA", "RGB", "RGBA", "RGBX", "CMYK", "YCbCr", "LAB", "I"), 4),
}

#: The tag of the way that a picture was held.
_ORIENTATION: Final = 0x0112

_STRIP: Final = 512


@dataclass(frozen=True, slots=True)
class GrayPicture:
    """dots: rows of gray, 0 to 255. dpi: along the rows and down the columns; None where the file does not say. tones:
    what it says of them."""

    dots: Gray
    dpi: tuple[float, float] | None
    tones: ToldTones


def read_gray(path: Path, say: Callable[[str], None]) -> GrayPicture:
    """The picture at ``path``. Raises Refusal with a sentence that says what is wrong; ``say`` hears of large ones."""
    name = shown(path)
    try:
        with _unlimited(), Image.open(path, formats=("PNG", "TIFF", "JPEG")) as picture:
            return _unpacked(picture, name, say)
    except Refusal:
        raise
    except UnidentifiedImageError:
        raise Refusal(f"{name}: is no picture that can be read; allowed: PNG, TIFF, JPEG") from None
    except FileNotFoundError:
        raise Refusal(f"{name}: there is no such file") from None
    except MemoryError:
        raise Refusal(f"{name}: is too large for this machine's memory; cut it to a strip along the teeth") from None
    except OSError as wrong:
        if wrong.errno is not None:
            raise Refusal(f"{name}: cannot be read: {why(wrong)}") from None
        raise Refusal(f"{name}: is damaged or cut short: its dots cannot be unpacked; scan it again") from None
    except Exception:
        # What a decoder raises for bytes that were made to break it has no end.
        raise Refusal(f"{name}: is damaged: it cannot be unpacked; scan it again") from None


@contextmanager
def _unlimited() -> Iterator[None]:
    """The library's own limit on sizes put aside for ours, which says more; its warnings of odd files as well."""
    before = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        Image.MAX_IMAGE_PIXELS = before


def _unpacked(picture: Image.Image, name: str, say: Callable[[str], None]) -> GrayPicture:
    width, height = picture.size
    if getattr(picture, "n_frames", 1) > 1:
        raise Refusal(f"{name}: holds several pictures; save each in a file of its own")
    if width * height > MOST_DOTS:
        raise Refusal(
            f"{name}: {width:,} × {height:,} dots; allowed: {MOST_DOTS // 1_000_000} million; "
            "cut it to a strip along the teeth"
        )
    if picture.format == "JPEG":
        picture.draft("L", picture.size)  # its gray stands in the file; colors need not be unpacked
    if picture.mode == "1":
        raise Refusal(f"{name}: is black and white only; scan in gray, 8 bit")
    if picture.mode not in _BYTES:
        raise Refusal(f"{name}: is of a kind of dots that is not read ({picture.mode}); save it as gray, 8 bit")
    if width * height * (_BYTES[picture.mode] + 1) > MOST_BYTES:
        raise Refusal(
            f"{name}: {width:,} × {height:,} dots in color or 16 bit would take too much memory; "
            "scan in gray, or cut it to a strip along the teeth"
        )
    if width * height >= LARGE:
        say(f"{name}: {width:,} × {height:,} dots; reading …")
    dpi = _resolution(picture)
    tones = told_tones(picture)
    if tones.passed_over:
        say(f"{name}: {tones.passed_over}; what it says of its tones is passed over")
    turn = picture.getexif().get(_ORIENTATION, 1)
    picture.load()
    dots = np.empty((height, width), dtype=np.uint8)
    for top in range(0, height, _STRIP):
        bottom = min(height, top + _STRIP)
        dots[top:bottom] = _gray(picture.crop((0, top, width, bottom)))
    return _held(GrayPicture(dots, dpi, tones), turn if isinstance(turn, int) else 1)


def _resolution(picture: Image.Image) -> tuple[float, float] | None:
    told: Any = picture.info.get("dpi")
    try:
        across, down = float(told[0]), float(told[1])
    except (TypeError, ValueError, IndexError, ZeroDivisionError):
        return None
    # A file that says nothing is told as 1 or 0 by some programs.
    return (across, down) if 2.0 < across < 1e6 and 2.0 < down < 1e6 else None


def _gray(strip: Image.Image) -> Gray:
    """A strip in any mode as 8 bits of gray; what is clear shows white paper."""
    if strip.mode in ("I;16", "I;16B", "I;16L", "I"):
        wide = np.asarray(strip).astype(np.int64)
        narrow: Gray = np.clip(wide >> 8, 0, 255).astype(np.uint8)
        return narrow
    if strip.mode in ("LA", "PA", "RGBA") or "transparency" in strip.info:
        clear = strip.convert("RGBA")
        paper = Image.new("RGBA", strip.size, "white")
        strip = Image.alpha_composite(paper, clear)
    if strip.mode == "CMYK":
        strip = strip.convert("RGB")
    return np.asarray(strip.convert("L"))


def _held(picture: GrayPicture, turn: int) -> GrayPicture:
    """The picture as it was held: what a camera or a scanner's program notes beside the dots (EXIF, orientation)."""
    dpi = picture.dpi
    if turn in (5, 6, 7, 8) and dpi is not None:
        dpi = (dpi[1], dpi[0])
    ways: dict[int, Callable[[Gray], Gray]] = {
        2: np.fliplr,
        3: lambda d: np.rot90(d, 2),
        4: np.flipud,
        5: lambda d: d.T,
        6: lambda d: np.rot90(d, -1),
        7: lambda d: np.rot90(d, 2).T,
        8: np.rot90,
    }
    return replace(picture, dots=ways[turn](picture.dots), dpi=dpi) if turn in ways else picture
