"""`even`: the plan of a measured line against worked values, its laws, its table and its errors."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.cli import main
from session.files.recipe import load_recipe
from session.files.scanned_file import KeptScan
from session.files.supplied import find_recipe
from session.till.kept_scans import write_scan
from session.till.known_saws import saw_named
from session.till.till_folder import Till
from session.trade.scanned_line import ToothState
from told_line import told_line

HEAD = 'pitch = "{p!r} mm"\ndepth = "{h!r} mm"\nplate_thickness = "{t!r} mm"\n'
CONTRACT = {
    *("points_mm", "front_mm", "back_mm", "lean", "strokes"),
    *("worst_spacing_error_before_mm", "worst_spacing_error_after_mm", "extra_leveling_mm"),
}

Flats = list[list[float]]


def refused(constant: str) -> Any:
    raise AssertionError(f"{constant} is no JSON")


def even(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    flats: Flats,
    *more: str,
    p: float = 4.0,
    h: float = 3.0,
    t: float = 1.0,
) -> dict[str, Any]:
    path = folder / "line.toml"
    path.write_text(HEAD.format(p=p, h=h, t=t) + f"flats = {json.dumps(flats)}\n", encoding="utf-8")
    assert main(["even", str(path), "--json", *more]) == 0
    told = capsys.readouterr()
    assert told.err == ""
    found: dict[str, Any] = json.loads(told.out, parse_constant=refused)
    assert set(found) >= CONTRACT
    return found


def test_a_worked_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # Points can stand at exactly 0.4, 4.4, 8.4: 0.4 is all of the first flat's toe side.
    told = even(tmp_path, capsys, [[0.0, 0.4], [4.0, 4.6], [8.4, 8.8]])
    assert told["points_mm"] == pytest.approx([0.4, 4.4, 8.4])
    assert told["front_mm"] == pytest.approx([0.0, 0.2, 0.4])
    assert told["back_mm"] == pytest.approx([0.4, 0.4, 0.0])
    assert told["lean"] == ["toe", "heel", "heel"]
    # Middles stand at 0.2, 4.3, 8.6: spacings 4.1 and 4.3.
    assert told["worst_spacing_error_before_mm"] == pytest.approx(0.3)
    assert told["worst_spacing_error_after_mm"] == pytest.approx(0.0, abs=1e-12)
    assert told["extra_leveling_mm"] == 0
    # Gullet 1: 0.4 off one flank of a gullet 3.6 wide: plate · h/p · take · (gap + take/2) = 1.14 mm³; a stroke
    # takes half of a light sharpening of this saw, 4 · 1 · 0.04 / 2 = 0.08 mm³.
    assert told["strokes"][0] == 14
    assert told["share_front"] == pytest.approx([0.0, 1 / 3, 1.0])
    assert told["drop_mm"] == pytest.approx([0.3, 0.15, 0.3])


def test_a_low_tooth_is_null_and_gives_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = even(tmp_path, capsys, [[0, 0.2], [], [8.0, 8.3], [12.0, 12.2]])
    assert told["points_mm"][1] is None
    assert told["front_mm"][1] == told["back_mm"][1] == 0
    assert told["low"] == [2]
    assert any("Low" in warning for warning in told["warnings"])


def test_within_says_how_much_further_to_level(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # A single spacing of at least 4.5 for a pitch of 4: within 0.1, each point must give 0.4 in all,
    # and e further down widens both flats by e·p/h together.
    flats = [[0.0, 0.1], [4.6, 4.7]]
    told = even(tmp_path, capsys, flats, "--within", "0.1 mm")
    assert told["worst_spacing_error_after_mm"] == pytest.approx(0.5)
    assert told["extra_leveling_mm"] == pytest.approx(0.4 * 3.0 / 4.0)
    assert even(tmp_path, capsys, flats)["extra_leveling_mm"] == told["extra_leveling_mm"]
    assert even(tmp_path, capsys, flats, "--within", "20 thou")["extra_leveling_mm"] == 0


def test_an_error_that_no_leveling_mends_is_null(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = even(tmp_path, capsys, [[0.0, 0.1], [0.2, 0.3]])
    assert told["extra_leveling_mm"] is None
    assert any("No further leveling" in warning for warning in told["warnings"])


def test_widths_of_an_even_line_stay_even(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "w.toml"
    path.write_text(HEAD.format(p=4.6, h=3.1, t=0.9) + "widths = [0.3, 0.3, 0.3, 0.3]\n", encoding="utf-8")
    assert main(["even", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["lean"] == ["straight"] * 4
    # Widths say nothing of places, so that nothing is planned or claimed of them.
    assert told["points_mm"] == [None] * 4
    assert told["worst_spacing_error_before_mm"] is told["worst_spacing_error_after_mm"] is None
    assert told["share_front"] == [0.5] * 4
    assert any("KING 64, DREW, FIT" in warning for warning in told["warnings"])


@st.composite
def lines(draw: st.DrawFn) -> Flats:
    flats: Flats = []
    for tooth in range(draw(st.integers(2, 25))):
        a = tooth * 4.0 + draw(st.floats(-0.4, 0.4))
        low = draw(st.integers(0, 9)) == 0 and tooth > 1
        flats.append([] if low else [a, a + draw(st.floats(0.001, 0.9))])
    return flats


@examples(30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(flats=lines())
def test_the_takes_add_up_to_the_flats_and_the_spacing_is_the_best_there_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], flats: Flats
) -> None:
    told = even(tmp_path, capsys, flats)
    assert len({len(told[key]) for key in ("points_mm", "front_mm", "back_mm", "lean", "strokes")}) == 1
    for flat, front, back in zip(flats, told["front_mm"], told["back_mm"], strict=True):
        assert min(front, back) >= 0
        assert front + back == pytest.approx(flat[1] - flat[0] if flat else 0, abs=1e-9)
    # scipy's bounded least squares, each spacing across low teeth weighed by its length.
    seen = [(k, flat) for k, flat in enumerate(flats) if flat]
    rows = np.zeros((len(seen) - 1, len(seen)))
    aim = np.zeros(len(seen) - 1)
    for row, ((k1, _), (k2, _)) in enumerate(pairwise(seen)):
        weight = (k2 - k1) ** -0.5
        rows[row, row], rows[row, row + 1] = -weight, weight
        aim[row] = 4.0 * (k2 - k1) * weight
    bounds = (np.array([flat[0] for _, flat in seen]), np.array([flat[1] for _, flat in seen]))
    from scipy.optimize import lsq_linear  # slow to import, and only this needs it

    best = lsq_linear(rows, aim, bounds, tol=1e-12)
    points = np.array([x for x in told["points_mm"] if x is not None])
    assert ((rows @ points - aim) ** 2).sum() == pytest.approx(2 * best.cost, abs=1e-7)
    assert told["worst_spacing_error_after_mm"] <= told["worst_spacing_error_before_mm"] + 1e-9


@examples(30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(flats=lines(), scale=st.sampled_from([0.5, 2.0, 4.0]))
def test_a_line_twice_as_large_has_all_lengths_twice_as_large(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], flats: Flats, scale: float
) -> None:
    one = even(tmp_path, capsys, flats)
    large = [[x * scale for x in flat] for flat in flats]
    two = even(tmp_path, capsys, large, "--within", f"{0.1 * scale!r} mm", p=4.0 * scale, h=3.0 * scale, t=scale)
    for key in ("front_mm", "back_mm", "drop_mm"):
        assert two[key] == pytest.approx([value * scale for value in one[key]], abs=1e-9)
    for key in ("worst_spacing_error_before_mm", "worst_spacing_error_after_mm"):
        assert two[key] == pytest.approx(one[key] * scale, abs=1e-9)
    if one["extra_leveling_mm"] is None:
        assert two["extra_leveling_mm"] is None
    else:
        assert two["extra_leveling_mm"] == pytest.approx(one["extra_leveling_mm"] * scale, abs=1e-8)


def table(folder: Path, capsys: pytest.CaptureFixture[str], text: str, *more: str) -> str:
    path = folder / "line [x] [bold].toml"
    path.write_text(text, encoding="utf-8")
    assert main(["even", str(path), *more]) == 0
    told = capsys.readouterr()
    assert "\x1b" not in told.out
    return told.out


def test_the_table_begins_with_the_summary_and_speaks_the_pitchs_unit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = 'pitch = "0.18 in"\ndepth = "0.12 in"\nplate_thickness = "0.035 in"\n'
    out = table(
        tmp_path, capsys, head + "flats = [[0, 0.2], [4.4, 4.9], [], [13.6, 13.9], [18.3, 18.4], [22.5, 23.4]]\n"
    )
    assert "[x] [bold].toml: 6 teeth, pitch 0.18 in" in out
    assert out.index("worst spacing error") < out.index("gullet")
    assert "Low, left until the line comes down to them: 3." in out
    assert "in" in out.partition("worst spacing error")[2].splitlines()[0]
    assert "from memory" in out


def test_a_long_line_stays_short_and_all_lists_everything(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = HEAD.format(p=4.0, h=3.0, t=1.0) + f"widths = {[0.2, 0.5, 0.3, 0.1, 0.4] * 80}\n"
    short = table(tmp_path, capsys, text)
    assert len(short.splitlines()) < 60
    assert "more that lean or need more; --all lists every gullet" in short
    everything = table(tmp_path, capsys, text, "--all")
    numbers = [line.split()[0] for line in everything.splitlines() if line.split() and line.split()[0].isdigit()]
    assert numbers == [str(gullet) for gullet in range(1, 401)]


def test_the_gullets_that_ask_for_most_are_the_ones_listed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    widths = [0.1] * 120
    widths[66] = 0.8
    out = table(tmp_path, capsys, HEAD.format(p=4.0, h=3.0, t=1.0) + f"widths = {widths}\n")
    numbers = [int(line.split()[0]) for line in out.splitlines() if line.split() and line.split()[0].isdigit()]
    assert 66 in numbers or 67 in numbers
    assert numbers == sorted(numbers)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["line.toml", "--within", "0.1"], '--within: "0.1" has no unit; allowed units: mm, cm, m, in or thou'),
        (["line.toml", "--within", "wide"], '--within: "wide" is not a length'),
        (["none.toml"], "none.toml: no such file"),
        ([], "FLATS.toml"),
        (["crossed.toml"], "crossed.toml:4: flats[2]: tooth 2: its flat begins at 3 mm, before that of tooth 1 ends"),
    ],
)
def test_bad_input_is_one_line_and_exit_2(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    more: list[str],
    words: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    head = HEAD.format(p=4.6, h=3.1, t=0.9)
    Path("line.toml").write_text(head + "widths = [0.1, 0.2]\n", encoding="utf-8")
    Path("crossed.toml").write_text(head + "flats = [[0, 4], [3, 5]]\n", encoding="utf-8")
    assert main(["even", *more, "--json"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    [line] = told.err.splitlines()
    assert words in line


def test_a_depth_that_no_file_leaves_is_warned_of(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    flats = [[0.0, 0.2], [4.0, 4.2]]
    assert any("10.00 of the pitch" in warning for warning in even(tmp_path, capsys, flats, h=40.0)["warnings"])
    # The peg tooth is the deepest, 0.866 of the pitch (ISO 68-1); 0.289 at rake -15 is derived.
    assert even(tmp_path, capsys, flats, h=4 * 0.866)["warnings"] == []
    assert even(tmp_path, capsys, flats, h=4 * 0.289)["warnings"] == []


def test_the_gullets_not_listed_are_as_the_table_says_of_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # Even flats but for a pair that is wider on both flanks of gullet 8 alike: more strokes there, and no lean.
    flats = [[k * 4.0, k * 4.0 + 0.2] for k in range(15)]
    flats[7], flats[8] = [28.0, 28.5], [31.7, 32.2]
    text = HEAD.format(p=4.0, h=3.0, t=1.0) + f"flats = {json.dumps(flats)}\n"
    out = table(tmp_path, capsys, text)
    told = even(tmp_path, capsys, flats)
    rows = [line.split() for line in out.splitlines() if line.split() and line.split()[0].isdigit()]
    listed = {int(row[0]): (int(row[1]), row[2]) for row in rows}
    assert told["lean"][7] == "straight"
    assert listed[8] == (told["strokes"][7], "straight")
    [others] = [line for line in out.splitlines() if line.startswith("All others: ")]
    usual = int(others.split()[2])
    assert told["strokes"][7] > usual
    unlisted = set(range(1, 16)) - set(listed)
    assert len(unlisted) > 8
    for gullet in unlisted:
        assert (told["strokes"][gullet - 1], told["lean"][gullet - 1]) == (usual, "straight")


def test_the_newest_scan_of_a_saw_is_evened_by_where_its_flats_lie(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    till = Till(tmp_path)
    name = load_recipe(find_recipe("crosscut-panel", [])).saw.name
    saw = saw_named(till, name)
    assert main(["even", saw.slug, "--till", str(tmp_path)]) == 2
    assert "no such file" in capsys.readouterr().err, "no file, and no saw of the till"
    line = told_line(155, 3.63, {5: (ToothState.LOW, 0.2), 9: (ToothState.BROKEN, 1.5)}, flat_mm=0.3)
    at = datetime(2026, 3, 9, tzinfo=UTC)
    write_scan(till, saw, KeptScan(at=at, saw=name, line=line))
    spoiled = write_scan(till, saw, KeptScan(at=at + timedelta(hours=1), saw=name, line=line))
    spoiled.write_text("format = 9\n", encoding="utf-8")
    assert main(["even", saw.slug, "--till", str(tmp_path), "--json"]) == 0
    told = capsys.readouterr()
    assert f"Take care: a scan was not read: {spoiled}:1: format: " in told.err
    assert "by the scan of 2026-03-09 00:00" in told.err
    for command in (["advise", saw.name], ["scan", saw.slug]):
        assert main([*command, "--till", str(tmp_path)]) == 0
        assert "Take care: a scan was not read: " in capsys.readouterr().err
    plan = json.loads(told.out)
    assert (plan["low"], plan["broken"]) == ([5], [9])
    assert plan["pitch_mm"] == pytest.approx(3.63)
    assert plan["worst_spacing_error_after_mm"] == pytest.approx(0.0, abs=1e-3)
    assert plan["front_mm"][20] == pytest.approx(0.15, abs=1e-3), "half of its flat on either side"


def test_an_older_scan_of_the_same_leveled_line_is_evened_where_the_newest_is_of_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    till = Till(tmp_path)
    name = load_recipe(find_recipe("crosscut-panel", [])).saw.name
    saw, at = saw_named(till, name), datetime(2026, 3, 9, tzinfo=UTC)
    write_scan(till, saw, KeptScan(at=at, saw=name, line=told_line(155, 3.63, {5: (ToothState.LOW, 0.2)}, flat_mm=0.3)))
    write_scan(till, saw, KeptScan(at=at + timedelta(hours=1), saw=name, line=told_line(100, 3.63)))
    assert main(["even", saw.slug, "--till", str(tmp_path), "--json"]) == 0
    told = capsys.readouterr()
    assert json.loads(told.out)["low"] == [5]
    words = " ".join(told.err.split())
    assert "The scan of 2026-03-09 is not used: it shows 100 teeth where the recipe has 155 points" in words
    assert "An older one is used, of 2026-03-09 00:00, " in words
    assert "by the scan of 2026-03-09 00:00" in words
    write_scan(till, saw, KeptScan(at=at, saw=name, line=told_line(60, 3.63)))
    write_scan(till, saw, KeptScan(at=at + timedelta(hours=2), saw=name, line=told_line(60, 3.63)))
    write_scan(till, saw, KeptScan(at=at + timedelta(hours=3), saw=name, line=told_line(60, 3.63)))
    assert main(["even", saw.slug, "--till", str(tmp_path)]) == 2
    refused = " ".join(capsys.readouterr().err.split())
    assert "it shows 60 teeth" in refused
    assert refused.endswith("None is used: no other is of this line."), "the last three are looked at"


def test_a_scan_with_teeth_that_were_not_seen_names_them_and_one_of_before_leveling_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    till = Till(tmp_path)
    name = load_recipe(find_recipe("crosscut-panel", [])).saw.name
    saw = saw_named(till, name)
    for day, line in enumerate(
        (
            told_line(155, 3.63, {6: (ToothState.NOT_SEEN, 0.0)}, flat_mm=0.3),
            told_line(155, 3.63, flat_mm=0.0),
            told_line(120, 3.63, flat_mm=0.3),
        ),
        1,
    ):
        write_scan(till, saw, KeptScan(at=datetime(2026, 3, day, tzinfo=UTC), saw=name, line=line))
        code = main(["even", saw.slug, "--till", str(tmp_path)])
        told = capsys.readouterr()
        words = " ".join((told.out + told.err).split())
        if day == 1:
            assert code == 0
            assert "Not seen: grade their flats by eye, and hold the file straight beside them: 6." in words
            assert "flat 6 not seen: grade it by eye" in " ".join(words.split())
            assert "Low" not in words
        elif day == 2:
            assert (code, "it shows no flats, as before leveling; level the line, then scan it again" in words) == (
                2,
                True,
            )
        else:
            assert (code, "it shows 120 teeth where the recipe has 155 points" in words) == (2, True)
