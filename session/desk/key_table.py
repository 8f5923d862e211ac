"""The table of acts: with which keys and words each is done, which group it belongs to, and what help says of it."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from session.desk.key_names import named
from session.machine.clean_text import clean
from session.sentences.offers import Act
from session.value_class import dataclass


class Group(StrEnum):
    """Acts that have something in common."""

    ADVANCE = "go on"  # guarded against a key or pedal that repeats (bench rule 19)
    PLACE = "the place in hand"
    MEND = "put right"
    WORK = "the work"
    TIME = "time"
    SHOW = "look up"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class ActRow:
    """One act.

    keys: the usual ones, in Textual's names; none where a digit does it. words: those of the line-by-line mode, the
    first of them the one that is offered; none where it has none. told: the sentence of the help.
    """

    act: Act
    keys: tuple[str, ...]
    words: tuple[str, ...]
    group: Group
    told: str


#: Space, Enter, Page Down and Right are what a thumb, a presenter clicker and most pedals send; a presenter's one
#: button sends F5 and Escape in turn (bench rule 20).
ACTS: Final = (
    ActRow(
        Act.DONE,
        ("space", "enter", "pagedown", "right"),
        ("done", "d"),
        Group.ADVANCE,
        "the place in hand is done, or skipped; go on",
    ),
    ActRow(Act.STROKES, (), (), Group.ADVANCE, "so many strokes, 0 for ten and more; or choose that one"),
    ActRow(Act.AS_ADVISED, ("s",), ("advised",), Group.ADVANCE, "as many strokes as are advised in this gullet"),
    ActRow(Act.AGREE, ("y",), ("y", "yes"), Group.ADVANCE, "yes to a caution, a check, a turn, a place found"),
    ActRow(Act.DIFFER, ("n",), ("n", "no"), Group.MEND, "the saw does not agree with the screen"),
    ActRow(Act.TAKE_BACK, ("backspace",), ("back", "take back"), Group.MEND, "take back the last mark"),
    ActRow(
        Act.LOOK_BACK,
        ("pageup", "left"),
        ("look", "look back"),
        Group.SHOW,
        "look back along the marks; changes nothing",
    ),
    ActRow(
        Act.FLAG,
        ("full_stop", "b"),
        ("flag",),
        Group.PLACE,
        "flag this place to look at it again; twice, a word for it",
    ),
    ActRow(Act.LEAVE_OUT, ("l",), ("out", "leave out"), Group.PLACE, "leave this place out, with a reason"),
    ActRow(Act.PAUSE, ("escape", "f5"), ("pause", "esc", "escape"), Group.TIME, "pause, and go on again"),
    ActRow(
        Act.ANSWER,
        ("a",),
        ("answer",),
        Group.WORK,
        "type the answer; in a gullet, a new file or corner; at a flat, all the rest",
    ),
    ActRow(Act.MORE, ("plus", "m"), ("more",), Group.WORK, "one more pass, or a short extra stage"),
    ActRow(Act.SET_PLACE, ("p",), ("place",), Group.MEND, "set the place by hand, or go back a step"),
    ActRow(Act.TIMER, ("h",), (), Group.TIME, "hands-free by a countdown; any key holds it"),
    ActRow(Act.GUIDANCE, ("g",), ("guidance",), Group.SHOW, "say more or less: taught, brief, bare"),
    ActRow(Act.TERMS, ("t",), ("terms", "term"), Group.SHOW, "look a trade term up"),
    ActRow(Act.FAR, ("f", "f2"), (), Group.SHOW, "the far view, to be read from two meters, and back"),
    ActRow(Act.READ_ON, ("down", "r"), (), Group.SHOW, "the next page of the words, where there is more than one"),
    ActRow(Act.HELP, ("question_mark", "f1"), ("help",), Group.SHOW, "this help"),
    ActRow(Act.QUIT, ("q",), ("quit",), Group.LEAVE, "leave; asks once, all is saved"),
)

ROWS: Final = {row.act: row for row in ACTS}

#: The usual keys of each act that has keys.
USUAL_KEYS: Final = {row.act: row.keys for row in ACTS if row.keys}

_NAMES: Final = frozenset(str(act) for act in USUAL_KEYS)


def of_group(*groups: Group) -> frozenset[Act]:
    """The acts of these groups."""
    return frozenset(row.act for row in ACTS if row.group in groups)


def keymap(changed: Mapping[str, tuple[str, ...]]) -> dict[Act, tuple[str, ...]]:
    """The usual keys, with those of ``changed`` (act name to keys) put in their stead.

    A key given to one act is taken from every other, so that no press means two things. What cannot be
    done changes nothing; `key_complaints` tells of it.
    """
    return _settled(changed)[0]


def key_complaints(changed: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """One line for each of the settings' keys that changes nothing, with the reason."""
    return _settled(changed)[1]


def _settled(changed: Mapping[str, tuple[str, ...]]) -> tuple[dict[Act, tuple[str, ...]], tuple[str, ...]]:
    keys, complaints = dict(USUAL_KEYS), []
    given = {Act(name): tuple(map(named, wanted)) for name, wanted in changed.items() if name in _NAMES}
    for name in changed:
        if name not in _NAMES:
            allowed = ", ".join(f'"{act}"' for act in USUAL_KEYS)
            complaints.append(f'settings.toml: keys: "{clean(name)[:40]}" is no act; allowed: {allowed}')
    for act, wanted in given.items():
        digits = [key for key in wanted if len(key) == 1 and key.isdigit()]
        if digits:
            complaints.append(f'settings.toml: keys: {act}: "{digits[0]}" counts strokes; allowed: any key but a digit')
            continue
        several = [key for key in wanted if "," in key]
        if several:
            complaints.append(
                f'settings.toml: keys: {act}: "{several[0]}" is no key; allowed: each key in quotes of its own, as in '
                '["x", "f9"]'
            )
            continue
        rest = {other: tuple(key for key in keys[other] if key not in wanted) for other in keys if other is not act}
        # An act that nothing on the keyboard does any more would lock the person out of cautions or of leaving.
        robbed = [other for other, left in rest.items() if not left and other not in given]
        if robbed:
            complaints.append(
                f'settings.toml: keys: {act}: it leaves "{robbed[0]}" without a key; give that one a key as well'
            )
            continue
        keys = {**rest, act: wanted}
    return keys, tuple(complaints)
