"""The proof's saws on all cores, each written down as it is done, so that a run that was stopped goes on."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Final

from session.rehearsal.proving.proof_cases import case_of
from session.rehearsal.proving.sharpening_trial import thrown_away, tried

#: After so many saws a process is begun anew, so that none grows.
_SAWS_A_PROCESS: Final = 50

Row = dict[str, Any]

#: What one process is given to do: plain values, told apart by how they are written.
Job = int | tuple[str, str, int]


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

    def as_line(found: tuple[int, list[Row]]) -> Row:
        return {"seed": seed, "saw": found[0], "rows": found[1]}

    _each(saw_rows, left, cores, kept_in, as_line, lambda count: told(len(done) + count))


def run_kept(
    work: Callable[[Job], Row], jobs: Sequence[Job], cores: int, kept_in: Path, told: Callable[[int], None]
) -> list[Row]:
    """What ``work`` gives for each of ``jobs``, in their order, each added to ``kept_in`` as it is done.

    Jobs that stand there already are not done again. told: how many are done, now and after each.
    """
    known = {line["job"]: line["found"] for line in _lines(kept_in) if {"job", "found"} <= line.keys()}
    left = [job for job in jobs if repr(job) not in known]
    done = len(jobs) - len(left)
    told(done)

    def as_line(one: tuple[Job, Row]) -> Row:
        known[repr(one[0])] = one[1]
        return {"job": repr(one[0]), "found": one[1]}

    _each(partial(_with_job, work), left, cores, kept_in, as_line, lambda count: told(done + count))
    return [known[repr(job)] for job in jobs]


def _with_job(work: Callable[[Job], Row], job: Job) -> tuple[Job, Row]:
    return job, work(job)


def _each(
    work: Callable[[Any], Any],
    left: Sequence[Any],
    cores: int,
    kept_in: Path,
    as_line: Callable[[Any], Row],
    told: Callable[[int], None],
) -> None:
    """Do ``left`` on so many cores, and add a line to ``kept_in`` for each as it is done."""
    if not left:
        return
    whole = kept_in.read_bytes().endswith(b"\n") if kept_in.exists() and kept_in.stat().st_size else True
    with (
        kept_in.open("a", encoding="utf-8") as kept,
        get_context("spawn").Pool(cores, maxtasksperchild=_SAWS_A_PROCESS) as pool,
    ):
        if not whole:
            kept.write("\n")
        for count, found in enumerate(pool.imap_unordered(work, left), 1):
            kept.write(json.dumps(as_line(found)) + "\n")
            kept.flush()
            told(count)


def rows_in(kept_in: Path, seed: int) -> Iterator[tuple[int, list[Row]]]:
    """The saws of ``seed`` that stand in ``kept_in``, each with its rows; none where there is no such file."""
    for told in _lines(kept_in):
        if told.get("seed") == seed:
            yield int(told["saw"]), list(told["rows"])


def _lines(kept_in: Path) -> Iterator[Row]:
    """The lines of ``kept_in`` that are whole; none where there is no such file."""
    if not kept_in.exists():
        return
    with kept_in.open(encoding="utf-8") as kept:
        for line in kept:
            try:
                told = json.loads(line)
            except ValueError:
                continue
            if isinstance(told, dict):
                yield told
