"""The words that can be typed line by line, and the acts they mean: the same acts as the keys of the bench."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from session.desk.key_table import MEANINGS
from session.sentences.offers import Act, Offer

#: The words for each act; the first is the one that is offered and told in the help.
WORDS: Final[dict[Act, tuple[str, ...]]] = {
    Act.DONE: ("done", "d"),
    Act.AGREE: ("y", "yes"),
    Act.DIFFER: ("n", "no"),
    Act.TAKE_BACK: ("back", "take back"),
    Act.LOOK_BACK: ("look", "look back"),
    Act.FLAG: ("flag",),
    Act.LEAVE_OUT: ("out", "leave out"),
    Act.PAUSE: ("pause", "esc", "escape"),
    Act.ANSWER: ("answer",),
    Act.MORE: ("more",),
    Act.SET_PLACE: ("place",),
    Act.GUIDANCE: ("guidance",),
    Act.TERMS: ("terms", "term"),
    Act.HELP: ("help",),
    Act.QUIT: ("quit",),
}

#: The word that says the whole moment again; it is no act, as it changes nothing.
SAY: Final = "say"

#: Keys whose name is not the character they print.
_CHARACTERS: Final = {"full_stop": ".", "question_mark": "?", "plus": "+", "minus": "-", "comma": ",", "slash": "/"}

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
    printed = {_CHARACTERS.get(key, key): act for act, keys in keymap.items() for key in keys if act in WORDS}
    for one in (text, lowered):
        if len(one) == 1 and one in printed:
            return printed[one], ""
    known = {word: act for act, words in WORDS.items() for word in words}
    known |= {offer.word: offer.act for offer in offered if offer.act in WORDS}
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
    shown = ["a number (your choice)"] if choice else []
    for offer in offered:
        if offer.act is Act.STROKES:
            shown.append(f"a number ({offer.word})")
        elif offer.act is Act.DONE:
            shown.append(f"Enter ({offer.word})")
        elif offer.act in WORDS:
            word = WORDS[offer.act][0]
            shown.append(word if word == offer.word else f"{word} ({offer.word})")
    return ", ".join(shown)


def help_lines() -> tuple[str, ...]:
    """Every word with its meaning, one a line."""
    told = []
    for act, meant in MEANINGS.items():
        if act is Act.STROKES:
            told.append(f"a number: {meant}")
        elif act in WORDS:
            word = f"Enter alone, or {WORDS[act][0]}" if act is Act.DONE else WORDS[act][0]
            told.append(f"{word}: {meant}")
    told.append(f"{SAY}: say this moment again, all of it")
    told.append("What a key of the bench prints (b, l, p and so on) can be typed for its word.")
    told.append("The answer may follow on the same line, such as: out broken tooth.")
    return tuple(told)
