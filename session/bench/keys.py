"""Which keys mean which act. One table feeds the bindings, the buttons, the help and the rehearsal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.counsel.offers import Act
from session.records.clean import clean

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

    A key given to one act is taken from every other, so that no press means two things. A name that is no
    act changes nothing; `unknown_acts` tells of it.
    """
    keys = dict(DEFAULTS)
    for name, given in changed.items():
        if name not in _ACTS:
            continue
        act = Act(name)
        for other in keys:
            keys[other] = tuple(key for key in keys[other] if key not in given)
        keys[act] = given
    return keys


def unknown_acts(changed: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """One line for each name in the settings' keys that is no act."""
    allowed = ", ".join(f'"{act}"' for act in DEFAULTS)
    strange = [name for name in changed if name not in _ACTS]
    return tuple(f'settings.toml: keys: "{clean(name)[:40]}" is no act; allowed: {allowed}' for name in strange)


def shown(key: str) -> str:
    """A key as it is printed on a keyboard or in a line of help."""
    return _SHOWN.get(key, key.upper() if len(key) > 1 else key)
