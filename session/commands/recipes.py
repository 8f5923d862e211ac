"""`toothline recipes`: the supplied recipes, and the works that their figures come from."""

from __future__ import annotations

import argparse

from session.commands.output.printed_width import wrapped

HELP = "list the supplied recipes"
EXAMPLE = "toothline recipes"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "--sources", action="store_true", help='list the works behind short names such as "KING" instead'
    )


def run(args: argparse.Namespace) -> int:
    """Print one line a recipe, or one line a work."""
    lines = _works() if args.sources else _recipes()
    widest = max(map(len, lines))
    for name, words in lines.items():
        print("\n".join(wrapped(f"{name:<{widest}}  {words}", hang=widest + 2)))
    return 0


def _recipes() -> dict[str, str]:
    from session.files.recipe import load_recipe
    from session.files.supplied import supplied_recipes

    found = {}
    for file in supplied_recipes():
        saw = load_recipe(file).saw
        angles = f"rake {saw.rake:g}°" + (f", fleam {saw.fleam:g}°" if saw.fleam else "")
        found[file.stem] = f"{saw.cut}, {saw.count_as}, {saw.toothed_length}, {angles}"
    return found


def _works() -> dict[str, str]:
    from session.texts.sources import all_works

    return all_works()
