"""A number that the bench refuses gets a second answer, and every sharpening comes to its end."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from session.desk.question import Question
from session.rehearsal.own_count import OwnCount
from session.rehearsal.proving.proof_cases import case_of
from session.rehearsal.proving.sharpening_trial import with_program
from session.rehearsal.refusal_read import nearest_allowed
from session.sentences.offers import Act
from session.trade.saw import Saw
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan


@pytest.mark.parametrize(
    ("told", "refusal", "second"),
    [
        ("54", '"54" is not worked on this side; allowed: 1, 3, 5 … 55', 53),
        ("60", '"60" is not worked on this side; allowed: 1, 3, 5 … 55', 55),
        ("14", '"14" is not worked on this side; allowed: 55, 53, 51 … 1', 13),
        ("2", '"2" is not worked on this side; allowed: 1, 3', 1),
        ("9", '"9" is not one of: 1, 2', 2),
        ("18", "the scan told no flat of that tooth, and no eye did; allowed: one that was told, or 67, in hand", 67),
        ("18", "each flat is graded on its own; allowed: an earlier one, or the one in hand.", None),
        ("18", "the scan told no flat of that tooth", None),
    ],
)
def test_the_nearest_number_that_a_refusal_allows_is_read_in_it(told: str, refusal: str, second: int | None) -> None:
    assert nearest_allowed(told, refusal) == second


def question(allowed: tuple[str, ...], several: str = "") -> Question:
    return Question(
        "Which tooth is next?",
        check=lambda text: None if text in allowed else f"no; allowed: {', '.join(allowed)}",
        several=lambda text: several,
    )


def test_nobody_says_that_places_between_were_worked(saws: dict[str, Saw]) -> None:
    count = OwnCount(saws["panel"])
    count.come_back_to(8)
    assert count.second_answer(question(("7", "9")), "8", "no; allowed: 7, 9") == "7"
    assert count.following() == 7
    assert count.second_answer(question(("9",), "7 to 9, 2 in all"), "7", "no; allowed: 9") is None
    assert count.last is None, "the count is begun anew by the screen"


def test_a_place_that_is_refused_at_a_check_is_answered_once_more(saws: dict[str, Saw], kind: Any) -> None:
    walk = kind(saws["panel"], make_plan(saws["panel"]), 2)
    refused: list[str] = []
    while walk.step():
        front = walk.state.front
        side = front.place is not None and front.place.stage is Stage.FILE
        if front.ask is Ask.CHECK and side and not refused and walk.filer.tally.last is not None:
            # The hands have come to a gullet of the other side, as the filer thinks.
            walk.filer.tally.last += 1
            refused.append(str(walk.filer.tally.following()))
    differed = [move.text for move in walk.moves if move.act is Act.DIFFER]
    assert refused
    assert refused[0] in differed
    assert walk.state.finished


@pytest.mark.wide
@pytest.mark.parametrize("number", [386, 435, 437, 935])
def test_the_saws_of_the_proof_that_did_not_come_to_their_end_do_now(number: int, tmp_path: Path) -> None:
    found = with_program(case_of(1, number), tmp_path)
    assert found.fault == ""
    assert (found.places_lost, found.marks_lost) == (0, 0)
