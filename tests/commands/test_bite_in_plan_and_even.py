"""`plan` and `even` count strokes by what the records taught, and say so."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.trade.strokes import DEFAULT_BITE, Bite, usual_bite
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

RECIPE = load_recipe(find_recipe("crosscut-panel", []))
SLUG = "crosscut-panel-saw"
DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
LINE = 'pitch = "4 mm"\ndepth = "3 mm"\nplate_thickness = "1 mm"\nwidths = [0.4, 0.4, 0.4, 0.4]\n'


def write(till: Path, bite: Bite, minutes: int = 31, gullets: int = 155) -> None:
    """A finished sharpening of ``minutes`` that filed so many gullets and taught ``bite``."""
    apart = timedelta(minutes=minutes) / gullets
    marks = [
        Mark(seq=n, at=DAY0 + (n - 1) * apart, did=Did.DONE, stage=Stage.FILE, side=1, tooth=n, strokes=2)
        for n in range(1, gullets + 1)
    ]
    end = Mark(seq=gullets + 1, at=DAY0 + gullets * apart, did=Did.FINISHED)
    header = {
        "session": {"started": DAY0, "saw": RECIPE.saw.name},
        "recipe": RECIPE.values,
        "plan": make_plan(RECIPE.saw).to_dict(),
    }
    path = till / "logs" / SLUG / f"{DAY0:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
    path.parent.mkdir(parents=True)
    path.write_bytes(
        make_header(header) + b"".join(encode(mark)[0] for mark in (*marks, closing(Account.of(marks), end, bite)))
    )


def told(till: Path, capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    assert main(["--till", str(till), *arguments]) == 0
    out = capsys.readouterr().out
    return json.loads(out) if "--json" in arguments else " ".join(out.split())


def test_plan_tells_strokes_and_minutes_and_from_what(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = told(tmp_path, capsys, "plan", "crosscut-panel", "--json")
    assert before["minutes_expected"] is None
    assert "minutes_low" not in before
    assert before["why"]["strokes_total"]["source"] == "derived; from memory"
    usual = usual_bite(25.4 / 7, 0.889).mm3
    bite = Bite(usual / 2, usual / 3, usual, 40)
    write(tmp_path, bite)
    after = told(tmp_path, capsys, "plan", "crosscut-panel", "--json")
    assert after["strokes_total"] == pytest.approx(2 * before["strokes_total"], abs=1)
    assert after["why"]["strokes_total"]["source"] == "derived; your records; from memory"
    # 31 minutes for 155 gullets, and the plan's places at that pace.
    places = sum(stage["places"] for stage in after["stages"])
    assert after["minutes_expected"] == pytest.approx(0.2 * places, abs=0.6)
    assert after["minutes_low"] < after["minutes_expected"] < after["minutes_high"]
    out = told(tmp_path, capsys, "plan", "crosscut-panel")
    assert f"strokes for the filing in all {after['strokes_total']} from memory" in out
    assert f"minutes of work in all {after['minutes_expected']}" in out


def test_even_counts_by_the_bite_of_a_saw(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    flats = tmp_path / "line.toml"
    flats.write_text(LINE, encoding="utf-8")
    write(tmp_path, Bite(0.3, 0.2, 0.4, 40))
    plain = told(tmp_path, capsys, "even", str(flats), "--json")
    assert (plain["bite_mm3"], plain["bite_learned_from_gullets"]) == (pytest.approx(0.08), 0)
    by_saw = told(tmp_path, capsys, "even", str(flats), "--json", "--bite-from", SLUG)
    assert (by_saw["bite_mm3"], by_saw["bite_learned_from_gullets"]) == (0.3, 40)
    # plate · h/p · take · (gap + take/2) = 1.14 mm³ in each gullet between two flats.
    assert (plain["strokes"][1], by_saw["strokes"][1]) == (14, 4)
    for one in (plain, by_saw):
        assert one["strokes_total"] == sum(one["strokes"]) + one["heel_strokes"]
    assert "at 0.3 mm³ a stroke (learned from 40 gullets)" in told(
        tmp_path, capsys, "even", str(flats), "--bite-from", "Crosscut panel saw"
    )


def test_a_saw_that_teaches_none_is_said_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    flats = tmp_path / "line.toml"
    flats.write_text(LINE, encoding="utf-8")
    write(tmp_path, DEFAULT_BITE)
    assert main(["--till", str(tmp_path), "even", str(flats), "--json", "--bite-from", SLUG]) == 0
    printed = capsys.readouterr()
    assert json.loads(printed.out)["bite_mm3"] == pytest.approx(
        0.08
    )  # 4 mm pitch, 1 mm plate: half of a light sharpening
    assert "teaches a bite yet" in printed.err


@pytest.mark.parametrize("name", ["anchor-saw", "", "[bold]\n"])
def test_an_unknown_saw_is_one_line_and_exit_2(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    flats = tmp_path / "line.toml"
    flats.write_text(LINE, encoding="utf-8")
    assert main(["--till", str(tmp_path), "even", str(flats), "--bite-from", name]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    [line] = printed.err.splitlines()
    assert "--bite-from: no saw" in line
