"""The form for one's own saw on the screen: by keys, by mouse or finger, in both sizes; nothing typed is lost."""

from __future__ import annotations

import os

import pytest

from bench_person import Person
from bench_shed import Shed
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.machine.disk import Disk

#: The five answers that nobody can take for usual, typed and picked from the first field on.
TOLD = ("enter", *"Saw 7", "enter", "enter", "3", "2", *"26", "enter", *"7 ppi", "enter")


async def opened(person: Person) -> None:
    """Open the form from the till by its one key."""
    await person.press("n")
    assert "1 of 17" in person.rows()[0]


async def told(person: Person, *keys: str) -> None:
    """Press ``keys`` in the form."""
    await person.press(*(" " if key == "space" else key for key in keys), after_s=0.0)


def in_hand(person: Person) -> str:
    """The field that has the sign."""
    return next(row[1:16].strip() for row in person.rows() if row.startswith(("▶", ">")))


def page(person: Person) -> str:
    """The words of the field in hand, beside the list of all."""
    return " ".join(" ".join(row.partition("│")[2] for row in person.rows()).split())


async def test_every_choice_stands_in_the_window_beside_what_was_refused(shed: Shed) -> None:
    async with shed.program(size=(80, 24)) as person:
        await opened(person)
        await told(person, "enter", *"Saw 7", "enter", "enter")
        assert in_hand(person) == "kind"
        await told(person, *"a saw that is of no kind at all", "enter")
        assert "NOT UNDERSTOOD" in page(person)
        assert "9 other" in " ".join(page(person).split())


async def test_a_question_mark_asks_for_help_where_none_can_be_meant(shed: Shed) -> None:
    async with shed.program(size=(80, 24)) as person:
        await opened(person)
        await told(person, "question_mark")
        assert "The words of this page" in person.text()
        await told(person, "escape", "enter", *"Saw 7", "question_mark", "enter")
        assert "Saw 7?" in " ".join(person.rows()), "a name may hold one"


async def test_the_picture_is_of_what_is_typed(shed: Shed) -> None:
    async with shed.program(size=(80, 24)) as person:
        await opened(person)
        # A rip saw, whose front is seen as it leans.
        await told(person, *TOLD[:-10], "1", *TOLD[-9:], *["enter"] * 4)
        assert in_hand(person) == "rake"
        await told(person, *"10")
        assert "front 10°, back 50°" in page(person)
        await told(person, "backspace", "backspace", *"3")
        assert "front 3°, back 57°" in page(person)


@pytest.mark.wide
async def test_a_saw_is_hung_up_by_keys_and_its_sharpening_begun(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(size=size) as person:
        await opened(person)
        await told(person, *TOLD)
        assert in_hand(person) == "points in all"
        assert "157 points" in person.words()
        await told(person, *["enter"] * 10)
        assert "hangs it up" in person.words()
        await told(person, "enter")
        assert "Read this page first; Enter again does it." in page(person), "a held key hangs nothing up"
        await person.press("enter")
        recipe = shed.till.path / "saw-7.toml"
        assert load_recipe(recipe).saw.points == 157
        assert "Hung up: " in person.text()
        assert "format = 1" in person.text()
        await person.press("s")
        assert "Saw 7" in person.rows()[0]
        assert list(shed.till.path.glob("logs/*/*.toml")) != []


async def test_the_new_saw_stands_in_the_till(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD, *["enter"] * 10)
        await person.press("enter")
        await told(person, *["enter"] * 3)
        assert "the till at" in person.rows()[0], "held on, the key closes the sheet and begins no sharpening"
        assert "Saw 7  crosscut · 7 points per inch · 26 in" in person.text()


async def test_what_is_typed_ahead_while_a_screen_opens_is_not_lost(shed: Shed) -> None:
    async with shed.program() as person:
        await person.ahead("n", *("space" if key == " " else key for key in TOLD))
        assert in_hand(person) == "points in all"
        assert "157 points" in person.words()


@pytest.mark.wide
@pytest.mark.parametrize(
    ("keys", "field", "words"),
    [
        (("banana",), "toothed length", 'not a length; write a number and a unit, such as "22 in"'),
        (("900",), "toothed length", "900 in is out of range; allowed: 10 mm to 3 m"),
    ],
)
async def test_a_bad_entry_is_answered_beside_its_field(
    keys: tuple[str, ...], field: str, words: str, shed: Shed, size: tuple[int, int]
) -> None:
    async with shed.program(size=size) as person:
        await opened(person)
        await told(person, *TOLD[:10], *"".join(keys), "enter")
        assert in_hand(person) == field
        assert f"NOT UNDERSTOOD: {keys[0] if keys[0] in words else chr(34) + keys[0]}"[:24] in page(person)
        assert words in page(person)
        row = next(row for row in person.rows() if row.startswith("▶"))
        assert f"! {keys[0]}" in row
        # Going on leaves it as it was typed, and coming back shows it again.
        await told(person, "down", "up")
        assert keys[0] in " ".join(person.rows()[3:8])


@pytest.mark.wide
async def test_a_misspelt_kind_is_answered_with_the_nearest_one(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD[:-11], *"dovtail", "enter")
        assert in_hand(person) == "kind"
        assert '"dovtail" is none of them, nearest is 8 dovetail; allowed: those below' in page(person)


#: What only the picture of a field shows, by the field.
PICTURED = {
    "plate": "caliper under the gullets",
    "over the points": "lightly, two neighbors",
    "set, each side": "anvil",
    "rake": "front 27°",
    "fleam": "▄▄▄▄",
    "tooth 1 leans": "▄▄▄▄",
    "held at once": "handle ▶",
}


@pytest.mark.wide
async def test_every_field_that_is_measured_shows_how_at_80_by_24(shed: Shed) -> None:
    async with shed.program(size=(80, 24)) as person:
        await opened(person)
        await told(person, *TOLD)
        seen = {}
        while (field := in_hand(person)) != "wood":
            seen[field] = page(person)
            await told(person, "down")
        for field, picture in PICTURED.items():
            assert picture in seen[field], field
        # What there was no room for stands where the words are.
        assert "Plate and set make the kerf" not in seen["plate"]
        await told(person, *["up"] * 8, "f1")
        assert "Plate and set make the kerf" in person.words()


@pytest.mark.wide
async def test_a_rip_saw_is_asked_its_fleam_as_one_that_has_none(shed: Shed) -> None:
    async with shed.program(size=(80, 24)) as person:
        await opened(person)
        await told(person, *TOLD[:-11], "8", "1", *"10", "enter", *"15", "enter", *["down"] * 5)
        assert in_hand(person) == "fleam"
        assert "A rip saw is filed square across: 0." in page(person)
        await told(person, "enter")
        assert in_hand(person) == "tooth 1 leans", "one press takes the usual 0"


async def test_what_was_refused_stays_to_be_mended(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD[:-10], *"croscut", "enter")
        assert "NOT UNDERSTOOD" in person.words()
        await told(person, "2")
        assert in_hand(person) == "toothed length", "a digit picks, as on an empty line"
        await told(person, *"26 on", "enter")
        assert "NOT UNDERSTOOD" in person.words()
        await told(person, "backspace", "backspace", "i", "n", "enter")
        assert in_hand(person) == "teeth"
        assert "26 in" in person.text()


async def test_what_is_typed_after_a_refusal_takes_the_place_of_what_was_refused(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD[:-9], *"26 on", "enter")
        assert "NOT UNDERSTOOD" in person.words()
        await told(person, *"24 of", "enter")
        assert " 24 of NOT UNDERSTOOD" in page(person)
        await told(person, "up", "down", *"24", "enter")
        assert in_hand(person) == "teeth", "gone away from and come back to, it is typed over as well"
        assert "24 in" in person.text()


async def test_an_enter_meant_for_a_digit_answers_no_other_question(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD, *["down"] * 6, "2", "enter")
        assert in_hand(person) == "file's face"
        assert "“toward” was taken by its digit already. Enter again answers this one." in page(person)
        await told(person, "enter")
        assert in_hand(person) == "held at once"


@pytest.mark.wide
async def test_what_follows_changes_with_each_key(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD[:-6], *"1")
        for key, points in (("1", "261 points"), ("backspace", ""), ("0", "235 points")):
            await told(person, key)
            # 26 in holds 26 · (count − 1) spaces, and the first point (NOYES p. 63).
            assert points in person.text()


async def test_the_last_row_is_not_titled_all_told_while_something_is_untold(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *["pagedown"] * 4)
        assert "Not yet: " in page(person)
        assert " · not all told" in person.text()


async def test_leaving_and_coming_back_loses_nothing(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD, "down", *"twenty", "escape")
        assert "the till at" in person.rows()[0]
        assert "BEGUN  Saw 7: 6 answers kept, not hung up yet" in person.rows()[1], "the till names what waits"
        await person.press("enter")
        assert "Going on: 6 answers of before kept; F9 begins anew." in page(person)
        assert in_hand(person) == "points in all", "the first field that nothing was answered in"
        await told(person, "down")
        assert "twenty" in person.text()
        assert "7 points per" in person.text()


@pytest.mark.wide
async def test_the_form_by_mouse_or_finger(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(size=size) as person:
        await opened(person)

        async def touch(words: str, beyond: int = 0) -> None:
            y = next(n for n, row in enumerate(person.rows()) if words in row[beyond:])
            await person.click(person.rows()[y].index(words, beyond) + 1, y)

        await touch("2  millimeters")
        assert in_hand(person) == "name"
        assert "millimeters" in person.rows()[0]
        await touch("kind")
        assert in_hand(person) == "kind"
        await touch("8  dovetail", 30)
        await touch("1  rip", 30)
        assert in_hand(person) == "toothed length"
        await told(person, *"250")
        await touch("take, next")
        assert in_hand(person) == "teeth"
        await touch("↑ back")
        assert in_hand(person) == "toothed length"
        await touch("leave, kept")
        await person.press("n")
        assert "250 mm" in person.text()


@pytest.mark.wide
async def test_the_words_of_a_page_are_explained_at_a_key(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(size=size) as person:
        await opened(person)
        await told(person, *TOLD, *["down"] * 4, *"12", "f1")
        assert "The words of this page" in person.words()
        assert "rake: " in person.words()
        await person.press("escape")
        assert in_hand(person) == "rake"
        await told(person, "enter")
        assert "12°" in person.text(), "what was typed stood there all the time"


@pytest.mark.wide
async def test_throwing_a_form_away_takes_two_presses(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD, "f9", "down")
        assert "7 points per" in person.text()
        await told(person, "f9", "f9")
        assert "7 points per" not in person.text()
        assert in_hand(person) == "units"


async def test_a_disk_that_takes_nothing_is_told_and_the_answer_stands(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD[:10])

        def full(disk: Disk, fd: int, data: bytes) -> int:
            raise OSError(28, os.strerror(28))

        with monkeypatch.context() as broken:
            broken.setattr(Disk, "write", full)
            await told(person, *"26", "enter")
            assert "was not kept: the disk is full" in person.words()
            assert in_hand(person) == "toothed length"
        await told(person, "enter")
        assert in_hand(person) == "teeth"


async def test_a_form_that_is_open_elsewhere_is_refused(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        async with shed.program() as other:
            await other.press("n")
            assert "this form is open elsewhere" in other.words()


@pytest.mark.wide
async def test_a_name_is_shown_as_it_is_typed(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, "enter", *"[b]x[/]", "enter")
        assert "[b]x[/]" in person.text()


async def test_ascii_alone_where_it_is_wished(shed: Shed) -> None:
    async with shed.program(settings=Settings(drawing="ascii")) as person:
        await person.press("n")
        await told(person, *TOLD[:7], "enter", "3", "2")
        assert [sign for sign in person.text() if ord(sign) > 127] == []


@pytest.mark.wide
async def test_a_small_window_asks_for_room_and_keeps_what_is_typed(shed: Shed) -> None:
    async with shed.program() as person:
        await opened(person)
        await told(person, *TOLD[:10], *"26")
        await person.resize(60, 20)
        assert "Make it larger" in person.words()
        await person.resize(80, 24)
        assert "26" in person.words()
        await told(person, "enter")
        assert in_hand(person) == "teeth"


async def test_the_settings_choose_the_unit_first(shed: Shed) -> None:
    async with shed.program(settings=Settings(units="mm")) as person:
        await person.press("n")
        assert "a bare number is in millimeters" in person.rows()[0]
