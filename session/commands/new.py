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

HELP = "hang up a saw of your own: a form that asks its figures, and shows what follows"
EXAMPLE = 'toothline new "Boat-shed crosscut"'


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("name", metavar="NAME", nargs="?", help="what the saw is called; without it the form asks")
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

    till = Till(till_folder(args.till))
    in_lines = args.plain or not sys.stdin.isatty()
    if not in_lines:
        need_terminal("new")
    till.make()
    settings, complaints = load_settings(till.path / "settings.toml")
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
