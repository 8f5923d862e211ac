"""What a person waits for, each beside the least that could do the same, measured in the same run.

    python -m tests.bench [--quick] [--only WORD] [--json FILE]

Not a test: times differ between machines, and the ratios are what to look at. They are of the processor's time, all
threads together, so that a busy machine tells the same; pairs are taken in turn. What passed on the clock stands beside
it. `python -m tests.bench.readme_table FILE` puts what --json wrote into README.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from tests.bench.command_figures import command_figures
from tests.bench.evening_figures import evening_figures
from tests.bench.figures import Figure, machine, plot, table, write_json
from tests.bench.key_figures import key_figures
from tests.bench.opening_figures import opening_figures
from tests.bench.till_figures import till_figures

PARTS = {
    "opening": opening_figures,
    "key": key_figures,
    "commands": command_figures,
    "till": till_figures,
    "evening": evening_figures,
}

#: Drawn as bars as well, as what is hoped of them is that they do not grow.
FLAT = ("key at mark", "key at teeth")


def main() -> int:
    """Measure, print the table and write the JSON."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="few pairs and short logs: a minute in all")
    parser.add_argument("--only", choices=PARTS, help="one part alone")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there as well")
    args = parser.parse_args()
    figures: list[Figure] = []
    for name, part in PARTS.items():
        if args.only in (None, name):
            figures += part(quick=args.quick)
            print(f"{name}: measured", file=sys.stderr)
    print(machine())
    print(table(figures))
    for flat in FLAT:
        rows = [one for one in figures if one.what.startswith(flat)]
        if rows:
            print(f"\n{plot(rows)}")
    if args.json is not None:
        write_json(args.json, figures)
    return 0


if __name__ == "__main__":
    sys.exit(main())
