"""The bench at a terminal where there is no network at all, not even to the machine itself."""

from __future__ import annotations

import shutil
import subprocess
from typing import Any

import pytest

CUT_OFF = ("unshare", "--map-root-user", "--net")


@pytest.mark.wide
def test_the_bench_opens_works_and_closes_without_a_network(shed: Any) -> None:
    if (
        shutil.which("unshare") is None
        or subprocess.run([*CUT_OFF, "true"], capture_output=True, check=False).returncode
    ):
        pytest.skip("no network can be cut off here")
    terminal = shed.run([*CUT_OFF, shed.program, "start", shed.hang_up()])
    terminal.wait("CAUTION")
    terminal.send("y")
    terminal.wait("Boat-shed sash saw")
    terminal.send("q")
    terminal.wait("Leave the bench?")
    terminal.send("q")
    assert terminal.end() == 0
    assert "all is saved in" in terminal.raw.decode("utf-8", "replace")
    assert b"seq = 1\n" in shed.log().read_bytes()
