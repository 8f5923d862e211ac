"""The answer that names the file in hand and its corner."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.desk.answers import AnswerError, example, read
from session.files.recipe import load_recipe
from session.files.recipe_tables import LONGEST_NAME
from session.files.supplied import find_recipe
from session.texts.steps import AskKind, Asks, step
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import Measurable
from session.walk.stages import Stage

CORNER, FILE, OVER_AFTER = Measurable.FILE_CORNER, Measurable.FILE, Measurable.OVER_POINTS_AFTER
LONGEST_FILE = int(MEASURABLES[FILE].most)

SAW = load_recipe(find_recipe("crosscut-panel", [])).saw


def asked() -> Asks:
    asks = step(Stage.LOOK_OVER, "file").asks
    assert asks is not None
    return asks


def told(text: str) -> dict[str, object]:
    return {one.what: one.value for one in read(asked(), text, SAW)}


def test_the_steps_ask_for_what_the_records_read() -> None:
    assert (asked().kind, asked().what) == (AskKind.FILE, FILE)
    measure = step(Stage.SET, "measure").asks
    assert measure is not None
    assert (measure.kind, measure.what) == (AskKind.WIDTHS, OVER_AFTER)
    assert LONGEST_FILE == LONGEST_NAME, "a name that files.toml takes can be typed, and the other way around"


@pytest.mark.parametrize(
    ("text", "name", "corner"),
    [
        ("6 in slim, corner 2", "6 in slim", 2),
        ("6 in slim", "6 in slim", None),
        ("6 in slim corner 3", "6 in slim", 3),
        ("  by   the window ,  Corner 1 ", "by the window", 1),
        ("taper, blue handle; corner3", "taper, blue handle", 3),
        ("6 in slim taper, 0.29 in, 1", "6 in slim taper", 1),
        ("6 in slim, 2", "6 in slim", 2),
        ("6 in slim, 7 mm", "6 in slim", None),
        # The length of a file is no width of a face.
        ("slim taper, 6 in, 3", "slim taper, 6 in", 3),
        # A name may speak of a corner, or of more than one thing.
        ("file from the corner", "file from the corner", None),
        ("taper, cornered", "taper, cornered", None),
        ("taper, blue handle", "taper, blue handle", None),
        ("[/]", "[/]", None),
    ],
)
def test_a_name_and_perhaps_a_corner(text: str, name: str, corner: int | None) -> None:
    assert told(text) == ({FILE: name} if corner is None else {FILE: name, CORNER: corner})


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("6 in slim, corner 4", 'corner "4"; allowed: 1, 2 or 3'),
        ("6 in slim corner 12", 'corner "12"; allowed'),
        ("6 in slim, corner two", 'corner "two"; allowed'),
        ("6 in slim, corner", 'corner ""; allowed'),
        ("6 in slim, corner ²", 'corner "²"; allowed'),
        ("corner 2", "has no name"),
        (" , corner 1", "has no name"),
        (",", "has no name"),
        ("x" * (LONGEST_FILE + 1), "81 characters for the file's name; allowed: at most 80"),
        ("", "nothing was typed"),
    ],
)
def test_what_names_no_file_is_refused_in_words(text: str, wrong: str) -> None:
    with pytest.raises(AnswerError) as refused:
        read(asked(), text, SAW)
    assert wrong in str(refused.value)
    assert "\n" not in str(refused.value)


def test_the_example_is_an_answer() -> None:
    shown = example(asked(), SAW).removeprefix("such as ").strip('"')
    assert told(shown) == {FILE: "6 in slim", CORNER: 2}


@given(st.text(max_size=120))
def test_any_text_is_a_name_with_a_corner_of_three_or_refused(text: str) -> None:
    try:
        found = told(text)
    except AnswerError:
        return  # what it says, the refusals above tell
    name = found[FILE]
    assert isinstance(name, str)
    assert 1 <= len(name) <= LONGEST_FILE
    assert found.get(CORNER) in (None, 1, 2, 3)


@given(st.from_regex(r"[A-Za-z0-9][A-Za-z0-9 ]{0,30}[A-Za-z0-9]", fullmatch=True), st.sampled_from([1, 2, 3]))
def test_a_name_with_its_corner_is_read_as_both(name: str, corner: int) -> None:
    assert told(f"{name}, corner {corner}") == {FILE: " ".join(name.split()), CORNER: corner}


@pytest.mark.parametrize(("name", "stage"), [("over the set", Stage.LOOK_OVER), ("measure", Stage.SET)])
def test_a_width_of_nothing_is_no_measurement(name: str, stage: Stage) -> None:
    asks = step(stage, name).asks
    assert asks is not None
    with pytest.raises(AnswerError, match="of 0 mm: nothing was measured; allowed: above zero"):
        read(asks, "0 mm", SAW)
    assert read(asks, "1,1 mm", SAW)[0].value == 1.1
