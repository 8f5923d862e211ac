"""After the close: what the record says to the next sharpening, on the last screen and in the till."""

from __future__ import annotations

from typing import Any

from session.advice.saw_advice import next_visit
from session.till.till_folder import Till


async def test_the_finished_screen_says_what_to_do_next_time_and_the_till_what_the_saw_needs(shed: Any) -> None:
    shed.hang_up()
    async with shed.program(shed.at("close")) as person:
        assert "Next time:" not in person.panel()
        await person.go_on(lambda person: " FINISHED " in person.rows()[0])
        assert "Next time:" in person.panel()
        said = person.panel()
        await person.press("space", "space", "space", "enter")
        assert " FINISHED " in person.rows()[0], "it stands until it is left by another key"
        await person.press("y")
        assert "the till at" in person.rows()[0]
        assert 'Finished: Boat-shed sash saw. Its record is read again by: toothline show "Boat-shed sash saw"' in (
            person.words()
        )
        (need, *_) = next_visit(shed.till, "Boat-shed sash saw", shed.clock.now()) or ("",)
        assert need
        assert " ".join(need.split()) in person.words()
        assert need.split(".")[0].split()[0] in said


def test_a_saw_without_records_needs_nothing_said(shed: Any) -> None:
    assert next_visit(shed.till, "Boat-shed tender saw", shed.clock.now()) == ()


def test_a_till_that_cannot_be_read_is_no_reason_not_to_open(tmp_path: Any, shed: Any) -> None:
    (tmp_path / "logs").write_text("not a folder")
    assert next_visit(Till(tmp_path), "Boat-shed sash saw", shed.clock.now()) == ()
