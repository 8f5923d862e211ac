"""From the last screen to the till: all is read first, the saw just worked is in hand, a held key begins nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from session.till.till_folder import slug
from session.till.till_list import entries, saw_entries


def logs_of(shed: Any) -> list[Path]:
    return sorted((shed.till.path / "logs").rglob("*.toml"))


def in_hand(person: Any) -> str:
    return next(str(row) for row in person.rows() if row.startswith((" ▶", "▶")))


async def test_the_advance_key_turns_the_unread_pages_before_it_leads_to_the_till(shed: Any) -> None:
    async with shed.program(shed.at("close"), size=(80, 24)) as person:
        await person.go_on(lambda person: " FINISHED " in person.rows()[0])
        assert "1 of 2 " in person.panel()
        await person.press("space")
        assert "2 of 2 " in person.panel()
        assert "All is read: the same key leads to the till." in person.words()
        await person.press("down", "space")
        assert "the till at" in person.rows()[0]


async def test_a_held_key_begins_no_other_sharpening_and_the_saw_just_worked_is_in_hand(shed: Any) -> None:
    other = shed.hang_up("Boat-shed aft saw").rename(shed.till.path / "aft.toml")
    assert other.exists()
    async with shed.program(shed.at("close"), size=(80, 24)) as person:
        await person.go_on(lambda person: " FINISHED " in person.rows()[0])
        kept = logs_of(shed)
        await person.press("space", "space")
        assert "Boat-shed sash saw" in in_hand(person)
        await person.press(*["space"] * 12, after_s=0.03)
        assert "the till at" in person.rows()[0]
        await person.press("space")
        assert "The same key again begins another sharpening of Boat-shed sash saw." in person.words()
        await person.press(*["space"] * 12, after_s=0.03)
        assert logs_of(shed) == kept
        await person.press("space")
        assert len(logs_of(shed)) == len(kept) + 1


def test_a_supplied_saw_that_has_records_stands_before_those_without(shed: Any) -> None:
    shed.hang_up()
    names = [entry.name for entry in saw_entries(shed.till)]
    last = names[-1]
    shed.till.log_folder(slug(last)).mkdir(parents=True, exist_ok=True)
    listed = [entry.name for entry in entries(shed.till)]
    assert listed[:2] == ["Boat-shed sash saw", last]
    assert sorted(listed) == sorted(names)
