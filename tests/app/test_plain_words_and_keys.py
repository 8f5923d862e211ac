"""Working line by line: what a typed line may be, what is said again, and what no line breaks."""

from __future__ import annotations

import re
import unicodedata

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from bench_shed import Shed
from ears import Ears, Listening
from law_budget import examples
from session.desk.key_table import ACTS
from session.desk.line_mode import LOOKS_BACK


def test_everything_said_in_a_whole_sharpening_is_plain_ascii(shed: Shed, ears: Listening) -> None:
    one = ears(shed.sitting(points=12, jaw=200))
    one.get_on(lambda ears: ears.sitting.state.finished)
    strange = {sign for line in one.heard for sign in line if not " " <= sign <= "~"}
    assert strange == set()
    assert max(map(len, one.heard)) <= 160
    assert "Now: the end, 0 left out." in one.heard
    assert not [line for line in one.heard if ".." in line]


def test_a_name_keeps_its_letters(shed: Shed, ears: Listening) -> None:
    one = ears(shed.sitting(name="Säge am Bootsschuppen · 鋸"))
    one.type("")
    assert one.heard[1].startswith("Säge am Bootsschuppen, 鋸, crosscut")


def test_only_what_changed_is_said_and_say_says_all(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1, done=2))
    first = list(one.heard)
    marked = one.type("")
    assert len(marked) < len(first)
    whole = one.type("say")
    kinds = [{re.sub(r"\d+", "N", line.partition(":")[0]) for line in lines} for lines in (first[1:], whole)]
    assert kinds[0] >= kinds[1]
    for start in (
        "Boat-shed sash saw",
        "File, side 1",
        "Now: gullet 7",
        "Before: done 5",
        "In effect: ",
        "Type: Enter",
    ):
        assert any(line.startswith(start) for line in whole), start
    assert one.type("say") == whole


@pytest.mark.parametrize(
    ("typed", "strokes"),
    [("", None), ("d", None), ("done", None), (" DONE ", None), ("1", 1), ("9", 9), ("12", 12), ("099", 99)],
)
def test_a_number_counts_the_strokes(shed: Shed, ears: Listening, typed: str, strokes: int | None) -> None:
    """And "done" counts none."""
    one = ears(shed.at("file", side=1))
    one.type(typed)
    assert (one.marks()[-1]["did"], one.marks()[-1].get("strokes")) == ("done", strokes)


@pytest.mark.parametrize(
    "typed", ["0", "100", "999", "1000", "-1", "1.5", "1 2", "٣", "²", "nine", "h", "timer", "[/]"]
)
def test_what_is_no_count_and_no_word_marks_nothing_and_says_so(shed: Shed, ears: Listening, typed: str) -> None:
    one = ears(shed.at("file", side=1))
    before = one.marks()
    said = one.type(typed)
    assert one.marks() == before
    assert any("allowed: " in line or "nothing to choose" in line or "is not a word known" in line for line in said)


def test_a_finished_sharpening_ends_the_dialogue_by_itself(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("close"))
    said = one.talk("", "", "", "", "", "never read")
    assert one.status == 0
    assert said[-1] == f"All is saved: {len(one.marks())} marks in {one.sitting.journal.path.name}."


def test_the_end_of_the_input_leaves_a_whole_log_and_says_so(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1))
    said = one.talk("", "out")
    assert one.status == 0
    assert said[-2] == "The input has ended."
    assert said[-1].startswith(f"All is saved: {len(one.marks())} marks in ")
    assert one.marks()[-1]["did"] == "done"


def test_keys_of_the_settings_can_be_typed(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1), keys={"flag": ("f",), "take back": ("minus", "u"), "done": ("w",)})
    said = one.type("f", "w", "-", "W", "U")
    assert [mark["did"] for mark in one.marks()[-5:]] == ["flagged", "done", "took back", "done", "took back"]
    assert "Flagged gullet 1; once more: a word for it." in said


@pytest.mark.parametrize("word", ["b", ".", "flag", "FLAG"])
def test_a_key_of_the_bench_and_its_word_mean_the_same(shed: Shed, ears: Listening, word: str) -> None:
    one = ears(shed.at("file", side=1))
    one.type(word)
    assert one.marks()[-1]["did"] == "flagged"


def test_each_word_is_in_the_help_and_help_changes_nothing(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1))
    before = one.marks()
    told = one.type("help")
    for words in (row.words for row in ACTS if row.words):
        assert any(line.startswith((f"{words[0]}: ", f"Enter alone, or {words[0]}: ")) for line in told), words
    one.type("look", "terms fleam", "terms", "wibble", "fleam", "guidance", "say", "terms", "")
    assert one.marks() == before


def test_looking_back_tells_the_newest_first(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("file", side=1))
    one.type("", "", "")
    told = one.type("look")
    assert told[0] == "Looking back, newest first."
    assert [line.split("  ")[-1] for line in told[1:4]] == [f"done gullet {tooth}" for tooth in (5, 3, 1)]
    assert len(told) == 1 + LOOKS_BACK + 1
    standing = one.marks()[-1]["seq"] - sum(
        mark["did"] in ("resumed", "confirmed", "acknowledged") for mark in one.marks()
    )
    assert told[-1].strip() == f"and {standing - LOOKS_BACK} earlier, in the log"


def test_answers_are_checked_in_words_and_taken_as_typed(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("look over", done=10))
    one.type("answer 3, 99", "3", "1")
    said = one.type("answer 1.2 ells", "1,2")
    assert any('"1.2 ells" is not a width' in line for line in said), said
    assert any("bare number is in millimeters" in line for line in said), said
    assert "Noted over the points: 1,2 mm." in said, "a bare number has the saw's unit"
    one.type("answer", "5", "a", "", "a", "24")
    measured = [(m["what"], m["value"], m.get("entered")) for m in one.marks() if m["did"] == "measured"]
    assert measured == [
        ("broken teeth", "3", "3"),
        ("line", "straight", "straight"),
        ("over the points", 1.2, "1,2 mm"),
        ("points", 24, "24"),
    ]


def test_a_fault_of_the_trial_cut_leads_to_remedies_by_number(shed: Shed, ears: Listening) -> None:
    one = ears(shed.at("prove", done=2))
    said = one.type("answer", "6 in, 3/4 in, 30 strokes, 1 mm right", "2", "1")
    noted = next(at for at, line in enumerate(said) if line.endswith("Now how it cut, by digit."))
    assert "2: wanders" in said[noted:]
    assert "What may be the cause, least steel first." in said
    # The cut was made, whatever is done about it.
    assert [m["did"] for m in one.marks()[-2:]] == ["done", "added"]


@examples(8, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.one_of(
            st.sampled_from([word for row in ACTS for word in row.words]),
            st.sampled_from(["", "y", "1", "3", "12", "out x", "place 7", "n", "say"]),
            st.text(max_size=30),
            st.just("x" * 300),
        ),
        max_size=40,
    )
)
def test_no_line_breaks_the_dialogue_or_the_log(shed: Shed, lines: list[str]) -> None:
    one = Ears(shed, shed.at("file", side=1, done=3))
    before = one.marks()
    one.talk(*(line.replace("\n", " ") for line in lines))
    assert one.status == 0
    assert one.marks()[: len(before)] == before
    one.sitting.close()
    assert {unicodedata.category(sign) for line in one.heard for sign in line}.isdisjoint({"Cc", "Cs", "Zl", "Zp"})
