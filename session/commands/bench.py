"""Opening the bench screen from the command line."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import TYPE_CHECKING

from session.commands.trouble import Trouble, say

if TYPE_CHECKING:
    from session.records.sitting import Sitting
    from session.records.till import Till


def need_terminal(command: str, environment: Mapping[str, str] = os.environ) -> None:
    """Raise Trouble unless a person can sit at this terminal: without one the screen would hang."""
    what = f"toothline {command}".strip()
    instead = "without one, see: toothline demo --unattended, plan, show"
    if not (sys.stdin.isatty() and sys.stdout.isatty() and sys.stderr.isatty()):
        raise Trouble(f"{what} needs a terminal to sit at, and this is not one; {instead}")
    term = environment.get("TERM", "")
    if term in ("", "dumb"):
        raise Trouble(f'{what} needs a terminal that can place text, and TERM is "{term}"; {instead}')


def open_bench(till: Till, sitting: Sitting | None = None) -> int:
    """Run the app on ``till`` until it is left, and give its exit status."""
    from session.bench.app import BenchApp
    from session.records.clock import SystemClock
    from session.records.settings import load_settings

    settings, complaints = load_settings(till.path / "settings.toml")
    app = BenchApp(till, settings, SystemClock(), sitting=sitting, complaints=complaints)
    try:
        app.run()
    finally:
        app.release()
    if app.last_log is not None:
        say(f"all is saved in {app.last_log}")
    return app.return_code or 0
