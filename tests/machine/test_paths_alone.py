"""Paths are loaded without URLs, and both are whole for whoever asks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import session

CHECKOUT = Path(session.__file__).parents[1]

_TELLS = """
import sys
from session.machine.paths_alone import load_paths
load_paths()
import pathlib
print(sorted({"ipaddress", "pathlib", "urllib.parse"} & sys.modules.keys()))
print(pathlib.Path("/tmp/a saw").as_uri())
import urllib.parse
print(urllib.parse.urlsplit("https://example.org/till").netloc, urllib.parse.__spec__ is not None)
load_paths()
print(urllib.parse is sys.modules["urllib.parse"])
"""


def test_paths_come_without_urls_until_one_is_written_as_a_url() -> None:
    # Without site, which may load paths itself for a checkout that is installed in place.
    done = subprocess.run(
        [sys.executable, "-S", "-c", _TELLS], capture_output=True, text=True, check=True, cwd=CHECKOUT
    )
    assert done.stdout.splitlines() == ["['pathlib']", "file:///tmp/a%20saw", "example.org True", "True"]


def test_the_program_loads_no_urls_to_print() -> None:
    tells = """
import contextlib, io, sys
sys.argv = ["toothline", "recipes"]
from session.__main__ import run
with contextlib.suppress(SystemExit), contextlib.redirect_stdout(io.StringIO()):
    run()
print("pathlib" in sys.modules, "urllib.parse" in sys.modules)
"""
    done = subprocess.run([sys.executable, "-S", "-c", tells], capture_output=True, text=True, check=True, cwd=CHECKOUT)
    assert done.stdout == "True False\n"
