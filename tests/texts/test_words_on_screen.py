"""Every word that a screen shows is a term of the trade that can be looked up, or a plain one of `plain_words.txt`.

The goldens of the bench and of the practice are those screens as text. A new word goes into terms.toml where somebody
who never sharpened a saw would have to ask for it, else into the list beside this test.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from session.texts import terms
from session.texts.word_files import table

GOLDENS = tuple(Path(__file__).parents[1] / room / "goldens" for room in ("app", "practice"))
PLAIN_WORDS = Path(__file__).with_name("plain_words.txt")

#: Two letters and more, no part of the name of a file: single ones are keys and ways to lean.
WORD = re.compile(r"(?<![\w…-])[A-Za-z]{2,}(?:-[A-Za-z]+)*(?![\w…])")

#: The short names of printed works, which sources.toml tells in full.
SOURCES = frozenset(part for name in table("sources") for part in re.findall(r"[a-z]+", name.casefold()))

#: The edges of a sheet.
EDGES = frozenset("│╭╮╰╯")


def plain_words() -> frozenset[str]:
    """The words of the list, without its comments."""
    lines = PLAIN_WORDS.read_text(encoding="utf-8").splitlines()
    return frozenset(word for line in lines if not line.startswith("#") for word in line.split())


def words_of(row: str) -> Iterator[str]:
    """The words of one row of a screen, but the rests of those that the edge of a sheet covers."""
    buttons = re.match(r"│\S", row)
    for found in WORD.finditer(row):
        beside = {row[max(0, found.start() - 1) : found.start()], row[found.end() : found.end() + 1]}
        if buttons or not beside & EDGES:
            yield found.group().casefold()


def known(word: str, plain: frozenset[str]) -> bool:
    """Whether a person need not ask for ``word``, or can look it up; of one with hyphens its parts will do."""
    parts = [word, *word.split("-")] if "-" in word else [word]
    one = [part in plain or part in SOURCES or bool(terms.within(part)) for part in parts]
    return one[0] or (len(one) > 1 and all(one[1:]))


SCREENS = sorted(screen for folder in GOLDENS for screen in folder.glob("*.txt"))


def test_there_are_screens_to_walk() -> None:
    assert len(SCREENS) > 100


@pytest.mark.parametrize("screen", SCREENS, ids=[screen.stem for screen in SCREENS])
def test_every_word_is_a_term_or_plain(screen: Path) -> None:
    plain = plain_words()
    rows = enumerate(screen.read_text(encoding="utf-8").splitlines(), 1)
    strange = [
        f'{screen.name}, row {number}: "{word}"'
        for number, row in rows
        for word in words_of(row)
        if not known(word, plain)
    ]
    assert not strange, f"neither in terms.toml nor in {PLAIN_WORDS.name}: {'; '.join(strange)}"


@pytest.mark.parametrize("word", ["anvil", "plunger", "crowned", "leaning", "tang", "stump", "face", "trough", "thou"])
def test_a_word_of_the_trade_is_a_term_and_not_on_the_plain_list(word: str) -> None:
    assert word not in plain_words()
    assert terms.within(word)


def test_a_word_in_neither_is_found_and_a_covered_one_is_not_looked_at() -> None:
    plain = frozenset({"the"})
    assert list(words_of(" the sprocket… el│ the SPROCKET")) == ["the", "the", "sprocket"]
    assert list(words_of("│Space done││l leave out│")) == ["space", "done", "leave", "out"]
    assert [known(word, plain) for word in ("the", "gullets", "sprocket", "the-gullet", "the-sprocket")] == [
        True,
        True,
        False,
        True,
        False,
    ]
