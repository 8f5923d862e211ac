"""A second face beside a gullet has no mark of its own: both parts are pictured, and the key is for both."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moments_met import AT, CROSSCUT, RIP, moments
from session.pictures.gullet_closeup import Gullet, closeup
from session.pictures.panel_layout import panel
from session.pictures.picture_rows import plain
from session.sentences.moment import Moment
from session.sentences.offers import Act
from session.trade.saw import Saw
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.stages import Kind

#: The room of the panel beside the numerals at 80 by 24.
ROOM = (36, 13)


def _gullets(saw: Saw) -> list[Moment]:
    found = moments(saw, reshape=True, graded=True)
    return [at for at in found if at.front.ask is Ask.WORK and at.place and at.place.kind is Kind.GULLET]


@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_both_parts_stand_in_the_picture_and_on_the_key(saw: Saw) -> None:
    both = 0
    for at in _gullets(saw):
        shown = " ".join(plain(panel(at, *ROOM).page(0)))
        second = at.expected.back
        assert ("1st" in shown or "first" in shown) == second, at.place
        assert (at.offers[0].act, at.offers[0].word) == (Act.DONE, "both done" if second else "done")
        if second:
            both += 1
            assert "▼" in shown
            # The file is seen from above there too.
            assert "fleam" in shown.split("Triangular")[0] or "square" in shown.split("Triangular")[0]
    assert both >= 2


@pytest.mark.parametrize("saw", [CROSSCUT, RIP], ids=["crosscut", "rip"])
def test_which_of_two_counts_is_typed_stands_on_the_first_page(saw: Saw) -> None:
    for at in _gullets(saw):
        shown = " ".join(" ".join(plain(panel(at, *ROOM).page(0))).split())
        assert ("not counted" in shown) == at.expected.back, at.place


def test_at_a_look_again_nothing_is_said_of_a_wider_flat() -> None:
    at = next(at for at in _gullets(CROSSCUT) if any("is wider" in line for line in at.said.lines))
    assert at.place is not None
    state = at.state.after(acts.flag(at.state, AT))
    state = state.after(acts.done(state, AT, strokes=2))
    state = state.after(acts.look_again(state, AT, at.place))
    again = Moment(state, CROSSCUT, at.level)
    assert again.place == at.place
    assert "It had 2 strokes; a digit adds more." in again.said.lines
    assert not any("wider" in line for line in again.said.lines)


def test_after_a_silence_one_answer_is_for_both_faces() -> None:
    at = next(at for at in _gullets(RIP) if at.expected.back)
    state = at.state.after(acts.resume(at.state, AT, after="no key", seconds=900.0))
    assert Moment(state, RIP, at.level).said.choices[0] == "filed, both faces: mark it and go on"


def test_both_teeth_are_named_in_a_small_room_on_a_long_line() -> None:
    gullet = Gullet(tooth=409, teeth=520, front_deg=5, back_deg=55, rake=5, side=1, flats={})
    assert plain(closeup(gullet, 24, 8))[-1].strip() == "back 410 · front 409"
    assert plain(closeup(replace(gullet, tooth=40), 24, 8))[-1].strip() == "back of 41 · front of 40"
