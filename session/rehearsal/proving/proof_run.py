"""The proof's saws on all cores, each written down as it is done, so that a run that was stopped goes on."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Final

from session.rehearsal.proving.proof_cases import case_of
from session.rehearsal.proving.sharpening_trial import thrown_away, tried

#: After so many saws a process is begun anew, so that none grows.
_SAWS_A_PROCESS: Final = 50

Row = dict[str, Any]


def saw_rows(job: tuple[int, int]) -> tuple[int, list[Row]]:
    """All ways of working one saw: its number, and a row for each."""
    seed, number = job
    with thrown_away() as folder:
        return number, tried(case_of(seed, number), folder)


def run(seed: int, saws: int, cores: int, kept_in: Path, told: Callable[[int], None]) -> None:
    """Try saws 0 … ``saws`` − 1 of ``seed``, and add each to ``kept_in``, a line of JSON a saw.

    Saws that stand there already are not tried again. told: how many are done, now and after each. A last line that
    was cut off is tried again.
    """
    done = {number for number, _ in rows_in(kept_in, seed)}
    told(len(done))
    left = [(seed, number) for number in range(saws) if number not in done]
    if not left:
        return
    whole = kept_in.read_bytes().endswith(b"\n") if kept_in.exists() and kept_in.stat().st_size else True
    with (
        kept_in.open("a", encoding="utf-8") as kept,
        get_context("spawn").Pool(cores, maxtasksperchild=_SAWS_A_PROCESS) as pool,
    ):
        if not whole:
            kept.write("\n")
        for count, (number, rows) in enumerate(pool.imap_unordered(saw_rows, left), len(done) + 1):
            kept.write(json.dumps({"seed": seed, "saw": number, "rows": rows}) + "\n")
            kept.flush()
            told(count)


def rows_in(kept_in: Path, seed: int) -> Iterator[tuple[int, list[Row]]]:
    """The saws of ``seed`` that stand in ``kept_in``, each with its rows; none where there is no such file."""
    if not kept_in.exists():
        return
    with kept_in.open(encoding="utf-8") as kept:
        for line in kept:
            try:
                told = json.loads(line)
            except ValueError:
                continue
            if isinstance(told, dict) and told.get("seed") == seed:
                yield int(told["saw"]), list(told["rows"])
