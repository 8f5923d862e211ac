"""Runs of the program and of the floors: how they are called, and what one run takes."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from time import monotonic

ROOT = Path(__file__).resolve().parents[2]

#: How the program is called, and a floor.
OURS = (sys.executable, "-m", "session")
FLOOR = (sys.executable, "-c")


def environment(till: Path) -> dict[str, str]:
    """What a run is told: its till, and a terminal of true color."""
    return {
        "PATH": os.environ["PATH"],
        "HOME": str(till),
        "TERM": "xterm-256color",
        "COLORTERM": "truecolor",
        "LANG": "C.UTF-8",
        "PYTHONPATH": str(ROOT),
        "TOOTHLINE_TILL": str(till),
    }


def run_ms(command: Sequence[str], till: Path) -> float:
    """Milliseconds of processor that one run of ``command`` takes, its output thrown away."""
    return run_times(command, till)[0]


def run_times(command: Sequence[str], till: Path) -> tuple[float, float]:
    """Milliseconds of processor, and on the clock, that one run of ``command`` takes, its output thrown away."""
    begun, before = monotonic(), resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        command, check=False, cwd=till, env=environment(till), stdin=subprocess.DEVNULL, capture_output=True
    )
    ended, after = monotonic(), resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.returncode == 0, done.stderr.decode()
    processor = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
    return 1000.0 * processor, 1000.0 * (ended - begun)
