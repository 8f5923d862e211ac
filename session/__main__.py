"""The entry of the program: `toothline`, or `python -m session`."""

from __future__ import annotations

import gc
import sys


def run() -> None:
    """Run the command line and leave with its exit status."""
    # Nearly all that is made while the program begins stays: to look every 700 objects what could go took a sixth, and
    # two looks after 50,000 each a twentieth. The bench looks again once it is open.
    gc.set_threshold(200_000)
    try:
        from session.machine.paths_alone import load_paths

        load_paths()
        from session.cli import main

        code = main(sys.argv[1:])
    except KeyboardInterrupt:
        code = 130  # while the program was still being loaded: nothing was begun
    # Python looks twice through all that is left, for circles that could go, before it lets all of it go: an eighth of
    # what a command takes that only prints.
    gc.freeze()
    sys.exit(code)


if __name__ == "__main__":
    run()
