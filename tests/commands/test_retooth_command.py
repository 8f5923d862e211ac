"""`toothline retooth`: from a wished count, another saw or a rake to figures, a verdict and a strip."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest

from page_ruler import Drawn
from session.cli import main


def told(capsys: pytest.CaptureFixture[str], *options: str) -> dict[str, object]:
    assert main(["retooth", "crosscut-panel", "--json", *options]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


def test_a_wished_count_is_worked_out_and_its_strip_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    options = ("--count", "4.5 points", "--to", str(tmp_path), "--paper", "letter")
    assert main(["retooth", "crosscut-panel", *options]) == 0
    said = capsys.readouterr().out
    assert "Worth doing." in said
    assert "Every new point stands on an old one" in said
    assert sorted(said.splitlines()[-2:]) == sorted(map(str, tmp_path.iterdir()))
    (page,) = tmp_path.glob("*.svg")
    text = page.read_text()
    assert "Strip to retooth by" in text
    assert "mark 1 on the first old point" in text
    places = [spots[0][0] for name, spots in Drawn.of(text).named.items() if name.endswith("-of-1")]
    assert {round(abs(ahead - behind), 2) for behind, ahead in pairwise(places)} == {7.26}


def test_teeth_like_those_of_another_saw(capsys: pytest.CaptureFixture[str]) -> None:
    found = told(capsys, "--like", "progressive-rip")
    assert (found["rake_block_deg"], found["fleam_deg"]) == (0.0, 0.0)
    places = found["points_mm"]
    assert isinstance(places, list)
    spaces = {round(ahead - behind, 3) for behind, ahead in pairwise(places)}
    assert spaces == {round(25.4 / 3, 3), round(25.4 / 4.5, 3)}
    assert found["points"] == len(places)
    assert found["worth"] is False
    assert {"lower_mm", "filed_mm3", "leveled_mm3", "hours", "strokes_total", "reasons", "how"} <= set(found)


def test_a_rake_alone(capsys: pytest.CaptureFixture[str]) -> None:
    found = told(capsys, "--rake", "20 degrees")
    assert (found["rake_before_deg"], found["rake_block_deg"], found["pitch_mm"]) == (
        15.0,
        20.0,
        pytest.approx(25.4 / 7),
    )
    assert isinstance(found["lower_mm"], float)
    assert 0.0 < found["lower_mm"] < 0.3


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ((), "to what? allowed: --like RECIPE, --count, --rake or --fleam"),
        (("--rake", "90"), "teeth.rake: 90.0 is out of range; allowed: degrees from -15 to 45"),
        (("--rake", "steep"), "--rake: "),
        (("--count", "x"), "--count: "),
        (("--count", "3000 points"), "allowed: "),
        (("--like", "nothing-like-it"), "nothing-like-it"),
        (("--fleam", "20", "--may-lose", "0 mm"), "--may-lose: "),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    options: tuple[str, ...], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["retooth", "crosscut-panel", "--to", str(tmp_path / "pages"), *options]) == 2
    found = capsys.readouterr()
    assert said in found.err
    assert found.out == ""
    assert not (tmp_path / "pages").exists()
