"""`toothline practice`: ten invented teeth under the keys."""

from __future__ import annotations

import argparse
import sys

from session.commands.opening.bench_opening import need_terminal

HELP = "practice on ten invented teeth: grade, press, stroke, stop in time, and turn; nothing is recorded"
EXAMPLE = "toothline practice --seed 3"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="which ten teeth (default 1)")
    parser.add_argument("--plain", action="store_true", help="line by line, as in a pipe")


def run(args: argparse.Namespace) -> int:
    """Open the practice, with the keys and the look of the till's settings."""
    in_lines = args.plain or not sys.stdin.isatty()
    if not in_lines:
        need_terminal("practice")
    from session.commands.output.standard_streams import say
    from session.desk.key_table import key_complaints
    from session.files.settings import load_settings
    from session.till.till_folder import till_folder
    from session.till.till_names import SETTINGS

    if in_lines:
        from session.commands.opening.line_streams import Streams
        from session.practice.lesson import Lesson
        from session.practice.line_lesson import LineLesson

        LineLesson(Lesson(args.seed), Streams(sys.stdin, sys.stdout)).talk()
        return 0
    from session.machine.clock import SystemClock
    from session.practice.practice_app import PracticeApp

    settings, complaints = load_settings(till_folder(args.till, waits=say) / SETTINGS)
    for complaint in (*complaints, *key_complaints(settings.keys)):
        say(complaint)
    app = PracticeApp(settings, SystemClock(), seed=args.seed)
    app.run()
    return app.return_code or 0
