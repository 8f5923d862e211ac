"""`toothline new [NAME]`: hang up a saw of one's own, by a form."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from session.commands.opening.bench_opening import need_terminal, open_bench
from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal

if TYPE_CHECKING:
    from session.form.own_saw_form import OwnSawForm
    from session.till.till_folder import Till

HELP = "hang up a saw of your own: a form that asks its figures, and shows what follows"
EXAMPLE = 'toothline new "Boat-shed crosscut"'


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("name", metavar="NAME", nargs="?", help="what the saw is called; without it the form asks")
    parser.add_argument("--copy", metavar="SAW", help="at once like this saw of the till, its comments too; wants NAME")
    parser.add_argument(
        "--units", choices=("in", "mm"), help="the unit of a bare number (default: in, or the settings')"
    )
    parser.add_argument("--anew", action="store_true", help="throw the answers of a form begun before away")
    parser.add_argument("--plain", action="store_true", help="line by line, as in a pipe")


def run(args: argparse.Namespace) -> int:
    """Ask, write the recipe, and show it."""
    from session.commands.opening.form_opening import talk_through
    from session.files.settings import load_settings
    from session.form.own_saw_form import new_saw_form
    from session.machine.clock import SystemClock
    from session.till.till_folder import Till, till_folder
    from session.till.till_names import SETTINGS

    till = Till(till_folder(args.till))
    if args.copy is not None:
        return _copy(till, args)
    in_lines = args.plain or not sys.stdin.isatty()
    if not in_lines:
        need_terminal("new")
    till.make()
    settings, complaints = load_settings(till.path / SETTINGS)
    form = new_saw_form(till, SystemClock(), settings)
    try:
        _begin(form, args)
        if not in_lines:
            return open_bench(till, form=form)
        for complaint in complaints:
            say(complaint)
        return talk_through(form)
    finally:
        form.close()


def _copy(till: Till, args: argparse.Namespace) -> int:
    from session.commands.output.plain_data import write
    from session.form.kept_recipe import hang_copy
    from session.machine.untrusted_text import shown
    from session.till.known_saws import find_saw, known_saws

    if args.name is None:
        raise Refusal('NAME is missing: what the copy is called, such as toothline new "Loft saw" --copy netloft')
    saw = find_saw(known_saws([till]), args.copy)
    if saw.recipe is None:
        raise Refusal(f"{saw.name}: only records of it are in this till, no recipe that could be copied")
    path = hang_copy(till, saw.recipe, " ".join(args.name.split()))
    write(f"Hung up like {saw.name}: {shown(path)}\n")
    return 0


def _begin(form: OwnSawForm, args: argparse.Namespace) -> None:
    """Answer what the command line tells. Raises Refusal."""
    from session.form.form_fields import FormField

    if args.anew:
        form.begin_anew()
    if args.units is not None:
        form.answer(FormField.UNITS, args.units)
    if args.name is None:
        return
    begun = form.answers.text(FormField.NAME)
    if begun and begun != " ".join(args.name.split()):
        raise Refusal(f'a form for "{begun}" was begun; go on with it: toothline new; or throw it away: --anew')
    if wrong := form.with_answer(FormField.NAME, args.name).wrong.get(FormField.NAME):
        raise Refusal(f"NAME: {wrong}")
    form.answer(FormField.NAME, args.name)
