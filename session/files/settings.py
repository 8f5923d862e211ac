"""The person's settings: ``settings.toml`` in the till, read and never written by the program.

A slip in it never keeps the program from starting: what is wrong is left at its usual value and told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Final, Literal

from session.files.checked_file import CheckedFile, is_absent
from session.files.checked_tables import CheckedBy, Table, holds
from session.files.complaints import Complaint
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.trade.file_life import TEETH_PER_CORNER
from session.value_class import dataclass, field

Units = Literal["saw", "in", "mm"]
Drawing = Literal["blocks", "ascii"]
SpeechText = Literal["argument", "input"]
Guidance = Literal["taught", "brief", "bare"]

#: More complaints than this would fill the screen and help nobody.
MOST_COMPLAINTS: Final = 20

#: More teeth than a corner of any file lasts: a slip of the pen (our own limit).
MOST_CORNER_TEETH: Final = 100_000


@dataclass(frozen=True, slots=True)
class Settings:
    """How the program behaves for one person; every field has a usual value.

    keys: for each action, the keys that do it in place of the usual ones.
    units: "saw" shows each saw in the unit of its recipe; "in" and "mm" show everything in one.
    guard_ms: a second advance within so many milliseconds is ignored, 0…5000 (bench rule 19: judgment).
    idle_s: seconds without a key after which the place is confirmed again, 5…3600 (bench rule 12: judgment).
    sound: whether signals sound as well as show.
    spoken: whether the bench is spoken as well as shown. speech: the program that speaks and its arguments, as words;
    None for the usual one of the system. speech_text: how it gets the text, as one argument more or on its input.
    theme: the screen's theme by name; None for the usual one.
    check_spacing: places between two check points, 5…60 (bench rule 15: judgment).
    guidance: how much is said at each step.
    numerals: most rows of the big numerals, 5, 7 or 9 (bench rule 5).
    drawing: "blocks" draws with block characters, "ascii" with plain ones.
    corner_teeth: teeth that one corner of a file may file before it is turned, 1…100,000 (from memory).
    """

    keys: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    units: Units = "saw"
    guard_ms: int = 300
    idle_s: int = 60
    sound: bool = False
    spoken: bool = False
    speech: tuple[str, ...] | None = None
    speech_text: SpeechText = "argument"
    theme: str | None = None
    check_spacing: int = 22
    guidance: Guidance = "taught"
    numerals: Literal[5, 7, 9] = 9
    drawing: Drawing = "blocks"
    corner_teeth: int = TEETH_PER_CORNER


def _word(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError("not a text; allowed: a text of 1 to 40 characters")
    word = clean(value).strip()
    if not 1 <= len(word) <= 40:
        raise ValueError(f"{len(word)} characters; allowed: a text of 1 to 40 characters")
    return word


_Word = Annotated[str, CheckedBy(_word)]


def _argument(value: object) -> str:
    if not isinstance(value, str) or not 1 <= len(value) <= 200 or "\0" in value:
        raise ValueError("no word of a command; allowed: a text of 1 to 200 characters")
    return value


_Argument = Annotated[str, CheckedBy(_argument)]


class SettingsModel(Table):
    """The settings as they are written; every one may be left out."""

    keys: dict[str, Annotated[list[_Word], holds(min_length=1, max_length=12)]] = holds(
        make=dict, description='for each action a list of 1 to 12 keys, such as done = ["space", "enter"]'
    )
    units: Units = holds("saw", description='one of "saw", "in", "mm"')
    guard_ms: int = holds(300, ge=0, le=5000, description="a whole number of milliseconds from 0 to 5000")
    idle_s: int = holds(60, ge=5, le=3600, description="a whole number of seconds from 5 to 3600")
    sound: bool = holds(False, description="true or false")
    spoken: bool = holds(False, description="true or false")
    speech: Annotated[list[_Argument], holds(min_length=1, max_length=20)] | None = holds(
        None, description='a list of 1 to 20 words, such as speech = ["espeak-ng", "-s", "150"]'
    )
    speech_text: SpeechText = holds("argument", description='one of "argument", "input"')
    theme: _Word | None = holds(None, description="the name of a theme")
    check_spacing: int = holds(22, ge=5, le=60, description="a whole number of places from 5 to 60")
    guidance: Guidance = holds("taught", description='one of "taught", "brief", "bare"')
    numerals: Literal[5, 7, 9] = holds(9, description="5, 7 or 9 rows")
    drawing: Drawing = holds("blocks", description='one of "blocks", "ascii"')
    corner_teeth: int = holds(
        TEETH_PER_CORNER,
        ge=1,
        le=MOST_CORNER_TEETH,
        description=f"a whole number of teeth from 1 to {MOST_CORNER_TEETH:,}",
    )


#: The names of all settings: what a file of them is known by.
SETTINGS: Final = SettingsModel.key_names()


def load_settings(path: Path) -> tuple[Settings, tuple[str, ...]]:
    """The settings of a file, and a one-line complaint for each part that was left at its usual value.

    A file that is not there is no complaint. Never raises.
    """
    if is_absent(path):
        return Settings(), ()
    try:
        file = CheckedFile.read(SettingsModel, path)
    except Refusal as wrong:
        return Settings(), wrong.lines
    found = file.found
    file.leave_out(found)
    model = file.sound()
    keys: dict[str, tuple[str, ...]] = {}
    found += _without_doubles(model.keys, keys)
    plain = {name: getattr(model, name) for name in SETTINGS if name not in ("keys", "speech")}
    speech = None if model.speech is None else tuple(model.speech)
    return Settings(keys=MappingProxyType(keys), speech=speech, **plain), file.told(found, MOST_COMPLAINTS, "more")


def _without_doubles(given: Mapping[str, list[str]], kept: dict[str, tuple[str, ...]]) -> Iterator[Complaint]:
    """Fill ``kept`` with the actions' keys; a key that already does something else is complained of."""
    taken: dict[str, str] = {}
    for action, keys in given.items():
        for number, key in enumerate(keys):
            if taken.setdefault(key, action) != action:
                yield (
                    ("keys", action, number),
                    f'"{clean(key)}" already does "{clean(taken[key])}"; allowed: another key',
                )
        mine = tuple(dict.fromkeys(key for key in keys if taken[key] == action))
        if mine:
            kept[action] = mine
