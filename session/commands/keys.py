"""`toothline keys`: what a clicker or a pedal sends."""

from __future__ import annotations

import argparse

from session.commands.opening.bench_opening import need_terminal

HELP = "show what a clicker or a pedal sends, and test the bell"
EXAMPLE = "toothline keys"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The command has no arguments of its own."""


def run(args: argparse.Namespace) -> int:
    """Open the key test with the keys of the till's settings, until it is left."""
    need_terminal("keys")
    from session.bench.screens.key_test import KeyTestApp
    from session.commands.output.standard_streams import say
    from session.desk.key_table import key_complaints
    from session.files.settings import load_settings
    from session.machine.clock import SystemClock
    from session.till.till_folder import till_folder
    from session.till.till_names import SETTINGS

    settings, complaints = load_settings(till_folder(args.till, waits=say) / SETTINGS)
    app = KeyTestApp(settings, SystemClock(), complaints=(*complaints, *key_complaints(settings.keys)))
    app.run()
    return app.return_code or 0
