"""A mark goes to the log's keys and comes back, and a wrong key is named."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.walk.mark import KEYS, Did, Mark
from session.walk.stages import Stage

AT = datetime(2024, 3, 4, 8, 0, tzinfo=UTC)
GOOD: dict[str, Any] = {"seq": 4, "at": AT, "did": "done", "stage": "file", "side": 1, "tooth": 3, "strokes": 2}

texts = st.one_of(st.none(), st.text(max_size=8))
counts = st.one_of(st.none(), st.integers(0, 3000))
marks = st.builds(
    Mark,
    seq=st.integers(1, 9999),
    at=st.datetimes(timezones=st.sampled_from([UTC, timezone(timedelta(hours=5, minutes=45))])),
    did=st.sampled_from(Did),
    stage=st.one_of(st.none(), st.sampled_from(Stage)),
    side=counts,
    tooth=counts,
    strokes=counts,
    step=texts,
    reason=texts,
    what=texts,
    value=st.one_of(st.none(), st.booleans(), st.integers(), st.floats(allow_nan=False), st.text(max_size=8)),
    of=counts,
    extra=st.dictionaries(st.text(min_size=1, max_size=8).filter(lambda key: key not in KEYS), st.integers()),
)


@given(marks)
def test_a_mark_comes_back_from_its_keys(mark: Mark) -> None:
    values = mark.to_dict()
    assert None not in values.values()
    assert Mark.from_dict(values) == mark


def test_values_are_plain() -> None:
    values = Mark(seq=1, at=AT, did=Did.LEFT_OUT, stage=Stage.LOOK_OVER).to_dict()
    assert type(values["did"]) is str
    assert type(values["stage"]) is str
    assert list(values) == ["seq", "at", "did", "stage"]


@pytest.mark.parametrize("key", ["seq", "at", "did"])
@pytest.mark.parametrize("how", ["missing", "empty"])
def test_a_mark_without_what_every_mark_has_is_refused(key: str, how: str) -> None:
    values = {**GOOD, key: None} if how == "empty" else {k: v for k, v in GOOD.items() if k != key}
    with pytest.raises(ValueError, match=f"a mark without {key}"):
        Mark.from_dict(values)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("seq", "4"),
        ("seq", True),
        ("seq", 4.0),
        ("at", "2024-03-04"),
        ("at", AT.replace(tzinfo=None)),
        ("did", 3),
        ("did", ""),
        ("stage", "two\nlines"),
        ("stage", "x" * 61),
        ("stage", 1),
        ("side", True),
        ("tooth", 2.5),
        ("strokes", "two"),
        ("reason", 7),
        ("value", [1]),
        ("of", "4"),
        ("many", 12),
    ],
)
def test_a_wrong_key_is_named(key: str, value: Any) -> None:
    with pytest.raises(ValueError, match=rf"^{key}\b"):
        Mark.from_dict({**GOOD, key: value})


def test_a_text_that_is_no_word_is_told_what_is_allowed() -> None:
    with pytest.raises(ValueError, match=r"^stage: ' polish' is no word; allowed: look over, .*close, or a"):
        Mark.from_dict({**GOOD, "stage": " polish"})


def test_words_of_another_version_are_kept() -> None:
    mark = Mark.from_dict({**GOOD, "did": "polished", "stage": "wax"})
    assert (mark.did.known, mark.stage is not None and mark.stage.known) == (False, False)
    assert mark.to_dict() == {**GOOD, "did": "polished", "stage": "wax"}
    assert mark == Mark.from_dict(mark.to_dict())
    assert "polished" not in list(Did)
    assert "wax" not in list(Stage), "no file makes the list of what this version does any longer"
