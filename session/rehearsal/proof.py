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
from functools import partial
from operator import itemgetter
from pathlib import Path
from typing import Any, Final

from session.rehearsal.proving.person import PRACTICED
from session.rehearsal.proving.proof_figures import splits, table, targets
from session.rehearsal.proving.proof_run import Job, Row, rows_in, run, run_kept
from session.rehearsal.proving.proof_text import picture, short_text, whole_text, with_proof
from session.rehearsal.proving.regret import RegretCase, regret_of, regret_text
from session.rehearsal.proving.spacing_limits import MEASURED, RUNGS, limit_of, limits_text
from session.rehearsal.proving.twenty_years import Policy, Years, years_of, years_text
from session.value_class import asdict

_BAR: Final = 30

#: The kinds of saw that are kept for twenty years.
_KEPT_KINDS: Final = ("crosscut panel", "dovetail")


def main(words: list[str] | None = None) -> int:
    """Run the proof as told on the command line; gives 0."""
    told = _options().parse_args(words)
    told.to.mkdir(parents=True, exist_ok=True)
    kept = told.to / f"saws-{told.seed}.jsonl"
    run(told.seed, told.saws, told.cores, kept, _Progress(told.saws, "saws"))
    # In the order of the saws and not in that of their ends, so that the intervals are the same each time.
    rows = [
        row
        for number, found in sorted(rows_in(kept, told.seed), key=itemgetter(0))
        if number < told.saws
        for row in found
    ]
    summary: dict[str, Any] = {
        "command": _command(told),
        "seed": told.seed,
        "saws": told.saws,
        "figures": {
            person: {way: {name: one and asdict(one) for name, one in by.items()} for way, by in by_way.items()}
            for person, by_way in table(rows).items()
        },
        "splits": {
            key: {
                value: {way: {name: one and asdict(one) for name, one in by.items()} for way, by in by_way.items()}
                for value, by_way in by_value.items()
            }
            for key, by_value in splits(rows).items()
        },
        "targets": [asdict(target) for target in targets(rows)],
        "regret": _regret(told) if told.regret else "",
        "limits": _limits(told) if told.limits else "",
        "years": _years(told) if told.years else "",
        "faults": [row for row in rows if row.get("fault")],
    }
    text = json.dumps(summary, indent=1, ensure_ascii=False) + "\n"
    (told.to / f"proof-{told.seed}.json").write_text(text, encoding="utf-8")
    print(whole_text(summary))
    if told.into is not None:
        write_pages(told.into, summary, text)
    return 0


def _command(told: argparse.Namespace) -> str:
    """The command that gives the same figures."""
    numbers = (
        f"--{name} {value}" for name in ("saws", "seed", "regret", "limits", "years") if (value := vars(told)[name])
    )
    return " ".join(("python -m session.rehearsal.proof", *numbers, "--into ."))


def write_pages(checkout: Path, summary: dict[str, Any], text: str) -> None:
    """Put the proof into the pages of ``checkout`` and its picture beside the others."""
    (checkout / "demo" / "proof.json").write_text(text, encoding="utf-8")
    (checkout / "demo" / "pictures" / "proof.svg").write_text(picture(summary), encoding="utf-8")
    for page, told in ((checkout / "README.md", short_text), (checkout / "demo" / "README.md", whole_text)):
        page.write_text(with_proof(page.read_text(encoding="utf-8"), told(summary)), encoding="utf-8")


def _regret(told: argparse.Namespace) -> str:
    numbers, kept = list(range(told.regret)), told.to / f"regret-{told.seed}.jsonl"
    progress = _Progress(len(numbers), "saws by every plan")
    found = run_kept(partial(_one_regret, told.seed), numbers, told.cores, kept, progress)
    return regret_text([RegretCase.of(values) for values in found])


def _one_regret(seed: int, number: Job) -> Row:
    assert isinstance(number, int)
    return asdict(regret_of(seed, number))


def _limits(told: argparse.Namespace) -> str:
    jobs: list[Job] = [(one.name, way, number) for number in range(told.limits) for one in RUNGS for way in MEASURED]
    kept, progress = told.to / "limits.jsonl", _Progress(len(jobs), "saws for what limits the spacing")
    return limits_text(run_kept(_one_limit, jobs, told.cores, kept, progress))


def _one_limit(job: Job) -> Row:
    assert not isinstance(job, int)
    return limit_of(job)


def _years(told: argparse.Namespace) -> str:
    jobs: list[Job] = [(str(policy), kind, n) for n in range(told.years) for kind in _KEPT_KINDS for policy in Policy]
    kept, progress = told.to / "years.jsonl", _Progress(len(jobs), "saws kept for twenty years")
    return years_text([Years(**values) for values in run_kept(_one_saw, jobs, told.cores, kept, progress)])


def _one_saw(job: Job) -> Row:
    assert not isinstance(job, int)
    policy, kind, seed = job
    return asdict(years_of(Policy(policy), kind, seed, PRACTICED))


class _Progress:
    """How far a run has come, on one line of stderr."""

    def __init__(self, whole: int, what: str) -> None:
        self._whole = whole
        self._what = what
        self._begun = time.monotonic()
        self._first: int | None = None

    def __call__(self, done: int) -> None:
        if self._first is None:
            self._first = done
        full = round(_BAR * min(1.0, done / max(1, self._whole)))
        left = ""
        if done > self._first:
            seconds = (time.monotonic() - self._begun) / (done - self._first) * max(0, self._whole - done)
            left = f", about {seconds / 60:.0f} min left"
        end = "\n" if done >= self._whole else ""
        bar = f"[{'#' * full:<{_BAR}}] {done} of {self._whole} {self._what}{left}"
        print(f"\r{bar:<78}", end=end, file=sys.stderr, flush=True)


def _options() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m session.rehearsal.proof", description=__doc__)
    parser.add_argument("--saws", type=_whole, default=48, help="how many saws, 1 or more")
    parser.add_argument("--seed", type=int, default=1, help="which saws")
    parser.add_argument(
        "--regret", type=_whole, default=0, help="on so many saws every plan is tried beside the advised one"
    )
    parser.add_argument("--limits", type=_whole, default=0, help="what limits the spacing is told by so many saws")
    parser.add_argument("--years", type=_whole, default=0, help="so many saws of two kinds are kept for twenty years")
    parser.add_argument("--cores", type=_whole, default=os.cpu_count() or 1, help="processes at once")
    parser.add_argument("--to", type=Path, default=Path("proof"), help="folder of the results; a run goes on from it")
    parser.add_argument("--into", type=Path, default=None, help="checkout whose pages the figures are put into")
    return parser


def _whole(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"{text!r}; allowed: a whole number, 1 or more")
    return int(text)


if __name__ == "__main__":
    sys.exit(main())
