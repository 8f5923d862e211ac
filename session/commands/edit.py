"""`toothline edit SAW`: change a saw's recipe by the form, or give the saw another name."""

from __future__ import annotations

import argparse
import sys

from session.commands.opening.bench_opening import need_terminal, open_bench
from session.machine.refusal import Refusal

HELP = "change a saw of the till by the form, or its name; comments and order of its file stay"
EXAMPLE = 'toothline edit netloft-panel-saw --name "Netloft fine saw"'


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", help="which saw of the till, by its name or a beginning of it")
    parser.add_argument("--name", metavar="NAME", help="give it this name at once, without the form; records follow")
    parser.add_argument("--anew", action="store_true", help="throw the answers of a form begun before away")
    parser.add_argument("--plain", action="store_true", help="line by line, as in a pipe")


def run(args: argparse.Namespace) -> int:
    """Ask what is to be other, and change the file."""
    from session.commands.opening.form_opening import talk_through
    from session.commands.output.plain_data import write
    from session.form.form_fields import FormField
    from session.form.kept_recipe import KeptRecipe, refuse_taken, renamed
    from session.form.own_saw_form import change_form
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import shown
    from session.till.known_saws import find_saw, known_saws
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, must_exist=True))
    saw = find_saw(known_saws([till]), args.saw)
    if saw.recipe is None:
        raise Refusal(f"{saw.name}: only records of it are in this till, no recipe that could be changed")
    if args.name is not None:
        kept = KeptRecipe(saw.recipe)
        name = " ".join(args.name.split())
        refuse_taken(till, name, but=saw.recipe)
        kept.write(kept.checked(renamed(kept.text, name)))
        write(f"{saw.name} is called {name} from now on; its records follow. Changed: {shown(saw.recipe)}\n")
        return 0
    in_lines = args.plain or not sys.stdin.isatty()
    if not in_lines:
        need_terminal("edit")
    form = change_form(till, saw.recipe, SystemClock())
    try:
        if args.anew:
            form.begin_anew()
        if form.page(FormField.NAME).wrong:
            form.answer(FormField.NAME, "")
        return talk_through(form) if in_lines else open_bench(till, form=form)
    finally:
        form.close()
