"""Opening the bench from the command line: the screen, or line by line."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping
from typing import TYPE_CHECKING

from session.commands.output.standard_streams import say
from session.machine.refusal import DISK, Refusal
from session.machine.system_calls import TERM_IS_TOLD

if TYPE_CHECKING:
    from textual.screen import Screen

    from session.form.own_saw_form import OwnSawForm
    from session.log.sitting import Sitting
    from session.till.till_folder import Till


def plain_option(parser: argparse.ArgumentParser) -> None:
    """The option to work line by line."""
    parser.add_argument(
        "--plain", action="store_true", help="work line by line: for screen readers, simple terminals and pipes"
    )


def spoken_option(parser: argparse.ArgumentParser) -> None:
    """The option to have the bench spoken."""
    parser.add_argument(
        "--spoken", action="store_true", help="say the place, the work and all that is asked aloud as well"
    )


def refuse_spoken_lines(args: argparse.Namespace) -> None:
    """Raise Refusal where both ways are asked for: line by line, a screen reader does the speaking."""
    if args.spoken and args.plain:
        raise Refusal("--spoken goes with the screen; with --plain a screen reader speaks the lines: leave one away")


def need_terminal(command: str, environment: Mapping[str, str] = os.environ) -> None:
    """Raise Refusal unless a person can sit at this terminal: without one the screen would hang."""
    what = f"toothline {command}".strip()
    plain = "add --plain to work line by line; " if command in ("new", "start", "resume", "demo", "practice") else ""
    instead = f"{plain}without one, see: toothline demo --unattended, plan, show"
    if not (sys.stdin.isatty() and sys.stdout.isatty() and sys.stderr.isatty()):
        raise Refusal(f"{what} needs a terminal to sit at, and this is not one; {instead}")
    term = environment.get("TERM", "")
    if term == "dumb" or (not term and TERM_IS_TOLD):
        raise Refusal(f'{what} needs a terminal that can place text, and TERM is "{term}"; {instead}')


def open_bench(
    till: Till,
    sitting: Sitting | None = None,
    note: str = "",
    *,
    form: OwnSawForm | None = None,
    kept: bool = True,
    spoken: bool = False,
    practice: bool = False,
) -> int:
    """Run the app on ``till`` until it is left, and give its exit status.

    note: what to say first of ``sitting``. form: to open first. kept: whether the till outlives it. spoken:
    whether it is spoken whatever the settings say. practice: whether the till offers to practice.
    """
    from session.bench.app import BenchApp
    from session.bench.themes import theme_complaints
    from session.desk.key_table import key_complaints, keymap
    from session.files.settings import load_settings
    from session.machine.clock import SystemClock
    from session.till.litter import clear_litter
    from session.till.till_names import SETTINGS
    from session.value_class import replace

    clear_litter(till.path)
    settings, complaints = load_settings(till.path / SETTINGS)
    told = (*complaints, *key_complaints(settings.keys), *theme_complaints(settings.theme))
    settings = replace(settings, spoken=settings.spoken or spoken)
    clock = SystemClock()

    def practice_screen() -> Screen[None]:
        from session.practice.practice_screen import PracticeScreen

        return PracticeScreen(keymap(settings.keys), clock, settings.guard_ms / 1000)

    app = BenchApp(
        till,
        settings,
        clock,
        sitting=sitting,
        note=note,
        form=form,
        practice=practice_screen if practice else None,
        complaints=told,
    )
    try:
        app.run()
    finally:
        app.release()
    if app.fault:
        raise Refusal(app.fault, DISK)
    if kept and app.last_log is not None:
        say(f"all is saved in {app.last_log}")
    return app.return_code or 0
