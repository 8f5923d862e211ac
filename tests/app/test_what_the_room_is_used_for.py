"""Pictures and words at each size: larger where there is more room, whole where there is less, never run together."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bench_person import Person
from bench_shed import Shed
from session.files.settings import Drawing, Settings
from session.pictures.panel_layout import whole_parts
from session.trade.saw import FilePoints
from sought import sought

SIZES = ((80, 24), (120, 36), (200, 60))

GOLDENS = Path(__file__).parent / "goldens"

#: What is always to be had where it can be done at all.
KEPT = ("Esc pause", "l leave out", ". flag", "? help")


def between_neighbors(person: Person, tooth: int) -> int:
    """Cells between the numbers of two neighbors on the steel of the close-up."""
    row = next(row for row in person.rows() if re.search(rf"█ {tooth} █.*|█ {tooth + 1} █", row))
    found = {int(name): at.start() for at in re.finditer(r" (\d+) ", row) for name in at.groups()}
    return abs(found[tooth] - found[tooth + 1])


@pytest.mark.wide
@pytest.mark.parametrize("side", [1, 2])
async def test_the_close_up_grows_with_the_window(shed: Shed, side: int) -> None:
    async with shed.program(shed.at("file", side=side, done=3)) as person:
        tooth = int(sought(r"NOW (\d+)", person.places())[1])
        seen = []
        for size in SIZES:
            await person.resize(*size)
            seen.append(between_neighbors(person, tooth))
    # A row of it went to what the hands need on page one: the level, the fleam guide, the flat that is left.
    assert seen[0] >= 7
    # Plainly larger each time, not by a cell or two.
    assert seen[1] >= 1.25 * seen[0]
    assert seen[2] >= 1.5 * seen[1]


@pytest.mark.wide
@pytest.mark.parametrize("drawing", ["blocks", "ascii"])
@pytest.mark.parametrize("points", list(FilePoints))
@pytest.mark.parametrize("side", [1, 2])
async def test_which_way_the_file_points_is_told_at_every_size(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, side: int, points: FilePoints, drawing: Drawing
) -> None:
    path = shed.hang_up()
    path.write_text(path.read_text("utf-8") + f'file_points = "{points}"\n', encoding="utf-8")
    monkeypatch.setattr(shed, "hang_up", lambda **saw: path)
    sitting = shed.at("file", side=side)
    async with shed.program(sitting, settings=Settings(drawing=drawing)) as person:
        # The toe is on the left on side 1, the handle on side 2.
        left = (points is FilePoints.TOE) == (side == 1)
        arrow = ("◀" if left else "▶") if drawing == "blocks" else ("<" if left else ">")
        # Where there is no room for all of it, the tip is kept and the article goes: "press to the heel" stands below.
        assert re.search(rf"\bto (?:the )?{points} {arrow}", person.rows()[1])
        await person.resize(120, 36)
        assert f"to the {points} " in "\n".join(person.rows()[2:9])
        assert "fleam 20" in person.text()


async def test_what_a_number_counts_stands_right_under_it(shed: Shed) -> None:
    for size in SIZES:
        async with shed.program(shed.at("file", side=1), size=size) as person:
            column = [row.partition("│")[0] for row in person.rows()]
            last = max(n for n, row in enumerate(column) if "█" in row and n < size[1] - 10)
            assert "gullet of 24 points" in column[last + 2]
            assert "between teeth 1 and 2" in column[last + 3], "a gullet is counted by a tooth, and is none"
            assert "heel to tooth 1" in column[last + 4], "a rule is laid on points"


async def test_a_rule_keeps_the_panels_words_from_the_signs(shed: Shed) -> None:
    async with shed.program(shed.at("look over")) as person:
        rows = [row for row in person.rows() if "handle right" in row]
        assert rows
        assert all("│handle right" in row for row in rows)


@pytest.mark.parametrize(
    ("width", "told"),
    [
        (60, "Netloft · crosscut · 8 points"),
        (28, "Netloft · crosscut"),
        (17, "Netloft"),
        (3, "Netloft"),
    ],
)
def test_what_a_saw_is_called_is_cut_only_between_its_parts(width: int, told: str) -> None:
    assert whole_parts("Netloft · crosscut · 8 points", width) == told


async def test_a_word_is_shortened_before_a_box_is_left_away(shed: Shed) -> None:
    async with shed.program(shed.at("level")) as person:
        await person.press("space", "3")
        words = [word for _, word in person.boxes()]
        assert words[0] == "grade", "there is no grade before the first"
        await person.press("space")
        assert "Nothing to repeat yet: grade tooth 1 by a digit, 0 to 5." in person.words()
        await person.press("2")
        words = [word for _, word in person.boxes()]
        assert words == ["same: grade 2", "", "others", "undo", "flag", "out", "pause", "help"]
        await person.resize(120, 36)
        wide = [word for _, word in person.boxes()]
        assert wide[:4] == ["same: grade 2", "grade", "all the rest", "undo"]


async def test_a_digit_meant_for_a_grade_answers_for_no_rest_of_the_flats(shed: Shed) -> None:
    async with shed.program(shed.at("level")) as person:
        await person.press("space", "3")
        await person.press("3")
        before = person.marks_on_disk()
        await person.press("a", "2")
        assert "No grade at all for tooth 2 to tooth 24: not seen. Pick 2 again to do so." in person.words()
        await person.press("1")
        assert "All at once, tooth 2 to tooth 24: grade 3. Pick 1 again to do so." in person.words()
        assert person.marks_on_disk() == before
        await person.press("1")
        assert [mark["tooth"] for mark in person.marks_on_disk()[len(before) :]] == list(range(2, 25))


def test_pause_and_leaving_out_have_a_box_wherever_teeth_are_worked_at_80_columns() -> None:
    looked = 0
    for screen in sorted(GOLDENS.glob("*-80x24.txt")):
        rows = screen.read_text(encoding="utf-8").splitlines()
        worked = any(re.search(r"NOW \d+ [│|]", row) for row in rows)
        if worked and (first := re.match(r"[│|]Space (?:done|both done|same: grade \d)", rows[-2])):
            looked += 1
            # A flat that is graded has the rest to answer for besides: there one word is said short.
            short = "grade" in first[0]
            kept = [box.replace("leave out", "out") if short else box for box in KEPT]
            assert [box for box in kept if box not in rows[-2]] == [], screen.name
    assert looked > 20
