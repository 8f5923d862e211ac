"""The fields of the form for one's own saw, in the order in which they are asked."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.files.key_path import KeyPath
from session.files.recipe_tables import COUNTS, KINDS
from session.trade.saw import Cut, Leans
from session.trade.set_rules import WOODS


class FormField(StrEnum):
    """One field, by the name that its words and its draft have."""

    UNITS = "units"
    NAME = "name"
    LIKE = "like"
    KIND = "kind"
    CUT = "cut"
    LENGTH = "length"
    COUNT = "count"
    POINTS = "points"
    PLATE = "plate"
    OVER_POINTS = "over_points"
    PER_SIDE = "per_side"
    RAKE = "rake"
    FLEAM = "fleam"
    LEANS = "leans"
    FACE = "face"
    JAW = "jaw"
    WOOD = "wood"


#: The units of a form, by the words that they are chosen by.
UNIT_WORDS: Final = {"inches": "in", "millimeters": "mm"}

#: What is picked from a list that never changes; the saws to start from are the till's matter.
CHOICES: Final[dict[FormField, tuple[str, ...]]] = {
    FormField.UNITS: tuple(UNIT_WORDS),
    FormField.KIND: KINDS,
    FormField.CUT: tuple(Cut),
    FormField.LEANS: tuple(Leans),
    FormField.WOOD: WOODS,
}

#: What stands beside each choice, where its word alone does not say all.
BESIDE: Final[dict[FormField, tuple[str, ...]]] = {FormField.LEANS: ("from you", "you", "no tooth leans")}

#: Trees by what a timber yard calls them, which is by leaf and needle (common practice, no source).
_WET: Final = ("green", "wet", "damp", "unseasoned")
_SOFT: Final = ("pine", "spruce", "fir", "larch", "cedar", "douglas fir", "deal")
_HARD: Final = ("oak", "beech", "ash", "maple", "walnut", "cherry", "birch", "elm", "mahogany", "poplar")

#: Other words for choices.
ALSO: Final[dict[FormField, dict[str, str]]] = {
    FormField.UNITS: {
        "in": "inches",
        "imperial": "inches",
        '"': "inches",
        "″": "inches",
        "mm": "millimeters",
        "metric": "millimeters",
        "millimetres": "millimeters",
    },
    FormField.KIND: {"back": "tenon", "carcase": "carcass", "half ripper": "half rip"},
    FormField.CUT: {
        "ripping": "rip",
        "along": "rip",
        "with the grain": "rip",
        "along the grain": "rip",
        "across": "crosscut",
        "crosscutting": "crosscut",
        "across the grain": "crosscut",
        "xcut": "crosscut",
    },
    FormField.LEANS: {
        "away from me": "away",
        "from me": "away",
        "toward me": "toward",
        "to me": "toward",
        "towards me": "toward",
        "none": "unset",
        "no set": "unset",
        "not set": "unset",
        "neither": "unset",
        "straight up": "unset",
    },
    FormField.WOOD: {
        **{f"{dry}hard{wood}": "dry hardwood" for dry in ("", "dry ") for wood in ("wood", "woods", " wood", " woods")},
        **{f"{dry}soft{wood}": "dry softwood" for dry in ("", "dry ") for wood in ("wood", "woods", " wood", " woods")},
        **{f"{wet}{wood}": "green or wet" for wet in _WET for wood in ("", " wood")},
        **{f"{wet} {tree}": "green or wet" for wet in _WET for tree in (*_SOFT, *_HARD)},
        **{f"{dry}{tree}": "dry softwood" for tree in _SOFT for dry in ("", "dry ")},
        **{f"{dry}{tree}": "dry hardwood" for tree in _HARD for dry in ("", "dry ")},
    },
}

#: Fields that are lengths, read in the form's unit.
LENGTHS: Final = frozenset({FormField.LENGTH, FormField.OVER_POINTS, FormField.PER_SIDE, FormField.FACE, FormField.JAW})

ANGLES: Final = frozenset({FormField.RAKE, FormField.FLEAM})

#: What nobody can take for usual: it has to be told, unless the saw is like another one.
TOLD: Final = (FormField.NAME, FormField.KIND, FormField.CUT, FormField.LENGTH, FormField.COUNT)

#: Fields that may be left out of a recipe; without an answer nothing is put in their place.
OPTIONAL: Final = frozenset({FormField.LIKE, FormField.POINTS, FormField.OVER_POINTS, FormField.FACE})

#: The keys of a recipe that a field answers for; the first is the one that a plain answer is written to.
KEYS_OF: Final[dict[FormField, tuple[tuple[str, str], ...]]] = {
    FormField.NAME: (("saw", "name"),),
    FormField.KIND: (("saw", "kind"),),
    FormField.CUT: (("saw", "cut"),),
    FormField.LENGTH: (("saw", "toothed_length"),),
    FormField.COUNT: tuple(("teeth", key) for key in COUNTS),
    FormField.POINTS: (("saw", "points_counted"),),
    FormField.PLATE: (("saw", "plate_thickness"), ("saw", "plate_gauge")),
    FormField.PER_SIDE: (("set", "per_side"), ("set", "least_per_side")),
    FormField.RAKE: (("teeth", "rake"),),
    FormField.FLEAM: (("teeth", "fleam"),),
    FormField.LEANS: (("teeth", "first_leans"),),
    FormField.FACE: (("file", "face"),),
    FormField.JAW: (("work", "vise_jaw"),),
    FormField.WOOD: (("work", "wood"),),
}


#: Who is told of a complaint about a key that no field answers for: nothing of it may be passed over.
_ELSEWHERE: Final = {
    "teeth": FormField.COUNT,
    "saw": FormField.LENGTH,
    "set": FormField.PER_SIDE,
    "file": FormField.FACE,
    "work": FormField.JAW,
}
_OF_KEY: Final = {("teeth", "slope"): FormField.FLEAM, ("work", "sides"): FormField.FLEAM}


def field_of(path: KeyPath) -> FormField:
    """The field beside which a complaint about the key at ``path`` is told."""
    table, key = (*map(str, path[:2]), "", "")[:2]
    asked = next((field for field, paths in KEYS_OF.items() if (table, key) in paths), None)
    return asked or _OF_KEY.get((table, key)) or _ELSEWHERE.get(table, FormField.NAME)
