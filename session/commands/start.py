"""`toothline start RECIPE`: begin a sharpening."""

from __future__ import annotations

import argparse
from pathlib import Path

from session.commands.opening.bench_opening import (
    need_terminal,
    open_bench,
    plain_option,
    refuse_spoken_lines,
    spoken_option,
)
from session.commands.output.option_values import recipe_argument
from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal

HELP = "start a sharpening of a saw"
EXAMPLE = "toothline start crosscut-panel"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    recipe_argument(parser)
    parser.add_argument(
        "--anew", action="store_true", help="start even though an earlier sharpening of this saw is not finished"
    )
    parser.add_argument(
        "--seen",
        metavar="SEEN.toml",
        help="what was seen of it already: recorded, so that only the plan is left",
    )
    plain_option(parser)
    spoken_option(parser)


def run(args: argparse.Namespace) -> int:
    """Start, and work at the bench until it is left."""
    refuse_spoken_lines(args)
    from session.commands.opening.line_streams import open_plain
    from session.files.recipe import load_recipe
    from session.files.seen_file import load_seen
    from session.files.settings import load_settings
    from session.files.supplied import find_recipe
    from session.machine.clock import SystemClock
    from session.till.known_saws import saw_named
    from session.till.till_folder import Till, till_folder
    from session.till.till_list import begin
    from session.till.till_names import SETTINGS

    seen = None if args.seen is None else load_seen(Path(args.seen))
    till = Till(till_folder(args.till))
    file = find_recipe(args.recipe, till.saws(), till.retired())
    recipe = load_recipe(file)
    if not args.plain:
        need_terminal("start")
    for warning in recipe.warnings:
        say(warning)
    known = saw_named(till, recipe.saw.name)
    name = known.slug
    waiting = (
        [] if args.anew else [log for one in known.slugs for log in till.interrupted(one) if log.parent.name == one]
    )
    if waiting:
        raise Refusal(
            f"a sharpening of this saw waits to be finished ({waiting[0].name}); "
            f"go on with it: toothline resume {name}; or begin another: add --anew"
        )
    settings, _ = load_settings(till.path / SETTINGS)
    sitting = begin(till, file, SystemClock(), settings)
    sitting.seen = seen
    return open_plain(till, sitting) if args.plain else open_bench(till, sitting, spoken=args.spoken)
