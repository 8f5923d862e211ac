"""Nothing reaches for a network: a demo, a start, the bench and every command, watched, and where it can be cut off."""

from __future__ import annotations

import functools
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

#: Ends the process at the first call that would leave the machine, whoever makes it, the libraries too. A pair of
#: sockets inside a process, which a loop of events wakes itself with, is none.
WATCH = """
import os, sys, _socket

def watch(event, told):
    family = told[1] if event == "socket.__new__" else None
    if event.partition(".")[0] in ("socket", "http", "urllib", "ftplib", "smtplib", "imaplib", "webbrowser") and (
        event not in ("socket.__new__", "socket.gethostname") or family not in (None, _socket.AF_UNIX)
    ):
        os.write(2, f"REACHED OUT: {event} {told!r}\\n".encode())
        os._exit(70)

sys.addaudithook(watch)
"""

#: The commands one after another in a till of their own; whatever one prints or answers is not the matter here, but
#: that it did its work.
COMMANDS = """
from pathlib import Path
from session.cli import COMMANDS, main

folder = Path(sys.argv[1])
till = str(folder / "till")
done = set()

def call(*arguments, status=0):
    done.add(next(one for one in arguments if one in COMMANDS))
    found = main(["--till", till, *map(str, arguments)])
    assert found == status, (arguments, found)

call("demo", "--unattended", "--to", till)
(log,) = Path(till).glob("logs/*/*.toml")
(folder / "seen.toml").write_text('bright = "some"\\nlast_cut = "slow"\\n')
(folder / "flats.toml").write_text(
    'pitch = "4.6 mm"\\ndepth = "3.1 mm"\\nplate_thickness = "0.9 mm"\\nwidths = [0.3, 0.4, 0, 0.2]\\n'
)
call("recipes")
call("recipes", "--sources")
call("plan", "netloft-panel-saw", "--why", "--may-lose", "5mm")
call("plan", "crosscut-panel", "--json")
call("advise", "netloft-panel-saw", "--seen", folder / "seen.toml")
call("even", folder / "flats.toml")
call("cut", "netloft-panel-saw", "--length", "12 in", "--thickness", "3/4 in", "--strokes", "40")
call("history")
call("history", "--csv")
call("show", log, "--svg", folder / "line.svg")
call("check", log, folder / "seen.toml")
call("show", log, "--pdf", folder / "report.pdf")
call("templates", "netloft-panel-saw", "--to", folder / "pages")
call("retooth", "netloft-panel-saw", "--count", "10 points", "--to", folder / "strip")
call("till", "--export", folder / "till.zip")
call("till", "--import", folder / "till.zip")
call("start", "netloft-panel-saw", "--plain")
call("resume", "--plain")
# What wants a terminal, or a name, says so. The bench is opened in tests/terminal/test_bench_without_network.py.
call("practice", "--plain")
call("completion", "bash")
for other in set(COMMANDS) - done:
    call(other, status=2)
print("ALL DONE")
"""

#: Said first where the network is cut off: a machine that has one could connect to itself.
CUT_OFF = """
import errno, socket
with socket.socket() as tried:
    assert tried.connect_ex(("127.0.0.1", 9)) == errno.ENETUNREACH
"""


@functools.cache
def cut_off() -> tuple[str, ...]:
    """What to begin a command with so that it has no network, not even itself; nothing where that is not allowed."""
    command = ("unshare", "--map-root-user", "--net")
    if shutil.which("unshare") is None:
        return ()
    tried = subprocess.run([*command, "true"], capture_output=True, check=False)
    return command if tried.returncode == 0 else ()


def run(code: str, *arguments: Path, before: tuple[str, ...] = ()) -> subprocess.CompletedProcess[str]:
    command = [*before, sys.executable, "-c", code, *map(str, arguments)]
    return subprocess.run(
        command, input="y\n", capture_output=True, encoding="utf-8", errors="replace", timeout=300, check=False
    )


def test_the_watch_sees_what_it_looks_for() -> None:
    for call in ("socket.create_connection(('127.0.0.1', 9))", "socket.getaddrinfo('localhost', 9)"):
        reached = run(f"{WATCH}\nimport socket\n{call}")
        assert reached.returncode == 70, reached.stderr
        assert "REACHED OUT: socket." in reached.stderr
    allowed = run(f"{WATCH}\nimport asyncio\nasyncio.run(asyncio.sleep(0))")
    assert allowed.returncode == 0, allowed.stderr


@pytest.mark.wide
def test_every_command_does_its_work_without_a_network(tmp_path: Path) -> None:
    code = (CUT_OFF if cut_off() else "") + WATCH + COMMANDS
    done = run(code, tmp_path, before=cut_off())
    assert done.returncode == 0, done.stderr[-3000:]
    assert done.stdout.endswith("ALL DONE\n")
