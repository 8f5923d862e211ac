"""The words that can be typed line by line, and the acts they mean: the same acts as the keys of the bench."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from session.desk.key_names import printed
from session.desk.key_table import ACTS
from session.sentences.offers import Act, Offer

#: The word that says the whole moment again; it is no act, as it changes nothing.
SAY: Final = "say"

#: The words of each act that has words; the first is the one that is offered and told in the help.
_WORDS: Final = {row.act: row.words for row in ACTS if row.words}

#: A count of strokes, a grade or a choice; longer numbers are slips.
_NUMBER: Final = re.compile("[0-9]{1,3}")


def number_in(text: str) -> int | None:
    """The number that ``text`` is, 0 … 999, or None."""
    return int(text) if _NUMBER.fullmatch(text) else None


def meaning(text: str, keymap: Mapping[Act, tuple[str, ...]], offered: tuple[Offer, ...]) -> tuple[Act, str] | None:
    """The act that a typed line means and what stands after its word, or None.

    Capitals do not matter. An empty line is done, the advance key. What a key of ``keymap`` prints means what the
    key means; so does the word with which an act is offered just now, such as "understood".
    """
    if not text:
        return Act.DONE, ""
    lowered = text.casefold()
    by_sign = {printed(key): act for act, keys in keymap.items() for key in keys if act in _WORDS}
    for one in (text, lowered):
        if one in by_sign:
            return by_sign[one], ""
    known = {word: act for act, words in _WORDS.items() for word in words}
    known |= {offer.word: offer.act for offer in offered if offer.act in _WORDS}
    if lowered in known:
        return known[lowered], ""
    first, _, rest = text.partition(" ")
    act_first = known.get(first.casefold())
    return (act_first, rest.strip()) if act_first in _TAKES_MORE else None


#: Acts that open a question, so that its answer may stand on the same line.
_TAKES_MORE: Final = frozenset({Act.ANSWER, Act.LEAVE_OUT, Act.SET_PLACE, Act.MORE, Act.TERMS, Act.DIFFER})


def offered_in_words(offered: tuple[Offer, ...], *, choice: bool = False) -> str:
    """What can be typed now: "Enter (done), a number (strokes), back (take back), flag, help".

    choice: whether a number picks one of several answers.
    """
    shown = ["a number (your choice)"] if choice and not any(offer.digit > 0 for offer in offered) else []
    for offer in offered:
        if offer.digit > 0:
            shown.append(f"{offer.digit} ({offer.word})")
        elif offer.act is Act.STROKES:
            shown.append(f"a number ({offer.word})")
        elif offer.act is Act.DONE:
            shown.append(f"Enter ({offer.word})")
        elif offer.act in _WORDS:
            word = _WORDS[offer.act][0]
            shown.append(word if word == offer.word else f"{word} ({offer.word})")
    return ", ".join(shown)


def help_lines() -> tuple[str, ...]:
    """Every word with its meaning, one a line."""
    told = []
    for row in ACTS:
        if row.act is Act.STROKES:
            told.append(f"a number: {row.told}")
        elif row.words:
            word = f"Enter alone, or {row.words[0]}" if row.act is Act.DONE else row.words[0]
            told.append(f"{word}: {row.told}")
    told.append(f"{SAY}: say this moment again, all of it")
    told.append("What a key of the bench prints (b, l, p and so on) can be typed for its word.")
    told.append("The answer may follow on the same line, such as: out broken tooth.")
    return tuple(told)
