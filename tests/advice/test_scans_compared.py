"""What a sharpening did by the scans before and after it: which two are taken, and what is said of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from session.advice.scan_change import change_by, change_told, last_change, scans_of
from session.files.scanned_file import KeptScan
from session.log.log_bytes import LogStanding
from session.log.summary import summarize
from session.till.kept_scans import write_scan
from session.till.known_saws import KnownSaw
from session.till.past_sharpening import Sharpening
from session.till.till_folder import Till
from session.trade.scanned_line import ScannedLine, ToothState, line_of_teeth
from session.walk.account import Account
from told_line import told_line

BEGUN = datetime(2026, 3, 9, 18, 0, tzinfo=UTC)
SAW = KnownSaw("netloft-rip", "Netloft rip")
HOUR = timedelta(hours=1)


def rough() -> ScannedLine:
    """Every third tooth a little low and out of place, their fronts uneven; one is low, one broken."""
    line = told_line(20, 4.0, {7: (ToothState.LOW, 0.2), 12: (ToothState.BROKEN, 1.4)})
    teeth = [
        replace(tooth, height_mm=0.03, place_mm=tooth.place_mm + 0.12, front_deg=18.0)
        if tooth.tooth % 3 == 0 and tooth.state is ToothState.WHOLE
        else tooth
        for tooth in line.teeth
    ]
    return line_of_teeth(teeth, 0.0, 0.02, 0.002)


def kept(line: ScannedLine, at: datetime) -> KeptScan:
    return KeptScan(at=at, saw=SAW.name, line=line)


def sharpening(folder: Path, begun: datetime = BEGUN) -> Sharpening:
    path = folder / "logs" / SAW.slug / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("", encoding="utf-8")
    header = {"session": {"started": begun, "saw": SAW.name}}
    return Sharpening(path=path, header=header, state=LogStanding.FINISHED, odd="", summary=summarize(Account.of([])))


def test_heights_spaces_angles_and_odd_teeth_are_told_before_and_after() -> None:
    told = change_told(kept(rough(), BEGUN), kept(told_line(20, 4.0), BEGUN + HOUR), "mm")
    assert told[0].startswith("By scans of 2026-03-09 18:00 and 2026-03-09 19:00: heights spread by 0.0")
    assert told[0].endswith("mm, then 0.000 mm.")
    assert "then 0.000 mm; at worst 0.120 mm, then 0.000 mm." in told[1]
    assert told[2] == "Fronts 15.9° ± 1.4°, then 15.0° ± 0.0°; backs 45.0° ± 0.0°, then 45.0° ± 0.0°."
    assert told[3] == "Teeth told low 1, then 0; high 0, then 0; broken 1, then 0."
    assert len(told) == 4
    fewer = change_told(kept(rough(), BEGUN), kept(told_line(19, 4.0), BEGUN + HOUR), "in")
    assert "thou" in fewer[0]
    assert fewer[-1] == "They count 20 and 19 teeth: one of the two scans is wrong, or not of this saw."
    assert last_change([kept(rough(), BEGUN)], "mm") == ()


def test_of_the_scans_before_it_only_the_last_counts_and_none_of_the_next_sharpening(tmp_path: Path) -> None:
    till, one = Till(tmp_path), sharpening(tmp_path)
    assert change_by(one) == ()
    for days in (-9, -2):
        write_scan(till, SAW, kept(rough(), BEGUN + timedelta(days=days)))
    assert change_by(one) == (), "none was made after it"
    for hours in (1, 3):
        write_scan(till, SAW, kept(told_line(20, 4.0), BEGUN + hours * HOUR))
    assert [scan.at - BEGUN for scan in scans_of(one)] == [timedelta(days=-2), HOUR, 3 * HOUR]
    assert "By scans of 2026-03-07 18:00 and 2026-03-09 21:00" in change_by(one)[0]
    sharpening(tmp_path, BEGUN + 2 * HOUR)
    assert "By scans of 2026-03-07 18:00 and 2026-03-09 19:00" in change_by(one)[0]


def test_a_record_that_lies_in_no_till_has_no_scans(tmp_path: Path) -> None:
    one = sharpening(tmp_path)
    assert scans_of(replace(one, path=tmp_path / "alone.toml")) == ()
