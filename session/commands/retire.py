"""`toothline retire SAW`: lay a saw aside with its history, or hang it up again."""

from __future__ import annotations

import argparse

HELP = "lay a saw aside; its history is kept and told apart"
EXAMPLE = "toothline retire netloft-panel-saw"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", help="which saw of the till, by its name or a beginning of it")
    parser.add_argument("--back", action="store_true", help="hang a retired saw up again")


def run(args: argparse.Namespace) -> int:
    """Move its recipe, and say where it is."""
    from session.commands.output.plain_data import write
    from session.form.kept_recipe import retire, take_back
    from session.machine.untrusted_text import shown
    from session.till.known_saws import find_saw, known_saws
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, must_exist=True))
    saw = find_saw(known_saws([till]), args.saw)
    path = take_back(till, saw) if args.back else retire(till, saw)
    done = "hangs in the till again" if args.back else "is retired; its records are kept"
    way_back = "" if args.back else f"Hang it up again: toothline retire {saw.slug} --back\n"
    write(f"{saw.name} {done}: {shown(path)}\n{way_back}")
    return 0
