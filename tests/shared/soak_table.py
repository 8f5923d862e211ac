"""The table at the end of a soak: each class of fault, how often it was tried, and how often what must hold did not.

A soak test names its class in its mark, `pytest.mark.soak("killed at a terminal")`, and calls `tried` as often as it
tries; one that never does is one trial. Work is told in seconds of processor, its children's with them, because a soak
mostly shares its machine.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from typing import Any

import pytest

_NAME = "soak"
_trials = 0


def tried(times: int = 1) -> None:
    """So many trials more of the class that the running test is of."""
    global _trials
    _trials += times


def _working_s() -> float:
    return sum(os.times()[:4])


class SoakTable:
    """Takes down what each soak test tells, in whatever process it runs, and shows the sums at the end."""

    def __init__(self) -> None:
        self.begun = time.time()

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Every soak test names its class of fault."""
        for item in items:
            mark = item.get_closest_marker(_NAME)
            if mark is not None and not (len(mark.args) == 1 and isinstance(mark.args[0], str)):
                raise pytest.UsageError(f'{item.nodeid}: a soak names its class: pytest.mark.soak("…")')

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self, item: pytest.Item) -> Iterator[None]:
        """Note class, trials and work with the test's report, which finds its way from other processes too."""
        global _trials
        mark = item.get_closest_marker(_NAME)
        _trials, before = 0, _working_s()
        try:
            return (yield)
        finally:
            if mark is not None:
                item.user_properties.append((_NAME, [mark.args[0], max(1, _trials), _working_s() - before]))

    def pytest_terminal_summary(self, terminalreporter: Any) -> None:
        """The table, when there was a soak."""
        rows: dict[str, list[float]] = {}
        for outcome, failed in (("passed", 0), ("failed", 1)):
            for report in terminalreporter.stats.get(outcome, ()):
                for name, told in report.user_properties if report.when == "call" else ():
                    if name == _NAME:
                        kind, trials, seconds = told
                        row = rows.setdefault(kind, [0, 0, 0, 0.0])
                        for at, more in enumerate((1, trials, failed, seconds)):
                            row[at] += more
        if not rows:
            return
        terminalreporter.section("soak: faults tried")
        sums = [sum(column) for column in zip(*rows.values(), strict=True)]
        terminalreporter.line(f"{'fault class':<58} {'tests':>6} {'trials':>9} {'failures':>9} {'processor':>10}")
        for kind, (tests, trials, failures, seconds) in [*sorted(rows.items()), ("all", sums)]:
            terminalreporter.line(f"{kind:<58} {tests:>6.0f} {trials:>9,.0f} {failures:>9.0f} {seconds:>8.0f} s")
        minutes, seconds = divmod(int(time.time() - self.begun), 60)
        terminalreporter.line(f"It took {minutes} min {seconds} s on {os.cpu_count()} cores.")
