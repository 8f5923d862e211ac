"""The entry of the program: `toothline`, or `python -m session`."""

from __future__ import annotations

import sys


def run() -> None:
    """Run the command line and leave with its exit status."""
    from session.cli import main

    sys.exit(main(sys.argv[1:]))


if __name__ == "__main__":
    run()
