"""The bench rules line by line: what is said, in which order, and what no line passes."""

from __future__ import annotations

import errno
import tomllib
from pathlib import Path

import pytest

import session.texts.cautions as words_of
from bench_shed import Shed
from ears import Listening
from session.desk.line_mode import DISK
from session.walk.stages import FACTS, Stage

TOLD = tomllib.loads((Path(words_of.__file__).parent / "cautions.toml").read_text(encoding="utf-8"))


def test_rule_01_empty_lines_never_pass_a_caution(shed: Shed, ears: Listening) -> None:
    one = ears(shed.sitting())
    said = one.type(*[""] * 20, *["done"] * 5, "d", "1")
    assert one.marks() == []
    assert one.heard.count("CAUTION before this stage.") == 1
    assert "This waits for a yes by its own key, not for the one that moves on." in said


def test_rule_01_each_caution_is_whole_and_before_its_y_in_a_whole_sharpening(shed: Shed, ears: Listening) -> None:
    one = ears(shed.sitting(points=12, jaw=200))
    one.get_on(lambda ears: ears.sitting.state.finished)
    marks = one.marks()
    assert marks[-1]["did"] == "finished"
    asked = [mark["what"] for mark in marks if mark["did"] == "acknowledged" and "side" not in mark]
    said = one.heard
    for name in asked:
        understood = said.index(f"Understood: {name}.")
        signal = (
            len(said[:understood]) - said[:understood][::-1].index(f"{TOLD[name]['signal']} before this stage.") - 1
        )
        between = said[signal:understood]
        assert [TOLD[name][part] for part in ("hazard", "consequence", "avoid")] == between[1:4], name
        said = said[understood + 1 :]
    agreed = set()
    for mark in marks:
        if mark["did"] == "acknowledged":
            agreed.add(mark["what"])
        elif mark["did"] == "done":
            assert agreed >= set(FACTS[Stage(mark["stage"])].cautions)
    filed = [(m["side"], m["tooth"]) for m in marks if m["did"] == "done" and m["stage"] == "file"]
    assert filed == [(1, k) for k in range(1, 13, 2)] + [(2, k) for k in range(2, 13, 2)]


def test_rule_03_a_caution_stays_in_effect_and_is_said_when_that_changes_or_on_demand(
    shed: Shed, ears: Listening
) -> None:
    one = ears(shed.at("file", side=1, done=1))
    one.type("", "", "say")
    effect = "; ".join(TOLD[name]["in_effect"] for name in FACTS[Stage.FILE].cautions)
    assert one.heard.count(f"In effect: {effect}.") == 2
    assert one.heard[-2] == f"In effect: {effect}."


def test_rule_04_each_place_is_said_with_the_one_before_the_next_and_how_much_is_done(
    shed: Shed, ears: Listening
) -> None:
    one = ears(shed.at("file", side=1, done=2))
    one.type("2")
    said = one.heard
    at = said.index("Marked gullet 5 (2 strokes).")
    assert "Now: gullet 5 of 24 points, between teeth 5 and 6, 12 mm, heel to tooth 5." in said[:at]
    assert "File, side 1 of 2. Handle on your right." in said[:at]
    assert said[at + 1] == "Now: gullet 7 of 24 points, between teeth 7 and 8, 18 mm, heel to tooth 7."
    assert said[at + 2] == "Before: done 5 (2 strokes). Next: 9. Done: 3 of 12 in this stage."


def test_rule_06_turning_holds_item_by_item_and_names_side_and_handle(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1, done=11))
    said = one.type("", *["y"] * 1, *[""] * 3)
    assert "Turn the saw to side 2." in said
    assert "saw: now; guide: to come; fleam: to come; grip: to come; first: to come" in said
    before = one.marks()
    said = one.type("y", "", "y", "", "y", "", "y", "", "y")
    assert "Turn the guide block's far face to you: off the tip, then on again, top up." in said
    assert "saw: done; guide: done; fleam: done; grip: done; first: now" in said
    assert "File, side 2 of 2. Handle on your left." in said
    assert [mark["did"] for mark in one.marks()[len(before) :]] == ["acknowledged"] * 4 + ["turned"]


def test_rule_09_several_at_once_are_named_first_and_last_asked_first_and_logged_as_such(
    shed: Shed, ears: Listening
) -> None:
    one = ears(shed.at("file", side=1, done=1))
    before = one.marks()
    for refused in ("", "n", "done", "9"):
        said = one.type("place", "9", refused)
        assert "gullet 3 to gullet 7, 3 in all, will be marked as done together." in " ".join(said)
        assert "Closed; nothing was changed." in said
        assert one.marks() == before
    said = one.type("place 9", "y")
    assert "The place is now gullet 9." in said
    new = one.marks()[len(before) :]
    assert [(m["did"], m["tooth"], m["many"]) for m in new] == [("done", k, "3-7") for k in (3, 5, 7)]


def test_rule_09_an_earlier_place_takes_back_and_deletes_nothing(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1, done=4))
    before = one.marks()
    said = one.type("p", "4", "5", "n")
    assert any('"4" is not worked on this side' in line for line in said)
    assert "gullet 5 to gullet 7, 2 in all, will be taken back" in " ".join(said)
    assert one.marks() == before
    said = one.type("p", "5", "y")
    assert one.marks()[: len(before)] == before
    assert [mark["did"] for mark in one.marks()[len(before) :]] == ["took back", "took back"]
    assert "Now: gullet 5 of 24 points, between teeth 5 and 6, 12 mm, heel to tooth 5." in said


def test_rule_10_leaving_out_needs_a_reason_and_all_are_listed_at_the_end(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1, done=9))
    before = one.marks()
    said = one.type("out", "", "out", "esc")
    assert said.count("Closed; nothing was changed.") == 2
    assert one.marks() == before
    one.type("out", "2", "out its gullet\x1b[31m is cracked", "l", "low, as told")
    reasons = [(m["did"], m["tooth"], m["reason"]) for m in one.marks()[len(before) :]]
    assert reasons == [
        ("left out", 19, "broken tooth"),
        ("left out", 21, "its gullet[31m is cracked"),
        ("left out", 23, "low, as told"),
    ]
    said = one.get_on(lambda ears: ears.heard[-1].startswith("Type: Enter (finish)"))
    end = said[said.index("Ready to finish.") :]
    assert end[1] == "Left out: 3"
    assert [line.strip() for line in end[2:5]] == [
        f"file, side 1: gullet {tooth} - {reason}" for _, tooth, reason in reasons
    ]


def test_rule_11_ten_marks_are_taken_back_one_word_each_and_named_also_after_a_restart(
    shed: Shed, ears: Listening
) -> None:
    one = ears(shed.at("file", side=1, jaw=200))
    one.type(*[""] * 10)
    said = one.type(*["back"] * 5)
    taken = [line for line in said if line.startswith("Took back: ")]
    assert taken == [f"Took back: done gullet {tooth}." for tooth in (19, 17, 15, 13, 11)]
    again = ears(shed.reopened(one.sitting))
    said = again.type("y", *["back"] * 5)
    taken = [line for line in said if line.startswith("Took back: ")]
    assert taken == [f"Took back: done gullet {tooth}." for tooth in (9, 7, 5, 3, 1)]
    done = [m["seq"] for m in again.marks() if m["did"] == "done" and m["stage"] == "file"]
    assert [m["of"] for m in again.marks() if m["did"] == "took back"] == done[::-1]


def test_rule_12_after_a_restart_the_place_is_confirmed_against_the_saw(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1, done=4))
    again = ears(shed.reopened(one.sitting))
    before = again.marks()
    again.type("", "done", "3")
    assert again.marks() == before
    said = again.heard
    at = said.index("Find the place on the saw.")
    assert said[at + 1 : at + 6] == [
        "Handle on your right. Last marks:",
        "  done 3",
        "  done 5",
        "  done 7",
        "Next: gullet 9, its tooth 24 mm from the heel.",
    ]
    assert "Look at the saw, bright where filed: is gullet 9 next?" in said
    again.type("n", "7", "y")
    assert [(m["did"], m.get("tooth")) for m in again.marks()[len(before) :]] == [("took back", None), ("confirmed", 7)]


def test_rule_12_a_long_silence_asks_for_the_place_and_marks_nothing(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1))
    one.type("", "")
    before = one.marks()
    one.after_s = 400.0
    said = one.type("")
    assert any("without a key: find the place on the saw first." in line for line in said)
    assert [mark["did"] for mark in one.marks()[len(before) :]] == ["resumed"]


def test_rule_14_a_pause_holds_every_line_but_its_own_and_is_logged_with_its_length(
    shed: Shed, ears: Listening
) -> None:
    one = ears(shed.at("file", side=1))
    one.type("pause")
    before = one.marks()
    said = one.type("", "2", "y", "flag")
    assert one.marks() == before
    assert any(line.startswith("Paused: go on first") for line in said)
    one.type("esc")
    assert (one.marks()[-1]["did"], one.marks()[-1]["value"]) == ("resumed", 25.0)
    one.type("y", "pause", "go on")
    assert [mark["did"] for mark in one.marks()[-3:]] == ["confirmed", "paused", "resumed"]


def test_rule_15_a_check_point_holds_and_a_difference_corrects_the_place(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1, points=90, jaw=400))
    one.get_on(lambda ears: ears.heard[-1].startswith("Type: y (agrees)"))
    before = one.marks()
    last = before[-1]["tooth"]
    said = one.type("", "done", "2")
    assert one.marks() == before
    assert "This waits for a yes by its own key, not for the one that moves on." in said
    one.type("n", str(last), "y")
    new = one.marks()[len(before) :]
    assert [mark["did"] for mark in new] == ["checked", "took back"]
    assert one.sitting.state.place is not None
    assert one.sitting.state.place.tooth == last


def test_rule_16_nothing_is_finished_before_the_closing_steps_and_the_last_word(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("close"))
    one.type("", "", "", "")
    assert [m["step"] for m in one.marks() if m.get("stage") == "close" and m["did"] == "done"] == list(
        FACTS[Stage.CLOSE].steps
    )
    assert "finished" not in {mark["did"] for mark in one.marks()}
    again = ears(shed.reopened(one.sitting))
    assert "Took back: done put by." in again.type("y", "back")
    again.get_on(lambda ears: ears.heard[-1].startswith("Type: Enter (finish)"))
    said = again.type("")
    assert again.marks()[-1]["did"] == "finished"
    assert "Finished. All is saved." in said


def test_rule_19_two_empty_lines_at_once_are_two_marks(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1), after_s=0.0)
    one.type("", "")
    assert [mark["tooth"] for mark in one.marks()[-2:]] == [1, 3]


def test_rule_21_quitting_takes_two_and_says_that_all_is_saved(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1))
    before = one.marks()
    asked = one.type("quit", "")
    assert asked[0].startswith(f"All is saved: {len(before)} marks in ")
    assert asked[1:] == ["Leave? Type quit once more to leave; anything else stays.", "Stayed."]
    said = one.talk("q", "Q", "never read")
    assert (one.status, one.marks(), said[-2:]) == (0, before, asked[:2])


def test_rule_24_a_refusing_disk_stops_the_walk_in_words_and_y_reads_again(
    shed: Shed, ears: Listening, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = ears(shed.at("file", side=1))
    before, disk = one.marks(), one.sitting.journal._disk
    with monkeypatch.context() as patched:

        def full(fd: int, data: bytes) -> None:
            raise OSError(errno.ENOSPC, "")

        patched.setattr(disk, "write", full)
        said = one.type("2", "", "back", "flag")
        assert one.marks() == before
        refused = [line for line in said if "Note by hand: done gullet 1 (2 strokes)." in line]
        assert "the disk is full" in refused[0]
        assert len(refused) == 4
        assert "Now: gullet 3" not in " ".join(said)
        left = one.talk()
        assert one.status == DISK
        assert "Note by hand: done gullet 1 (2 strokes)." in left[-1]
        assert "All is saved" not in " ".join(said + left)
    said = one.type("y")
    assert "The log was read again from disk. Find the place." in said
    one.type("2", "2")
    assert [mark["did"] for mark in one.marks()[len(before) :]] == ["resumed", "confirmed", "done"]
