"""A form's answers read: what each comes to, what is wrong with it, and the recipe that all of them make.

A form and a recipe file are judged by the same rules; only who is told differs: there a line, here a field.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from typing import Any, Final

from session.files.checked_file import CheckedFile
from session.files.recipe import Recipe, recipe_from_values
from session.files.recipe_rules import cross_check
from session.files.recipe_tables import FORMAT, RecipeModel
from session.form.form_answers import Answers
from session.form.form_fields import ALSO, ANGLES, CHOICES, KEYS_OF, LENGTHS, OPTIONAL, TOLD, FormField, field_of
from session.form.nearest_saw import Pattern, nearest
from session.form.plate_rake import angle_alone, block_rake
from session.form.unlikely_answers import Told, doubts
from session.form.usual_answers import SoFar, Usual, pitch_mm, usual
from session.machine.refusal import Refusal
from session.trade.gauge import thickness_mm
from session.trade.kerf import set_from_measurement_mm
from session.trade.lengths import Length
from session.trade.pitch import MOST_POINTS
from session.trade.told_amounts import (
    ToldCount,
    told_choice,
    told_count,
    told_degrees,
    told_length,
    told_plate,
    told_whole,
)
from session.trade.trade_error import TradeError
from session.value_class import dataclass, field


@dataclass(frozen=True, slots=True)
class Reading:
    """What the answers come to.

    told: each answer that could be read. usual: what counts where nothing was told, for each field that has it.
    wrong: what is wrong with a field, in words that say what is allowed. doubt: what is possible and unlikely.
    missing: fields that have to be told still. founded: whether enough was told for anything to be usual.
    pattern: the saw whose figures are the usual ones.
    values: the values of the recipe so far, the usual ones filled in. recipe: the recipe; None while anything is wrong
    or missing. alike: whether the saw was said to be like the pattern.
    """

    told: Mapping[FormField, Told]
    usual: Mapping[FormField, Usual]
    wrong: Mapping[FormField, str]
    doubt: Mapping[FormField, str]
    missing: tuple[FormField, ...]
    pattern: Pattern
    alike: bool
    founded: bool = True
    values: Mapping[str, Any] = field(default_factory=dict)
    recipe: Recipe | None = None

    @property
    def ready(self) -> bool:
        """Whether the saw can be hung up as it is."""
        return not self.wrong and not self.missing and self.recipe is not None

    def sketch(self) -> Recipe | None:
        """The recipe with the nearest saw's figures for what is missing or wrong, to show what follows."""
        if self.recipe is not None:
            return self.recipe
        values = deepcopy(dict(self.values))
        pattern = self.pattern.recipe.values
        for name in (*self.missing, *self.wrong):
            for table, key in KEYS_OF.get(name, ()):
                values.get(table, {}).pop(key, None)
                if name in (*TOLD, FormField.PLATE, FormField.RAKE) and key in pattern.get(table, {}):
                    values.setdefault(table, {})[key] = pattern[table][key]
        try:
            return recipe_from_values(values)
        except Refusal:
            return None


def read_answers(
    answers: Answers,
    likes: Mapping[str, Pattern],
    changed: tuple[Mapping[str, Any], Pattern] | None = None,
    taken: Callable[[str], str] = lambda name: "",
) -> Reading:
    """What ``answers`` come to.

    likes: the saws that one may start from, by the words they are chosen by. changed: of a saw that is changed, the
    values of its recipe, which stand where nothing else was told, and itself as the pattern. taken: says why a name
    cannot be had, else nothing.
    """
    told: dict[FormField, Told] = {}
    wrong: dict[FormField, str] = {}
    for name, typed in answers.typed.items():
        if not typed.text:
            continue
        try:
            told[name] = _read(name, typed.text, typed.unit, tuple(likes))
        except TradeError as problem:
            wrong[name] = str(problem)
    called = told.get(FormField.NAME)
    if isinstance(called, str) and (why := taken(called)):
        wrong[FormField.NAME] = why
    known = _known(told)
    alike, kept = told.get(FormField.LIKE) in likes, None
    if changed is not None:
        kept, pattern = changed
        alike = True
    else:
        pattern = likes[str(told[FormField.LIKE])] if alike else _nearest(known)
    usuals = {
        name: one
        for name in FormField
        if (one := usual(name, answers.unit, pattern, known, alike=alike, own=kept is not None)) is not None
    }
    if isinstance(read := told.get(FormField.RAKE), float) and angle_alone(answers.text(FormField.RAKE))[1]:
        try:
            told[FormField.RAKE] = block_rake(read, _fleam(told, usuals), pattern.recipe.saw)
        except TradeError as problem:
            del told[FormField.RAKE]
            wrong[FormField.RAKE] = str(problem)
    values, missing = _values(told, usuals, pattern, kept, alike=alike and kept is None)
    file = CheckedFile(RecipeModel, values, "the form")
    file.found += cross_check(file.values, file.bad)
    for path, words in file.found:
        if (of := field_of(path)) not in missing:
            wrong.setdefault(of, words if isinstance(words, str) else words())
    if words := _over_points_wrong(told, known):
        wrong.setdefault(FormField.OVER_POINTS, words)
    missing = tuple(name for name in missing if name not in wrong)
    recipe = None
    if not wrong and not missing:
        try:
            recipe = recipe_from_values(values)
        except Refusal as problem:
            # A rule about a key that no field has: nothing of it may be passed over.
            wrong[FormField.NAME] = problem.lines[0]
    doubt = doubts(known, told, pattern, wrong, answers.unit)
    founded = alike or known != SoFar(wood=known.wood, over_points=known.over_points)
    return Reading(told, usuals, wrong, doubt, missing, pattern, alike, founded, values, recipe)


def _read(name: FormField, text: str, unit: str, likes: Sequence[str]) -> Told:
    if name is FormField.LIKE:
        return told_choice(text, likes)
    if name in (FormField.KIND, FormField.CUT):
        text = _SAW.sub("", text).strip() or text
    if name in CHOICES:
        try:
            return told_choice(text, CHOICES[name], ALSO.get(name))
        except TradeError as wrong:
            asked_next = "how it cuts" if name is FormField.KIND and _crosscut(text) else ""
            # Whoever hangs up a saw begins with its name.
            asked_next = "the name" if name is FormField.UNITS and _NO_UNIT.fullmatch(text.strip()) else asked_next
            if not asked_next:
                raise
            told = str(wrong).replace("is none of them", f"is none of them: {asked_next} is asked next")
            raise TradeError(told) from None
    if name is FormField.FACE and _FILE_NAME.search(text):
        raise TradeError(
            f'"{text}" names a file, and files of one name differ; allowed: the width of one face by calipers, '
            'such as "0.33 in"'
        )
    if name in LENGTHS:
        return told_length(text, unit)
    if name in ANGLES:
        return told_degrees(angle_alone(text)[0] if name is FormField.RAKE else text)
    if name is FormField.COUNT:
        return told_count(text, unit)
    if name is FormField.POINTS:
        return told_whole(text, 2, MOST_POINTS, "points")
    return told_plate(text, unit) if name is FormField.PLATE else text


#: A word of more letters than an abbreviated unit has, without a figure.
_NO_UNIT: Final = re.compile(r"\D{5,}")


def _crosscut(text: str) -> bool:
    """Whether ``text`` says a cut that is no kind too, as "rip" is: a crosscut saw is a hand saw or a panel saw."""
    try:
        return told_choice(text, CHOICES[FormField.CUT], ALSO[FormField.CUT]) == "crosscut" and not text.isdigit()
    except TradeError:
        return False


#: What a kind or a cut is named with: "a tenon saw" is a tenon saw.
_SAW: Final = re.compile(r"(?i)^(?:an?|the)\s+|\s*saws?\s*$")

#: What a file is called by rather than measured.
_FILE_NAME: Final = re.compile(r"(?i)\b(?:slim|taper|file|regular|double)\b")


def _fleam(told: Mapping[FormField, Told], usuals: Mapping[FormField, Usual]) -> float:
    """The fleam as told, else the usual one, in degrees."""
    fleam = told.get(FormField.FLEAM)
    if isinstance(fleam, float):
        return fleam
    return told_degrees(usuals[FormField.FLEAM].text) if FormField.FLEAM in usuals else 0.0


def _known(told: Mapping[FormField, Told]) -> SoFar:
    plate, length, count, over = (
        told.get(name) for name in (FormField.PLATE, FormField.LENGTH, FormField.COUNT, FormField.OVER_POINTS)
    )
    kind, cut, wood = (told.get(name) for name in (FormField.KIND, FormField.CUT, FormField.WOOD))
    return SoFar(
        kind=kind if isinstance(kind, str) else None,
        cut=cut if isinstance(cut, str) else None,
        length=length if isinstance(length, Length) else None,
        count=count if isinstance(count, ToldCount) else None,
        plate_mm=_plate_mm(plate),
        over_points=over if isinstance(over, Length) else None,
        wood=wood if isinstance(wood, str) else None,
    )


def _nearest(known: SoFar) -> Pattern:
    return nearest(
        kind=known.kind,
        cut=known.cut,
        pitch_mm=pitch_mm(known.count),
        length_mm=known.length.mm if known.length is not None else None,
    )


def _values(
    told: Mapping[FormField, Told],
    usuals: Mapping[FormField, Usual],
    pattern: Pattern,
    kept: Mapping[str, Any] | None,
    *,
    alike: bool,
) -> tuple[dict[str, Any], tuple[FormField, ...]]:
    """The values of the recipe that the answers make, and the fields without which there is none."""
    values: dict[str, Any] = {"format": FORMAT, "saw": {}, "teeth": {}, "set": {}, "file": {}, "work": {}}
    if kept is not None:
        values |= deepcopy(dict(kept))
        for table in ("set", "file", "work"):
            values.setdefault(table, {})
    else:
        work = pattern.recipe.values["work"]
        values["work"] = {key: work[key] for key in ("order", "sides", "start", "file_points", "dressing_passes")}
        values["set"] = {"bent_share": pattern.recipe.values["set"]["bent_share"]}
        if slope := pattern.recipe.values["teeth"].get("slope"):
            values["teeth"]["slope"] = slope
    missing = []
    for name in KEYS_OF:
        value = told.get(name)
        if value is None and kept is not None:
            continue
        if value is None and name in usuals:
            value = _read(name, usuals[name].text, "in", ())
        if value is None:
            if name not in OPTIONAL:
                missing.append(name)
            continue
        _put(values, name, value)
    same_set = alike and not {FormField.PER_SIDE, FormField.OVER_POINTS, FormField.WOOD, FormField.KIND} & told.keys()
    if same_set and (least := pattern.recipe.saw.least_per_side) is not None:
        values["set"]["least_per_side"] = least.text
    if kept is None and values["teeth"].get("fleam", 0) != 0:
        values["work"]["sides"] = 2
    return values, tuple(missing)


def _put(values: dict[str, Any], name: FormField, value: Told) -> None:
    for table, key in KEYS_OF[name]:
        values[table].pop(key, None)
    table, key = KEYS_OF[name][0]
    plain: Any = value.text if isinstance(value, Length) else value
    if isinstance(value, ToldCount):
        key, plain = value.key, value.value.text if isinstance(value.value, Length) else value.value
    elif name is FormField.PLATE and isinstance(value, int):
        key = "plate_gauge"
    values[table][key] = plain
    if name is FormField.PER_SIDE and isinstance(value, Length):
        values["set"]["least_per_side"] = half_of(value)


def half_of(length: Length) -> str:
    """Half of a length, written as a recipe has it: the least set that the work asks for (judgment)."""
    per = length.mm and float(length.mm)
    factor = {"in": 25.4, "thou": 0.0254, "cm": 10.0, "m": 1000.0}.get(length.unit, 1.0)
    # One place more than is read at the bench, and rounded down: half may not come out above the whole.
    return f"{int(per / factor / 2 * 100_000) / 100_000:g} {length.unit}"


def set_now_mm(reading: Reading) -> float | None:
    """The set per side that the calipers tell, in mm; None without both readings, or when they cannot both be."""
    over, plate = reading.told.get(FormField.OVER_POINTS), _plate_mm(reading.told.get(FormField.PLATE))
    if not isinstance(over, Length) or plate is None or FormField.OVER_POINTS in reading.wrong:
        return None
    return set_from_measurement_mm(over.mm, plate)


def _plate_mm(told: Told | None) -> float | None:
    if isinstance(told, Length):
        return told.mm or None
    return thickness_mm(told) if isinstance(told, int) else None


def _over_points_wrong(told: Mapping[FormField, Told], known: SoFar) -> str:
    """What is wrong with the width over the points beside the plate; nothing when they go together."""
    over = told.get(FormField.OVER_POINTS)
    if not isinstance(over, Length) or known.plate_mm is None:
        return ""
    if not over.mm <= 3 * known.plate_mm:
        return f"{over} is more than three times the plate; allowed: calipers over two neighbors that lean apart"
    try:
        set_from_measurement_mm(over.mm, known.plate_mm)
    except TradeError:
        return f"{over} is less than the plate: one of the two was misread; allowed: the plate's thickness or more"
    return ""
