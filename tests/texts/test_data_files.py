"""Every entry of every data file: complete, short enough, plain, and with a source that can be looked up."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Any

import pytest

from session.texts import cautions, faults, sources, terms
from session.texts.steps import AskKind, step
from session.texts.word_files import NoEntryError, entry, table
from session.walk.stages import FACTS, Kind, Stage

#: The short names of the project's table of trade sources, written out a second time on purpose.
IDS = frozenset(
    {
        "NOYES",
        "KING",
        "GRIF",
        "ROSS",
        "SHEAR",
        "DREW",
        "FOSTER",
        "ZERBE",
        "SICK",
        "WHEEL",
        "MTS",
        "LAUGH",
        "SHOP1",
        "SHOP2",
        "SPON",
        "HOLTZ",
        "HASL",
        "SLOJD",
        "RECIPE",
        "PSM89",
        "FIT",
        "GOR",
        "FSMAN",
        "FSTOOL",
        "FSHAND",
        "TM9243",
        "OD0017",
        "NAVAV",
        "BS3159",
        "CFR1910.133",
        "CFR1915.133",
        "CFR1926.301",
        "OSHA3080",
        "Z535",
        "B1.1",
        "BWG",
    }
)
UNPUBLISHED = frozenset({"common practice, no source", "from memory", "derived", "judgment"})
FILES = ("cautions", "steps", "guidance", "faults", "terms", "saw_form", "tools", "printed_pages")

#: Spellings of the other side of the sea, and tests of sharpness nobody should make.
NOT_OURS = re.compile(
    r"\b(vice|levell\w+|colour\w*|neighbour\w*|metres?|millimetres?|centres?|grey|bevelled|ploughs?)\b"
    r"|thumb|fingertip|with (a|the|your) (finger|palm)|on (a|the|your) palm",
    re.IGNORECASE,
)


def entries() -> Iterator[tuple[str, dict[str, Any]]]:
    """Each table that holds sentences, with where it stands."""

    def walk(where: str, found: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
        if any(isinstance(value, str) for key, value in found.items()):
            yield where, found
        for key, value in found.items():
            if key == "asks":
                continue
            if isinstance(value, dict):
                yield from walk(f"{where}.{key}", value)
            elif isinstance(value, list):
                for number, item in enumerate(value):
                    if isinstance(item, dict):
                        yield from walk(f"{where}.{key}[{number}]", item)

    for name in FILES:
        yield from walk(name, table(name))


ENTRIES = list(entries())
SENTENCES = [
    (f"{where}.{key}", value) for where, found in ENTRIES for key, value in found.items() if isinstance(value, str)
]


def test_there_is_something_to_check() -> None:
    assert len(ENTRIES) > 120
    assert {where.split(".")[0] for where, _ in ENTRIES} == set(FILES)


@pytest.mark.parametrize(("where", "found"), ENTRIES, ids=[where for where, _ in ENTRIES])
def test_every_entry_names_a_source_that_exists(where: str, found: dict[str, Any]) -> None:
    if re.fullmatch(r"faults\.[^.\[]+", where):
        assert found["causes"], "a fault's sources stand with its causes"
        return
    assert found["source"]
    for part in found["source"]:
        assert ";" not in part
        assert part in UNPUBLISHED or part.split()[0] in IDS


@pytest.mark.parametrize(("where", "text"), SENTENCES, ids=[where for where, _ in SENTENCES])
def test_texts_are_plain_short_and_in_our_spelling(where: str, text: str) -> None:
    assert text == text.strip()
    assert text
    assert not [sign for sign in text if unicodedata.category(sign).startswith("C") or sign in "[]{}<>`*"]
    assert not NOT_OURS.search(text)
    assert "!" not in text
    assert len(text) <= (140 if where.startswith("terms.") else 85)


def test_sources_file_has_exactly_the_known_ids() -> None:
    assert set(table("sources")) == IDS
    assert set(sources.UNPUBLISHED) == UNPUBLISHED


def test_an_unknown_name_is_told_what_there_is() -> None:
    with pytest.raises(NoEntryError, match=r'no "ears"; allowed: .*eyes'):
        cautions.caution("ears")
    with pytest.raises(NoEntryError, match="allowed: sight, needle, trial cut"):
        entry("steps", "prove", "taste")


class TestCautions:
    def test_names_are_those_of_the_stages(self) -> None:
        named = {name for facts in FACTS.values() for name in facts.cautions}
        assert set(table("cautions")) == named

    @pytest.mark.parametrize("name", table("cautions"))
    def test_each_is_whole_and_fits(self, name: str) -> None:
        found = cautions.caution(name)
        assert found.signal in ("WARNING", "CAUTION", "NOTICE")
        assert 0 < len(found.in_effect) <= 24
        for sentence in (found.hazard, found.consequence, found.avoid):
            assert sentence.endswith(".")
            assert len(sentence) <= 80
        assert len({found.hazard, found.consequence, found.avoid}) == 3

    def test_notice_is_for_steel_and_the_other_words_for_people(self) -> None:
        steel = {"hard teeth", "low in the vise", "bend once", "bend shallow"}
        assert {name for name in table("cautions") if cautions.caution(name).signal == "NOTICE"} == steel

    def test_local_rules_come_first(self) -> None:
        assert "local rules" in cautions.caution("teaching").avoid


STEPS = [(stage, name) for stage, facts in FACTS.items() for name in facts.steps]


class TestSteps:
    def test_names_are_those_of_the_stages(self) -> None:
        ours = {(stage, name) for stage, found in table("steps").items() for name in found}
        assert ours == {(stage.value, name) for stage, name in STEPS}

    @pytest.mark.parametrize(("stage", "name"), STEPS)
    def test_one_action_verb_first_condition_before_it(self, stage: Stage, name: str) -> None:
        found = step(stage, name)
        # Verbs that these steps begin with; another is welcome here once it has been looked at.
        verbs = {
            "Count",
            "Close",
            "Sight",
            "Look",
            "Turn",
            "Say",
            "Read",
            "Saw",
            "Brush",
            "Wipe",
            "Put",
            "Change",
            "Take",
            "Measure",
            "Try",
            "Slide",
        }
        assert found.do.split()[0] in verbs or re.match(r"If .+, [a-z]+ ", found.do)
        assert found.do.count(".") == 1
        assert " if " not in found.do
        assert "then" not in found.do.split()

    @pytest.mark.parametrize(("stage", "name"), STEPS)
    def test_a_question_has_what_its_kind_needs(self, stage: Stage, name: str) -> None:
        asks = step(stage, name).asks
        if asks is None:
            assert stage is Stage.CLOSE or name == "plan"
            return
        assert asks.what
        kinds = (AskKind.CHOICE, AskKind.CHOICES, AskKind.NAME, AskKind.COUNT, AskKind.FLATS, AskKind.CUT)
        with_choices = asks.kind in kinds
        assert (len(asks.choices) > 1) is with_choices
        assert len(set(asks.choices)) == len(asks.choices)

    def test_kinds_of_the_look_over(self) -> None:
        kinds = {name: step(Stage.LOOK_OVER, name).asks for name in FACTS[Stage.LOOK_OVER].steps}
        assert {name: asks.kind for name, asks in kinds.items() if asks is not None} == {
            "bright points": AskKind.CHOICE,
            "last cut": AskKind.CHOICE,
            "grain": AskKind.CHOICE,
            "wood": AskKind.NAME,
            "wanders to": AskKind.CHOICE,
            "all round": AskKind.CHOICE,
            "plate": AskKind.CHOICES,
            "handle": AskKind.CHOICE,
            "crack": AskKind.CRACK,
            "hard teeth": AskKind.CHOICE,
            "sizes": AskKind.CHOICE,
            "high teeth": AskKind.TEETH,
            "low teeth": AskKind.TEETH,
            "broken teeth": AskKind.TEETH,
            "line": AskKind.CHOICE,
            "line gap": AskKind.LENGTH,
            "over the set": AskKind.WIDTHS,
            "points": AskKind.COUNT,
            "lean": AskKind.CHOICE,
            "file": AskKind.FILE,
        }

    def test_a_trial_cut_that_went_wrong_names_a_fault(self) -> None:
        asks = step(Stage.PROVE, "trial cut").asks
        assert asks is not None
        assert asks.kind is AskKind.CUT
        assert set(asks.choices) - {"good"} <= set(faults.names())


class TestTerms:
    def test_in_the_order_of_the_alphabet_without_doubles(self) -> None:
        found = terms.search("")
        assert [item.name for item in found] == sorted(terms.names())
        every = [name.casefold() for item in found for name in (item.name, *item.also)]
        assert len(every) == len(set(every))

    def test_other_names_lead_to_the_same_term(self) -> None:
        leveling = terms.search("leveling")[0]
        assert {"jointing", "topping"} <= set(leveling.also)
        assert leveling in terms.search("Jointing")
        assert leveling in terms.search(" topping ")
        assert "points per inch" in [item.name for item in terms.search("PPI")]
        with pytest.raises(NoEntryError, match="allowed: anvil, back, "):
            entry("terms", "sprocket")

    def test_search_finds_names_before_meanings_and_all_for_nothing(self) -> None:
        found = [item.name for item in terms.search("burr")]
        assert found[0] == "burr"
        assert "dressing the sides" in found
        assert len(terms.search("")) == len(terms.names())
        assert terms.search("sprocket") == ()
        assert [item.name for item in terms.search("PER points 25")] == ["points per 25 mm"]

    @pytest.mark.parametrize("name", terms.names())
    def test_one_or_two_sentences(self, name: str) -> None:
        means = entry("terms", name)["means"]
        assert means.endswith(".")
        assert 1 <= len(re.findall(r"[.;](?=\s|$)", means)) <= 3

    def test_the_stages_own_words_are_explained(self) -> None:
        for word in ("leveling", "reshaping", "set", "dress", "trial cut", "gullet", "fleam", "slope", "rake", "reach"):
            assert word in terms.search(word)[0].name

    def test_kinds_of_place_need_no_more_than_their_names(self) -> None:
        assert {kind.value for kind in Kind} == {"step", "pass", "tooth", "gullet"}
        assert "pass" in terms.names()
