"""Recipes: a saw and how it is to be sharpened, read from a file that a person writes.

>>> from session.files.recipe import recipe_from_values
>>> teeth = {"points_per_inch": 5.5, "rake": 4}
>>> saw = {"name": "Boat-shed rip", "kind": "rip", "cut": "rip", "toothed_length": "28 in", "plate_gauge": 18}
>>> recipe_from_values({"format": 1, "saw": saw, "teeth": teeth}).saw.points
127
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from session.files.complaints import Complaint, complaints, key_in_words
from session.files.line_numbers import KeyPath, key_lines, line_of
from session.files.recipe_rules import cross_check, plate_of, unusual
from session.files.recipe_tables import FORMAT, RecipeModel
from session.files.zone_rules import pitch_of, zones_of
from session.machine.clean_text import clean
from session.machine.toml_text import ReadingError, parse, read_text, shown
from session.trade.saw import Saw
from session.trade.zones import ZonedLine

#: More errors than this help nobody, and a file of other origin may have thousands.
MOST_ERRORS: Final = 50


class RecipeError(ValueError):
    """A recipe that cannot be used. ``errors`` are all that is wrong with it, one line each."""

    def __init__(self, errors: tuple[str, ...]) -> None:
        super().__init__("\n".join(errors))
        self.errors = errors


@dataclass(frozen=True, slots=True)
class Recipe:
    """A checked recipe.

    saw: what the arithmetic works on.
    warnings: what is possible but unusual, one sentence each.
    source: the file (or log) it came from.
    values: every key with its value, usual values filled in, lengths as written; plain enough for TOML and
        read back by ``recipe_from_values``.
    """

    saw: Saw
    warnings: tuple[str, ...]
    source: Path
    values: dict[str, Any]


def load_recipe(path: Path) -> Recipe:
    """Read and check a recipe file. Raises RecipeError with ``FILE:LINE: key: what is wrong; what is allowed``."""
    path = Path(path)
    where = shown(path)
    try:
        text = read_text(path)
        values = parse(text)
    except ReadingError as problem:
        raise RecipeError((problem.at(where),)) from None
    lines = key_lines(text)
    model = _checked(values, where, lambda key: line_of(lines, key))
    return _recipe(model, path, ())


def recipe_from_values(values: Mapping[str, Any], where: str = "recipe") -> Recipe:
    """The recipe of a log header's snapshot; ``where`` names the log in errors. Raises RecipeError.

    A key that a later version added to this format is left out with a warning: old programs keep reading
    newer logs, because a change of meaning would have raised the format number.
    """
    known, left_out = _known_keys(values)
    model = _checked(known, clean(where), lambda _: None)
    return _recipe(model, Path(where), tuple(f"{key}: not known to this version and left out." for key in left_out))


def _checked(values: Mapping[str, Any], where: str, line: Callable[[KeyPath], int | None]) -> RecipeModel:
    found: list[Complaint] = []
    model: RecipeModel | None = None
    try:
        model = RecipeModel.model_validate(values)
    except ValidationError as problems:
        found.extend(complaints(RecipeModel, problems))
    found.extend(cross_check(values, [path for path, _ in found]))
    if model is not None and not found:
        return model
    told = sorted(((line(path), path, words) for path, words in found), key=lambda one: one[0] or 0)
    errors = [
        clean(f"{where}{'' if number is None else f':{number}'}: {key_in_words(path)}: {words}")
        for number, path, words in told[:MOST_ERRORS]
    ]
    if len(told) > MOST_ERRORS:
        errors.append(f"{where}: and {len(told) - MOST_ERRORS:,} more errors")
    raise RecipeError(tuple(errors))


def _recipe(model: RecipeModel, source: Path, warnings: tuple[str, ...]) -> Recipe:
    saw = _saw(model)
    return Recipe(saw, (*warnings, *unusual(saw)), source, model.model_dump(mode="json", exclude_none=True))


def _saw(model: RecipeModel) -> Saw:
    pitch_mm, count_as = pitch_of(model.teeth)
    counted = model.saw.points_counted
    zones = zones_of(pitch_mm, model.teeth.rake, model.teeth.zone or (), model.saw.toothed_length)
    return Saw(
        name=model.saw.name,
        kind=model.saw.kind,
        cut=model.saw.cut,
        toothed_length=model.saw.toothed_length,
        plate=plate_of(model.saw),
        gauge=model.saw.plate_gauge,
        points=counted if counted is not None else ZonedLine.of(zones).points,
        points_counted=counted is not None,
        pitch_mm=pitch_mm,
        count_as=count_as,
        rake=model.teeth.rake,
        fleam=model.teeth.fleam,
        slope=model.teeth.slope,
        zones=zones if len(zones) > 1 else (),
        first_leans=model.teeth.first_leans,
        set_per_side=model.set.per_side,
        least_per_side=model.set.least_per_side,
        bent_share=model.set.bent_share,
        face=model.file.face,
        order=model.work.order,
        sides=model.work.sides,
        start=model.work.start,
        file_points=model.work.file_points,
        vise_jaw=model.work.vise_jaw,
        wood=model.work.wood,
        dressing_passes=model.work.dressing_passes,
    )


def _known_keys(values: Mapping[str, Any]) -> tuple[dict[str, Any], list[str]]:
    known: dict[str, Any] = {"format": FORMAT}
    left_out: list[str] = []
    for name, value in values.items():
        field = RecipeModel.model_fields.get(name)
        if field is None:
            left_out.append(key_in_words((name,)))
        elif isinstance(value, Mapping) and name != "format":
            keys = getattr(field.annotation, "model_fields", {})
            known[name] = {key: inner for key, inner in value.items() if key in keys}
            left_out.extend(key_in_words((name, str(key))) for key in value if key not in keys)
        else:
            known[name] = value
    return known, left_out
