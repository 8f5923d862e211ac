"""`toothline check FILE…`: are these recipes and logs in order?"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from session.commands.trouble import BAD_INPUT, say

HELP = "check recipes and logs"
EXAMPLE = "toothline check my-saw.toml"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("files", metavar="FILE", nargs="+", help="a recipe or a log")


def run(args: argparse.Namespace) -> int:
    """Check every file; all errors of all files are told."""
    return max(_check(Path(name)) for name in args.files)


def _check(path: Path) -> int:
    from session.records.reader import is_log

    return _check_log(path) if is_log(path) else _check_recipe(path)


def _check_recipe(path: Path) -> int:
    from session.records.recipe import RecipeError, load_recipe

    try:
        recipe = load_recipe(path)
    except RecipeError as wrong:
        print(wrong, file=sys.stderr)
        return BAD_INPUT
    for warning in recipe.warnings:
        say(warning)
    print(f"{path}: a recipe in order: {recipe.saw.name}, {recipe.saw.points} points")
    return 0


def _check_log(path: Path) -> int:
    from session.records.reader import read_log

    log = read_log(path)
    if log.odd is not None:
        say(f"{path}: {log.odd}")
        return BAD_INPUT
    torn = f", {log.torn_bytes} torn bytes at its end" if log.torn_bytes else ""
    print(f"{path}: a log in order: {log.state}, {len(log.marks)} marks{torn}")
    return 0
