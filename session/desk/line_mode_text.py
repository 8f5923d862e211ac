"""A moment's words as lines of plain text: what changed since the moment before, in ASCII signs of ours."""

from __future__ import annotations

import re
from typing import Final

from session.desk.line_mode_words import offered_in_words
from session.sentences.saying import Saying
from session.value_class import dataclass
from session.walk.front_question import Ask

#: Our own signs that a screen reader stumbles over or a simple terminal lacks; letters are left alone.
_SIGNS: Final = {
    " · ": ", ",
    "·": "-",
    "–": "-",
    "—": "-",
    "−": "-",
    "…": "...",
    "“": '"',
    "”": '"',
    "‘": "'",
    "’": "'",
    "″": '"',
    "×": "x",
    "°": " degrees",
    "²": "2",
    "³": "3",
    "½": "1/2",
    "≤": "at most",
    "≥": "at least",
    "±": "+/-",
    "→": "->",
    "←": "<-",
    "⌫": "Backspace",
    "│": "|",
}
_ANY_SIGN: Final = re.compile("|".join(map(re.escape, sorted(_SIGNS, key=len, reverse=True))))

#: The ticks of the turn, item by item.
_TICK: Final = re.compile(r"\s*([■◆·]) (\w+)")
_TICKS: Final = {"■": "done", "◆": "now", "·": "to come"}


def in_ascii(text: str) -> str:
    """``text`` with our signs written in ASCII."""
    return _ANY_SIGN.sub(lambda sign: _SIGNS[sign[0]], text)


@dataclass(frozen=True, slots=True)
class Spoken:
    """What is said, as separate pieces of text, so that each can be compared with the one before."""

    ask: Ask
    saw: str
    head: str
    title: str
    lines: tuple[str, ...]
    choices: tuple[str, ...]
    place: str
    around: str
    ahead: str
    left: str
    instruction: str
    effect: str
    offers: str


def spoken(saying: Saying) -> Spoken:
    """The pieces of ``saying``."""
    lines = saying.lines
    if saying.ask in (Ask.TURN, Ask.FIT) and lines:
        ticks = "; ".join(f"{item}: {_TICKS[sign]}" for sign, item in _TICK.findall(lines[0]))
        lines = (ticks, *lines[1:])
    left = f", {saying.out} left out" if saying.out else ""
    offered = offered_in_words(saying.offers, choice=bool(saying.choices))
    return Spoken(
        ask=saying.ask,
        saw=in_ascii(saying.saw),
        head=_head(saying),
        title=in_ascii(f"{saying.title}.") if saying.title else "",
        lines=tuple(in_ascii(line) for line in lines if line),
        choices=tuple(in_ascii(f"{number}: {choice}") for number, choice in enumerate(saying.choices, 1)),
        place=in_ascii(_place(saying)),
        around=in_ascii(
            f"Before: {saying.previous}. Next: {saying.next}."
            f" Done: {saying.done} of {saying.total} in this stage{left}."
        ),
        ahead=in_ascii(f"Ahead: {saying.ahead}." if saying.ahead else ""),
        left=in_ascii(f"Time: {saying.left}." if saying.left else ""),
        instruction=in_ascii(saying.instruction),
        effect=in_ascii(f"In effect: {'; '.join(saying.in_effect)}." if saying.in_effect else ""),
        offers=f"Type: {in_ascii(offered)}." if saying.ask is not Ask.FINISHED else "",
    )


def fresh(now: Spoken, before: Spoken | None) -> list[str]:
    """The lines of ``now`` to say after ``before``; all of them when there was nothing before.

    What is asked is said whole when it is another thing than before: a caution is never said in part (bench
    rule 1). Within the same thing only what changed is said. The time left changes always, so it waits to be asked.
    """
    if before is None:
        return [line for line in (now.saw, *_whole(now)) if line]
    other = (now.ask, now.title) != (before.ask, before.title)
    # Two cautions in a row may bear the same signal word.
    other = other or (now.ask is Ask.CAUTION and now.lines != before.lines)
    said: list[str] = [now.head] if now.head != before.head else []
    if other:
        said += [now.title, *now.lines, *now.choices]
    else:
        said += [line for line in (*now.lines, *now.choices) if line not in (*before.lines, *before.choices)]
    pairs = ((now.place, before.place), (now.around, before.around), (now.ahead, before.ahead))
    said += [new for new, old in pairs if new != old]
    if other or now.instruction != before.instruction:
        said.append(now.instruction)
    said += [new for new, old in ((now.effect, before.effect), (now.offers, before.offers)) if new != old]
    return [line for line in said if line]


def _whole(now: Spoken) -> tuple[str, ...]:
    work = (now.place, now.around, now.ahead, now.left, now.instruction, now.effect, now.offers)
    return (now.head, now.title, *now.lines, *now.choices, *work)


def _head(saying: Saying) -> str:
    if saying.stage is None:
        # Not "finished" before the last word is given (bench rule 16).
        return "" if saying.ask is Ask.FINISHED else "All stages are done."
    side = f", {saying.side_words}" if saying.side_words else ""
    return f"{saying.stage.capitalize()}{side}. Handle on your {saying.handle}."


def _place(saying: Saying) -> str:
    if not saying.of:
        return f"Now: {saying.now}."
    kind, _, total = saying.of.partition(" of ")
    where = f", {saying.where}" if saying.where else ""
    if saying.comes:
        return f"Now: {saying.now}; {kind} {saying.numeral}{f' of {total}' if total else ''}{where}."
    if not total:
        # At the end the sign counts what was left out.
        return f"Now: {saying.now}, {saying.numeral} {kind}."
    which = f"{kind} {saying.numeral} of {total}"
    # A tooth or pass is its number; a step has a name beside it.
    name = "" if saying.now in (saying.numeral, f"{kind} {saying.numeral}") else f", {saying.now}"
    around = "".join(f", {told}" for told in (saying.between, saying.where) if told)
    return f"Now: {which}{name}{around}."
