"""The terms that a sentence uses, so that they can be looked up by a digit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.texts import terms


@pytest.mark.parametrize(
    ("text", "used"),
    [
        ("File the gullets until the flat just goes.", ["gullet", "flat"]),
        ("FLEAM first, then rake.", ["fleam", "rake"]),
        ("A bright point and a shiny tip", ["bright point"]),
        ("A flattened thing, and heels over head", ["heel"]),
        ("", []),
    ],
)
def test_terms_are_found_as_whole_words_in_the_order_they_stand(text: str, used: list[str]) -> None:
    assert [term.name for term in terms.within(text)] == used


@given(st.sampled_from(terms.names()), st.sampled_from(["", "s"]))
def test_every_term_is_found_by_its_own_name(name: str, several: str) -> None:
    found = [term.name for term in terms.within(f"Look: {name}{several}.")]
    assert name in found or any(name in other for other in found)


@given(st.text())
def test_any_text_gives_each_term_once(text: str) -> None:
    found = [term.name for term in terms.within(text)]
    assert len(found) == len(set(found))
