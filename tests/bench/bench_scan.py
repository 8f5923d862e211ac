"""How well a scan tells a line: random saws on random scanners, drawn, read and judged, in a table.

    python tests/bench/bench_scan.py [--saws 200] [--from 1] [--dpi 1200 600 300] [--second] [--linear]

Not a test: 200 saws at three resolutions take about a quarter of an hour. --second draws with the other renderer,
--linear in linear tones, of which the file says nothing. A cell is the root mean square of the errors, and after it how
many in a hundred lie within the standard uncertainty stated: 68 would be just right.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "shared"))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from filled_scan import filled
from known_line import random_line
from scan_judged import WHAT, Judged, judged, random_optics, scanned
from session.machine.refusal import Refusal
from session.scan.saw_scan import scan_saw

#: What is counted: teeth of which nothing was told, those whose figures leave their state open, those of either kind
#: among the low, high and broken ones, good teeth told low, high or broken, and all teeth told wrong.
COUNTS = ("not seen", "in doubt", "faults not told", "false alarms", "wrong")


def trial(seed: int, dpi: int, folder: Path, second: bool, linear: bool) -> Judged:
    """One saw on one scanner. Raises Refusal where it is not read."""
    line, optics = random_line(seed), random_optics(seed, dpi)
    if linear:
        optics = replace(optics, gamma=1.0)
    if not second:
        return judged(scanned(line, optics, folder), line, f"saw {seed}")
    path = folder / "scan.png"
    filled(line, optics, finer=16).save(path, dpi=(dpi, dpi), compress_level=1)
    return judged(scan_saw([path]), line, f"saw {seed}")


def main() -> None:
    """Print a row for each resolution, and every tooth told wrong."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--saws", type=int, default=200)
    parser.add_argument("--from", dest="first", type=int, default=1)
    parser.add_argument("--dpi", type=int, nargs="+", default=[1200, 600, 300])
    parser.add_argument("--second", action="store_true")
    parser.add_argument("--linear", action="store_true")
    asked = parser.parse_args()
    print(f"| dpi | saws | teeth | refused | {' | '.join(WHAT)} | {' | '.join(COUNTS)} |", flush=True)
    with TemporaryDirectory() as folder:
        for dpi in asked.dpi:
            every, refused, wrong = Judged(), [], []
            for seed in range(asked.first, asked.first + asked.saws):
                try:
                    every.add(trial(seed, dpi, Path(folder), asked.second, asked.linear))
                except Refusal as no:
                    refused.append(f"saw {seed}: {str(no).rpartition('png: ')[2]}")
            wrong = every.wrong
            cells = [f"{every.spread(what):.4f} ({100 * every.held(what):.0f})" for what in WHAT]
            untold = f"{every.untold} of {every.faults}"
            counts = (every.not_seen - every.in_doubt, every.in_doubt, untold, every.false_alarms, len(wrong))
            print(
                f"| {dpi} | {asked.saws} | {every.teeth} | {len(refused)} | {' | '.join([*cells, *map(str, counts)])} |"
            )
            print("\n".join(f"    {one}" for one in [*wrong, *refused]), flush=True)


if __name__ == "__main__":
    main()
