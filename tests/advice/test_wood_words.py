"""Wood as people write it: dry or wet, hard or soft, or not known."""

from __future__ import annotations

import pytest

from session.advice.wood_words import is_wet, wood_class


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("greenheart", None),
        ("dry greenheart", None),
        ("evergreen oak, seasoned", None),
        ("orchard pear", None),
        ("softened beech", None),
        ("hardboard", None),
        ("unseasoned oak", "green or wet"),
        ("Freshly felled oak", "green or wet"),
        ("fresh spruce", "green or wet"),
        ("green-cut ash", "green or wet"),
        ("not damp, soft pine", "dry softwood"),
        ("hard maple", "dry hardwood"),
        ("Dry Softwood", "dry softwood"),
    ],
)
def test_wood_is_read_by_whole_words(words: str, found: str | None) -> None:
    assert wood_class(words) == found


def test_dry_wood_of_no_known_hardness_is_not_wet() -> None:
    assert is_wet("evergreen oak, seasoned") is False
    assert is_wet("kiln-dried maple") is False
    assert is_wet("pear") is None
    assert is_wet("unseasoned oak") is True
