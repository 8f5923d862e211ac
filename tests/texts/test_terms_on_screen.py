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
        ("The line is crowned, the tooth leaning; file it, pressing lightly.", ["crown", "tooth", "lean", "press"]),
        ("The saw set's plunger bends it over the anvil.", ["saw set", "plunger", "anvil"]),
        (
            "The mill file by its tang; the oilstone; a stump; the trough; its face; a thou.",
            [
                "mill file",
                "tang",
                "stone",
                "broken tooth",
                "trough",
                "face",
                "thou",
            ],
        ),
        ("", []),
    ],
)
def test_terms_are_found_as_whole_words_in_the_order_they_stand(text: str, used: list[str]) -> None:
    assert [term.name for term in terms.within(text)] == used


@given(st.sampled_from(terms.names()), st.booleans())
def test_every_term_is_found_by_its_own_name(name: str, several: bool) -> None:
    ending = "" if not several else "es" if name.endswith("ss") else "" if name.endswith(("s", " mm")) else "s"
    found = [term.name for term in terms.within(f"Look: {name}{ending}.")]
    assert name in found or any(name in other for other in found)


@given(st.text())
def test_any_text_gives_each_term_once(text: str) -> None:
    found = [term.name for term in terms.within(text)]
    assert len(found) == len(set(found))


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        ("point", "point"),
        ("back", "back"),
        ("set", "set"),
        ("TPI", "teeth per inch"),
        ("gullets", "gullet"),
        ("passes", "pass"),
        ("leaning", "lean"),
        ("wandering", "wander"),
        ("ripped", "rip"),
        ("crowned", "crown"),
        ("faces", "face"),
        ("screeches", "file chatters"),
    ],
)
def test_a_word_leads_to_the_term_so_called_then_to_that_of_which_it_is_a_form(asked: str, first: str) -> None:
    assert terms.search(asked)[0].name == first


@given(st.sampled_from(terms.names()))
def test_the_exact_name_comes_before_all_that_hold_it(name: str) -> None:
    assert terms.search(f" {name.upper()} ")[0].name == name
