"""The pictures of the README are those that the program draws today."""

from __future__ import annotations

from pathlib import Path

import pytest

from session.bench import readme_pictures

PICTURES = Path(__file__).parents[2] / "demo" / "pictures"

#: Drawn by the proof from its own figures, and held to them by its own test.
NOT_OF_THE_BENCH = {"proof.svg"}


@pytest.mark.wide
def test_the_pictures_of_the_readme_are_of_today(tmp_path: Path) -> None:
    readme_pictures.main(tmp_path)
    drawn = {path.name: path.read_text(encoding="utf-8") for path in tmp_path.iterdir()}
    kept = {
        path.name: path.read_text(encoding="utf-8") for path in PICTURES.iterdir() if path.name not in NOT_OF_THE_BENCH
    }
    assert set(drawn) == set(kept)
    stale = [name for name in drawn if drawn[name] != kept[name]]
    assert not stale, "look at what is drawn, then: python -m session.bench.readme_pictures demo/pictures"
