"""Every picture of the gallery, compared with the texts that were looked at and found good.

To take a changed picture over, look at it first, then write the two files anew:
``python -m session.pictures.gallery > tests/pictures/goldens/gallery.txt``, and with ``--ascii`` to
``gallery_ascii.txt``.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from session.pictures.gallery import gallery
from session.pictures.ink import plain

GOLDENS = Path(__file__).parent / "goldens"


@pytest.mark.parametrize(("ascii_only", "name"), [(False, "gallery.txt"), (True, "gallery_ascii.txt")])
def test_the_gallery_is_as_it_was_approved(ascii_only: bool, name: str) -> None:
    drawn = [line for title, rows in gallery(ascii=ascii_only).items() for line in (title, *plain(rows), "")]
    assert drawn == (GOLDENS / name).read_text(encoding="utf-8").removesuffix("\n").split("\n")
