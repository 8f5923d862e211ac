"""`toothline recipes`: the supplied recipes."""

from __future__ import annotations

import argparse

HELP = "list the supplied recipes"
EXAMPLE = "toothline recipes"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The command has no arguments of its own."""


def run(args: argparse.Namespace) -> int:
    """Print one line a recipe."""
    from session.records.recipe import load_recipe
    from session.records.supplied import supplied_recipes

    files = supplied_recipes()
    widest = max(len(file.stem) for file in files)
    for file in files:
        saw = load_recipe(file).saw
        angles = f"rake {saw.rake:g}°" + (f", fleam {saw.fleam:g}°" if saw.fleam else "")
        print(f"{file.stem:<{widest}}  {saw.cut}, {saw.count_as}, {saw.toothed_length}, {angles}")
    return 0
