"""Every picture of the gallery, compared with the texts that were looked at and found good."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from session.pictures.gallery import gallery
from session.pictures.picture_rows import plain


@pytest.mark.parametrize(("ascii_only", "name"), [(False, "gallery.txt"), (True, "gallery_ascii.txt")])
def test_the_gallery_is_as_it_was_approved(golden: Callable[[str, str], None], ascii_only: bool, name: str) -> None:
    drawn = [line for title, rows in gallery(ascii=ascii_only).items() for line in (title, *plain(rows), "")]
    golden(name, "".join(f"{line}\n" for line in drawn))
