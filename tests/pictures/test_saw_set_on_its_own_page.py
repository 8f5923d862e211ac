"""Where page 1 has room for the lean of the teeth alone, the saw set in section has the next page."""

from __future__ import annotations

import pytest

from moments_met import CROSSCUT, RIP, moments
from session.pictures.panel_layout import panel
from session.pictures.picture_rows import plain
from session.sentences.moment import Moment
from session.trade.saw import Saw
from session.walk.front_question import Ask
from session.walk.stages import Stage

#: The panel's cells and rows at 80×24, and at 120×36.
SMALL, LARGE = (38, 13), (72, 25)


def first_bend(saw: Saw) -> Moment:
    """The moment at which the first tooth is to be bent."""
    found = (at for at in moments(saw) if at.front.ask is Ask.WORK and at.place is not None and at.place.tooth)
    return next(at for at in found if at.place is not None and at.place.stage is Stage.SET)


@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_plunger_and_anvil_are_drawn_on_some_page_and_page_1_keeps_the_words(saw: Saw) -> None:
    at = first_bend(saw)
    first, second, *_ = ("\n".join(plain(page)) for page in panel(at, *SMALL).pages)
    for word in ("saw set", "plunger on your side", "Anvil beyond", "1 of "):
        assert word in first
    for word in ("you", "plunger", "anvil", "away from you", "2 of "):
        assert word in second
    assert "Anvil beyond" not in second, "no words twice"


def test_a_room_that_shows_both_on_page_1_has_no_page_for_it() -> None:
    at = first_bend(CROSSCUT)
    pages = ["\n".join(plain(page)) for page in panel(at, *LARGE).pages]
    assert "▲ away from you" in pages[0]
    assert "plunger" in pages[0]
    assert all("bend drawn larger" not in page for page in pages[1:])
