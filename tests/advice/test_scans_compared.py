"""What a sharpening did by the scans before and after it: which two are taken, and what is said of them."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.advice.saw_advice import advice, records_of
from session.advice.scan_change import change_by, change_told, newest_change
from session.files.scanned_file import KeptScan
from session.files.supplied import find_recipe
from session.log.line_facts import LineFacts
from session.log.log_bytes import LogStanding, make_header
from session.log.mark_block import encode
from session.log.summary import summarize
from session.till.kept_scans import measured, write_scan
from session.till.known_saws import KnownSaw
from session.till.past_sharpening import Sharpening
from session.till.saw_history import SawHistory
from session.till.scan_pair import pair_of, scans_of, scans_since
from session.till.till_folder import Till
from session.trade.scanned_line import ScannedLine, ToothState, line_of_teeth
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
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
    of = "By scans of 2026-03-09 18:00 and 2026-03-09 19:00, of the 19 teeth that both measured:"
    assert told[0].startswith(f"{of} heights spread by 0.0")
    assert told[0].endswith("mm, then 0.000 mm.")
    assert "then 0.000 mm; at worst 0.120 mm, then 0.000 mm." in told[1]
    assert told[2] == "Fronts 15.9° ± 1.4°, then 15.0° ± 0.0°; backs 45.0° ± 0.0°, then 45.0° ± 0.0°."
    assert told[3] == "Teeth told low 1, then 0; high 0, then 0; broken 1, then 0."
    assert told[4:] == ("Not compared: 12 (broken, then whole).",)
    fewer = change_told(kept(rough(), BEGUN), kept(told_line(19, 4.0), BEGUN + HOUR), "in")
    assert fewer == (
        "The scans of 2026-03-09 18:00 and 2026-03-09 19:00 count 20 and 19 teeth: one of the two is wrong, or not of "
        "this saw. Nothing else of them is compared.",
    )
    assert "thou" in change_told(kept(rough(), BEGUN), kept(rough(), BEGUN + HOUR), "in")[0]


def test_a_stump_left_out_once_and_measured_once_makes_no_line_worse() -> None:
    before = told_line(20, 4.0, {7: (ToothState.LOW, 0.2), 12: (ToothState.BROKEN, 1.4)})
    after = told_line(20, 4.0, {7: (ToothState.LOW, 0.2), 12: (ToothState.LOW, 0.45), 3: (ToothState.NOT_SEEN, 0.0)})
    told = change_told(kept(before, BEGUN), kept(after, BEGUN + HOUR), "mm")
    assert "of the 18 teeth that both measured: heights spread by 0.046 mm, then 0.046 mm." in told[0]
    assert told[-1] == "Not compared: 3 (whole, then not seen), 12 (broken, then low)."


@pytest.fixture
def filed(tmp_path: Path) -> Sharpening:
    """A sharpening leveled from 18:20 to 18:30, filed from 18:50 to 19:10, finished at 19:20."""
    one = sharpening(tmp_path)
    places: tuple[tuple[int, dict[str, Any]], ...] = (
        (20, {"stage": Stage.LEVEL, "number": 1}),
        (30, {"stage": Stage.LEVEL, "number": 2}),
        (50, {"stage": Stage.FILE, "side": 1, "tooth": 3}),
        (70, {"stage": Stage.FILE, "side": 2, "tooth": 4}),
        (80, {"stage": Stage.PROVE, "step": "sight"}),
    )
    marks = [
        Mark(**{"seq": seq, "at": BEGUN + timedelta(minutes=minutes), "did": Did.DONE, **place})
        for seq, (minutes, place) in enumerate(places, 1)
    ]
    one.path.write_bytes(make_header(dict(one.header)) + b"".join(encode(mark)[0] for mark in marks))
    return replace(one, summary=summarize(Account.of(marks)))


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


def test_before_is_before_the_first_stroke_and_after_is_after_the_last(tmp_path: Path, filed: Sharpening) -> None:
    till = Till(tmp_path)

    def scan(minutes: int, line: ScannedLine) -> None:
        write_scan(till, SAW, kept(line, BEGUN + timedelta(minutes=minutes)))

    even = told_line(20, 4.0)
    scan(-60, rough())
    scan(10, rough())
    assert (change_by(filed), scans_since(filed)) == ((), ()), "both are of the line as it was found"
    scan(35, even)
    pair = pair_of(filed)
    assert pair is not None
    assert pair.leveled
    assert change_by(filed)[-1] == "The later one shows the line half way: gullets were filed after it."
    assert scans_since(filed) == ()
    scan(75, even)
    told = change_by(filed)
    assert told[0].startswith("By scans of 2026-03-09 18:10 and 2026-03-09 19:15")
    assert told[-1] == "Scanned half way, as leveled: 1 time, at 18:35."
    assert [scan.at for scan in scans_since(filed)] == [BEGUN + timedelta(minutes=75)]
    assert newest_change(SawHistory(saw=SAW, sharpenings=(filed,)), measured(till, SAW), "mm") == told, (
        "history says what show says"
    )


def test_next_time_goes_by_the_newest_scan_of_the_filed_line(tmp_path: Path, filed: Sharpening) -> None:
    facts = LineFacts(passes=2, low=(7, 9), low_count=2)
    filed = replace(filed, summary=replace(filed.summary, line=facts))
    history = SawHistory(saw=SAW, sharpenings=(filed,))
    now = BEGUN + timedelta(days=1)
    (low,) = [line.text for line in advice(history, now) if line.text.startswith("Low")]
    assert low.startswith("Low: teeth 7, 9.")
    line = told_line(20, 4.0, {7: (ToothState.LOW, 0.2), 12: (ToothState.BROKEN, 1.4)})
    write_scan(Till(tmp_path), SAW, kept(line, BEGUN + timedelta(minutes=75)))
    told = [line.text for line in advice(history, now)]
    assert "Low by the scan of 2026-03-09: tooth 7. Leave alone until it comes into line." in told
    assert any(line.startswith("Broken: tooth 12.") for line in told)


def test_where_the_newest_of_them_is_of_another_line_the_one_before_it_tells(tmp_path: Path, filed: Sharpening) -> None:
    recipe = tomllib.loads(find_recipe("crosscut-panel", []).read_text(encoding="utf-8"))
    filed = replace(filed, header={**filed.header, "recipe": recipe})
    history = SawHistory(saw=SAW, sharpenings=(filed,))

    def low() -> list[str]:
        told = advice(history, BEGUN + timedelta(days=1))
        return [line.text for line in told if line.text.startswith("Low by the scan")]

    for minutes, line in ((15, {5: (ToothState.LOW, 0.2)}), (75, {7: (ToothState.LOW, 0.2)})):
        write_scan(Till(tmp_path), SAW, kept(told_line(155, 3.63, line), BEGUN + timedelta(minutes=minutes)))
    (newest,) = low()
    assert "tooth 7." in newest
    write_scan(Till(tmp_path), SAW, kept(told_line(90, 3.63), BEGUN + timedelta(minutes=80)))
    assert low() == [newest], "not the one of before it was filed"


def test_low_teeth_to_be_left_alone_are_known_at_the_next_look(filed: Sharpening) -> None:
    def low(facts: LineFacts) -> tuple[int, ...]:
        summary = replace(filed.summary, line=facts)
        return records_of(SawHistory(saw=SAW, sharpenings=(replace(filed, summary=summary),))).low

    assert low(LineFacts(low=(7, 15), low_count=2)) == (7, 15)
    assert low(LineFacts()) == ()
    every_other = tuple(range(2, 50, 2))
    assert low(LineFacts(low=every_other, low_count=len(every_other))) == (), "too many to be an answer to choose"
    assert low(LineFacts(low=(7, 15), low_count=70)) == (), "not all of them are named"
