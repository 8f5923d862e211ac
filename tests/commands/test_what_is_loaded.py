"""What a command loads: no more of the program, and of the libraries, than it needs; that is most of what it takes."""

from __future__ import annotations

import subprocess
import sys

import pytest

#: Runs a command, and prints what is loaded after it instead of what it printed.
_RUN = """
import contextlib, io, sys
from session.cli import main
with contextlib.redirect_stdout(io.StringIO()):
    main(sys.argv[1:])
print(*sys.modules)
"""


def loaded(*command: str) -> set[str]:
    done = subprocess.run([sys.executable, "-c", _RUN, *command], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_the_version_loads_no_command() -> None:
    found = loaded("--version")
    assert not {name for name in found if name.startswith("session.commands.") and "output" not in name}
    assert found.isdisjoint({"dataclasses", "rich", "pydantic_core", "textual"})


def test_the_help_loads_no_library_and_no_arithmetic() -> None:
    found = loaded("--help")
    assert found.isdisjoint(
        {"dataclasses", "inspect", "tempfile", "csv", "rich", "pydantic_core", "textual", "argcomplete"}
    )
    assert "session.commands.plan" in found


@pytest.mark.parametrize("command", [("recipes",), ("plan", "crosscut-panel"), ("recipes", "--sources")])
def test_a_command_that_prints_loads_no_screen_and_no_other_command(command: tuple[str, ...]) -> None:
    found = loaded(*command)
    # Nor what draws pages: only who asks for a page waits for it.
    assert found.isdisjoint({"reportlab", "PIL", "session.prints.pdf_sheets"})
    # Nor pydantic around its core, nor what only who writes a log, or has an odd name for a saw, needs.
    assert found.isdisjoint({"pydantic", "platform", "hashlib"})
    assert found.isdisjoint({"textual", "asyncio", "session.desk.desk", "session.bench.app"})
    commands = {name.rpartition(".")[2] for name in found if name.startswith("session.commands.")}
    assert commands.isdisjoint({"start", "resume", "demo", "show", "history", "even"})
