"""The recipe file that a form writes: each figure with what it is and where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, Final

import tomli_w

from session.form.form_answers import Answers
from session.form.form_fields import KEYS_OF, FormField, field_of
from session.form.form_reading import Reading
from session.machine.clean_text import clean

#: The keys of each table in the order in which a supplied recipe has them.
_ORDER: Final[dict[str, tuple[str, ...]]] = {
    "saw": ("name", "kind", "cut", "toothed_length", "plate_thickness", "plate_gauge", "points_counted"),
    "teeth": (
        *("points_per_inch", "teeth_per_inch", "points_per_25mm", "pitch"),
        *("rake", "fleam", "slope", "first_leans"),
    ),
    "set": ("per_side", "least_per_side", "bent_share"),
    "file": ("face",),
    "work": ("order", "sides", "start", "file_points", "vise_jaw", "wood", "dressing_passes"),
}

#: What stands behind a key that no field asks for.
_SAID: Final[dict[tuple[str, str], str]] = {
    ("set", "least_per_side"): "judgment: half of per_side",
    ("set", "bent_share"): "ROSS p. 9, MTS: at most half of the tooth",
    ("work", "order"): 'NOYES, KING, ROSS, MTS; SICK and FIT set last: "file first"',
    ("work", "sides"): "KING and HOLTZ file a rip saw all from one side: 1",
    ("work", "start"): "ROSS, SHEAR, SHOP1, SHOP2, GOR; SLOJD begins at the toe",
    ("work", "file_points"): "KING, MTS, NOYES, PSM89; FIT and SICK point it to the handle",
    ("work", "dressing_passes"): "from memory; no source gives a number",
    ("teeth", "slope"): "file handle below its tip, in degrees",
}

#: What a key is, where its name alone does not say it to everyone.
_IS: Final[dict[FormField, str]] = {
    FormField.LENGTH: "first point to last",
    FormField.PLATE: "beside the teeth",
    FormField.RAKE: "degrees back from square, as the guide block holds the file",
    FormField.FLEAM: "degrees, of the file across the plate",
    FormField.LEANS: "tooth 1, at the heel, handle on the right",
    FormField.FACE: "one face of the file",
    FormField.JAW: "held at once",
}

_WIDTH: Final = 28


def recipe_text(reading: Reading, answers: Answers, today: date) -> str:
    """The whole file for ``reading``, which is ready; every line of it is TOML or a comment."""
    over = reading.told.get(FormField.OVER_POINTS)
    lines = [
        f"# {clean(str(reading.values['saw']['name']))}: hung up on {today:%Y-%m-%d}.",
        "#",
        "# What is marked usual was not measured on this saw; who says so",
        "# stands beside it. Short names such as KING are listed by: toothline",
        "# recipes --sources. All of it is yours to change, by hand or by e.",
        *([f"# Over the points it was {over} wide that day."] if over is not None else []),
        "format = 1",
    ]
    for table, keys in _ORDER.items():
        values: Mapping[str, Any] = reading.values[table]
        given = [key for key in keys if key in values]
        lines += ["", f"[{table}]", *(_line(table, key, values[key], reading, answers) for key in given)]
        if table == "file" and not given:
            lines.append(
                '# face = "…"                 # measure one face of your own file and write it here with its unit'
            )
    return "\n".join(lines) + "\n"


def _line(table: str, key: str, value: Any, reading: Reading, answers: Answers) -> str:
    plain = int(value) if isinstance(value, float) and value.is_integer() else value
    written = tomli_w.dumps({key: str(plain) if isinstance(plain, str) else plain}).strip()
    words = clean(_SAID.get((table, key)) or _words((table, key), reading, answers))
    return f"{written:<{_WIDTH}} # {words}" if words else written


def _words(path: tuple[str, str], reading: Reading, answers: Answers) -> str:
    name = field_of(path)
    parts = [_IS[name]] if name in _IS else []
    if typed := answers.text(name):
        value = reading.values[path[0]][path[1]]
        written = _alike(f"{value:g}" if isinstance(value, float) else str(value))
        if name in _MEASURED and not (_alike(typed) in written or _alike(typed).startswith(written)):
            parts.append(f"told as {typed}")
    elif name in reading.usual and path in KEYS_OF[name]:
        parts.append(f"usual: {reading.usual[name].source}")
    return "; ".join(parts)


#: Fields whose answer is worth keeping as it was typed, where the recipe writes it otherwise.
_MEASURED: Final = frozenset(
    {
        *(FormField.LENGTH, FormField.COUNT, FormField.PLATE, FormField.PER_SIDE, FormField.RAKE, FormField.FACE),
        FormField.JAW,
    }
)


def _alike(text: str) -> str:
    return text.replace(" ", "").casefold()
