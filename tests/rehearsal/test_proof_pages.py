"""The proof's pages and its picture hold what the proof came to, misses among it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from session.rehearsal.proving.proof_figures import MEASURES
from session.rehearsal.proving.proof_text import BEGINS, ENDS, picture, short_text, whole_text, with_proof

CHECKOUT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def summary() -> dict[str, Any]:
    """The proof that the pages were made from."""
    found: dict[str, Any] = json.loads((CHECKOUT / "demo" / "proof.json").read_text(encoding="utf-8"))
    return found


def test_the_pages_hold_what_the_proof_came_to(summary: dict[str, Any]) -> None:
    for page, told in (("README.md", short_text), ("demo/README.md", whole_text)):
        text = (CHECKOUT / page).read_text(encoding="utf-8")
        assert with_proof(text, told(summary)) == text
    assert (CHECKOUT / "demo/pictures/proof.svg").read_text(encoding="utf-8") == picture(summary)


def test_targets_that_are_missed_stand_in_the_page_as_missed(summary: dict[str, Any]) -> None:
    text = whole_text(summary)
    assert text.count("- **missed**: ") >= sum(one["met"] is False for one in summary["targets"])
    for target in summary["targets"]:
        assert f"{target['name']}: {target['found']}" in text


def test_the_picture_has_a_mark_for_each_person_and_way(summary: dict[str, Any]) -> None:
    drawn = ElementTree.fromstring(picture(summary))
    marks = [one for one in drawn.iter() if one.tag.endswith(("circle", "rect"))]
    # One of them is the paper.
    assert len(marks) - 1 == 2 * sum(len(by_way) for by_way in summary["figures"].values())


def test_a_page_without_its_marks_is_refused() -> None:
    assert with_proof(f"a {BEGINS} old {ENDS} b", "new") == f"a {BEGINS}\nnew\n{ENDS} b"
    with pytest.raises(ValueError, match="the page has no"):
        with_proof(f"a {ENDS}", "new")


def test_each_measure_has_a_name_of_its_own() -> None:
    assert len({measure.name for measure in MEASURES}) == len(MEASURES)
