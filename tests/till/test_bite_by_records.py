"""The bite and the pace that past sharpenings teach, by saw and by file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawn_teeth import OLD_GRADES, PANEL
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.line_facts import LineFacts
from session.log.log_bytes import LogStanding, make_header
from session.log.mark_block import encode
from session.log.summary import Summary, bite_from_dict, bite_to_dict, closing
from session.till import learned_bite as bite_module
from session.till.known_saws import KnownSaw
from session.till.learned_bite import LEARN_LAST_SHARPENINGS, bite_of, known_bites, learned_bite
from session.till.learned_pace import pace_kept
from session.till.past_sharpening import Sharpening
from session.till.saw_history import history
from session.till.till_folder import Till
from session.trade.strokes import DEFAULT_BITE, LEAST_BITE_MM3, MOST_BITE_MM3, Bite, bite_of_days
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

RECIPE = load_recipe(find_recipe("crosscut-panel", []))
SAW = RECIPE.saw
SLUG = "crosscut-panel-saw"
DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)

#: Steel of a gullet between two flats of grade 2 on an even line, by what is drawn of it.
SMALL_MM3 = PANEL.steel(OLD_GRADES[2])

Write = Callable[..., Path]

bites = st.tuples(st.floats(0.01, 1.0), st.floats(1.0, 2.0), st.floats(1.0, 2.0), st.integers(5, 40)).map(
    lambda drawn: Bite(drawn[0], drawn[0] / drawn[1], drawn[0] * drawn[2], drawn[3])
)


def taught(bite: Bite | None, file: str | None = None, **more: Any) -> Sharpening:
    """A finished sharpening whose last block tells ``bite``."""
    measured = {} if file is None else {"file": (file, None)}
    summary = Summary(bite=bite, measured=measured, last=DAY0, **more)
    return Sharpening(path=Path("log.toml"), header={}, state=LogStanding.FINISHED, odd="", summary=summary)


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """A finished sharpening in the till ``tmp_path``; as an older version wrote it when ``told`` is None."""

    def make(
        day: int,
        *,
        strokes: int = 2,
        grade: int | None = 2,
        file: str | None = None,
        saw: str = SLUG,
        told: Bite | None = None,
        gullets: int = 20,
    ) -> Path:
        steps: list[dict[str, Any]] = []
        if file is not None:
            steps.append({"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "what": "file", "value": file})
        steps.append({"did": Did.DONE, "stage": Stage.LEVEL, "number": 1})
        if grade is not None:
            line = range(1, SAW.points + 1)
            steps += [{"did": Did.DONE, "stage": Stage.LEVEL, "tooth": n, "value": grade} for n in line]
        steps += [
            {"did": Did.DONE, "stage": Stage.FILE, "side": 1 if n % 2 else 2, "tooth": n, "strokes": strokes}
            for n in range(1, gullets + 1)
        ]
        begun = DAY0 + timedelta(days=day)
        marks = [Mark(seq=n, at=begun + timedelta(seconds=6 * n), **one) for n, one in enumerate(steps, 1)]
        end = Mark(seq=len(marks) + 1, at=marks[-1].at + timedelta(seconds=6), did=Did.FINISHED)
        marks.append(closing(Account.of(marks), end, told))
        plan = make_plan(SAW).to_dict()
        header = {"session": {"started": begun, "saw": SAW.name}, "recipe": RECIPE.values, "plan": plan}
        path = tmp_path / "logs" / saw / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
        return path

    return make


def finished(till: Path, saw: str = SLUG) -> tuple[Sharpening, ...]:
    return history([Till(till)], KnownSaw(saw, saw)).finished


def test_without_records_the_bite_is_from_memory(tmp_path: Path) -> None:
    assert learned_bite(()) is DEFAULT_BITE
    known = known_bites(Till(tmp_path), SAW.name)
    assert known.of(None) is known.of("loft taper") is DEFAULT_BITE
    assert list(tmp_path.iterdir()) == []


def test_an_older_log_is_read_whole_for_it(tmp_path: Path, write: Write) -> None:
    write(0, strokes=2)
    (one,) = finished(tmp_path)
    assert one.summary.bite is None
    assert bite_of(one).mm3 == pytest.approx(SMALL_MM3 / 2, rel=1e-4)
    assert bite_of(one).gullets == 20


def test_a_log_that_tells_its_bite_is_not_read_whole(
    tmp_path: Path, write: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = Bite(0.123, 0.1, 0.15, 31)
    write(0, told=told)
    write(1, told=DEFAULT_BITE)
    write(2, grade=None)
    monkeypatch.setattr(bite_module, "read_log", lambda path: pytest.fail(f"{path} was read from end to end"))
    assert [bite_of(one) for one in finished(tmp_path)] == [told, DEFAULT_BITE, DEFAULT_BITE]
    assert learned_bite(finished(tmp_path)) == bite_of_days([told])


def test_a_log_that_cannot_be_replayed_teaches_nothing(tmp_path: Path, write: Write) -> None:
    write(0)
    (one,) = finished(tmp_path)
    for header in ({}, {**one.header, "plan": {"points": "many"}}, {**one.header, "plan": 3}):
        assert bite_of(replace(one, header=header)) is DEFAULT_BITE
    one.path.unlink()
    assert bite_of(one) is DEFAULT_BITE


def test_a_file_has_its_own_bite_and_the_saw_the_middle_of_them(tmp_path: Path, write: Write) -> None:
    write(0, strokes=3, file="Loft taper")
    write(1, strokes=6, file="needle")
    write(2, strokes=2)
    known = known_bites(Till(tmp_path), SAW.name)
    assert known.of("loft  TAPER").mm3 == pytest.approx(SMALL_MM3 / 3, rel=1e-4)
    assert known.of("needle").mm3 == pytest.approx(SMALL_MM3 / 6, rel=1e-4)
    assert known.of(None) == known.of("never used") == known.any_file
    assert known.any_file.mm3 == pytest.approx(SMALL_MM3 / 3, rel=1e-4)
    assert known.any_file.low_mm3 <= SMALL_MM3 / 6 * (1 + 1e-4)
    assert known.any_file.high_mm3 >= SMALL_MM3 / 2 * (1 - 1e-4)
    assert known.any_file.gullets == 60


def test_on_a_saw_without_records_another_saws_tell_of_the_file(tmp_path: Path, write: Write) -> None:
    write(0, strokes=4, file="needle", saw="slip-rip-saw")
    known = known_bites(Till(tmp_path), SAW.name)
    assert known.of("needle").mm3 == pytest.approx(SMALL_MM3 / 4, rel=1e-4)
    assert known.of(None) is DEFAULT_BITE
    write(1, strokes=2)
    assert known_bites(Till(tmp_path), SAW.name).of("needle").mm3 == pytest.approx(SMALL_MM3 / 2, rel=1e-4)


@pytest.mark.parametrize("later", ["cabin-saw", "yard-saw"])
def test_of_other_saws_the_last_sharpenings_count_whichever_saw_they_were_of(
    tmp_path: Path, write: Write, later: str
) -> None:
    for number in range(LEARN_LAST_SHARPENINGS):
        for saw in ("cabin-saw", "yard-saw"):
            mm3 = 0.3 if saw == later else 0.1
            day = number + (200 if saw == later else 0)
            write(day, saw=saw, file="needle", told=Bite(mm3, mm3, mm3, 20))
    assert known_bites(Till(tmp_path), SAW.name).of("needle").mm3 == pytest.approx(0.3)


def test_a_till_that_cannot_be_read_leaves_the_memory(tmp_path: Path) -> None:
    (tmp_path / "logs").write_text("no folder")
    assert known_bites(Till(tmp_path), SAW.name).of(None) is DEFAULT_BITE
    assert known_bites(Till(tmp_path), "\0").of(None) is DEFAULT_BITE


def test_only_the_last_sharpenings_are_learned_from() -> None:
    old, new = Bite(0.5, 0.4, 0.6, 40), Bite(0.1, 0.09, 0.11, 40)
    many = [taught(old)] * 7 + [taught(new), taught(DEFAULT_BITE)] * LEARN_LAST_SHARPENINGS
    assert learned_bite(many) == bite_of_days([new] * LEARN_LAST_SHARPENINGS)
    assert learned_bite(many).mm3 == new.mm3
    assert learned_bite(many).high_mm3 < old.low_mm3


@given(st.lists(bites, min_size=1, max_size=4))
def test_every_middle_lies_in_the_spread_in_whatever_order(told: list[Bite]) -> None:
    together = learned_bite([taught(bite) for bite in told])
    assert together.low_mm3 <= min(bite.mm3 for bite in told) <= together.mm3
    assert together.mm3 <= max(bite.mm3 for bite in told) <= together.high_mm3
    assert together.gullets == sum(bite.gullets for bite in told)
    assert {learned_bite([taught(bite) for bite in order]) for order in permutations(told)} == {together}
    if len(told) == 1:
        # Another day differs from the one that is known, so its range is wider than that of one day's gullets.
        (one,) = told
        assert together.mm3 == pytest.approx(one.mm3)
        assert together.low_mm3 < one.low_mm3 or together.low_mm3 == LEAST_BITE_MM3
        assert together.high_mm3 > one.high_mm3 or together.high_mm3 == MOST_BITE_MM3


@given(bites)
def test_a_bite_is_read_back_as_it_was_written(bite: Bite) -> None:
    again = bite_from_dict(bite_to_dict(bite))
    assert again.gullets == bite.gullets
    assert (again.mm3, again.low_mm3, again.high_mm3) == pytest.approx(
        (bite.mm3, bite.low_mm3, bite.high_mm3), abs=1e-6
    )


@pytest.mark.parametrize(
    "wrong",
    [
        *(3, [], {}, {"gullets": -1}, {"gullets": True}, {"gullets": 5}),
        {"mm3": "0.1", "low_mm3": 0.1, "high_mm3": 0.1, "gullets": 5},
        {"mm3": 0.1, "low_mm3": 0.2, "high_mm3": 0.3, "gullets": 5},
        {"mm3": 0.1, "low_mm3": LEAST_BITE_MM3 / 2, "high_mm3": 0.3, "gullets": 5},
        {"mm3": 0.1, "low_mm3": 0.1, "high_mm3": MOST_BITE_MM3 * 2, "gullets": 5},
    ],
)
def test_a_bite_that_makes_no_sense_is_refused(wrong: Any) -> None:
    with pytest.raises(ValueError, match=r".+"):
        bite_from_dict(wrong)


def paced(minutes: float, done: dict[str, int], graded: int = 0) -> Sharpening:
    line = LineFacts(flats={1: (0, 0, graded, 0, 0)} if graded else {})
    return taught(None, minutes=minutes, done=done, line=line)


def test_the_pace_is_the_median_of_minutes_a_place() -> None:
    assert pace_kept(()).minutes_for(100) is None
    told = [
        paced(10.0, {"file": 80, "level": 20}),
        paced(30.0, {"file": 80, "level": 20}),
        # Grading takes its time and is no place of the plan.
        paced(20.0, {"file": 80, "level": 100}, graded=80),
    ]
    assert pace_kept(told).known == 3
    assert pace_kept(told).minutes_for(200) == pytest.approx(40.0)
    between = pace_kept(told).range_for(200)
    assert between is not None
    assert between[0] < 40.0 < between[1]
    # Paces of a half to one and a half leave more open than three that agree.
    agreed = pace_kept([told[2]] * 3).range_for(200)
    assert agreed is not None
    assert agreed[1] - agreed[0] < between[1] - between[0]
    assert pace_kept(()).range_for(100) is None


def test_the_pace_of_an_even_count_is_midway_between_the_two_in_the_middle() -> None:
    told = [paced(minutes, {"file": 100}) for minutes in (100.0, 10.0, 30.0, 20.0)]
    assert pace_kept(told).known == 4
    assert pace_kept(told).minutes_for(100) == pytest.approx(25.0)


@pytest.mark.parametrize("one", [paced(0.0, {"file": 80}), paced(9.0, {"set": 80}), paced(9.0, {"file": 4})])
def test_records_that_tell_no_pace(one: Sharpening) -> None:
    assert pace_kept([one]).minutes_for(100) is None


@given(st.floats(0.1, 500.0), st.integers(5, 400), st.integers(1, 900))
def test_the_same_work_again_takes_as_long(minutes: float, gullets: int, others: int) -> None:
    pace = pace_kept([paced(minutes, {"file": gullets, "set": others})])
    assert pace.minutes_for(gullets + others) == pytest.approx(minutes)
