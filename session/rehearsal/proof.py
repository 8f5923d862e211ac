"""The proof, `python -m session.rehearsal.proof`: whether the guidance makes better saws, told as it is.

Simulated people sharpen simulated saws by the program's words, and the same saws without it; what each came to stands
in a table with intervals. The same seed gives the same figures. PROOF.md in this room says what is simulated and how.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from dataclasses import asdict
from pathlib import Path
from typing import Final

from session.rehearsal.proving.proof_figures import table, targets
from session.rehearsal.proving.proof_run import rows_in, run
from session.rehearsal.proving.proof_text import table_text, targets_text

_BAR: Final = 30


def main(words: list[str] | None = None) -> int:
    """Run the proof as told on the command line; gives 0."""
    told = _options().parse_args(words)
    told.to.mkdir(parents=True, exist_ok=True)
    kept = told.to / f"saws-{told.seed}.jsonl"
    run(told.seed, told.saws, told.cores, kept, _Progress(told.saws))
    rows = [row for number, found in rows_in(kept, told.seed) if number < told.saws for row in found]
    figures, met = table(rows), targets(rows)
    summary = {
        "seed": told.seed,
        "saws": told.saws,
        "figures": {
            person: {way: {name: one and asdict(one) for name, one in by.items()} for way, by in by_way.items()}
            for person, by_way in figures.items()
        },
        "targets": [asdict(target) for target in met],
        "faults": [row for row in rows if row.get("fault")],
    }
    (told.to / f"proof-{told.seed}.json").write_text(json.dumps(summary, indent=1) + "\n", encoding="utf-8")
    print(table_text(figures))
    print()
    print(targets_text(met))
    return 0


class _Progress:
    """How far the run has come, on one line of stderr."""

    def __init__(self, saws: int) -> None:
        self._saws = saws
        self._begun = time.monotonic()
        self._first: int | None = None

    def __call__(self, done: int) -> None:
        if self._first is None:
            self._first = done
        full = round(_BAR * min(1.0, done / max(1, self._saws)))
        left = ""
        if done > self._first:
            seconds = (time.monotonic() - self._begun) / (done - self._first) * max(0, self._saws - done)
            left = f", about {seconds / 60:.0f} min left"
        end = "\n" if done >= self._saws else ""
        print(f"\r[{'#' * full:<{_BAR}}] {done} of {self._saws} saws{left}  ", end=end, file=sys.stderr, flush=True)


def _options() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m session.rehearsal.proof", description=__doc__)
    parser.add_argument("--saws", type=_whole, default=48, help="how many saws, 1 or more")
    parser.add_argument("--seed", type=int, default=1, help="which saws")
    parser.add_argument("--cores", type=_whole, default=os.cpu_count() or 1, help="processes at once")
    parser.add_argument("--to", type=Path, default=Path("proof"), help="folder of the results; a run goes on from it")
    return parser


def _whole(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"{text!r}; allowed: a whole number, 1 or more")
    return int(text)


if __name__ == "__main__":
    sys.exit(main())
