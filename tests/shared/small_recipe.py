"""The recipe file of a small saw, as a person would write it. Nothing of ours is imported."""

from __future__ import annotations


def small_recipe(
    points: int = 24, *, name: str = "Boat-shed sash saw", pitch: int = 3, jaw: int = 40, start: str = "heel"
) -> str:
    """The text of the recipe of a sash saw of ``points`` teeth, ``pitch`` mm apart; the vise holds ``jaw`` mm.

    ``name`` is written between the quotes of a TOML text, escapes and all.
    """
    return f"""\
format = 1
[saw]
name = "{name}"
kind = "sash"
cut = "crosscut"
toothed_length = "{pitch * (points - 1)} mm"
plate_thickness = "0.8 mm"
points_counted = {points}
[teeth]
pitch = "{pitch} mm"
rake = 15.0
fleam = 20.0
first_leans = "away"
[set]
per_side = "0.15 mm"
least_per_side = "0.08 mm"
[file]
face = "8 mm"
[work]
vise_jaw = "{jaw} mm"
start = "{start}"
"""
