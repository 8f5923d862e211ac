"""Recipes: a saw and how it is to be sharpened, read from a file that a person writes.

>>> from session.files.recipe import recipe_from_values
>>> teeth = {"points_per_inch": 5.5, "rake": 4}
>>> saw = {"name": "Boat-shed rip", "kind": "rip", "cut": "rip", "toothed_length": "28 in", "plate_gauge": 18}
>>> recipe_from_values({"format": 1, "saw": saw, "teeth": teeth}).saw.points
127
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from session.files.checked_file import CheckedFile
from session.files.complaints import key_in_words
from session.files.recipe_rules import cross_check, plate_of, unusual
from session.files.recipe_tables import FORMAT, RecipeModel
from session.files.zone_rules import pitch_of, zones_of
from session.machine.clean_text import clean
from session.trade.saw import Saw
from session.trade.zones import ZonedLine
from session.value_class import dataclass


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
    """Read and check a recipe file. Raises Refusal with ``FILE:LINE: key: what is wrong; what is allowed``."""
    return _recipe(CheckedFile.read(RecipeModel, path), path, ())


def recipe_from_values(values: Mapping[str, Any], where: str = "recipe") -> Recipe:
    """The recipe of a log header's snapshot; ``where`` names the log in errors. Raises Refusal.

    A key that a later version added to this format is left out with a warning: old programs keep reading
    newer logs, because a change of meaning would have raised the format number.
    """
    file = CheckedFile(RecipeModel, {"format": FORMAT, **values}, clean(where))
    later = file.unknown
    file.leave_out(later)
    left_out = (f"{key_in_words(path)}: not known to this version and left out." for path, _ in later)
    return _recipe(file, Path(where), left_out)


def _recipe(file: CheckedFile[RecipeModel], source: Path, warnings: Iterable[str]) -> Recipe:
    file.found += cross_check(file.values, file.bad)
    model = file.sound()
    saw = _saw(model)
    return Recipe(saw, (*warnings, *unusual(saw)), source, model.plain())


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
