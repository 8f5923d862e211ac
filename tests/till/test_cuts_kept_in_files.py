from __future__ import annotations

import errno
import os
import tomllib
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
import tomlkit
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.files.cut_file import RecordedCut, read_cut
from session.machine.disk import Disk
from session.machine.refusal import Refusal
from session.till.kept_cuts import cuts, write_cut
from session.till.known_saws import KnownSaw
from session.till.till_folder import Till
from session.trade.lengths import Length, parse_length

AT = datetime(2026, 3, 9, 18, 5, tzinfo=timezone(timedelta(hours=1)))
SAW = KnownSaw("boat-shed-rip", "Boat-shed rip")

LENGTHS = st.sampled_from(["12 in", "3/4 in", "1 1/2 in", "305 mm", "0,5 m", "900 thou"]).map(parse_length)
TEXTS = st.text(max_size=60)


def a_cut(**fields: object) -> RecordedCut:
    usual = {"at": AT, "saw": SAW.name, "length": parse_length("12 in"), "thickness": parse_length("3/4 in")}
    return RecordedCut(**{**usual, "strokes": 40, **fields})  # type: ignore[arg-type]


@given(
    length=LENGTHS,
    thickness=LENGTHS,
    strokes=st.integers(1, 99_999),
    wander=st.sampled_from(["1 mm", "0.5 mm", "2 thou"]).map(parse_length),
    to=st.sampled_from(["left", "right", None]),
    wood=TEXTS,
    note=TEXTS,
    at=st.datetimes(timezones=st.just(UTC)),
)
@examples(60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_cut_comes_back_as_it_was_written(
    length: Length,
    thickness: Length,
    strokes: int,
    wander: Length,
    to: str | None,
    wood: str,
    note: str,
    at: datetime,
    tmp_path: Path,
) -> None:
    cut = a_cut(
        length=length,
        thickness=thickness,
        strokes=strokes,
        wander=wander if to else None,
        to=to,
        wood=wood,
        note=note,
        at=at,
    )
    path = write_cut(Till(tmp_path), SAW, cut)
    told = read_cut(path)
    assert told.to_dict() == cut.to_dict()
    assert (told.length.text, told.length.mm, told.at) == (length.text, length.mm, at)
    # A second, independent reader sees the same.
    assert tomlkit.parse(path.read_text(encoding="utf-8")).unwrap() == tomllib.loads(path.read_text(encoding="utf-8"))
    path.unlink()


def test_no_cut_overwrites_another_and_nothing_else_is_left(tmp_path: Path) -> None:
    till = Till(tmp_path)
    paths = {write_cut(till, SAW, a_cut()) for _ in range(5)}
    folder = tmp_path / "cuts" / SAW.slug
    assert set(folder.iterdir()) == paths
    assert len(paths) == 5
    assert [file.cut for file in cuts(till, SAW.slug)] == [a_cut()] * 5


@pytest.mark.parametrize("call", ["open", "write", "fsync", "link", "fsync_dir", "mkdir"])
def test_a_disk_that_refuses_leaves_no_cut_behind(call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Disk, call, refuse)
    with pytest.raises(Refusal, match="the disk is full") as refused:
        write_cut(Till(tmp_path), SAW, a_cut())
    assert refused.value.code == 4
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_the_trial_cut_has_the_side_of_the_wander() -> None:
    left = a_cut(wander=parse_length("3 mm"), to="left").trial(2.0)
    assert (left.wander_mm, left.wander_side, left.days) == (-3.0, "left", 2.0)
    assert left.wander_per_100_mm == pytest.approx(3.0 / 304.8 * 100)
    assert a_cut().trial(0.0).area_mm2 == pytest.approx(304.8 * 19.05 / 40)


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"strokes": 0}, "0 strokes"),
        ({"length": parse_length("0 mm")}, "length 0 mm"),
        ({"thickness": parse_length("11 m")}, "thickness 11 m"),
        ({"wander": parse_length("1 mm")}, "a wander needs its side"),
        ({"to": "left"}, "a wander needs its side"),
        ({"wander": parse_length("13 in"), "to": "left"}, "wander -330.2 mm"),
        ({"at": datetime(2026, 3, 9)}, "without its offset"),
    ],
)
def test_a_cut_that_cannot_be_is_refused(fields: dict[str, object], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        a_cut(**fields)


GOOD = 'format = 1\n[cut]\nat = 2026-03-09T18:05:00+01:00\nlength = "12 in"\nthickness = "3/4 in"\nstrokes = 40\n'


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (GOOD.replace("format = 1", "format = 9"), "format: not one that this version knows; allowed: 1"),
        (GOOD.replace("[cut]", "[cuts]"), "cut: is missing"),
        (GOOD.replace("strokes = 40", 'strokes = "many"'), ":6: cut.strokes: "),
        (GOOD.replace("+01:00", ""), ":3: cut.at: "),
        (GOOD.replace('"12 in"', '"12"'), "has no unit; allowed units"),
        (GOOD.replace("40", "0"), ":6: cut.strokes: 0 is out of range"),
        ("format = ", "not TOML"),
        ("", "the file is empty"),
    ],
)
def test_a_file_that_holds_no_cut_says_where_and_what(text: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "cut.toml"
    path.write_text(text)
    with pytest.raises(Refusal) as refused:
        read_cut(path)
    assert says in str(refused.value)
    assert str(refused.value).startswith(str(path))
    assert str(refused.value).isprintable()


def test_a_key_of_a_later_version_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "cut.toml"
    path.write_text(GOOD + 'moisture = "12 %"\n')
    assert read_cut(path).strokes == 40


@given(data=st.binary(max_size=300) | st.text(max_size=80).map(lambda text: (GOOD + text).encode("utf-8", "replace")))
@examples(150, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_file_is_a_cut_or_says_why_not(data: bytes, tmp_path: Path) -> None:
    folder = tmp_path / "cuts" / SAW.slug
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "some.toml").write_bytes(data)
    (file,) = cuts(Till(tmp_path), SAW.slug)
    assert (file.cut is None) == bool(file.wrong)
    assert file.wrong.isprintable()


def test_what_is_no_file_is_told_too(tmp_path: Path) -> None:
    folder = tmp_path / "cuts" / SAW.slug
    (folder / "folder.toml").mkdir(parents=True)
    os.mkfifo(folder / "pipe.toml")
    (folder / "lost.toml").symlink_to(folder / "nowhere")
    assert [bool(file.wrong) for file in cuts(Till(tmp_path), SAW.slug)] == [True] * 3
    assert list(cuts(Till(tmp_path), "other")) == []
