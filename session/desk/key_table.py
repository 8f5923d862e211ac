"""Which keys mean which act. One table feeds the bindings, the buttons, the help and the rehearsal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.machine.clean_text import clean
from session.sentences.offers import Act

#: Keys by act, in Textual's names. Space, Enter, Page Down and Right are what a thumb, a presenter
#: clicker and most pedals send; a presenter's one button sends F5 and Escape in turn (bench rule 20).
DEFAULTS: Final[dict[Act, tuple[str, ...]]] = {
    Act.DONE: ("space", "enter", "pagedown", "right"),
    Act.AGREE: ("y",),
    Act.DIFFER: ("n",),
    Act.TAKE_BACK: ("backspace",),
    Act.LOOK_BACK: ("pageup", "left"),
    Act.FLAG: ("full_stop", "b"),
    Act.LEAVE_OUT: ("l",),
    Act.PAUSE: ("escape", "f5"),
    Act.ANSWER: ("a",),
    Act.MORE: ("plus", "m"),
    Act.SET_PLACE: ("p",),
    Act.TIMER: ("h",),
    Act.GUIDANCE: ("g",),
    Act.TERMS: ("t",),
    Act.HELP: ("question_mark", "f1"),
    Act.QUIT: ("q",),
}

#: What each act is, for the help screen.
MEANINGS: Final[dict[Act, str]] = {
    Act.DONE: "the place in hand is done; go to the next",
    Act.STROKES: "done with so many strokes, or choose that number",
    Act.AGREE: "yes to a caution, a check, a turn, a place found",
    Act.DIFFER: "the saw does not agree with the screen",
    Act.TAKE_BACK: "take back the last mark",
    Act.LOOK_BACK: "look back along the marks; changes nothing",
    Act.FLAG: "flag this place, to look at it again",
    Act.LEAVE_OUT: "leave this place out, with a reason",
    Act.PAUSE: "pause, and go on again",
    Act.ANSWER: "type the answer to this step",
    Act.MORE: "one more pass, or a short extra stage",
    Act.SET_PLACE: "set the place by hand",
    Act.TIMER: "hands-free by a countdown; any key holds it",
    Act.GUIDANCE: "say more or less: taught, brief, bare",
    Act.TERMS: "look a trade term up",
    Act.HELP: "this help",
    Act.QUIT: "leave; asks once, all is saved",
}

_ACTS: Final = frozenset(str(act) for act in DEFAULTS)

_SHOWN: Final = {
    "space": "Space",
    "enter": "Enter",
    "pagedown": "PgDn",
    "pageup": "PgUp",
    "right": "→",
    "left": "←",
    "backspace": "⌫",
    "full_stop": ".",
    "escape": "Esc",
    "question_mark": "?",
    "plus": "+",
    "comma": ",",
    "minus": "-",
}


def keymap(changed: Mapping[str, tuple[str, ...]]) -> dict[Act, tuple[str, ...]]:
    """The default keys, with those of ``changed`` (act name to keys) put in their stead.

    A key given to one act is taken from every other, so that no press means two things. What cannot be
    done changes nothing; `key_complaints` tells of it.
    """
    return _settled(changed)[0]


def key_complaints(changed: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """One line for each of the settings' keys that changes nothing, with the reason."""
    return _settled(changed)[1]


def _settled(changed: Mapping[str, tuple[str, ...]]) -> tuple[dict[Act, tuple[str, ...]], tuple[str, ...]]:
    keys, told = dict(DEFAULTS), []
    given = {Act(name): wanted for name, wanted in changed.items() if name in _ACTS}
    for name in changed:
        if name not in _ACTS:
            allowed = ", ".join(f'"{act}"' for act in DEFAULTS)
            told.append(f'settings.toml: keys: "{clean(name)[:40]}" is no act; allowed: {allowed}')
    for act, wanted in given.items():
        digits = [key for key in wanted if len(key) == 1 and key.isdigit()]
        if digits:
            told.append(f'settings.toml: keys: {act}: "{digits[0]}" counts strokes; allowed: any key but a digit')
            continue
        rest = {other: tuple(key for key in keys[other] if key not in wanted) for other in keys if other is not act}
        # An act that nothing on the keyboard does any more would lock the person out of cautions or of leaving.
        robbed = [other for other, left in rest.items() if not left and other not in given]
        if robbed:
            told.append(
                f'settings.toml: keys: {act}: it leaves "{robbed[0]}" without a key; give that one a key as well'
            )
            continue
        keys = {**rest, act: wanted}
    return keys, tuple(told)


def shown(key: str) -> str:
    """A key as it is printed on a keyboard or in a line of help."""
    return _SHOWN.get(key, key.upper() if len(key) > 1 else key)
