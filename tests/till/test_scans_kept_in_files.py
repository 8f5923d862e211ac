"""Measured lines in a till: written whole and never over another, read back, refused with a sentence, carried along."""

from __future__ import annotations

import errno
import os
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from session.files.scanned_file import KeptScan, read_scan
from session.machine.disk import Disk
from session.machine.refusal import Refusal
from session.till.backup_intake import read_backup
from session.till.backup_writer import write_backup
from session.till.kept_scans import ASIDE, ScanFile, lay_aside, measured, newest_line, newest_scan, write_scan
from session.till.known_saws import KnownSaw, known_saws
from session.till.till_folder import Till
from session.trade.scan_tones import TakenTones, Tones, TonesBy
from session.trade.scanned_line import IN_DOUBT, ScannedLine, ToothState, line_of_teeth
from session.trade.seen_words import LineShape
from told_line import told_line

AT = datetime(2026, 3, 9, 18, 5, tzinfo=UTC)
SAW = KnownSaw("netloft-rip", "Netloft rip")
ODD = {3: (ToothState.LOW, 0.15), 5: (ToothState.BROKEN, 1.9), 6: (ToothState.NOT_SEEN, 0.0)}


def kept(line: ScannedLine | None = None, at: datetime = AT) -> KeptScan:
    return KeptScan(at=at, saw=SAW.name, line=line or told_line(9, 4.6, ODD, gap_mm=0.3))


def test_a_line_comes_back_as_it_was_written(tmp_path: Path) -> None:
    scan = kept()
    path = write_scan(Till(tmp_path), SAW, scan)
    told = read_scan(path)
    assert path.parent == tmp_path / "lines" / SAW.slug
    assert (told.at, told.saw) == (scan.at, scan.saw)
    assert told.line.shape is LineShape.CROWNED
    assert [tooth.state for tooth in told.line.teeth] == [tooth.state for tooth in scan.line.teeth]
    for one, other in zip(told.line.teeth, scan.line.teeth, strict=True):
        assert one.place_mm == pytest.approx(other.place_mm, abs=1e-4)
        assert one.flat_mm == pytest.approx(other.flat_mm, abs=2e-4)
        assert (one.height_mm is None) is (other.height_mm is None)
        assert one.depth_mm == pytest.approx(other.depth_mm, abs=1e-4)
    assert read_scan(write_scan(Till(tmp_path), SAW, told)) == told, "what was read is written as it was"


@pytest.mark.parametrize(
    "tones",
    [
        TakenTones(Tones.USUAL, TonesBy.FILE),
        TakenTones(Tones.OTHER, TonesBy.FILE),
        TakenTones(Tones.LINEAR, TonesBy.EDGES),
        TakenTones(Tones.USUAL, TonesBy.NOBODY, 0.0213),
        None,
    ],
)
def test_the_tones_that_a_line_was_read_by_are_kept(tones: TakenTones | None, tmp_path: Path) -> None:
    path = write_scan(Till(tmp_path), SAW, replace(kept(), tones=tones))
    assert read_scan(path).tones == tones
    assert ("tones" in path.read_text(encoding="utf-8")) is (tones is not None), "a line of before says nothing of them"


@pytest.mark.parametrize(
    ("written", "wrong"),
    [
        ('tones = "raw"\ntones_by = "file"', 'tones: .*allowed: one of "usual", "linear"'),
        ('tones = "usual"\ntones_by = "me"', 'tones_by: .*allowed: one of "person"'),
        ('tones = "usual"', "lacks tones_by; allowed: tones and tones_by, or neither"),
        ('tones_by = "file"', "lacks tones; allowed"),
        ('tones = "usual"\ntones_by = "file"\ntones_doubt = 0.1', 'tones_doubt: .*where tones_by is "nobody"'),
        ('tones = "usual"\ntones_by = "nobody"\ntones_doubt = -1.0', "tones_doubt: .*allowed: 0 to 5 mm"),
    ],
)
def test_tones_that_can_be_none_get_a_sentence(written: str, wrong: str, tmp_path: Path) -> None:
    path = write_scan(Till(tmp_path), SAW, kept())
    path.write_text(path.read_text(encoding="utf-8").replace("[scan]", f"[scan]\n{written}"), encoding="utf-8")
    with pytest.raises(Refusal, match=wrong):
        read_scan(path)


def test_why_a_tooth_was_not_seen_is_kept_with_what_was_measured_of_it(tmp_path: Path) -> None:
    line = told_line(9, 4.6)
    teeth = [replace(one, state=ToothState.NOT_SEEN, why=IN_DOUBT) if one.tooth == 4 else one for one in line.teeth]
    told = read_scan(write_scan(Till(tmp_path), SAW, kept(line_of_teeth(teeth, 0.0, 0.02, 0.002)))).line.teeth[3]
    assert (told.state, told.why, told.height_mm) == (ToothState.NOT_SEEN, IN_DOUBT, 0.0)
    assert told.flat_mm == pytest.approx(0.2)


def test_laid_aside_it_is_read_by_nothing_and_its_bytes_are_the_same(tmp_path: Path) -> None:
    till = Till(tmp_path)
    first, later = (write_scan(till, SAW, kept(at=AT + timedelta(hours=hours))) for hours in (0, 2))
    whole = later.read_bytes()
    file = newest_line(till, SAW).file
    assert file is not None
    assert file.path == later
    moved = lay_aside(file)
    assert (moved, moved.read_bytes()) == (later.parent / ASIDE / later.name, whole)
    assert newest_line(till, SAW).file == ScanFile(first, read_scan(first))
    assert len(measured(till, SAW)) == 1
    later.write_bytes(whole)
    with pytest.raises(Refusal, match="another file has that name"):
        lay_aside(file)
    assert later.read_bytes() == whole


def test_no_line_overwrites_another_and_the_newest_is_found_by_its_own_time(tmp_path: Path) -> None:
    till = Till(tmp_path)
    assert newest_scan(till, SAW) is None
    times = [AT, AT + timedelta(hours=2), AT - timedelta(days=3), AT]
    paths = {write_scan(till, SAW, kept(at=at)) for at in times}
    assert set((tmp_path / "lines" / SAW.slug).iterdir()) == paths
    assert [scan.at for scan in measured(till, SAW)] == sorted(times)
    newest = newest_scan(till, SAW)
    assert newest is not None
    assert newest.at == max(times)
    (tmp_path / "lines" / SAW.slug / "2027-01-01T00-00-00-aaaaaa.toml").write_text("format = 9\n", encoding="utf-8")
    assert newest_scan(till, SAW) == newest, "one that cannot be read is no newest one"
    assert len(newest_line(till, SAW).unread) == 1


def test_a_saw_that_has_another_name_by_now_has_its_lines_still(tmp_path: Path) -> None:
    till = Till(tmp_path)
    write_scan(till, SAW, kept())
    renamed = KnownSaw("loft-rip", "Loft rip", former=(SAW.name,))
    assert len(measured(till, renamed)) == 1
    assert newest_scan(till, renamed) is not None
    assert [saw.slug for saw in known_saws([till])] == [SAW.slug], "a saw is known by its lines alone"


def test_a_backup_carries_the_lines(tmp_path: Path) -> None:
    path = write_scan(Till(tmp_path / "one"), SAW, kept())
    write_backup(Till(tmp_path / "one"), tmp_path / "backup.zip", AT)
    read_backup(Till(tmp_path / "other"), tmp_path / "backup.zip", AT)
    there = tmp_path / "other" / "lines" / SAW.slug / path.name
    assert there.read_bytes() == path.read_bytes()


def test_a_disk_that_refuses_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Disk, "write", refuse)
    with pytest.raises(Refusal, match="the line was not written"):
        write_scan(Till(tmp_path), SAW, kept())
    assert [path for path in (tmp_path / "lines" / SAW.slug).iterdir() if path.suffix == ".toml"] == []


WRONG = {
    "state": (
        'state = "low"',
        'state = "bent"',
        'state: "bent" is not known; did you mean "broken"? allowed: one of "whole", "low"',
    ),
    "place": ("place = 4.6\n", "place = 46.0\n", "not beyond tooth 2, which is at 46 mm; allowed: places that grow"),
    "height": ("height = 0.15", "height = 900.0", "out of range; allowed: -60 to 60 mm"),
    "nan": ("height = 0.15", "height = nan", "out of range; allowed: -60 to 60 mm"),
    "lacks": ("height = 0.15\n", "", "lacks height, and is low; allowed: all of a tooth that was seen"),
    "backward": ("b = 4.7", "b = 4.4", "before a, which is 4.5 mm; allowed: that or more"),
    "close": ("place = 4.6\n", "place = 0.1\n", "0.1 mm from tooth 1; allowed: 0.2 mm or more"),
    "flat": ("a = 4.5", "a = -3000.0", "a: -3000 mm, beyond a neighbor; allowed: beside its place, 4.6 mm"),
    "gullet": ("gullet = 5.98", "gullet = 59.8", "gullet: 59.8 mm, beyond a neighbor; allowed: beside its place"),
    "flanks": ("front = 15.0", "front = -50.0", "-50 and the back's 45 degrees make no point; allowed: 1 to 150"),
    "low": ("height = 0.15", "height = -0.15", "-0.15 mm, and it is low; allowed: above 0"),
    "high": ('state = "low"', 'state = "high"', "0.15 mm, and it is high; allowed: below 0"),
    "whole": ("height = 0.0", "height = 55.0", "55 mm, and it is whole; allowed: -0.5 to 0.5 mm"),
    "depth": ("depth = 3.68", "depth = -3.68", "out of range; allowed: 0 to 60 mm"),
    "unsure": ("se = 0.003", "se = 60.0", "out of range; allowed: 0 to 5 mm"),
    "bow": ("line_gap = 0.3", "line_gap = 60.0", "out of range; allowed: -25 to 25 mm"),
    "year": ("at = 2026", "at = 2999", "scan.at: in the year 2999; allowed: 2000 to 2199"),
    "format": ("format = 1", "format = 2", "format: not one that this version knows; allowed: 1"),
    "gap": ("line_gap = 0.3\n", "", "line_gap"),
}


@pytest.mark.parametrize("kind", list(WRONG))
def test_a_file_that_is_wrong_says_where_and_what_is_allowed(kind: str, tmp_path: Path) -> None:
    there, instead, words = WRONG[kind]
    path = write_scan(Till(tmp_path), SAW, kept())
    text = path.read_text(encoding="utf-8")
    assert there in text
    path.write_text(text.replace(there, instead, 1), encoding="utf-8")
    with pytest.raises(Refusal) as told:
        read_scan(path)
    assert words in str(told.value)
    assert str(told.value).startswith(f"{path}:")


def test_a_newest_file_that_cannot_be_read_is_named_and_the_one_before_counts(tmp_path: Path) -> None:
    till = Till(tmp_path)
    write_scan(till, SAW, kept())
    assert newest_line(till, SAW).unread == ()
    later = write_scan(till, SAW, kept(at=AT + timedelta(hours=2)))
    later.write_text(later.read_text(encoding="utf-8").replace("line_gap = 0.3", "line_gap = nan"), encoding="utf-8")
    (told,) = newest_line(till, SAW).unread
    assert told.startswith(f"{later}:7: scan.line_gap: out of range")
    newest = newest_scan(till, SAW)
    assert newest is not None
    assert newest.at == AT


def test_a_line_of_too_few_teeth_is_refused_and_an_unknown_key_passed_over(tmp_path: Path) -> None:
    path = write_scan(Till(tmp_path), SAW, kept(told_line(5, 4.6)))
    text = path.read_text(encoding="utf-8")
    path.write_text(text + "warmth = 3\n", encoding="utf-8")
    assert read_scan(path).line.count == 5
    path.write_text(text[: text.rindex("[[tooth]]")], encoding="utf-8")
    with pytest.raises(Refusal, match="a line of 4 teeth; allowed: 5 to"):
        read_scan(path)
    unseen = [replace(tooth, state=ToothState.NOT_SEEN) for tooth in told_line(5, 4.6).teeth[:4]]
    line = replace(told_line(5, 4.6), teeth=(*unseen, told_line(5, 4.6).teeth[4]))
    with pytest.raises(Refusal, match="fewer than two teeth that were seen whole"):
        read_scan(write_scan(Till(tmp_path), SAW, kept(line)))
