from __future__ import annotations

import platform
import shutil
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from drawn_teeth import OLD_GRADES, PANEL
from law_budget import examples
from made_history import (
    DAY0,
    SAW,
    SLUG,
    a_cut,
    filed,
    header_of,
    leveled,
    measured,
    numbered,
    proved,
    recipe,
    told,
    write_log,
)
from session.files.supplied import supplied_folder
from session.log import log_reader
from session.log.journal import Journal
from session.log.log_bytes import LogFile, LogStanding, make_header
from session.log.mark_block import decode, encode
from session.log.summary import closing, summary_of
from session.machine.disk import Disk
from session.machine.refusal import Refusal
from session.till import past_sharpening
from session.till.kept_cuts import write_cut
from session.till.known_saws import find_saw, known_saws
from session.till.saw_history import history, in_words
from session.till.till_folder import Till
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage


def test_a_till_of_finished_logs_is_listed_from_their_ends(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    logs = 200
    first = write_log(tmp_path, DAY0, filed(500))
    blocks = first.read_bytes()[len(make_header(header_of(DAY0))) :]
    for day in range(1, logs):
        begun = DAY0 + timedelta(days=day)
        (first.parent / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml").write_bytes(make_header(header_of(begun)) + blocks)
    taken: list[int] = []
    decoded: list[int] = []
    read = Disk.read

    def counted_read(self: Disk, fd: int, most: int, offset: int) -> bytes:
        data = read(self, fd, most, offset)
        taken.append(len(data))
        return data

    def counted_decode(data: bytes) -> Mark:
        decoded.append(len(data))
        return decode(data)

    monkeypatch.setattr(Disk, "read", counted_read)
    monkeypatch.setattr(log_reader, "decode", counted_decode)
    monkeypatch.setattr(past_sharpening, "read_log", lambda path: pytest.fail(f"{path} was read from end to end"))
    found = told(tmp_path)
    assert len(found.finished) == logs
    assert {one.summary.strokes["file"] for one in found.finished} == {1000}
    assert len(decoded) == logs
    # Two looks of 32,000 bytes each, however long the log between them.
    assert len(taken) == 2 * logs
    assert sum(taken) <= logs * 64_000


def test_the_ends_tell_what_the_marks_tell(tmp_path: Path) -> None:
    fields = [
        measured("over the points", 1.2, "mm"),
        measured("broken teeth", "5, 9", "teeth"),
        *leveled([0, 2, 2, 3, 0, 2]),
        *filed(6),
        {"did": Did.LEFT_OUT, "stage": Stage.FILE, "side": 1, "tooth": 7, "reason": "broken"},
        *proved(160.0),
    ]
    path = write_log(tmp_path, DAY0, fields)
    from_ends = past_sharpening.sharpening(log_reader.read_ends(path))
    log = log_reader.read_log(path)
    assert from_ends.summary == summary_of(log)
    assert from_ends.summary.line.low == (1,)
    assert from_ends.summary.line.left_out == {7: "broken"}
    assert (from_ends.summary.line.passes, from_ends.gullets, from_ends.cut_went) == (2, 6, "good")


def test_steel_taken_off_is_the_height_of_the_middle_flat(tmp_path: Path) -> None:
    write_log(tmp_path, DAY0, leveled([0, 2, 2, 2, 4]) + filed(4))
    (one,) = told(tmp_path).finished
    assert one.off_mm == pytest.approx(PANEL.came_down(OLD_GRADES[2]), rel=1e-4)


@pytest.mark.parametrize(
    ("fields", "known"),
    [
        (filed(4), 0.0),
        (leveled([]) + filed(4), None),
        ([*leveled([2, 2], passes=1), {"did": Did.DONE, "stage": Stage.LEVEL, "number": 2}], None),
        ([*leveled([2, 2]), {"did": Did.DONE, "stage": Stage.RESHAPE, "side": 1, "tooth": 1, "strokes": 3}], None),
    ],
    ids=["not leveled", "not graded", "a pass after the grading", "reshaped and leveled again unseen"],
)
def test_steel_that_nobody_saw_is_not_known(tmp_path: Path, fields: list[dict[str, Any]], known: float | None) -> None:
    write_log(tmp_path, DAY0, fields)
    (one,) = told(tmp_path).finished
    assert one.off_mm == known


def test_the_set_left_is_less_by_what_leveling_took(tmp_path: Path) -> None:
    plate = recipe().saw.plate.mm
    over = measured("over the points", plate + 0.4, "mm")
    write_log(tmp_path, DAY0, [over, *leveled([2, 2, 2]), *filed(3)])
    set_today = {"did": Did.DONE, "stage": Stage.SET, "side": 1, "tooth": 2, "by": "key"}
    write_log(tmp_path, DAY0 + timedelta(days=9), [over, set_today, *filed(3)])
    worn, renewed = told(tmp_path).finished
    # Four tenths of the tooth are bent (the recipe's, from memory), straight from the bend to the point.
    arm = 0.4 * PANEL.came_down(1.0)
    assert worn.found_set_mm == pytest.approx(0.2)
    assert worn.left_set_mm == pytest.approx(0.2 * (arm - PANEL.came_down(OLD_GRADES[2])) / arm, rel=1e-4)
    assert renewed.found_set_mm == pytest.approx(0.2)
    assert renewed.left_set_mm is None
    assert told(tmp_path).since_set == 0


def test_a_fall_of_one_percent_a_day_makes_the_saw_due_on_day_thirty(tmp_path: Path) -> None:
    till = Till(tmp_path)
    path = write_log(tmp_path, DAY0, filed(2) + proved(200.0))
    ended = past_sharpening.sharpening(log_reader.read_ends(path)).ended
    assert ended is not None
    for day in (5, 10, 15):
        write_cut(till, SAW, a_cut(ended + timedelta(days=day), 200.0 * (1 - 0.01 * day)))
    few = told(tmp_path).dulling
    assert (few.enough, few.due_in_days) == (False, None)
    assert few.why.startswith("Not enough cuts yet: 3 ")
    write_cut(till, SAW, a_cut(ended + timedelta(days=20), 160.0))
    enough = told(tmp_path)
    assert enough.dulling.enough
    # The saw is due at 70 % (DUE_SHARE), ten days after the cut of day 20.
    assert enough.dulling.due_in_days == pytest.approx(10.0, abs=1e-6)
    assert enough.dulling.counted_from == pytest.approx(20.0)


def test_cuts_count_from_the_sharpening_before_them(tmp_path: Path) -> None:
    till = Till(tmp_path)
    for at in (DAY0 - timedelta(days=3), DAY0 + timedelta(days=2), DAY0 + timedelta(days=12)):
        write_cut(till, SAW, a_cut(at))
    write_log(tmp_path, DAY0, filed(2) + proved(200.0))
    write_log(tmp_path, DAY0 + timedelta(days=10), filed(2))
    found = told(tmp_path)
    assert [len(cuts) for cuts in found.series] == [2, 1]
    days = [found.days_after(cut) for _, cut in found.cuts]
    assert days[0] is None
    assert days[1:] == pytest.approx([2.0, 2.0], abs=0.01)


def a_bench(till: Path, node: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(platform, "node", lambda: node)
    marks = numbered(filed(3), DAY0)
    with Journal.create(till / "logs" / SLUG, header_of(DAY0), started=DAY0) as journal:
        for mark in marks:
            journal.append(mark)
        journal.append(closing(Account.of(marks), Mark(seq=4, at=DAY0 + timedelta(minutes=1), did=Did.FINISHED)))
    write_cut(Till(till), SAW, a_cut(DAY0 + timedelta(days=1)))


def test_two_tills_merge_by_copying(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # The worst case: the same saw, the same second, the same words; only the benches differ.
    one, other, merged = tmp_path / "loft", tmp_path / "shed", tmp_path / "both"
    a_bench(one, "loft", monkeypatch)
    a_bench(other, "shed", monkeypatch)
    files = [path for till in (one, other) for path in till.rglob("*.toml")]
    shutil.copytree(one, merged)
    shutil.copytree(other, merged, dirs_exist_ok=True)
    assert len(list(merged.rglob("*.toml"))) == len(files) == 4
    together, apart = told(merged), told(one, other)
    assert len(together.finished) == len(apart.finished) == 2
    assert [one.path.name for one in together.sharpenings] == [one.path.name for one in apart.sharpenings]
    assert [cut for _, cut in together.cuts] == [cut for _, cut in apart.cuts]
    assert len(together.cuts) == 2
    # Copies of what is there already count once.
    assert len(told(merged, one, other, merged).sharpenings) == 2
    assert len(told(merged, one, other, merged).cuts) == 2


def test_of_two_copies_the_one_that_goes_further_counts(tmp_path: Path) -> None:
    early, late = tmp_path / "early", tmp_path / "late"
    write_log(early, DAY0, filed(3), finished=False)
    write_log(late, DAY0, filed(5))
    for order in ((early, late), (late, early)):
        (only,) = told(*order).sharpenings
        assert (only.state, only.gullets) == (LogStanding.FINISHED, 5)


def test_what_only_the_finished_teach_is_had_without_reading_those_that_have_no_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_log(tmp_path, DAY0, filed(5))
    begun = write_log(tmp_path, DAY0 + timedelta(days=1), filed(3), finished=False)
    odd = write_log(tmp_path, DAY0 + timedelta(days=2), filed(4))
    odd.write_bytes(odd.read_bytes() + b"# a remark\n")
    all_of_them = told(tmp_path)
    assert begun in [one.path for one in all_of_them.sharpenings]

    def read(path: Path) -> LogFile:
        assert path != begun, "the log without an end was read from end to end"
        return log_reader.read_log(path)

    monkeypatch.setattr(past_sharpening, "read_log", read)
    finished = history([Till(tmp_path)], SAW, unfinished=False)
    assert finished.finished == all_of_them.finished != ()
    assert finished.unread == all_of_them.unread != ()
    assert [one.path for one in finished.sharpenings if one.path == begun] == []


def test_a_copy_changed_by_hand_gives_way_to_one_in_order(tmp_path: Path) -> None:
    whole, edited = tmp_path / "whole", tmp_path / "edited"
    write_log(whole, DAY0, filed(5))
    path = write_log(edited, DAY0, filed(5))
    path.write_bytes(path.read_bytes() + b"# a remark\n")
    found = told(edited, whole)
    assert [one.state for one in found.sharpenings] == [LogStanding.FINISHED]
    alone = told(edited)
    assert [one.state for one in alone.sharpenings] == [LogStanding.READ_ONLY]
    assert len(alone.unread) == 1
    assert (alone.sharpenings[0].gullets, alone.finished) == (5, ())


def test_a_log_that_cannot_be_read_is_listed_with_its_reason(tmp_path: Path) -> None:
    path = write_log(tmp_path, DAY0, filed(2))
    (path.parent / "empty.toml").write_bytes(b"")
    (path.parent / "noise.toml").write_bytes(b"\xff\x00\x1b[31m" * 40)
    (path.parent / "recipe.toml").write_text('format = 1\n[saw]\nname = "Netloft"\n')
    folder = tmp_path / "cuts" / SLUG
    folder.mkdir(parents=True)
    (folder / "bad.toml").write_text("format = 1\n[cut]\nstrokes = 0\n")
    found = told(tmp_path)
    assert len(found.finished) == 1
    words = in_words(found.unread)
    assert len(words) == 4
    for name, line in zip(("bad.toml", "empty.toml", "noise.toml", "recipe.toml"), words, strict=True):
        assert name in line
        assert line.count(name) == 1
        assert line.isprintable()


ODD = st.one_of(
    st.binary(max_size=200),
    st.recursive(
        st.none() | st.booleans() | st.integers(-(2**62), 2**62) | st.floats() | st.text(max_size=12) | st.datetimes(),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
        max_leaves=10,
    ),
)


@given(
    session=ODD,
    values=st.dictionaries(st.sampled_from(["summary", "stage", "value", "what"]), ODD, max_size=3),
    tail=st.binary(max_size=60),
)
@examples(120, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_odd_log_breaks_history(session: Any, values: dict[str, Any], tail: bytes, tmp_path: Path) -> None:
    path = tmp_path / "logs" / SLUG / "odd.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(odd_log(session, values) + tail)
    found = told(tmp_path)
    assert len(found.sharpenings) + len([one for one in found.unread if one[0] == path]) >= 1
    for one in found.sharpenings:
        seen = (one.name, one.off_mm, one.left_set_mm, one.trial, one.corner, one.started, one.gullets)
        assert isinstance(seen[0], str)
    assert found.dulling.why


def odd_log(session: Any, values: dict[str, Any]) -> bytes:
    """A sealed log with odd values, as far as a log can hold them; else the bytes themselves."""
    if isinstance(session, bytes):
        return session
    try:
        head = make_header({"session": session, "recipe": {"saw": session}, "plan": values})
        end = Mark(seq=1, at=DAY0, did=Did.FINISHED)
        return head + encode(replace(end, extra={"summary": values.get("summary")}))[0]
    except ValueError:
        return repr(session).encode("utf-8", "replace")


def test_a_summary_that_makes_no_sense_is_counted_again(tmp_path: Path) -> None:
    path = write_log(tmp_path, DAY0, filed(3), finished=False)
    for number, wrong in enumerate([{"done": {"file": -1}, "line": {}}, {"line": 4}, {"first": "x", "line": {}}], 1):
        end = Mark(seq=4, at=DAY0 + timedelta(minutes=number), did=Did.FINISHED, extra={"summary": wrong})
        copy = path.with_name(f"wrong-{number}.toml")
        copy.write_bytes(path.read_bytes() + encode(end)[0])
        assert past_sharpening.sharpening(log_reader.read_ends(copy)).gullets == 3


def test_the_end_of_a_log_never_fails_for_its_length() -> None:
    long = [measured(f"thing {number}", "x" * 300) for number in range(40)]
    marks = numbered(long, DAY0)
    end = closing(Account.of(marks), Mark(seq=len(marks) + 1, at=DAY0 + timedelta(hours=1), did=Did.FINISHED))
    _, read_back = encode(end)
    assert read_back.extra["summary"]["short"] is True
    assert read_back.extra["summary"]["marks"] == 41


def test_low_teeth_are_named_up_to_a_number_and_counted(tmp_path: Path) -> None:
    write_log(tmp_path, DAY0, leveled([0] * 100 + [2] * 3))
    line = told(tmp_path).finished[0].summary.line
    assert line.low == tuple(range(1, 61))
    assert line.low_count == 100


def test_the_wander_of_an_earlier_cut_is_not_that_of_the_last(tmp_path: Path) -> None:
    wandered = [*proved(160.0), measured("cut wander", 1.0, "mm"), measured("cut wander to", "left")]
    write_log(tmp_path, DAY0, wandered)
    write_log(tmp_path, DAY0 + timedelta(days=1), [*wandered, *proved(160.0)])
    first, second = told(tmp_path).finished
    assert first.trial is not None
    assert (first.trial.wander_mm, first.trial.wander_side) == (-1.0, "left")
    assert second.trial is not None
    assert second.trial.wander_mm == 0


@pytest.mark.parametrize("text", ["Netloft panel saw", "netloft-panel-saw", "NETLOFT panel_saw", "panel-by-the-door"])
def test_a_saw_is_found_by_any_of_its_names(text: str, tmp_path: Path) -> None:
    values = (supplied_folder("recipes") / "crosscut-panel.toml").read_text()
    name = next(line for line in values.splitlines() if line.startswith("name"))
    (tmp_path / "panel-by-the-door.toml").write_text(values.replace(name, 'name = "Netloft panel saw"'))
    assert find_saw(known_saws([Till(tmp_path)]), text).slug == SLUG
    assert [saw.slug for saw in known_saws([Till(tmp_path)])] == [SLUG]


def test_an_unknown_saw_is_told_those_near_it(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="holds none yet"):
        find_saw(known_saws([Till(tmp_path)]), "panel")
    write_log(tmp_path, DAY0, filed(1))
    with pytest.raises(Refusal, match=f"near it: {SLUG}"):
        find_saw(known_saws([Till(tmp_path)]), "netloft panell saw")
    with pytest.raises(Refusal, match=f"known: {SLUG}") as refused:
        find_saw(known_saws([Till(tmp_path)]), "\x1b[2J../../etc")
    assert str(refused.value).isprintable()
